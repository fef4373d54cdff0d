"""What she sews by: steps in which a skirt would be spoiled if they were told wrongly.

How pockets, vents, wraps and linings are sewn: common practice, no source.
"""

from __future__ import annotations

import copy

import pytest

from bodies import SAMPLE
from drafting import reported
from sewn import ALIKE, APART, Sewn, order_faults
from skirtwright.export.sewing.making_up_sheet import making_of
from skirtwright.export.sewing.sewing_facts import table
from skirtwright.words import Manner, says

pytestmark = pytest.mark.usefixtures("no_figure")


def steps(style, **chosen):
    """The words of each step by its name; those of one name together."""
    found = {}
    for step in making_of(reported(style, SAMPLE, **chosen), "", "", Manner()).order:
        found[step.step] = f"{found.get(step.step, '')} {step.words}".strip()
    return found


@pytest.mark.parametrize(("style", "seams"), [("tiered", 3), ("flounce", 2)])
def test_opened_folds_of_upper_parts_are_told_with_the_centre_seam(style, seams):
    """Left and right apart no front is on a fold: each part has a seam there."""
    report = Sewn(style, APART).report({})
    order = making_of(report, "", "", Manner()).order
    centre = next(step for step in order if step.step == "centre")
    assert centre.words.startswith("Sew the centre front seam from the hem upwards")
    assert len(centre.row.seams) == seams
    assert [step.step for step in order].index("flounce") < order.index(centre)


@pytest.mark.parametrize(
    ("style", "body", "words"),
    [
        ("straight", ALIKE, "Sew the side seams"),
        ("straight", APART, "Sew the side seams"),
        ("bias-slip", ALIKE, "Sew the right side seam"),
        ("mermaid", APART, "Sew the right side seam"),
    ],
)
def test_side_seams_are_told_as_she_says_them(style, body, words):
    """Where the left side opens only the right one is left to be sewn."""
    chosen = {"closing": "zip_left_side"} if style == "mermaid" else {}
    order = making_of(Sewn(style, body).report(chosen), "", "", Manner()).order
    side = next(step for step in order if step.step == "side")
    assert side.words.startswith(words)
    clipped = any("clip their allowances" in step.words for step in order)
    assert clipped == (style == "mermaid")


def test_pockets_stay_open_and_are_sewn_round():
    told = steps("trumpet", pocket="in_side_seams")
    assert "from 7 cm to 23 cm below the waist seam" in told["mark"]
    assert "facing on a pocket bag" in told["pocket_facing"]
    assert "whole of its side edge" in told["pockets"]
    assert "stays open between the marks" in told["side"]
    assert "23 cm below the waist seam" in told["side"]
    assert "two bags together all round" in told["side"]
    assert "waist seam catches them" in told["pocket_top"]
    names = list(told)
    placed = [names.index(n) for n in ("pocket_facing", "pockets", "side", "waist")]
    assert placed == sorted(placed)
    assert names.index("pocket_top") < names.index("waist")


def test_pockets_low_down_hang_from_the_side_alone():
    told = steps("trumpet", pocket="in_side_seams", pocket_below=120.0)
    assert "pocket_top" not in told
    assert "up to the waist edge" not in told["side"]


def test_bags_of_main_cloth_have_no_facings():
    told = steps("trumpet", pocket="in_side_seams", pocket_cloth="shell")
    assert "pocket_facing" not in told


def test_a_seam_with_a_vent_is_begun_once_and_its_right_side_clipped():
    told = steps("straight", vent="vent", vent_length=200.0)
    assert "down to the top of the vent, 20 cm above the hem" in told["opening_seam"]
    assert "from the hem" not in told["opening_seam"]
    assert "sew across it to its edge" in told["vent"]
    assert "Clip the right back's allowance" in told["vent"]
    assert "towards the left back" in told["vent"]
    assert "from the hem" not in told["zip"]
    names = list(told)
    assert names.index("vent") == names.index("opening_seam") + 1
    assert "mitre lines meet" in told["hem_corners"]
    assert names.index("hem_corners") > names.index("level")
    assert "the left" in told["lining"]
    assert "1 cm inside its edge" in told["vent_lining"]


@pytest.mark.parametrize("kind", ["vent", "kick_pleat", "slit"])
def test_a_vent_away_from_the_zip_is_told_with_its_own_seam(kind):
    told = steps("straight", vent=kind, closing="zip_left_side")
    assert "centre back seam" in told["vent_seam"]
    assert "15 cm above the hem" in told["vent_seam"]
    assert "above the hem" not in told["opening_seam"]
    made = making_of(reported("straight", SAMPLE, vent=kind), "", "", Manner())
    titles = {step.step: step.title for step in made.order}
    assert titles["vent"].lower() == kind.replace("_", " ")


def test_ease_onto_the_tape_of_a_bias_waist_is_told():
    told = steps("bias-slip", dart_width=0.0)
    assert "longer: ease it onto the tape" in told["tape"]
    assert "Only their ends at the left side seam stay open" in told["waist"]


def test_a_taped_waist_is_brought_to_its_band_once():
    """Edges of 73.5 and of 72.5 cm, each onto a band of 73."""
    told = steps("high-low")
    assert "73 cm. The edge is 0.5 cm longer" in told["tape"]
    assert "Ease" not in told["waist"]
    told = steps("circle")
    assert "73 cm. The edge is 0.5 cm shorter" in told["tape"]
    assert "Stretch" not in told["waist"]


def test_what_turns_inwards_is_clipped_at_every_seam_and_vents_as_they_say():
    assert "Front, side; Back, centre line" in steps("mermaid")["reinforce"]
    assert "clip" not in steps("straight", vent="vent")["reinforce"]


def test_an_overlay_is_hemmed_when_the_skirt_is_level():
    told = steps("a-line", overlay="over_skirt", overlay_shorter=50.0)
    names = list(told)
    assert names.index("level") < names.index("hem_overlay")
    assert "ends 5 cm above the hem of the skirt" in told["hem_overlay"]


def test_left_and_right_are_told_as_they_are_cut_and_read():
    """Widths of 19.4 and 18.9 mm are both 1.9 cm to her."""
    report = Sewn("a-line", APART).report({"overlay": "over_skirt"})
    told = {step.step: step.words for step in making_of(report, "", "", Manner()).order}
    assert "each 1.9 cm wide and 10.1 cm | 10.8 cm long" in told["darts"]
    assert "printed side up on the right side of the cloth" in told["cut"]
    assert "Front overlay, centre seam" in told["overlay"]
    assert "printed side up" not in steps("bias-slip")["cut"]
    uneven = making_of(Sewn("bias-slip", APART).report({}), "", "", Manner())
    assert any("Back: 1, 2 cm wide" in step.words for step in uneven.order)


def test_lining_of_its_own_length_is_told_as_it_is_cut():
    report = reported("high-low", SAMPLE)
    back = report.skirt.papers["back_lining"].edges["centre"].length
    told = steps("high-low")["hem_lining"]
    assert f"{back / 10:.1f} cm long down the centre back" in told
    assert "shorter" not in told
    assert "2.5 cm shorter" in steps("a-line")["hem_lining"]


def test_the_loop_of_a_train_is_bought_and_sewn_after_the_hem():
    made = making_of(reported("train", SAMPLE), "", "", Manner())
    assert "30 cm of ribbon for the wrist loop" in made.notions
    names = [step.step for step in made.order]
    assert names.index("hem") < names.index("hem_lining") < names.index("train_loop")
    said = " ".join([*made.look, *made.cautions])
    assert said.count("A train of 30 cm") == 1


def test_a_narrow_hem_of_a_train_is_not_faced():
    told = steps("train", hem_inside="narrow")
    assert "narrow or rolled hem" in told["hem"]


def test_a_wrap_is_mitred_when_it_is_level_and_laps_the_way_chosen():
    told = steps("wrap", laps="left_over_right")
    names = list(told)
    assert names.index("level") < names.index("hem_corners") < names.index("hem")
    assert "left front over right" in told["waist"]
    assert "laps 18 cm past them" in told["fasten"]
    assert "Join its front edges to the facing" in told["hem_lining"]


def test_ties_lie_in_the_band_before_its_ends_are_closed():
    told = steps("wrap", wrap_closing="ties")
    names = list(told)
    assert names.index("ties") < names.index("waist")
    assert "Lay the ties into the ends. Close its ends" in told["waist"]


def test_what_the_style_says_of_itself_stands_on_the_sheet():
    """Such as that bias cloth is to hang, and that a dart lies over a pleat."""
    for style in ("bias-slip", "inverted-pleat"):
        report = reported(style, SAMPLE)
        told = [p for p in report.problems if p.code.startswith("style.")]
        notes = [says(p, Manner()) for p in told if p.severity == "note"]
        noted = making_of(report, "", "", Manner()).noted
        assert notes
        assert len(noted) == len(notes)
        assert all(any(one in words for words in noted) for one in notes)


def test_what_the_checks_say_of_stairs_stands_on_the_sheet_once():
    made = making_of(reported("mermaid", SAMPLE), "", "", Manner())
    assert sum("She will feel it on stairs" in words for words in made.cautions) == 1
    for words in (*made.cautions, *made.look):
        assert words != "Follow your local rules."


# What holds the order to account would be heard


@pytest.fixture
def rows():
    """The rows of the table, put back afterwards."""
    data = table()
    kept = copy.deepcopy(data["rows"])
    yield {row["says"]: row for row in data["rows"]}
    data["rows"][:] = kept


@pytest.mark.parametrize(
    ("style", "chosen", "says", "change", "fault"),
    [
        ("wrap", {"wrap_closing": "ties"}, "sew.ties", {"fills": []}, "waist stands"),
        ("wrap", {"wrap_closing": "ties"}, "sew.ties", {"uses": []}, "never used"),
        ("high-low", {"lining": "unlined"}, "sew.tape_waist", {"fills": []}, "tape"),
        ("a-line", {}, "sew.zip_in", {"step": "none"}, "notion.zip"),
        ("yoke", {}, "sew.yoke", {"sews": []}, "is in the order as"),
    ],
)
def test_a_rule_that_forgets_something_is_found(
    rows, style, chosen, says, change, fault
):
    report = Sewn(style, ALIKE).report(chosen)
    assert not list(order_faults(report))
    rows[says].update(change)
    if not change.get("fills", True):
        # Listed last, so that nothing but what is stated holds it before.
        table()["rows"].append(table()["rows"].pop(table()["rows"].index(rows[says])))
    assert any(fault in found for found in order_faults(report))
