"""The door of the command line: however a verb ends, it ends in a sentence."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from command_line import run
from skirtwright.draft import styles
from skirtwright.export.true_size import WRITERS
from skirtwright.job import file, habits
from skirtwright.job.habits import PRINTERS
from skirtwright.job.job import new_job

pytestmark = pytest.mark.usefixtures("elsewhere", "drafted_once")

FULL = Path("/dev/full")


@pytest.fixture
def order() -> Path:
    place = Path("m.skirt")
    file.save(new_job(styles.style("bias-slip")), place)
    return place


@pytest.fixture
def card() -> Path:
    place = Path("c.json")
    card = {"name": "Ilse Farrow", "measurements": {"waist": "74", "hip": "101"}}
    place.write_text(json.dumps(card), encoding="utf-8")
    return place


def refused(capsys, *arguments, says="", code=2) -> str:
    before = {p: p.read_bytes() for p in Path().rglob("*") if p.is_file()}
    found, out, err = run(capsys, *arguments)
    assert (found, out) == (code, ""), err
    assert err.count("\n") == 1, err
    assert says in err
    assert "Traceback" not in err
    assert {p: p.read_bytes() for p in Path().rglob("*") if p.is_file()} == before
    return err


# Where it writes


@pytest.mark.parametrize("link", ["same", "hard", "symbolic", "round"])
def test_an_output_that_is_the_order_is_refused(capsys, order, link):
    places = {
        "same": lambda: order,
        "hard": lambda: os.link(order, "l.json") or Path("l.json"),
        "symbolic": lambda: Path("l.json").symlink_to(order) or Path("l.json"),
        "round": lambda: Path().absolute() / "x" / ".." / order,
    }
    Path("x").mkdir()
    said = refused(capsys, "check", order, "--report", places[link](), says="read")
    assert "another name" in said


def test_an_output_that_is_the_card_is_refused(capsys, card):
    refused(capsys, "check", "mermaid", "--card", card, "--report", card, says="c.json")


def test_an_output_that_is_her_printers_is_refused(capsys):
    habits.keep(PRINTERS, "{}")
    put = ("--printer", "den", "--report", habits.place(PRINTERS))
    refused(capsys, "print", "mermaid", "-o", "a.pdf", *put, says="printers.json")


@pytest.mark.parametrize("second", ["z.pdf", "./z.pdf", "l.pdf"])
def test_two_outputs_that_are_one_are_refused(capsys, second):
    Path("l.pdf").symlink_to("z.pdf")
    refused(capsys, "print", "mermaid", "-o", "z.pdf", "--report", second, says="twice")


def test_an_output_that_is_no_file_is_refused(capsys):
    os.mkfifo("pipe.json")
    Path("folder.json").mkdir()
    for place in ("/dev/null", "pipe.json", "folder.json", "a\0b.json", "n" * 300):
        refused(capsys, "check", "mermaid", "--report", place)


# What it reads


def test_only_files_are_read(capsys):
    os.mkfifo("pipe.skirt")
    Path("folder.skirt").mkdir()
    for source in ("pipe.skirt", "folder.skirt", "/dev/zero", "n" * 300, "n\0.skirt"):
        refused(capsys, "check", source)
    for card in ("pipe.skirt", "folder.skirt", "/dev/zero"):
        refused(capsys, "check", "mermaid", "--card", card)


@pytest.mark.parametrize("kind", ["pipe", "folder", "bytes"])
def test_printers_are_read_from_a_file_only(capsys, kind):
    place = habits.place(PRINTERS)
    place.parent.mkdir(parents=True)
    make = {
        "pipe": lambda: os.mkfifo(place),
        "folder": place.mkdir,
        "bytes": lambda: place.write_bytes(b"\xff\xfe"),
    }
    make[kind]()
    put = ("--printer", "den", "-o", "a.pdf")
    refused(capsys, "print", "bias-slip", *put, says="printers.json")


# What has no effect


@pytest.mark.parametrize(
    "arguments",
    [
        ("--paper", "a4", "--full-size"),
        ("--paper", "a4", "--projector"),
        ("--portrait", "--full-size"),
        ("--landscape", "--projector"),
        ("--overlap", "1", "--full-size"),
        ("--margin", "0", "--projector"),
        ("--printer", "den", "--full-size"),
        ("--read-across", "10", "--projector"),
        ("--read-along", "0", "--full-size"),
        ("--roll", "914mm"),
        ("--roll", "914mm", "--projector"),
        ("--read-across", "0"),
        ("--read-along", "0"),
        ("--printer", ""),
        ("--full-size", "--projector"),
        ("--portrait", "--landscape"),
        ("--size", ""),
        ("--variant", ""),
    ],
)
def test_options_without_effect_are_refused(capsys, arguments):
    refused(capsys, "print", "bias-slip", "-o", "a.pdf", *arguments)


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("check", "mermaid", "--colour", "red"), '"--colour red"'),
        (("check", "mermaid", "--measure", "waist"), '"waist"'),
        (("check", "mermaid", "--measure"), "--measure lacks"),
        (("check",), "SOURCE"),
        (("print", "mermaid", "-o", "a.pdf", "--toile=3"), "--toile"),
        (("print", "mermaid", "-o", "a.pdf", "--margin", "wide"), "--margin"),
        (("print", "mermaid", "-o", "a.pdf", "--scale", "hlaf"), '"half"'),
        (("print", "mermaid"), "-o"),
        (("dravt", "mermaid"), '"draft"'),
        (("check", "zzzz"), '"zzzz"'),
        (("styles", "--report", "kept.skirt"), ".json"),
        (("book", "export", "Ida", "-o", "kept.skirt"), "no client book"),
        (("batch", "p.csv", "straight", "-o", "n" * 300), "too long"),
        (("book", "list", "--book", "n" * 300), "too long"),
        (("book", "list", "--book", "/tmp"), "folder"),
        (("book", "add", "p.csv", "--book", "away/x.book"), "away"),
    ],
)
def test_what_is_not_understood_is_said_in_our_words(capsys, arguments, says):
    said = refused(capsys, *arguments, says=says)
    for foreign in ("invalid", "argument", "expected", 'is ""', "_pair"):
        assert foreign not in said


# Signs


def test_signs_that_move_a_terminal_never_reach_it(capsys, order):
    signs = "\x1b\x07\x9b\u202e\u2066\u200f\u2028\r\n\x00"
    raw = json.loads(order.read_text("utf-8"))
    raw["title"] = raw["card"]["name"] = f"Ada{signs}"
    check = {"step": "s", "kind": "check", "when": "1 < 2", "grade": "note"}
    raw["draft"]["steps"].append(check | {"says": f"So{signs}", "remedy": f"Do{signs}"})
    order.write_text(json.dumps(raw), encoding="utf-8")
    code, out, err = run(capsys, "check", order)
    assert (code, err) == (0, "")
    assert "So" in out
    for text in (out, refused(capsys, "check", f"x{signs[:-1]}.skirt")):
        assert not (set(signs) - {"\n"}) & set(text)


def test_what_is_quoted_is_cut(capsys):
    said = refused(capsys, "check", "mermaid", "--amount", f"{'n' * 5000}=1")
    assert len(said) < 300
    assert f"{'n' * 79}…" in said


# Where it tells


def in_a_child(*arguments, **named) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "skirtwright", *map(str, arguments)]
    return subprocess.run(
        command, capture_output=named.pop("capture", True), check=False, **named
    )


def told(done) -> list[str]:
    return done.stderr.decode().splitlines()


@pytest.mark.skipif(not FULL.exists(), reason="there is no full device here")
def test_a_full_stdout_is_told_and_nothing_is_saved():
    with FULL.open("wb") as full:
        done = in_a_child(
            "export",
            "bias-slip",
            "-o",
            "a.svg",
            capture=False,
            stdout=full,
            stderr=subprocess.PIPE,
        )
    assert done.returncode == 2
    assert len(told(done)) == 1
    assert list(Path().glob("*.svg")) == []


def test_a_stdout_of_few_letters_or_none_is_no_reason_to_fail(order):
    raw = json.loads(order.read_text("utf-8"))
    raw["title"] = "Rök ½"
    order.write_text(json.dumps(raw), encoding="utf-8")
    environment = {**os.environ, "PYTHONIOENCODING": "ascii", "TZ": ":/dev/null"}
    done = in_a_child("export", order, "-o", "a.svg", env=environment)
    assert (done.returncode, done.stderr) == (0, b"")
    assert done.stdout.startswith(b"R?k ?")
    command = f"{sys.executable} -m skirtwright export {order} -o b.svg >&- 2>&-"
    assert subprocess.run(command, shell=True, check=False).returncode == 0
    assert Path("b.svg").read_bytes() == Path("a.svg").read_bytes()


@pytest.mark.parametrize("zone", ["AAA-99999999", "x", "", "UTC+167:59:59"])
def test_any_zone_of_her_clock_will_do(capsys, monkeypatch, zone):
    monkeypatch.setenv("TZ", zone)
    time.tzset()
    try:
        code, _, err = run(capsys, "export", "bias-slip", "-o", "a.svg")
        front = ("straight-block", "--only", "front", "--projector")
        paper = run(capsys, "print", *front, "-o", "a.pdf")
    finally:
        monkeypatch.delenv("TZ")
        time.tzset()
    assert (paper[0], paper[2]) == (0, "")
    assert (code, err) == (0, "")


# Faults of ours


def test_a_fault_of_ours_is_noted_and_the_order_kept(
    capsys, order, monkeypatch, elsewhere
):
    def broken(*_):
        message = "nobody thought of it"
        raise AttributeError(message)

    monkeypatch.setitem(WRITERS, ".svg", broken)
    before = order.read_bytes()
    code, out, err = run(capsys, "export", order, "-o", "a.svg")
    assert (code, out) == (70, "")
    assert err.count("\n") == 1
    note = elsewhere / "XDG_STATE_HOME/skirtwright/trouble.log"
    assert str(note) in err
    assert "nobody thought of it" in note.read_text("utf-8")
    assert order.read_bytes() == before
    assert not Path("a.svg").exists()
    monkeypatch.setenv("XDG_STATE_HOME", "/dev/null")
    code, out, err = run(capsys, "export", order, "-o", "a.svg")
    assert (code, err.count("\n")) == (70, 1)
    assert "nobody thought of it" in err


def test_stopping_ends_with_one_line_and_130():
    script = (
        "import sys, time, skirtwright.cli.verbs as verbs\n"
        "from skirtwright.__main__ import main\n"
        "def slow(*_):\n"
        "    print('there', flush=True)\n"
        "    time.sleep(60)\n"
        "verbs.look_at = slow\n"
        "sys.exit(main(['check', 'mermaid']))\n"
    )
    command = [sys.executable, "-c", script]
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as going:
        assert going.stdout.readline() == b"there\n"
        going.send_signal(signal.SIGINT)
        _, err = going.communicate(timeout=60)
    assert going.returncode == 130
    assert err.decode().count("\n") == 1
    assert "Traceback" not in err.decode()


@pytest.mark.skipif(sys.platform == "win32", reason="no signals of this sort there")
def test_stopping_inside_an_exec_ends_with_130_too():
    """As where a data class is being made: Python would end by the signal."""
    script = (
        "import os, signal, sys, skirtwright.cli.verbs as verbs\n"
        "from skirtwright.__main__ import main\n"
        "stop = 'import os, signal; os.kill(os.getpid(), signal.SIGINT)'\n"
        "verbs.look_at = lambda *_: exec(stop)\n"
        "sys.exit(main(['check', 'mermaid']))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, check=False, timeout=60
    )
    assert done.returncode == 130
    assert done.stderr.decode().count("\n") == 1
