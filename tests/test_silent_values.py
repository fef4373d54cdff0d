"""Nothing in an order or a style is other than what it says without a word.

The order is of the style file that the page of files shows, with settings of hers. Each
case puts one wrong value in the place of a right one; whatever is done with it, what
is wrong is told, and by its name.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from shown_order import order, put
from skirtwright.draft import styles
from skirtwright.draft.counting import whole_number
from skirtwright.job import file
from skirtwright.job.job import new_job
from skirtwright.job.worktable import Worktable
from skirtwright.problems import SkirtwrightError
from skirtwright.words import has_message


def told(made: dict[str, Any]) -> set[str]:
    """The codes of all that is said of an order, or of what it is refused with."""
    try:
        look = Worktable().look(file.read(json.dumps(made), "tube.skirt"))
    except SkirtwrightError as refused:
        return {refused.problem.code}
    return {problem.code for problem in look.problems}


CASES = [
    # How many.
    ("draft.pieces.0.count", "1.5", "pieces.count"),
    ("draft.pieces.0.count", "0", "pieces.count"),
    ("draft.pieces.0.count", "-1", "pieces.count"),
    ("draft.pieces.0.count", "100000000", "pieces.count"),
    ("draft.pieces.0.repeat", "1.5", "draft.not_a_count"),
    ("draft.seams.0.repeat", "1.5", "draft.not_a_count"),
    ("draft.seams.0.repeat", "100000000", "draft.not_a_count"),
    # Runs of an allowance.
    (
        "draft.pieces.0.allowances.side",
        [{"to": "20", "width": "1"}, {"to": "10", "width": "2"}, {"width": "3"}],
        "pieces.runs_out_of_order",
    ),
    (
        "draft.pieces.0.allowances.side",
        [{"to": "-1", "width": "1"}, {"width": "3"}],
        "pieces.runs_out_of_order",
    ),
    (
        "draft.pieces.0.allowances.side",
        [{"width": "1"}, {"to": "10", "width": "2"}],
        "draft.last_run_open",
    ),
    (
        "draft.pieces.0.allowances.side",
        [{"width": "1"}, {"width": "2"}],
        "draft.last_run_open",
    ),
    ("draft.pieces.0.allowances.side", [], "draft.last_run_open"),
    # On the fold.
    ("draft.pieces.0.allowances.centre", "1", "pieces.fold_allowance"),
    ("pieces.0.allowances", {"centre": "1"}, "pieces.fold_allowance"),
    # What she set for what is not there.
    ("pieces.0.piece", "halve", "pieces.no_piece"),
    ("pieces.0.allowances", {"side[2]": "1"}, "pieces.setting_unused"),
    ("pieces.0.allowances", {"side[": "1"}, "pieces.setting_unused"),
    ("pieces.0.allowances", {"top": "1"}, "pieces.setting_unused"),
    ("pieces.0.notches.0.edge", "top", "pieces.setting_unused"),
    ("cloths", [{"material": "linning", "price": "9"}], "cloth.no_piece"),
    ("cloths", [{"material": "shell", "width": "-140cm"}], "cloth.width"),
    # Twice.
    ("pieces.+", None, "file.piece_twice"),
    ("draft.amounts.+", None, "draft.listed_twice"),
    ("draft.choices.+", None, "draft.listed_twice"),
    ("draft.first.+", None, "draft.listed_twice"),
    ("draft.measurements.+", None, "draft.listed_twice"),
    ("draft.pieces.0.folds.+", None, "draft.listed_twice"),
    ("draft.pieces.0.turned_up.+", None, "draft.listed_twice"),
    ("draft.pieces.0.lines.+", None, "draft.listed_twice"),
    ("draft.pieces.+", None, "pieces.piece_twice"),
    ("draft.seams.+", None, "pieces.seam_twice"),
    # Without a name.
    ("draft.id", "", "draft.nameless"),
    ("draft.pieces.0.name", " ", "draft.nameless"),
    ("draft.pieces.0.material", "", "draft.nameless"),
    ("draft.pieces.0.folds.0", "", "draft.nameless"),
    ("draft.pieces.0.turned_up.0", "", "draft.nameless"),
    ("draft.pieces.0.lines.0", "", "draft.nameless"),
    ("draft.seams.0.name", "", "draft.nameless"),
    ("draft.steps.1.step", "", "draft.nameless"),
    ("draft.steps.14.group", "", "draft.nameless"),
    # A seam of one side.
    ("draft.seams.0.sides.0", [], "draft.side_without_edge"),
    ("draft.seams.0.sides.1", [], "draft.side_without_edge"),
    # Ranges and figures that cannot be.
    ("draft.amounts.0.least", "200", "draft.range_empty"),
    ("draft.amounts.0.most", "-1", "draft.range_empty"),
    ("draft.amounts.1.default", "20", "draft.default_beyond"),
    ("draft.amounts.1.least", "8", "draft.default_beyond"),
    ("draft.format", 0, "json.number_below"),
    ("draft.finished.length", "-1", "report.finished_beyond"),
    ("draft.finished.sweep", "100000000", "report.finished_beyond"),
    ("draft.stride.0.girth", "100000000", "report.level_beyond"),
    ("draft.stride.0.below_waist", "-1", "report.level_beyond"),
    # Of what the style says of the finished skirt, from which nothing is drawn.
    ("draft.finished.length", "30 deg", "workings.wrong_kind"),
    ("draft.stride.0.girth", "1 cm + 2 deg", "workings.kinds_differ"),
    ("draft.stride.0.girth", "1" + " + 0 cm" * 80, "workings.too_long"),
    ("draft.checks", {"waist_asked": "3 deg"}, "workings.wrong_kind"),
]


@pytest.mark.parametrize(("place", "value", "code"), CASES)
def test_a_value_that_cannot_hold_is_told(place, value, code):
    assert code not in told(order())
    assert code in told(put(place, value))


def test_a_detail_that_has_no_meaning_with_the_others_is_told():
    job, said = new_job(styles.style("straight")), []
    for waist in ("darted", "side_elastic"):
        chosen = {"waist_shape": waist, "finish": "facing"}
        look = Worktable().look(job.replace(choices=chosen))
        said.append({p.where for p in look.problems if p.code.endswith("not_used")})
    assert said == [set(), {"finish"}]


def test_what_is_told_is_in_words():
    """Every sentence names its values: none is left as its id."""

    for code in {code for _, _, code in CASES} - {"json.wrong_value"}:
        assert has_message(f"problem.{code}"), code


@pytest.mark.parametrize("kind", ["insert_darts", "add_pleats"])
def test_darts_and_pleats_are_whole(kind):
    made = order()
    step = {
        "insert_darts": {
            "edge": "waist",
            "count": "1.5",
            "at": ["8", "14"],
            "width": "1",
            "lengths": ["9", "9"],
        },
        "add_pleats": {
            "edge": "waist",
            "to": "hem",
            "count": "1.5",
            "stays": "centre",
            "at": ["panel.waist at 8", "panel.waist at 14"],
            "feet": ["panel.hem at 8", "panel.hem at 14"],
            "top": "1",
            "bottom": "1",
        },
    }[kind]
    made["draft"]["steps"].append(
        {"step": "folded", "kind": kind, "panel": "panel", **step}
    )
    assert "draft.not_whole" in told(made)
    made["draft"]["steps"][-1]["count"] = "1"
    assert "draft.not_whole" not in told(made)


def test_whole_numbers():
    asked = (0, 1.0, 100, 1 + 1e-12, 1.5, -1, 101, 1e8, float("inf"), float("nan"))
    counts = [0, 1, 100, 1, None, None, None, None, None, None]
    assert list(map(whole_number, asked)) == counts
    assert whole_number(0, 1) is None
