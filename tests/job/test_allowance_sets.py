"""Sets of allowances: applied by the part an edge plays, taken, kept, named."""

from __future__ import annotations

import json

import pytest

from drafting import OneWorktable
from skirtwright import shelf
from skirtwright.draft import styles
from skirtwright.job import allowance_sets, edits, file, habits, piece_edits
from skirtwright.job.allowance_sets import AllowanceSet
from skirtwright.job.job import new_job
from skirtwright.problems import SkirtwrightError
from skirtwright.words import says


@pytest.fixture(scope="module")
def table():
    return OneWorktable()


@pytest.fixture(scope="module")
def look(table):
    return table.look(new_job(styles.style("mermaid")))


@pytest.fixture
def home(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    return tmp_path


def widths(look):
    return {
        (piece.name, edge.name): [round(width, 3) for width, _ in edge.allowances]
        for piece in look.pieces
        for edge in piece.edges
    }


def shipped(title):
    return next(s for s in allowance_sets.shipped() if s.title.startswith(title))


def test_home_sewing_is_five_eighths_on_every_seam_and_leaves_the_hem(table, look):
    # 5/8 in, as printed on home sewing patterns (common practice, no source).
    done = table.look(allowance_sets.applied(look, shipped("Home")).job)
    before, after = widths(look), widths(done)
    seams = [("front", "waist"), ("front", "side"), ("back", "centre")]
    seams += [("front_lining", "side"), ("band", "joins"), ("band", "left_end")]
    for seam in seams:
        assert after[seam] == [15], seam
    for hem in [("front", "hem"), ("back", "hem"), ("front_lining", "hem")]:
        assert after[hem] == before[hem]
    assert after["front", "centre"] == [0], "a fold stays a fold"


def test_the_school_table_by_its_figures(table, look):
    # Waist 1.2, side 2.0, opening 2.5 (common practice, no source).
    done = widths(table.look(allowance_sets.applied(look, shipped("School")).job))
    assert done["front", "waist"] == [12]
    assert done["front", "side"] == [20]
    assert done["back", "centre"] == [25]
    assert done["band", "inside"] == widths(look)["band", "inside"], "no part of it"


def test_a_set_is_one_step_back_and_known_again(look, table):
    for known in allowance_sets.shipped():
        assert known.source
        edited = allowance_sets.applied(look, known)
        done = table.look(edited.job)
        assert allowance_sets.in_use(done, allowance_sets.shipped()) == known
        assert piece_edits.without_allowances(edited.job).job == look.job
        other = piece_edits.set_allowance(edited.job, "front", "side", "3 cm").job
        assert allowance_sets.in_use(table.look(other), [known]) is None
        assert file.read(file.written(edited.job), "o.skirt") == edited.job
    assert allowance_sets.in_use(look, allowance_sets.shipped()) is None


def test_names_and_notches_are_not_the_sets_business(look, table):
    job = piece_edits.rename_piece(look.job, "front", "Tail").job
    job = piece_edits.add_notch(job, "front", "side", "30").job
    done = allowance_sets.applied(table.look(job), shipped("Home")).job
    assert done.piece("front").title == "Tail"
    assert done.piece("front").notches
    assert allowance_sets.in_use(table.look(done), [shipped("Home")]) is not None


def test_an_edge_turned_for_something_else_is_left(table):
    # The bias slip's waist is a casing of 4 cm unless it has a zip.
    job = new_job(styles.style("bias-slip"))
    job = edits.set_choice(job, "waist_finish", "elastic").job
    look = table.look(job)
    assert widths(look)["front", "waist"] == [40]
    done = table.look(allowance_sets.applied(look, shipped("Home")).job)
    assert widths(done)["front", "waist"] == [40]
    assert widths(done)["front", "side"] == [15]


def test_what_an_order_has_is_taken_as_a_set(look, table):
    job = piece_edits.set_allowance(look.job, "front", "side", "5/8 in").job
    job = piece_edits.set_allowance(job, "back", "side", "5/8 in").job
    job = piece_edits.set_allowance(job, "back", "centre[1]", "3 cm").job
    taken = allowance_sets.taken(table.look(job), "  My  workroom ")
    assert taken.title == "My workroom"
    assert taken.widths["side"] == "5/8 in"
    assert taken.widths["zip"] == "3 cm"
    assert taken.widths["hem"] == "25 mm"
    again = table.look(allowance_sets.applied(look, taken).job)
    assert widths(again) == widths(table.look(job))


def test_her_sets_are_kept_renamed_and_taken_away(home):
    assert allowance_sets.kept() == ()
    own = AllowanceSet(title="Fine wool", widths={"side": "2.5 cm"})
    allowance_sets.keep(allowance_sets.with_set((), own))
    assert allowance_sets.kept() == (own,)
    again = own.replace(widths={"side": "3 cm"})
    assert allowance_sets.with_set(allowance_sets.kept(), again) == (again,)
    renamed = allowance_sets.renamed((own,), "Fine wool", " Coarse  wool ")
    assert [known.title for known in renamed] == ["Coarse wool"]
    assert allowance_sets.without(renamed, "Coarse wool") == ()
    raw = json.loads(habits.place("allowances.json").read_text("utf-8"))
    assert raw["format"] == 1
    assert [p.name for p in (home / "skirtwright").iterdir()] == ["allowances.json"]


@pytest.mark.parametrize(
    ("does", "code"),
    [
        (lambda own: allowance_sets.named("  "), "allowances.no_name"),
        (lambda own: allowance_sets.named("x" * 61), "allowances.name_too_long"),
        (
            lambda own: allowance_sets.renamed((own,), "A", "school TABLE"),
            "allowances.name_taken",
        ),
        (
            lambda own: allowance_sets.with_set((), own.replace(title="School table")),
            "allowances.name_taken",
        ),
    ],
)
def test_names_that_cannot_be(does, code):
    with pytest.raises(SkirtwrightError) as refused:
        does(AllowanceSet(title="A", widths={}))
    assert refused.value.problem.code == code
    assert says(refused.value.problem)


@pytest.mark.parametrize(
    "text",
    [
        "{",
        "[]",
        '{"format": 2, "sets": []}',
        '{"format": 1, "sets": [{"title": "", "widths": {}}]}',
        '{"format": 1, "sets": [{"title": "A", "widths": {"side": "wide"}}]}',
        '{"format": 1, "sets": [{"title": "A", "widths": {"side": NaN}}]}',
    ],
)
def test_a_damaged_file_is_refused_and_left_as_it_is(home, text):
    habits.keep("allowances.json", text)
    with pytest.raises(SkirtwrightError):
        allowance_sets.kept()
    assert habits.kept("allowances.json") == text


def test_every_part_is_played_by_edges_that_styles_have():
    known = set()
    for folder in ("styles", "finishings", "additions"):
        for name in shelf.names(folder, ".json"):
            raw = shelf.read_json(f"{folder}/{name}.json")
            for piece in raw.get("pieces", ()) if isinstance(raw, dict) else ():
                material = piece.get("material", "shell")
                played = piece.get("roles", {})
                for edge in piece.get("allowances", ()):
                    known.add((material, played.get(edge, "seam")))
    for role in allowance_sets.roles():
        found = [e for e in role.roles if (role.material, e.partition("[")[0]) in known]
        assert found, role.name
