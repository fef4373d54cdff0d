"""The .skirt file: written and read back, always the same; old ones opened."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from skirtwright.draft import styles
from skirtwright.job import edits, file, piece_edits, upgrade
from skirtwright.job.job import new_job
from skirtwright.job.worktable import Worktable, laid
from skirtwright.lay.cloth_to_cut import usual
from skirtwright.problems import SkirtwrightError
from skirtwright.words import says

OLD = Path(__file__).parents[1] / "golden" / "orders"


@pytest.fixture
def job():
    job = new_job(styles.style("mermaid"))
    job = edits.set_measurement(job, "waist", "29 1/8 in").job
    job = edits.set_amount(job, "front_spread", "hip / 32").job
    job = edits.set_choice(job, "hem_shape", "even_from_knee").job
    job = piece_edits.set_allowance(job, "back", "side", "1,8 cm").job
    return edits.set_title(job, "Crêpe, Nguyễn-Łącka").job


def test_round_trip(job):
    text = file.written(job)
    assert file.read(text, "o.skirt") == job
    assert file.written(file.read(text, "o.skirt")) == text


def test_an_age_stands_in_a_file_only_where_it_is_given(job):
    assert '"age"' not in file.written(job)
    aged = edits.set_age(job, " 12 ").job
    assert '"age": 12' in file.written(aged)
    assert file.read(file.written(aged), "o.skirt").card.age == 12
    for typed in ("twelve", "12.5", "-1", "121", "²"):
        with pytest.raises(SkirtwrightError):
            edits.set_age(job, typed)


def test_every_style_goes_round():
    for name in styles.names():
        job = new_job(styles.style(name))
        read = file.read(file.written(job), name)
        assert read == job
        assert read.draft is job.draft, (
            "as it stands on the shelf it is not worked anew"
        )


def test_the_format_stands_first_and_steps_on_lines_of_their_own(job):
    text = file.written(job)
    lines = text.splitlines()
    assert lines[0] == "{"
    assert lines[1] == f'"format": {upgrade.FORMAT},'
    assert text.endswith("}\n")
    steps = [line for line in lines if line.startswith('{"step": ')]
    assert len(steps) > 100
    for line in steps:
        assert json.loads(_whole(line))["kind"]
    # As she typed it: no number made over.
    assert '"29 1/8 in"' in text
    assert '"hip / 32"' in text
    assert "Nguyễn-Łącka" in text


def _whole(line):
    """A record's own text: what closes groups around it left out."""
    depth = 0
    for index, letter in enumerate(line):
        depth += letter == "{"
        depth -= letter == "}"
        if depth == 0:
            return line[: index + 1]
    raise AssertionError(line)


def test_one_change_is_one_line_of_a_diff(job):
    before = file.written(job).splitlines()
    after = file.written(edits.set_amount(job, "hip_ease", "5").job).splitlines()
    differ = [pair for pair in zip(before, after, strict=False) if pair[0] != pair[1]]
    assert abs(len(before) - len(after)) <= 1
    assert len(differ) <= 1 or len(before) != len(after)


def test_an_old_order_keeps_its_style(job):
    # The draft is copied into the file: what the shelf holds later does not matter.
    raw = json.loads(file.written(job))
    assert raw["draft"]["steps"]
    block = next(item for item in raw["draft"]["steps"] if item.get("from"))
    assert block["steps"]


@pytest.mark.parametrize("path", sorted(OLD.glob("*.skirt")), ids=lambda p: p.name)
def test_old_files_open_for_ever(path):
    job = file.load(path)
    look = Worktable().look(job)
    assert look.drawn, look.problems
    old, new = path.read_text(encoding="utf-8"), file.written(job)
    # Drafts of format 2 called both a style's pulls and a curve's reaches handles.
    for was, now in (("s", "pulls"), ("start_", "start_reach"), ("end_", "end_reach")):
        known = old.count(f'"{was}handle": "0.3') + old.count(f'"handle{was}": [')
        assert known == new.count(f'"{now}": "0.3') + new.count(f'"{now}": [') > 0
    if path.name == "format-4.skirt":
        first, last = job.prints
        assert (first.on, first.how, last.how) == ("2026-11-02", "sheets", "roll")
        assert [spot.piece for spot in first.laid.pieces] == ["half"]
        assert Worktable().look(job.as_printed(first)).job.draft.id == "tube"
        assert job.as_printed(last).card.measurements["waist"] == "76 cm"
        assert job.card.measurements["waist"] == "78 cm"
        return
    assert job.prints == ()
    pieces = [piece for piece in look.pieces if piece.spec.body][:2]
    if path.name == "format-1.skirt":
        assert job.card.name == "Ottilie Marsh"
        assert look.report.finished["waist"] == pytest.approx(695, abs=0.1)
        assert look.report.finished["hip"] == pytest.approx(985, abs=0.1)
        assert job.piece("front").allowances == {"side": "2 cm"}
    if path.name == "format-3.skirt":
        assert (job.unit, job.card.unit) == ("in", "in")
        assert job.amounts == {"front_spread": "1 3/8"}
    if path.name == "cloths-4.skirt":
        cloth = job.cloth("shell")
        assert (cloth.width, cloth.on_hand) == (45 * 25.4, 2.5 * 914.4)
        assert (cloth.fold, cloth.one_way) == ("single", True)
        assert cloth.price == pytest.approx(14.5 / 0.9144)  # typed of a yard
        assert job.cloth("lining") == usual("lining", "in")
    if path.name == "format-5.skirt":
        lay = laid(look, 5).report.lays[0]
        assert job.hand_lays["shell"].fits(look.report.cut, lay.cloth)
        assert sum(placed.locked for placed in lay.placed) == 1
    if path.name == "format-6.skirt":
        assert job.piece("front").joins == ("12 1/2",)
        assert job.piece("band").across
        assert {"front_part_1", "front_part_2"} <= {p.name for p in look.pieces}
        return
    roles = {edge.name: edge.role for edge in pieces[0].edges}
    assert roles == {"waist": "waist", "side": "side", "hem": "hem", "centre": "centre"}
    assert [piece.spec.body for piece in pieces] == ["front", "back"]
    assert all(piece.panel.level("hip") for piece in pieces)
    assert all(piece.panel.level("knee") for piece in pieces)
    if path.name == "format-2.skirt":
        assert [piece.name for piece in look.shown] == ["front"]
        front = look.pieces[0]
        assert front.spec.title == "Front, blue crêpe"
        assert (317.5, 3) in [(n.distance, n.count) for n in front.notches]


def test_there_is_an_old_file_of_every_format():
    found = {path.name for path in OLD.glob("format-*.skirt")}
    assert found >= {f"format-{n}.skirt" for n in range(1, upgrade.FORMAT + 1)}
    assert set(upgrade.STEPS) == set(range(1, upgrade.FORMAT))


def test_old_formats_go_through_every_step(monkeypatch):
    monkeypatch.setattr(upgrade, "FORMAT", 3)
    monkeypatch.setattr(
        upgrade,
        "STEPS",
        {1: lambda raw: {**raw, "b": 2}, 2: lambda raw: {**raw, "c": raw["b"] + 1}},
    )
    assert upgrade.upgraded({"format": 1}, "o") == {"format": 3, "b": 2, "c": 3}


@pytest.mark.parametrize("number", [None, "1", 0, -1, True, 1.5])
def test_no_usable_format(number):
    raw = {} if number is None else {"format": number}
    with pytest.raises(SkirtwrightError) as refused:
        upgrade.upgraded(raw, "o.skirt")
    assert refused.value.problem.code == "file.no_format"


def test_a_newer_format_is_refused_with_a_sentence(job):
    text = file.written(job).replace(f'"format": {upgrade.FORMAT}', '"format": 9', 1)
    with pytest.raises(SkirtwrightError) as refused:
        file.read(text, "o.skirt")
    assert refused.value.problem.code == "file.newer"
    assert "o.skirt" in says(refused.value.problem)


def test_a_file_that_is_not_there(tmp_path):
    with pytest.raises(SkirtwrightError) as refused:
        file.load(tmp_path / "none.skirt")
    assert refused.value.problem.code == "file.not_there"


def test_the_version_before_is_kept(tmp_path, job):
    path = tmp_path / "o.skirt"
    file.save(job, path)
    first = path.read_bytes()
    file.save(edits.set_title(job, "Second").job, path)
    before = [p for p in tmp_path.iterdir() if p != path]
    assert [p.read_bytes() for p in before] == [first]
    assert file.load(path).title == "Second"


@pytest.mark.parametrize("said", ["yes", "true", 1])
def test_only_true_and_false_answer_yes_or_no(job, said):
    raw = json.loads(file.written(job))
    raw["pieces"] = [{"piece": "front", "across": said}]
    with pytest.raises(SkirtwrightError) as refused:
        file.read(json.dumps(raw).encode(), "a.skirt")
    assert "true or false" in says(refused.value.problem)
