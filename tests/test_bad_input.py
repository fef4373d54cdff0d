"""Bad input: one sentence naming the thing, exit 2, nothing written."""

from __future__ import annotations

import json
import os
import re
import sys
from pathlib import Path

import pytest

from skirtwright.cli import main
from skirtwright.job.upgrade import FORMAT

pytestmark = pytest.mark.usefixtures("elsewhere")

GOOD = {
    "waist": "74cm",
    "hip": "101cm",
    "waist_to_hip": "21cm",
    "waist_to_knee": "59cm",
}


NOW = f'"format": {FORMAT}'
"""How an order says its format."""


def measures(**changed):
    given = {**GOOD, **changed}
    return [
        part
        for name, text in given.items()
        if text is not None
        for part in ("--measure", f"{name}={text}")
    ]


def refused(capsys, elsewhere, *arguments, says="", verb="draft"):
    """Run; assert it was refused in one line and left nothing behind."""
    before = {p: p.stat().st_mtime_ns for p in elsewhere.rglob("*")}
    code = main([verb, *map(str, arguments)])
    out, err = capsys.readouterr()
    assert code == 2, (out, err)
    lines = err.splitlines()
    assert len(lines) == 1, err
    line = lines[0]
    assert "Traceback" not in err
    assert line.endswith("."), line
    assert "?" not in line.replace("?'", ""), line
    assert not re.search(
        r"\b(draft|workings|measures|json|file)\.[a-z_]+\b \(", line
    ), (
        "a code, not a sentence",
        line,
    )
    assert says.lower() in line.lower(), line
    after = {p: p.stat().st_mtime_ns for p in elsewhere.rglob("*")}
    assert after == before, "something was written"
    return line


OUT = ["-o", "out.skirt", "--report", "r.json"]


@pytest.mark.parametrize(
    "value",
    [
        "0",
        "0cm",
        "-74",
        "wide",
        "",
        "NaN",
        "nan",
        "inf",
        "1e9",
        "1e9cm",
        "9**9**9",
        "9" * 400,
        "74cm74",
        "74 parsec",
        "__import__('os')",
        "\x00",
        "7,4,0",
        "1/0",
    ],
)
def test_measurements_that_cannot_be(capsys, elsewhere, value):
    refused(capsys, elsewhere, "mermaid", *measures(waist=value), *OUT, says="waist")


@pytest.mark.parametrize(
    "value",
    [
        "wide",
        "",
        "NaN",
        "1e9",
        "9**9**9",
        "9" * 600,
        "(" * 200 + "1" + ")" * 200,
        "3cm *",
        "3 kg",
        "1/0",
        "hip_ease",
        "root(-1)",
        "waist * hip",
        "__import__('os').system('true')",
        "nothing_like_it",
    ],
)
def test_amounts_that_cannot_be(capsys, elsewhere, value):
    refused(
        capsys,
        elsewhere,
        "mermaid",
        *measures(),
        "--amount",
        f"hip_ease={value}",
        *OUT,
    )


@pytest.mark.parametrize("missing", GOOD)
def test_a_missing_measurement_is_named(capsys, elsewhere, missing):
    said = missing.replace("_", " ")
    taken = measures(**{missing: None})
    line = refused(capsys, elsewhere, "mermaid", *taken, *OUT, says=said)
    assert line.startswith(f"{said.capitalize()} is not measured yet")


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["--amount", "knee_lift=39"], "hip line"),
        (["--measure", "waist_to_knee=26"], "hip line"),
        (["--amount", "length=45"], "break"),
        (["--amount", "length=15"], "hip line"),
        (["--amount", "front_spread=40"], "spread"),
        (["--amount", "back_spread=18"], ""),
        (["--amount", "front_spread=-1"], ""),
        (["--amount", "knee_shaping=15"], "break"),
        (["--amount", "knee_curve=60"], ""),
        (["--amount", "dart_intake_front=0", "--amount", "dart_intake_back=0"], ""),
        (["--amount", "dart_intake_front=14", "--amount", "dart_intake_back=19"], ""),
        (["--measure", "waist=120", "--measure", "hip=90"], "waist"),
        (["--amount", "hem_dorp=2"], "hem_drop"),
        (["--amount", "hem_drop"], "name=value"),
        (["--unit", "cm", "--unit", "in"], "--unit is given twice"),
        (["--measure", "wiast=70"], "waist"),
        (["--choose", "hem_shape=wavy"], "even_from_knee"),
        (["--choose", "hem_shpae=one_curve"], "hem_shape"),
        (["--colour", "red"], ""),
        (["--card", "not-there.json"], "not-there.json"),
        (["--why", "back.hen"], "hen"),
        (["--why", "bakc.hem"], "bakc"),
    ],
)
def test_inputs_that_do_not_go_together(capsys, elsewhere, arguments, says):
    refused(capsys, elsewhere, "mermaid", *measures(), *arguments, *OUT, says=says)


def test_no_such_style_or_verb(capsys, elsewhere):
    line = refused(capsys, elsewhere, "mermiad", *OUT, says="mermiad")
    assert "mermaid" in line
    refused(capsys, elsewhere, "not-there.skirt", *OUT, says="not-there.skirt")
    assert main(["dravt", "mermaid"]) == 2
    assert len(capsys.readouterr().err.splitlines()) == 1
    assert main(["draft"]) == 2
    assert len(capsys.readouterr().err.splitlines()) == 1


@pytest.fixture(scope="module")
def order(tmp_path_factory):
    path = tmp_path_factory.mktemp("order") / "good.skirt"
    assert main(["draft", "mermaid", *measures(), "-o", str(path)]) == 0
    return path.read_text(encoding="utf-8")


@pytest.mark.parametrize("share", [0.0, 0.001, 0.25, 0.5, 0.9, 0.999])
def test_a_file_cut_short(capsys, elsewhere, order, share):
    Path("bad.skirt").write_text(order[: int(len(order) * share)], encoding="utf-8")
    refused(capsys, elsewhere, "bad.skirt", *OUT, says="bad.skirt")


@pytest.mark.parametrize(
    "damage",
    [
        lambda text: "x" * 5_000_001,
        lambda text: "[" * 100_000,
        lambda text: '{"a":' * 50 + "1" + "}" * 50,
        lambda text: "not json at all",
        lambda text: "[]",
        lambda text: "null",
        lambda text: "7",
        lambda text: text.replace('"title"', '"tilte"', 1),
        lambda text: text.replace(NOW, '"format": 99', 1),
        lambda text: text.replace(NOW, '"format": "one"', 1),
        lambda text: text.replace(f"{NOW},", "", 1),
        lambda text: text.replace(NOW, f"{NOW}, {NOW}", 1),
        lambda text: text.replace(NOW, '"format": NaN', 1),
        lambda text: text.replace(NOW, '"format": 1e999', 1),
        lambda text: text.replace('"kind": "start"', '"kind": "strat"', 1),
        lambda text: text.replace('"kind": "number"', '"kind": 7', 1),
        lambda text: text.replace('"waist": "74cm"', '"waist": "NaN"', 1),
        lambda text: text.replace('"waist": "74cm"', '"waist": []', 1),
        lambda text: text.replace('"waist": "74cm"', '"wiast": "74cm"', 1),
    ],
)
def test_damaged_files(capsys, elsewhere, order, damage):
    damaged = damage(order)
    assert damaged != order
    Path("bad.skirt").write_text(damaged, encoding="utf-8")
    refused(capsys, elsewhere, "bad.skirt", *OUT)


def test_a_file_of_bytes_that_are_no_text(capsys, elsewhere):
    Path("bad.skirt").write_bytes(b"\xff\xfe\x00\x80" * 50)
    refused(capsys, elsewhere, "bad.skirt", *OUT, says="bad.skirt")


def test_a_newer_format_says_so(capsys, elsewhere, order):
    Path("bad.skirt").write_text(
        order.replace(NOW, f'"format": {FORMAT + 1}', 1), encoding="utf-8"
    )
    line = refused(capsys, elsewhere, "bad.skirt", *OUT, says="newer")
    assert str(FORMAT) in line


def test_unknown_keys_say_where(capsys, elsewhere, order):
    raw = json.loads(order)
    raw["draft"]["colour"] = "red"
    Path("bad.skirt").write_text(json.dumps(raw), encoding="utf-8")
    refused(capsys, elsewhere, "bad.skirt", *OUT, says="colour")


@pytest.mark.parametrize(
    ("kind", "says"), [('"outlin"', '"outline"'), ('["curve"]', '["curve"]')]
)
def test_a_step_of_an_unknown_kind_says_the_nearest(
    capsys, elsewhere, order, kind, says
):
    Path("bad.skirt").write_text(
        order.replace('"kind": "outline"', f'"kind": {kind}', 1), encoding="utf-8"
    )
    refused(capsys, elsewhere, "bad.skirt", *OUT, says=says)


@pytest.mark.parametrize("card", ["{", "[]", '{"name": 7}', '{"colour": "red"}', ""])
def test_damaged_cards(capsys, elsewhere, card):
    Path("card.json").write_text(card, encoding="utf-8")
    refused(capsys, elsewhere, "mermaid", "--card", "card.json", *OUT, says="card.json")


# Where it is written


def test_an_output_folder_that_is_not_there(capsys, elsewhere):
    for verb, name in (("draft", "away/o.skirt"), ("export", "away/o.svg")):
        refused(
            capsys,
            elsewhere,
            "mermaid",
            *measures(),
            "-o",
            name,
            "--report",
            "r.json",
            says="away",
            verb=verb,
        )
    refused(
        capsys,
        elsewhere,
        "mermaid",
        *measures(),
        "--report",
        "away/r.json",
        says="away",
    )


def test_a_report_that_cannot_be_written_leaves_no_drawing(capsys, elsewhere):
    for verb, name in (("draft", "o.skirt"), ("export", "o.svg")):
        refused(
            capsys,
            elsewhere,
            "mermaid",
            *measures(),
            "-o",
            name,
            "--report",
            "away/r.json",
            verb=verb,
        )


def test_an_output_that_is_a_folder(capsys, elsewhere):
    (elsewhere / "o.skirt").mkdir()
    refused(capsys, elsewhere, "mermaid", *measures(), "-o", "o.skirt", says="o.skirt")


def test_an_output_of_another_kind(capsys, elsewhere):
    refused(capsys, elsewhere, "mermaid", "-o", "o.docx", says="o.docx")
    refused(
        capsys, elsewhere, "mermaid", "-o", "o.skirt", says="o.skirt", verb="export"
    )


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere")
def test_a_folder_that_may_not_be_written(capsys, elsewhere):
    shut = elsewhere / "shut"
    shut.mkdir()
    shut.chmod(0o500)
    try:
        refused(capsys, elsewhere, "mermaid", *measures(), "-o", "shut/o.skirt")
    finally:
        shut.chmod(0o700)


def test_a_folder_that_may_not_be_written_even_for_root(capsys, elsewhere, monkeypatch):
    real = os.open

    def not_allowed(path, flags, *more, **named):
        if flags & os.O_CREAT:
            raise PermissionError(13, "Permission denied", str(path))
        return real(path, flags, *more, **named)

    monkeypatch.setattr(os, "open", not_allowed)
    refused(capsys, elsewhere, "mermaid", *measures(), "-o", "o.skirt", says="o.skirt")


def test_reports_are_not_left_half_written(capsys, elsewhere, monkeypatch):
    real, written = os.write, []

    def full(handle, data):
        if handle > 2 and len(data) > 100:
            written.append(len(data))
            if len(written) > 1:
                raise OSError(28, "No space left on device")
            return real(handle, bytes(data[:64]))
        return real(handle, data)

    monkeypatch.setattr(os, "write", full)
    refused(
        capsys,
        elsewhere,
        "mermaid",
        *measures(),
        "--report",
        "r.json",
        says="room left",
    )
    assert written


def test_errors_of_ours_are_the_only_ones_caught():
    # A bug must show itself: cli catches the program's own errors alone.
    source = Path(sys.modules["skirtwright.cli"].__file__).read_text(encoding="utf-8")
    assert "except Exception" not in source
    assert "except:" not in source
