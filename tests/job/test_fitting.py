"""What is altered at a fitting: finished measures move as asked, seams meet."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest

from drafting import OneWorktable, look_of
from sampling import some_of
from skirtwright import budget
from skirtwright.checks.measured_outline import Paper
from skirtwright.draft import styles
from skirtwright.draft.alterations import Alteration, alterables, typed_alteration
from skirtwright.draft.draft import Told
from skirtwright.draft.step import Reads
from skirtwright.job import edits, fitting_edits
from skirtwright.job.file import read, written
from skirtwright.job.job import Job, new_job
from skirtwright.job.worktable import Look
from skirtwright.measures.card import Card
from skirtwright.measures.working_parsing import LONGEST
from skirtwright.pieces.differing import differ
from skirtwright.problems import SkirtwrightError
from skirtwright.words import Manner

EXACT = 0.1
"""Seams and finished measures agree to this, mm."""

TABLE = OneWorktable()

BLOCKS = ("straight", "a-line", "trumpet", "pegged", "mermaid", "train", "high-low")
"""Styles whose side seams run in one piece from a waist that is as long as asked."""


def order(style: str, *alterations: Alteration) -> Job:
    return new_job(styles.style(style)).replace(fitting=alterations)


@cache
def plain_look(style: str) -> Look:
    """A style before anything of it is altered."""
    return look_of(order(style))


def changes(style: str, *alterations: Alteration) -> tuple[Look, dict[str, float]]:
    before, after = plain_look(style), TABLE.look(order(style, *alterations))
    moved = {
        name: value - was
        for name, value in after.report.finished.items()
        if value is not None and (was := before.report.finished.get(name)) is not None
    }
    told = {p.code for p in before.problems}
    wrong = [p for p in after.problems if p.severity == "wrong" and p.code not in told]
    assert not wrong
    assert all(abs(s.difference) < EXACT for s in after.report.cut.seams)
    return after, moved


@pytest.mark.sampled
@pytest.mark.parametrize("style", some_of(BLOCKS, each=2))
@pytest.mark.parametrize(("side", "edges"), [("", 4), ("left", 2), ("right", 2)])
def test_side_seams_at_the_waist_change_the_waist_by_so_much_an_edge(
    style: str, side: str, edges: int
):
    """Plain geometry: four edges meet in two side seams, two in one."""
    taken_in = Alteration(
        what="side_seams", by="-0.6", side=side, first="waist", last="hip"
    )
    _, moved = changes(style, taken_in)
    assert moved["waist"] == pytest.approx(-6.0 * edges, abs=EXACT)
    assert moved["hip"] == pytest.approx(0.0, abs=EXACT)
    assert moved["length"] == pytest.approx(0.0, abs=EXACT)


def test_the_half_that_is_not_altered_keeps_its_waist():
    """A measured body on which two back darts are shut in part."""
    body = {"waist": "83.6", "hip": "108.3", "waist_to_hip": "22.314"}
    plain = order("a-line")
    for name, measured in body.items():
        plain = edits.set_measurement(plain, name, measured).job
    out = Alteration(what="side_seams", by="0.5", side="left", first="waist", last="12")
    whole = panels(TABLE.look(plain))
    halves = panels(TABLE.look(plain.replace(fitting=(out,))))
    for half in ("front", "back"):
        kept = whole[half].edge("waist").chain.length
        lengths = [
            halves[f"{half}_{side}"].edge("waist").chain.length
            for side in ("left", "right")
        ]
        assert lengths == pytest.approx([kept + 5.0, kept], abs=0.001)


@pytest.mark.parametrize(
    ("style", "choice"),
    [("mermaid", "waist_shape=side_elastic"), ("straight", "closing=buttons_front")],
)
def test_what_is_taken_in_at_the_right_leaves_the_left_pieces(style: str, choice: str):
    """Outlines, marks and notches, those of a waistband seam all round among them."""
    name, _, option = choice.partition("=")
    job = edits.set_measurement(order(style), "waist_to_hip_right", "21.2 cm").job
    job = edits.set_choice(job, name, option).job
    taken_in = Alteration(
        what="side_seams", by="-2", side="right", first="waist", last="hip"
    )
    altered = job.replace(fitting=(taken_in,))
    before, after = (
        {piece.name: piece for piece in TABLE.look(each).pieces}
        for each in (job, altered)
    )
    lefts = [name for name in before if name.endswith("_left")]
    assert len(lefts) >= 4
    assert differ(before["back_right"], after["back_right"])
    assert [name for name in lefts if differ(before[name], after[name])] == []


@pytest.mark.parametrize("style", ["straight", "a-line", "wrap", "mermaid", "circle"])
def test_a_seam_is_let_out_to_the_hem_and_keeps_its_length(style: str):
    out = Alteration(what="side_seams", by="0.5", first="14", last="hem")
    _, moved = changes(style, out)
    assert moved["length"] == pytest.approx(0.0, abs=EXACT)
    assert moved["sweep"] > 10.0


def test_a_straight_side_let_out_over_all_of_its_hem_is_as_much_wider_there():
    """Four edges of 0.5 at a hem that runs square to them (plain geometry)."""
    out = Alteration(what="side_seams", by="0.5", first="hip", last="hem")
    _, moved = changes("straight-block", out)
    assert moved["sweep"] == pytest.approx(20.0, abs=EXACT)
    assert moved["hip"] == pytest.approx(0.0, abs=EXACT)


def test_the_centre_back_seam_has_two_edges():
    out = Alteration(what="centre_back_seam", by="-0.6", first="waist", last="12")
    _, moved = changes("straight", out)
    assert moved["waist"] == pytest.approx(-12.0, abs=EXACT)


def test_the_highest_reading_is_what_the_hem_is_cut_to():
    """5 at the right back side: its seam is 0.4 shorter, the left by 0.9."""
    readings = ("30", "30.2", "29.6", "30", "30.1", "30.5", "30.1", "30")
    look, _ = changes("straight", Alteration(what="level_hem", readings=readings))
    before = plain_look("straight")
    long = {n: v.edge("side").chain.length for n, v in panels(look).items()}
    whole = panels(before)["front"].edge("side").chain.length
    for body in ("front", "back"):
        assert whole - long[f"{body}_left"] == pytest.approx(9.0, abs=0.01)
        assert whole - long[f"{body}_right"] == pytest.approx(4.0, abs=0.01)


def test_a_hem_levelled_by_readings_is_not_to_be_levelled_again():
    readings = ("30", "30.5", "31", "31.5", "32", "31.5", "31", "30.5")
    uneven = "check.hem_spread"
    before = {problem.code for problem in plain_look("mermaid").problems}
    look, _ = changes("mermaid", Alteration(what="level_hem", readings=readings))
    assert uneven in before
    codes = {problem.code for problem in look.problems}
    assert not codes & {uneven, "check.sides_uneven", "check.hem_will_not_turn"}


def panels(look: Look):
    names = ("front", "back", "front_left", "front_right", "back_left", "back_right")
    values = look.worked.values
    return {name: values[name] for name in names if name in values}


@pytest.mark.sampled
@pytest.mark.parametrize("style", some_of(styles.names(), 1))
def test_every_alteration_is_drawn_or_refused_in_a_sentence(style: str):
    job = order(style)
    stated = TABLE.stated(job)
    drawn = [known for known in alterables() if known.seam or known.reads]
    for known in drawn if style != "straight" else fitting_edits.offered(stated):
        by = "" if known.reads else "5 mm"
        one = Alteration(
            what=known.id,
            by=by,
            side="left" if known.one_side else "",
            first=known.first,
            last=known.last,
            readings=("30", "30.2", "30.1", "30", "30") if known.reads else (),
        )
        try:
            look = TABLE.look(fitting_edits.alter(job, one, stated).job)
        except SkirtwrightError as refused:
            assert refused.problem.code.startswith("fitting.")  # noqa: PT017
            continue
        stops = [p.code for p in look.problems if p.stops]
        # A centre that is a fold only sometimes is known when the draft is worked.
        assert all("_on_fold_" in code for code in stops), known.id
        assert fitting_edits.told(look.job)


def test_a_seam_that_becomes_a_fold_leaves_its_alteration_out():
    """The skirt is drafted all the same, and altered again where there is a seam."""
    one = Alteration(what="centre_back_seam", by="-5 mm", first="waist", last="hip")
    job = edits.set_choice(order("straight", one), "closing", "zip_left_side").job
    # Of a style whose seam is never a fold nothing is kept for the next.
    assert TABLE.look(order("pegged", one)).drawn
    on_fold = TABLE.look(edits.set_choice(job, "back_cut", "fold").job)
    assert on_fold.drawn
    assert [(a, p.code) for a, p in on_fold.left_out] == [(one, "fitting.on_fold")]
    seamed = TABLE.look(edits.set_choice(on_fold.job, "back_cut", "seam").job)
    assert seamed.left_out == ()
    assert seamed.report.finished == TABLE.look(job).report.finished


@pytest.mark.parametrize("known", alterables(), ids=lambda known: known.id)
def test_an_alteration_taken_back_leaves_the_skirt_as_it_was(known):
    job = order("straight")
    one = Alteration(
        what=known.id,
        by="" if known.reads else "4 mm",
        side="right" if known.one_side else "",
        first=known.first,
        last=known.last,
        readings=("30", "30.2", "30.1", "30", "30") if known.reads else (),
    )
    try:
        altered = fitting_edits.alter(job, one, TABLE.stated(job)).job
    except SkirtwrightError as refused:
        assert refused.problem.code == "fitting.no_amount"  # noqa: PT017
        return
    back = fitting_edits.without(altered, 0, TABLE.stated(altered)).job
    was, now = TABLE.look(job).report.finished, TABLE.look(back).report.finished
    assert {n: v and round(v, 2) for n, v in was.items()} == {
        n: v and round(v, 2) for n, v in now.items()
    }


def test_another_unit_changes_nothing_of_what_was_typed():
    made = Alteration(what="side_seams", by="-0.6", first="12", last="hip")
    level = Alteration(what="level_hem", readings=("30", "30.2", "30", "30", "30"))
    job = order("straight", made, level)
    inches = edits.set_unit(job, "in").job
    told = [
        [line.said(Manner()) for line in fitting_edits.told(j)] for j in (job, inches)
    ]
    assert told[0] == told[1]
    first, second = (TABLE.look(each).report.finished for each in (job, inches))
    assert second == pytest.approx(first)


def test_a_fitting_is_kept_with_the_order():
    one = Alteration(what="side_seams", by="-0.6", first="waist", last="hip")
    job = order("mermaid", one)
    assert read(written(job), "x").fitting == (one,)


TO_HIP = {"first": "waist", "last": "hip"}


@pytest.mark.parametrize(
    ("alteration", "code"),
    [
        (Alteration(what="side_seam"), "fitting.unknown"),
        (Alteration(what="side_seams", by="9"), "fitting.out_of_range"),
        (Alteration(what="side_seams", by="0", **TO_HIP), "fitting.nothing"),
        (
            Alteration(what="side_seams", by="1", first="-5", last="hip"),
            "fitting.out_of_range",
        ),
        (
            Alteration(what="side_seams", by="1", first="hip", last="waist"),
            "fitting.upside_down",
        ),
        (Alteration(what="level_hem", readings=("30",) * 8), "fitting.level_already"),
        (Alteration(what="side_seams", by="wide"), "units.not_a_length"),
        (Alteration(what="level_hem", readings=("30",)), "fitting.readings"),
        (Alteration(what="hip_higher", by="1"), "fitting.which_side"),
        (Alteration(what="knee", by="1"), "fitting.no_amount"),
    ],
)
def test_what_cannot_be_altered_is_said(alteration: Alteration, code: str):
    job = order("straight")
    with pytest.raises(SkirtwrightError) as caught:
        fitting_edits.alter(job, alteration, TABLE.stated(job))
    assert caught.value.problem.code == code


def test_figures_learned_are_entered_for_that_side():
    job = order("straight")
    one = Alteration(what="hip_higher", by="1", side="right")
    new = edits.set_title(fitting_edits.alter(job, one, TABLE.stated(job)).job, "x").job
    both = [new.inputs().measurements[f"waist_to_hip_{s}"] for s in ("left", "right")]
    assert both[1] - both[0] == pytest.approx(10.0)


def test_a_measurement_is_altered_in_the_unit_of_the_order():
    """Her card may be kept in another: what is said and what is done are one."""
    card = {"waist": "28", "hip": "39", "waist_to_hip": "8", "waist_to_knee": "23"}
    job = edits.set_card(
        new_job(styles.style("straight")),
        Card(name="", unit="in", measurements=card),
    ).job
    made = Alteration(what="hip_higher", by="1", side="left")
    changed = fitting_edits.alter(job, made, TABLE.look(job).worked.stated).job
    taken = changed.inputs().measurements
    higher = taken["waist_to_hip_left"] - taken["waist_to_hip_right"]
    assert higher == pytest.approx(10.0, abs=0.1)
    told = fitting_edits.told(changed)[0].said(Manner(unit="cm"))
    assert "1 cm higher" in told


@pytest.mark.parametrize(
    "said",
    [
        {"what": "side_seams", "by": "1" * 61},
        {"what": "side_seams", "by": "1", "first": "9" * 61},
        {"what": "level_hem", "readings": ("30",) * 9},
        {"what": "level_hem", "readings": ("3" * 61,) * 8},
        {"what": "nothing", "by": "1"},
        {"what": "level_hem", "readings": ("30",) * 5, "by": "5 furlongs"},
        {"what": "level_hem", "readings": ("30",) * 5, "first": "NaN"},
        {"what": "level_hem", "readings": ("30",) * 5, "last": "hemm"},
        {"what": "level_hem", "readings": ("30",) * 5, "on": "yes"},
        {"what": "level_hem", "readings": ("30",) * 5, "on": "20260531"},
        {"what": "length", "by": "1", "readings": ("30",) * 5},
    ],
)
def test_more_than_a_figure_is_refused_in_a_sentence(said: dict[str, Any]):
    with pytest.raises(SkirtwrightError):
        typed_alteration(**said).cut_off("cm")


@pytest.mark.parametrize("field", ["side", "first", "last"])
def test_what_an_alteration_has_no_use_for_is_refused(field: str):
    with pytest.raises(SkirtwrightError) as caught:
        typed_alteration(what="length", by="1", **{field: "left"})
    assert caught.value.problem.code == "fitting.not_of_it"


def test_a_seam_is_altered_at_one_fitting_after_another():
    """What an alteration divides into curves the next does not divide again."""
    again = Alteration(what="side_seams", by="-0.1", first="waist", last="hip")
    _, moved = changes("straight", *[again] * 6)
    assert moved["waist"] == pytest.approx(-6 * 4.0, abs=EXACT)


def test_a_fraction_alone_keeps_its_unit():
    out = Alteration(what="side_seams", by="1/2", first="1/2", last="hip")
    inches = edits.set_unit(order("straight", out), "in").job
    (kept,) = inches.fitting
    assert (kept.by, kept.first) == ("1/2 cm", "1/2 cm")


SIDE_TO_THE_HEM = ("a-line", "trumpet", "pegged", "wrap", "yoke", "godet", "mermaid")


@pytest.mark.parametrize("style", SIDE_TO_THE_HEM)
def test_a_whole_side_is_taken_in_from_waist_to_hem_at_once(style: str):
    """Four edges of 0.5 cm: waist, hip and hem each 2 cm less (plain geometry).

    The lining's hem, which is drawn for a step, is altered with the skirt's.
    """
    taken_in = Alteration(what="side_seams", by="-0.5", first="waist", last="hem")
    look, moved = changes(style, taken_in)
    assert moved["waist"] == pytest.approx(-20.0, abs=EXACT)
    assert moved["hip"] == pytest.approx(-20.0, abs=EXACT)
    assert moved["sweep"] == pytest.approx(-20.0, abs=EXACT)
    assert moved["length"] == pytest.approx(0.0, abs=EXACT)
    assert len(look.report.altered) == 1
    assert lining_moved(style, look) == pytest.approx([5.0, 5.0], abs=0.5)


def test_that_a_lining_longer_than_the_seam_is_altered_at_its_own_hem_is_said():
    taken_in = Alteration(what="side_seams", by="-0.5", first="hip", last="hem")
    look, _ = changes("flounce", taken_in)
    assert lining_moved("flounce", look) == pytest.approx([5.0, 5.0], abs=0.5)
    (told,) = [p for p in look.problems if p.code.endswith("_lining_ends_elsewhere")]
    assert told.severity == "note"


def lining_moved(style: str, look: Look) -> list[float]:
    """How far the lower ends of the lining's sides lie from where they lay, mm."""
    ends = (
        [
            one.worked.values[f"{half}_lining"].edge("side").chain.end
            for half in ("front", "back")
        ]
        for one in (plain_look(style), look)
    )
    return [was.to(now) for was, now in zip(*ends, strict=True)]


def test_what_a_style_has_no_place_for_is_kept_told_and_drawn_again():
    taken_in = Alteration(what="side_seams", by="-0.5", first="waist", last="hip")
    straight = order("straight", taken_in)
    gored = edits.set_style(straight, styles.style("gored")).job
    look, bare = TABLE.look(gored), TABLE.look(order("gored"))
    assert [one for one, _ in look.left_out] == [taken_in]
    assert look.report.altered == ()
    assert look.report.finished == bare.report.finished
    (told,) = [p for p in look.problems if p.code == "fitting.left_out"]
    assert told.severity == "caution"
    back = TABLE.look(edits.set_style(gored, styles.style("straight")).job)
    assert back.left_out == ()
    assert back.report.finished == TABLE.look(straight).report.finished


def test_a_note_of_an_amount_another_style_has_not_can_be_taken_back():
    job = order("straight")
    one = Alteration(what="front_darts", by="0.5")
    altered = fitting_edits.alter(job, one, TABLE.stated(job)).job
    circle = edits.set_style(altered, styles.style("circle")).job
    back = fitting_edits.without(circle, 0, TABLE.stated(circle)).job
    assert back.fitting == ()
    assert back.amounts == circle.amounts


ABOVE_THE_HIP = (
    Alteration(what="side_seams", by="-0.6", first="waist", last="hip"),
    Alteration(what="side_seams", by="0.01", first="3", last="12"),
    Alteration(what="centre_back_seam", by="-0.5", first="waist", last="12"),
)

SHAPED_FURTHER = ("trumpet", "pegged", "wrap", "yoke", "flounce", "high-low", "train")
"""Styles in which more is drawn once the panels have their waist."""


@pytest.mark.sampled
@pytest.mark.parametrize("style", some_of(SHAPED_FURTHER, each=2))
@pytest.mark.parametrize("alteration", ABOVE_THE_HIP, ids=["sides", "hair", "back"])
def test_a_fitting_above_the_hip_leaves_all_below_it_where_it_was(
    style: str, alteration: Alteration
):
    """Outlines of skirt and lining are crossed below the hip line, at y = 0.

    A wrap's front edge and the pleats of a pegged skirt hang from places along the
    waist; a lining is eased past the hip.
    """
    plain = below_the_hip(TABLE.look(order(style)))
    fitted = below_the_hip(TABLE.look(order(style, alteration)))
    for place, met in plain.items():
        hung = style in ("wrap", "pegged") or "lining" in place[0]
        within = 0.4 if hung else 0.01
        assert fitted[place] == pytest.approx(met, abs=within), place


def below_the_hip(look: Look) -> dict[tuple[str, int], list[float]]:
    """Where the outlines that hang from the hip cross levels below it, mm."""
    found = {}
    for piece in look.report.cut.pieces:
        if piece.panel.mark("hip") is None:
            continue
        ring = [
            point
            for edge in piece.panel.edges
            for point in edge.chain.flattened(0.01)[:: 1 if edge.forward else -1]
        ]
        hems = [e for e in piece.panel.edges if e.name == "hem"]
        hem = max(point.y for e in hems for point in e.chain.flattened(0.05))
        for level in range(-5, int(hem) + 5, -40):
            pairs = zip(ring, [*ring[1:], ring[0]], strict=True)
            found[piece.name, level] = sorted(
                one.x + (two.x - one.x) * (level - one.y) / (two.y - one.y)
                for one, two in pairs
                if (one.y < level) != (two.y < level)
            )
    return found


TAKEN_TO_THE_HEM = {
    "straight": {"vent": "vent"},
    "a-line": {},
    "trumpet": {},
    "pegged": {"vent": "kick_pleat"},
    "wrap": {},
    "mermaid": {},
    "train": {},
}


@pytest.mark.parametrize("style", TAKEN_TO_THE_HEM)
def test_the_hem_and_the_step_are_told_as_the_edges_are_cut(style: str):
    """What the hem edges of front and back lose is what the sweep told loses.

    Plain geometry: less cloth round her leaves a shorter step.
    """
    job = order(style)
    for choice, option in TAKEN_TO_THE_HEM[style].items():
        job = edits.set_choice(job, choice, option).job
    narrow = Alteration(what="side_seams", by="-4", first="hip", last="hem")
    plain, taken_in = (
        TABLE.look(job.replace(fitting=fitting)) for fitting in ((), (narrow,))
    )
    cut, told = (
        [measured(look) for look in (plain, taken_in)]
        for measured in (hem_as_cut, lambda look: look.report.finished["sweep"])
    )
    assert told[1] - told[0] == pytest.approx(cut[1] - cut[0], abs=EXACT)
    assert told[1] < told[0] - 100.0
    steps = [look.report.finished["step_allowed"] for look in (plain, taken_in)]
    assert steps[1] < steps[0] - 50.0


@pytest.mark.parametrize(
    ("style", "what", "first", "least"),
    [
        ("gored", "centre_back_seam", "30", 35.0),
        ("mermaid-gored", "centre_back_seam", "30", 35.0),
        ("gored", "side_seams", "hip", 70.0),
        ("mermaid-gored", "side_seams", "hip", 70.0),
        ("handkerchief", "centre_back_seam", "30", 35.0),
    ],
)
def test_the_hem_is_told_as_cut(style: str, what: str, first: str, least: float):
    """Two edges at the centre back, four at the sides (plain geometry)."""
    narrow = Alteration(what=what, by="-2", first=first, last="hem")
    plain, taken_in = plain_look(style), TABLE.look(order(style, narrow))
    lost = hem_as_cut(plain) - hem_as_cut(taken_in)
    assert lost > least
    told = plain.report.finished["sweep"] - taken_in.report.finished["sweep"]
    assert told == pytest.approx(lost, abs=EXACT)


@pytest.mark.parametrize(
    ("style", "says"), [("half-circle-yoke", True), ("yoke", False), ("flounce", False)]
)
def test_that_a_hem_hangs_from_the_yoke_that_is_altered_is_said(style: str, says: bool):
    look, moved = changes(style, ABOVE_THE_HIP[0])
    assert (abs(moved["sweep"]) > 1.0) is says
    told = [p for p in look.problems if p.code.endswith("_hangs_from_yoke")]
    assert [p.severity for p in told] == ["note"] * says


@pytest.mark.parametrize(
    ("first", "last", "most"),
    [
        ("waist", "hip", "most at the waist"),
        ("5", "hip", "most half way"),
        ("5", "hem", "most at the hem"),
        ("waist", "hem", "all along"),
    ],
)
def test_where_a_seam_takes_all_of_it_is_told(first: str, last: str, most: str):
    one = Alteration(what="side_seams", by="-0.6", first=first, last=last)
    (line,) = fitting_edits.told(order("straight", one))
    assert line.said(Manner()).endswith(f", {most}.")


def hem_as_cut(look: Look) -> float:
    """Along the hem edges of the shell's pieces, mm."""
    papers = [Paper(p) for p in look.report.cut.shown if p.spec.material == "shell"]
    return sum(
        paper.times * paper.edges[edge].length
        for paper in papers
        for edge in paper.of_role("hem")
    )


def test_a_seam_let_out_at_the_hem_opens_no_more_where_the_vent_begins():
    """Plain geometry: half way down from the hip, about half of it."""
    job = edits.set_choice(order("straight"), "vent", "slit").job
    job = edits.set_amount(job, "vent_length", "20").job
    out = Alteration(what="side_seams", by="3", first="hip", last="hem")
    plain, let_out = (
        TABLE.look(job.replace(fitting=fitting)).worked.values
        for fitting in ((), (out,))
    )
    more = let_out["closed_girth"] - plain["closed_girth"]
    assert 40.0 < more < 80.0


@pytest.mark.parametrize(("unit", "mm"), [("cm", -6.0), ("in", -15.24)])
def test_what_is_altered_again_keeps_the_unit_it_was_typed_in(unit, mm):
    taken_in = Alteration(what="side_seams", by="-0.6", first="waist", last="hip")
    former = order("straight", taken_in).replace(unit=unit)
    for now in ("cm", "in"):
        job = edits.set_unit(order("straight"), now).job
        stated = TABLE.look(job).worked.stated
        edited = fitting_edits.again(job, former, stated, "2026-03-02")
        assert edited is not None
        (done,) = edited.job.fitting
        assert done.length(edited.job.unit) == pytest.approx(mm)


def test_a_skirt_altered_again_and_again_is_drawn_and_too_often_is_said(monkeypatch):
    """Two seams of a mermaid at two fittings, some of it on one side."""
    altered = order(
        "mermaid",
        *(
            Alteration(
                what=("side_seams", "centre_back_seam")[number % 2],
                by="0.1" if number % 4 < 2 else "-0.1",
                side="" if number else "left",
                first="waist",
                last="hip",
            )
            for number in range(4)
        ),
    )
    with monkeypatch.context() as less:
        less.setattr(budget, "EACH_ALTERED", 0)
        less.setitem(budget.MOST, "points", 100_000)
        with pytest.raises(SkirtwrightError) as caught:
            TABLE.look(altered)
    assert caught.value.problem.code == "fitting.too_much"
    assert len(TABLE.look(altered).report.altered) == 4


def test_the_waist_asked_for_is_told_after_any_number_of_alterations():
    """What six let-outs add to it is a longer working than may be typed."""
    out = Alteration(what="side_seams", by="0.1", first="waist", last="hip")
    worked = TABLE.look(order("straight", *[out] * 6)).report.worked
    asked = Told.of(worked.draft.checks["waist_asked"]).value
    assert len(asked) > LONGEST
    added = worked.read(asked, Reads.LENGTH) - worked.read(
        "waist + waist_ease", Reads.LENGTH
    )
    assert added == pytest.approx(6 * 4, abs=0.01)
    assert worked.bound.unread == ()


def test_a_seam_that_cannot_answer_the_waist_is_told_by_its_alteration():
    """On a waist that is small for her hip so much is more than a pegged side gives.

    Less of it is found, though no end of what is searched lies on its other side.
    """
    looks = []
    for by in ("-0.6", "-1.5"):
        alteration = Alteration(what="side_seams", by=by, first="waist", last="hem")
        job = order("pegged", alteration)
        for name, taken in (("waist", "64"), ("hip", "112"), ("waist_to_hip", "22.5")):
            job = edits.set_measurement(job, name, taken).job
        looks.append(TABLE.look(job))
    less, more = looks
    assert less.drawn
    first, *_ = more.report.refusals
    assert (first.code, first.values["number"]) == ("fitting.cannot_agree", 1)
    assert first.values["miss"] > 0.5
