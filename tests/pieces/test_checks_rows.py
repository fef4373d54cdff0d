"""Every row of what is checked is a check that a wrong draft trips.

The rows are named as the page names them; beside each the codes of its findings.
"""

from __future__ import annotations

import re

import pytest
from wrong_drafts import WRONG

from skirtwright.checks.limits import limits
from skirtwright.draft.draft import FINISHED
from skirtwright.measures.measurements import unlikely
from skirtwright.words import has_message, remedy, says

PATTERN = {
    "seam edges equal": ("seam_uneven",),
    "stated ease in a seam": ("seam_ease",),
    "angles across a seam": ("seam_angle",),
    "each of the pair at the hem": ("hem_corner",),
    "angle at a fold": ("fold_angle",),
    "waist along the curve": ("waist_length",),
    "hip girth": ("hip_length",),
    "band against waist": ("band", "band_longer"),
    "dart legs": ("dart_legs",),
    "dart width": ("dart_wide", "dart_narrow", "dart_negative"),
    "dart tip over the hip line": ("dart_tip", "dart_below_hip"),
    "dart near the side or each other": ("dart_near", "dart_near_side", "darts_cross"),
    "side edge intake": ("intake_at_side",),
    "side lean at the waist": ("side_lean",),
    "waist curve": ("waist_turns",),
    "side curve": ("side_outside",),
    "hip line against her tape": ("hip_level",),
    "front and back lean below a break": ("seam_lean",),
    "edge off grain by flare": ("off_grain",),
    "swing of a corner spread": ("swing",),
    "corner in a seam edge": ("seam_corner",),
    "tight bend in an edge": ("bend",),
    "hem even": ("hem_spread",),
    "hem depth against flare": ("hem_depth", "hem_too_deep", "hem_will_not_turn"),
    "allowance": ("allowance_off", "allowance_crosses"),
    "outline": ("outline_crosses", "needle", "neck"),
    "notches": ("notches_alike", "notches_near", "notches_unlike", "notch_pair"),
    "notch to stitching": ("notch_clear",),
    "pleats": ("pleat_count", "pleat_negative", "pleat_sum", "pleat_layers"),
    "gathers": ("gathers", "gathers_heavy"),
    "piece against cloth": ("cloth_width",),
    "allowances of a seam": ("unlike_allowances",),
    "names of pieces": ("same_title",),
    "edge with an allowance in no seam": ("edge_unsewn",),
    "mirrored pair, fold": ("pair_odd", "fold_differs", "sides_alike"),
    "drill mark": ("drill_mark", "drill_outside"),
}

WEAR = {
    "hip ease, woven": ("hip_close", "hip_tight", "hip_under_body"),
    "hip ease, stretch": ("hip_stretch", "hip_past_stretch"),
    "waist ease": (
        "waist_close",
        "waist_roomy",
        "waist_under_body",
        "waist_far_under_body",
    ),
    "girth at each level over the body": ("top_hip", "top_hip_under_body"),
    "thighs at 10 below the hip line": ("thigh", "thigh_under_body"),
    "opening passes the hip": ("opening", "opening_short"),
    "no opening": ("no_opening",),
    "elastic stretch needed": ("elastic_stretch",),
    "circle share": ("circle_share", "circle_tight", "circle_under_hip"),
    "step allowed": ("step_less_than_free", "step_short", "step_very_short"),
    "the same on the lining and underskirt": ("lining_step", "lining_step_short"),
    "stairs": ("stairs", "stairs_tight"),
    "vent top": ("vent_top",),
    "sitting": ("sitting",),
    "floor clearance": ("hem_low", "hem_near_floor", "hem_on_floor"),
    "points, low backs": ("point_clearance", "point_near_floor", "point_on_floor"),
    "wrap overlap": ("overlap", "overlap_none", "overlap_step", "overlap_opens"),
    "hip line level": ("floor_lengths", "sides_uneven", "floor_of_sides"),
    "measurements plausible": ("hip_less_waist",),
    "D against stature": ("depth_share",),
}

CAUTIONS = {
    "floor-length hem": ("floor_length",),
    "train": ("train",),
    "child": ("child", "child_age"),
    "nightwear": ("nightwear", "child_sleeps"),
    "very full in light cloth": ("flame",),
    "heels": ("shoes",),
    "seated wearer": ("seated", "seated_hip"),
}

CODES = sorted(
    code
    for rows in (PATTERN, WEAR, CAUTIONS)
    for codes in rows.values()
    for code in codes
)


def tripped(code):
    """What the draft made wrong for a code is told of it."""
    return [p for p in WRONG[code]() if p.code == f"check.{code}"]


def test_a_draft_made_wrong_on_purpose_trips_it():
    assert [code for code in CODES if not tripped(code)] == []
    for problem in (found for code in CODES for found in tripped(code)):
        assert problem.severity in ("wrong", "caution", "note")
        # What stops a drawing is known before anything is checked.
        assert not problem.stops
        for text in (says(problem), remedy(problem)):
            assert text.endswith("."), text
            assert not re.search(r"[?{}_]|\bNone\b|\bnan\b", text), text


def test_every_code_is_in_a_row_and_every_row_is_named_once():
    assert len(CODES) == len(set(CODES))
    assert sorted(WRONG) == CODES


def test_no_sentence_of_a_check_is_left_without_its_row(repository):
    """The catalogue holds no sentence that nothing says, and each has its remedy."""
    text = (repository / "resources" / "words" / "en_GB.po").read_text("utf-8")
    told = set(re.findall(r'msgid "problem\.check\.([a-z_]+)"', text))
    assert told == set(CODES)
    assert all(has_message(f"remedy.check.{code}") for code in CODES)


def test_every_limit_has_its_source_and_a_code_that_is_told():
    for name, limit in limits().items():
        assert limit["source"].endswith("."), name


def test_what_a_style_may_say_is_on_the_page_of_files(repository):
    page = (repository / "resources/schemas/README.md").read_text("utf-8")
    for name in limits()["stated"]:
        assert name == "source" or f"`{name}" in page, name


MEASURES = {*FINISHED, "waist_to_hip", "top_hip", "waist_to_floor_side"}
"""Measures of the skirt and of the body, which the table shows where they are taken."""


@pytest.mark.parametrize("code", CODES)
def test_every_finding_names_a_place_the_table_can_show(code):
    pieces = {"front", "back", "front_lining", "back_lining"}
    for problem in tripped(code):
        place = problem.where
        if place in MEASURES or place in ("side", "centre_back"):
            continue
        piece, _, part = place.partition(".")
        assert piece in pieces, place
        edge = part.split(" ")[0]
        known = {"", "waist", "side", "hem", "centre", "dart[1]", "dart[2]"}
        assert edge in known | set("abcde"), place


def test_no_skirt_is_called_safe():
    for code in CODES:
        for problem in tripped(code):
            assert "safe" not in (says(problem) + remedy(problem)).lower()


@pytest.mark.parametrize(
    "code",
    [
        "step_short",
        "step_very_short",
        "hem_low",
        "hem_near_floor",
        "hem_on_floor",
        "floor_length",
        "train",
        "point_clearance",
        "point_on_floor",
        "child",
        "child_age",
        "nightwear",
        "flame",
    ],
)
def test_cautions_of_the_road_defer_to_local_rules(code):
    assert all("your local rules" in remedy(problem) for problem in tripped(code))


def test_implausible_measurements_are_said():
    """Outside the ordinary, at odds with each other: the row's other half."""
    said = unlikely({"waist": 1400.0, "hip": 1300.0})
    assert {p.code for p in said} == {"measures.unusual", "measures.at_odds"}
    above = unlikely({"waist_to_hip": 290.0, "waist_to_knee": 280.0})
    assert "measures.at_odds" in {p.code for p in above}
