"""One style for many: a folder each, a table of all, nobody done twice."""

from __future__ import annotations

import csv
import errno
import io
import json
import logging
import os
import signal
import subprocess
import sys
import time
from concurrent import futures
from pathlib import Path

import pypdfium2
import pytest

from skirtwright.cli import main
from skirtwright.job import file
from skirtwright.workroom import batch as batch_of_all
from skirtwright.workroom import cluster, processes
from skirtwright.workroom.batch import NOTE, TABLE, Outcome, summary
from skirtwright.workroom.one_person import ORDER, PATTERN, SHEET, PersonFiles

PEOPLE = """\
name,waist,hip,waist_to_hip,waist_to_knee,unit
Ottoline Brack,72,98,20,58,
Maud Pell,29 1/8,39 1/2,8,23,in
Jo/Ann,80,104,21,60,
"""
DAY = ("--date", "2026-01-02")


@pytest.fixture(autouse=True)
def with_people(elsewhere):
    Path("people.csv").write_text(PEOPLE, encoding="utf-8")


def run(capsys, *more, source="straight-block", workers=1):
    asked = ["batch", "people.csv", source, "-o", "all", *more]
    for option in (DAY, ("--workers", workers)):
        asked += option if option[0] not in more else ()
    code = main([str(argument) for argument in asked])
    return code, *capsys.readouterr()


def quick(text, wanted):
    """Stands in for what is made, where only who is done when is tried."""
    return PersonFiles({ORDER: text.encode(), PATTERN: wanted.paper.encode()})


def table():
    text = Path("all", TABLE).read_text("utf-8")
    return {row["name"]: row for row in csv.DictReader(io.StringIO(text))}


def contents(folder):
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(Path(folder).rglob("*"))
        if path.is_file()
    }


@pytest.fixture(scope="module")
def alone(tmp_path_factory):
    """A folder, and in it what is made of two people in one process."""
    before, folder = Path.cwd(), tmp_path_factory.mktemp("alone")
    os.chdir(folder)
    try:
        assert main(two("--workers", "1", "--report", "r.json")) == 0
        return folder
    finally:
        os.chdir(before)


def two(*more):
    first, *rows = PEOPLE.splitlines(keepends=True)
    Path("people.csv").write_text("".join((first, *rows[1:])), encoding="utf-8")
    return ["batch", "people.csv", "straight-block", "-o", "all", *DAY, *more]


def test_everyone_has_a_folder_and_stands_in_the_table(alone, monkeypatch):
    monkeypatch.chdir(alone)
    names = ["Jo Ann", "Maud Pell"]
    assert sorted(p.name for p in Path("all").iterdir()) == [*names, TABLE]
    found = table()
    assert found["Jo/Ann"]["waist_mm"] == "815.0"  # 80 and 1.5 of ease
    for name, row in found.items():
        own = Path("all", row["folder"])
        order = file.load(own / ORDER)
        assert order.card.name == name
        assert order.unit == ("in" if name == "Maud Pell" else "cm")
        pages = pypdfium2.PdfDocument(own / PATTERN)
        assert len(pages) > 1
        assert len(pypdfium2.PdfDocument(own / SHEET)) > 1
        assert name in " ".join(pages[0].get_textpage().get_text_bounded().split())
    said = json.loads(Path("r.json").read_text("utf-8"))["people"]
    assert [one["name"] for one in said] == list(found)


def test_a_style_of_hers_with_amounts_and_choices(capsys, monkeypatch):
    monkeypatch.setattr(processes, "make", quick)
    assert main(["draft", "straight-block", "-o", "own.skirt"]) == 0
    code, out, err = run(capsys, "--amount", "hip_ease=6", source="own.skirt")
    assert code == 0
    assert "3 of 3" in out
    told = [line.split(":")[0] for line in err.splitlines()]
    assert told == ["1 of 3", "2 of 3", "3 of 3"]
    order = file.load(Path("all", "Maud Pell", ORDER))
    assert order.amounts == {"hip_ease": "6"}
    assert order.card.measurements["waist"] == "29 1/8"


def test_who_is_done_is_not_done_again_unless_something_changed(capsys, monkeypatch):
    made = []
    monkeypatch.setattr(
        processes, "make", lambda *order: made.append(order) or quick(*order)
    )
    run(capsys)
    before = contents("all")
    made.clear()
    _, _, err = run(capsys)
    assert made == []
    assert err.count("before") == 3
    assert contents("all") == before
    Path("people.csv").write_text(PEOPLE.replace("104", "105"), encoding="utf-8")
    Path("all", "Maud Pell", PATTERN).write_bytes(b"half of i")
    Path("all", "Ottoline Brack", PATTERN).unlink()
    run(capsys)
    assert len(made) == 3
    Path("people.csv").write_text(PEOPLE, encoding="utf-8")
    run(capsys)
    assert len(made) == 4
    assert contents("all") == before
    run(capsys, "--paper", "letter")
    assert len(made) == 7


@pytest.mark.parametrize("note", ["whole", "gone", "damaged"])
def test_an_order_changed_by_hand_is_left_and_told(capsys, monkeypatch, note):
    monkeypatch.setattr(processes, "make", quick)
    run(capsys)
    place = Path("all", "Maud Pell", ORDER)
    changed = place.read_bytes() + b" "
    if note == "whole":
        place.write_bytes(changed)
    elif note == "gone":
        place.with_name(NOTE).unlink()
    else:
        place.with_name(NOTE).write_bytes(b"{")
    before = place.read_bytes()
    code, out, _ = run(capsys)
    assert code == 1
    assert "Maud Pell: order.skirt in Maud Pell was changed" in out
    assert place.read_bytes() == before
    assert table()["Maud Pell"]["state"] == "refused"
    assert table()["Jo/Ann"]["state"] == "done"


def test_no_old_pattern_stays_beside_an_order_that_is_refused(capsys, monkeypatch):
    monkeypatch.setattr(processes, "make", quick)
    run(capsys)
    assert Path("all", "Maud Pell", PATTERN).exists()
    refusing = lambda text, _: PersonFiles({ORDER: text.encode()}, refused="No.")  # noqa: E731
    monkeypatch.setattr(processes, "make", refusing)
    run(capsys, "--paper", "letter")
    left = {path.name for path in Path("all", "Maud Pell").iterdir()}
    assert left == {ORDER, NOTE}


def test_ended_while_it_was_written_she_is_done_again(capsys, monkeypatch):
    monkeypatch.setattr(processes, "make", quick)
    save = batch_of_all.save_whole

    def ends(path, data, **how):
        if path.name == PATTERN:
            raise KeyboardInterrupt
        save(path, data, **how)

    monkeypatch.setattr(batch_of_all, "save_whole", ends)
    assert run(capsys)[0] == 130
    monkeypatch.setattr(batch_of_all, "save_whole", save)
    assert run(capsys)[0] == 0
    assert all(row["state"] == "done" for row in table().values())


def test_one_who_cannot_be_written_does_not_keep_the_others(capsys, monkeypatch):
    monkeypatch.setattr(processes, "make", quick)
    Path("all").mkdir()
    Path("all", "Maud Pell").write_text("mine", encoding="utf-8")
    assert run(capsys)[0] == 1
    assert [row["state"] for row in table().values()] == ["done", "refused", "done"]
    assert Path("all", "Maud Pell").read_text("utf-8") == "mine"

    def full(place, _):
        trouble = OSError(errno.ENOSPC, "no room")
        raise batch_of_all.trouble_with(place, trouble) from trouble

    monkeypatch.setattr(batch_of_all, "save_whole", full)
    assert run(capsys, "-o", "full")[0] == 2
    assert not Path("full").exists(), "no folder stays with nothing in it"


def test_no_more_orders_are_held_than_are_worked(capsys, monkeypatch):
    rows = "".join(f"Ida {n},72,98,20,58,\n" for n in range(20))
    Path("people.csv").write_text(PEOPLE + rows, encoding="utf-8")
    written = []
    write = file.written
    monkeypatch.setattr(file, "written", lambda job: written.append(job) or write(job))
    held = []

    def counted(*order):
        held.append(len(written))
        return quick(*order)

    monkeypatch.setattr(processes, "make", counted)
    run(capsys)
    assert held == list(range(1, 24))


def test_processes_side_by_side_make_the_same_to_the_byte(alone):
    assert main(two("--workers", "2")) == 0
    assert contents("all") == contents(alone / "all")


@pytest.fixture
def scheduler():
    """A Dask scheduler on this machine, with one worker.

    It stands in this process, for want of time, and is spoken to as one elsewhere.
    """
    distributed = pytest.importorskip("distributed", reason="needs the extra cluster")
    with distributed.LocalCluster(
        n_workers=1,
        threads_per_worker=2,
        processes=False,
        protocol="tcp://",
        dashboard_address=None,
        silence_logs=50,
    ) as cluster:
        yield cluster.scheduler_address


def test_a_dask_scheduler_has_the_same_made_to_the_byte(capsys, alone, scheduler):
    assert main(two("--scheduler", scheduler)) == 0
    assert contents("all") == contents(alone / "all")
    assert capsys.readouterr().err.count(": done") >= 2


@pytest.mark.parametrize(
    ("address", "missing", "said"),
    [
        ("tcp://127.0.0.1:1", False, "No Dask scheduler answers at tcp://127.0.0.1:1"),
        ("nowhere at all", False, "No Dask scheduler answers at nowhere at all"),
        ("tcp://127.0.0.1:1", True, "skirtwright[cluster]"),
    ],
)
def test_a_scheduler_that_is_not_there_is_told(
    capsys, monkeypatch, address, missing, said
):
    if missing:
        monkeypatch.setitem(sys.modules, "distributed", None)
    else:
        pytest.importorskip("distributed", reason="needs the extra cluster")
        monkeypatch.setattr(cluster, "_WAIT_SECONDS", 0.5)
    assert main(two("--scheduler", address)) == 2
    assert said in capsys.readouterr().err
    assert not Path("all").exists(), "nothing is begun"
    if not missing:
        logger = logging.getLogger("distributed.client")
        assert not logger.isEnabledFor(logging.ERROR), "one sentence, no log beside it"


def test_who_cannot_be_dressed_is_told_and_the_others_are(capsys):
    extra = "Tilly,0,98,20,58,\nUte,60,160,20,58,\nOttoline brack,72,98,20,58,\n"
    rows = PEOPLE.splitlines(keepends=True)[:2]
    Path("people.csv").write_text("".join(rows) + extra, encoding="utf-8")
    code, out, _ = run(capsys)
    assert code == 1
    assert "Tilly" in out
    assert "row 2" in out
    found = table()
    assert len(found) == 4
    assert found["Tilly"]["state"] == found["Ottoline brack"]["state"] == "refused"
    assert found["Ottoline Brack"]["state"] in ("done", "look")
    if found["Ute"]["state"] == "refused":
        assert not Path("all", "Ute", PATTERN).exists()


@pytest.mark.parametrize(
    ("text", "more", "said"),
    [
        ("name,waist\nIda,72\n", (), "no column for hip"),
        ("", (), "empty"),
        (PEOPLE, ("--amount", "hip_eas=3"), "hip_ease"),
        (PEOPLE, ("--workers", "0"), "1 to 64"),
        (PEOPLE, ("--date", "tomorrow"), "2026-03-31"),
        (PEOPLE, ("--paper", "a9"), "a9"),
    ],
)
def test_what_nobody_can_have_is_refused_before_anything_is_made(
    capsys, text, more, said
):
    Path("people.csv").write_text(text, encoding="utf-8")
    code, _, err = run(capsys, *more)
    assert code == 2
    assert said in err
    assert err.count("\n") == 1
    assert not Path("all").exists()


def test_places_that_cannot_be_written(capsys):
    Path("all").write_text("mine", encoding="utf-8")
    code, _, err = run(capsys)
    assert (code, "not a folder" in err) == (2, True)
    assert Path("all").read_text("utf-8") == "mine"
    Path("all").unlink()
    Path("all").mkdir()
    Path("all", TABLE).write_text("mine", encoding="utf-8")
    assert run(capsys)[0] == 2
    assert Path("all", TABLE).read_text("utf-8") == "mine"
    Path("all", TABLE).write_text(PEOPLE, encoding="utf-8")
    asked = ["batch", f"all/{TABLE}", "straight-block", "-o", "all"]
    assert main(asked) == 2
    assert Path("all", TABLE).read_text("utf-8") == PEOPLE
    Path("all", TABLE).unlink()
    assert run(capsys, "--report", "all/r.json")[0] == 2
    assert list(Path("all").iterdir()) == []


def test_names_that_no_folder_can_have(capsys, monkeypatch):
    monkeypatch.setattr(processes, "make", quick)
    rows = ["../up", "CON", "..", "a:b", "a*b", "summary.csv", "Ø" * 120]
    measures = ",72,98,20,58,\n"
    text = PEOPLE.splitlines()[0] + "\n" + "".join(r + measures for r in rows)
    Path("people.csv").write_text(text, encoding="utf-8")
    assert run(capsys)[0] == 0
    folders = [row["folder"] for row in table().values()]
    assert len({folder.casefold() for folder in folders}) == len(rows)
    assert sorted(p.name for p in Path("all").iterdir() if p.is_dir()) == sorted(
        folders
    )
    assert sorted(p.name for p in Path().iterdir()) == ["all", "people.csv"]


def test_no_cell_of_the_table_is_a_formula():
    """OWASP, CSV Injection."""
    text = summary([Outcome("=1+1", 2, "-a", refused="@x")]).decode()
    (row,) = csv.DictReader(io.StringIO(text))
    assert (row["name"], row["folder"], row["says"]) == ("'=1+1", "'-a", "'@x")


@pytest.mark.skipif(sys.platform == "win32", reason="signals of POSIX")
def test_stopped_while_its_processes_begin():
    """Nothing is told but that it was stopped, and no empty folder is left."""
    asked = ["batch", "people.csv", "straight-block", "-o", "all", *DAY]
    command = [sys.executable, "-m", "skirtwright", *asked, "--workers", "2"]
    child = subprocess.Popen(
        command, stderr=subprocess.PIPE, text=True, start_new_session=True
    )
    deadline = time.monotonic() + 60
    while not Path("all").exists() and time.monotonic() < deadline:
        time.sleep(0.01)
    time.sleep(0.1)
    os.killpg(child.pid, signal.SIGINT)
    _, said = child.communicate(timeout=120)
    assert (child.returncode, said.count("\n")) == (130, 1), said
    assert not Path("all").exists()


def test_a_stop_waits_for_nothing_that_is_begun():
    """An order may take seconds; a minute's sleep stands for one here."""

    def stopped_while_one_is_worked():
        with processes.pool_of(1, "") as (pool, _):
            asleep = pool.submit(time.sleep, 60)
            while not asleep.running():
                time.sleep(0.01)
            raise KeyboardInterrupt

    begun = time.monotonic()
    with pytest.raises(KeyboardInterrupt):
        stopped_while_one_is_worked()
    assert time.monotonic() - begun < 40


@pytest.mark.skipif(sys.platform == "win32", reason="signals of POSIX")
@pytest.mark.skipif(not hasattr(signal, "pthread_sigmask"), reason="POSIX")
def test_a_stop_leaves_no_lock_of_the_pool_held(monkeypatch):
    """It came in the midst of a look, and the pool waited for ever for its locks."""
    looked = []
    # A test begun in the background of a shell hears no stop.
    before = signal.signal(signal.SIGINT, signal.default_int_handler)

    def stopped_meanwhile(*given):
        signal.raise_signal(signal.SIGINT)
        looked.append(futures.wait(*given))
        return looked[-1]

    monkeypatch.setattr(processes, "wait", stopped_meanwhile)
    done = futures.Future()
    done.set_result(PersonFiles({}))
    task = processes.Task("Clara", 1, "clara", "", "")
    try:
        with pytest.raises(KeyboardInterrupt):
            list(processes._finished({done: task}))
    finally:
        signal.signal(signal.SIGINT, before)
    assert looked


def test_stopped_and_run_again(capsys, monkeypatch):
    rows = "".join(f"Ida {n},72,98,20,58,\n" for n in range(4))
    Path("people.csv").write_text(PEOPLE + rows, encoding="utf-8")
    asked = ["batch", "people.csv", "straight-block", "-o", "all", *DAY]
    command = [sys.executable, "-m", "skirtwright", *asked, "--workers", "2"]
    child = subprocess.Popen(
        command, stderr=subprocess.PIPE, text=True, start_new_session=True
    )
    said = child.stderr.readline()
    os.killpg(child.pid, signal.SIGINT)
    _, rest = child.communicate(timeout=120)
    assert child.returncode == 130, rest
    assert "Traceback" not in said + rest
    assert not Path("all", TABLE).exists()
    done = {p.parent.name for p in Path("all").glob(f"*/{NOTE}")}
    assert 1 <= len(done) < 7

    monkeypatch.setattr(processes, "make", quick)
    code, _, err = run(capsys)
    assert code == 0
    assert err.count("before") == len(done)
    assert len(table()) == 7
