"""The draft to be drawn by hand: a hand in the test draws from the words alone.

The numbers of the straight block (waist 72, hip 98, hip depth 20) were worked apart
from the program, by plain geometry; the rest is this project's own rules.
"""

from __future__ import annotations

import math
import re
from functools import cache

import pytest

from bodies import HOUSE, SAMPLE
from drafting import point, small, work
from skirtwright.draft import styles
from skirtwright.draft.inputs import Inputs
from skirtwright.draft.working.recompute import Reworking
from skirtwright.export.sewing.drafting_text import drafting_text
from skirtwright.words import Manner

CM = Manner()
INCHES = Manner(unit="in")
NUMBER = r"(\d+(?:\.\d+)?)"

# cm: point and curve figures are good to 0.1.
HALF_BOX, PANEL, DEPTH = 51.0, 25.5, 20.0
SIDE_WAIST = (21.94, 19.61)
CENTRE_FRONT, CENTRE_BACK = 18.32, 17.62
FINISHED = {"front": 19.09, "back": 17.66}
WIDTHS = {"front": 2.97, "back": 2.25}
MIDDLES = {"front": [(11.01, 18.97)], "back": [(6.98, 18.26), (15.09, 18.99)]}
TIPS = {"front": [(11.59, 8.98)], "back": [(8.24, 4.31), (16.20, 6.64)]}
NEAR = 0.12
"""Half a millimetre of rounding in the text, and the 0.1 of the table."""


@cache
def text(style: str, manner: Manner = CM, sample: bool = False, **chosen) -> list[str]:
    worked = work(style, SAMPLE if sample else HOUSE, **chosen)
    return [words for part in drafting_text(worked, manner) for words in part.sentences]


class Hand:
    """Somebody with a ruler and the printed text, and nothing else."""

    def __init__(self, lines: list[str]) -> None:
        self.lines = lines
        self.points: dict[str, tuple[float, float]] = {}
        for line in lines:
            told = re.fullmatch(r"(?:From|Mark) the zero point(?: mark|:) (.*)\.", line)
            if told:
                self._mark(told[1])

    def _mark(self, told: str) -> None:
        for one in told.split("; "):
            name, _, where = one.partition(", ")
            right = up = 0.0
            for by, way in re.findall(
                rf"{NUMBER} cm (?:to the |straight )?(right|left|up|down)", where
            ):
                right += float(by) * {"right": 1, "left": -1}.get(way, 0)
                up += float(by) * {"up": 1, "down": -1}.get(way, 0)
            self.points[name] = (right, up)

    def line(self, begins: str) -> str:
        (found,) = [line for line in self.lines if line.startswith(begins)]
        return found

    def figure(self, name: str) -> float:
        (found,) = [
            float(value)
            for line in self.lines
            for value in re.findall(
                rf"(?:^|: |; ){re.escape(name)} = .*?= {NUMBER} cm", line
            )
        ]
        return found

    def darts(
        self, panel: str
    ) -> tuple[float, list[tuple[float, float, float, float]]]:
        """How wide they are; of each its way along, its length and where its tip is."""
        (line,) = [
            words
            for words in self.lines
            if re.match(rf"Draw .*dart.* into the waist of the {panel},", words)
        ]
        width = re.search(rf"{NUMBER} cm wide", line)
        each = re.findall(
            rf"middle {NUMBER} cm along.*?and {NUMBER} cm long, its tip "
            rf"{NUMBER} cm to the right, {NUMBER} cm up",
            line,
        )
        assert width
        return float(width[1]), [tuple(map(float, one)) for one in each]


@pytest.fixture
def hand():
    return Hand(text("straight-block"))


def test_half_box_panels_and_hip_depth(hand):
    assert hand.figure("half hip width") == HALF_BOX
    assert hand.points["centre hip"] == (0, 0)
    for panel in ("front", "back"):
        assert hand.points[f"{panel} hip"] == (PANEL, 0)


def test_side_waist_lies_where_the_worked_table_has_it(hand):
    for panel in ("front", "back"):
        assert hand.points[f"{panel} side waist"] == pytest.approx(SIDE_WAIST, abs=NEAR)
    assert hand.points["front waist centre"][1] == pytest.approx(CENTRE_FRONT, abs=NEAR)
    assert hand.points["back waist centre"][1] == pytest.approx(CENTRE_BACK, abs=NEAR)


def test_side_drawn_by_hand_is_as_long_as_the_hip_is_deep(hand):
    """A French curve through the two ends and the swell half way: its length."""
    told = hand.line("Draw front side curve as a curve")
    swell = float(re.search(rf"half way it lies {NUMBER} cm to the right", told)[1])
    chord = math.dist(hand.points["front side waist"], hand.points["front hip"])
    # A shallow arch is longer than its chord by 8/3 of the rise squared over it.
    assert chord + 8 / 3 * swell**2 / chord == pytest.approx(DEPTH, abs=0.1)
    assert "arrives straight down" in told


@pytest.mark.parametrize("panel", ["front", "back"])
def test_darts_are_drawn_where_the_worked_table_has_them(hand, panel):
    """Laid off on the straight waist line, by the text alone."""
    width, darts = hand.darts(panel)
    assert width == pytest.approx(WIDTHS[panel], abs=0.06)
    assert len(darts) == len(TIPS[panel])
    centre, side = (
        hand.points[f"{panel} waist centre"],
        hand.points[f"{panel} side waist"],
    )
    whole = math.dist(centre, side)
    for (along, long, right, up), middle, tip in zip(
        darts, MIDDLES[panel], TIPS[panel], strict=True
    ):
        share = along / whole
        drawn = tuple(a + (b - a) * share for a, b in zip(centre, side, strict=True))
        assert drawn == pytest.approx(middle, abs=NEAR)
        assert (right, up) == pytest.approx(tip, abs=NEAR)
        assert math.dist(drawn, (right, up)) == pytest.approx(long, abs=NEAR)


@pytest.mark.parametrize("panel", ["front", "back"])
def test_waist_shut_comes_out_as_the_figures_say(hand, panel):
    told = hand.line(f"Fold the darts of the waist of the {panel} shut")
    length = float(re.search(rf"it is then {NUMBER} cm long", told)[1])
    assert length == pytest.approx(FINISHED[panel], abs=0.06)
    assert length == hand.figure(f"{panel} finished")


def test_sums_are_right_when_worked_by_hand(hand):
    """What stands before the last equals sign comes to what stands after it."""
    assert hand.figure("half hip width") == (98 + 4) / 2
    assert hand.figure("side seam takes in") == pytest.approx(
        0.5 * (98 + 4 - 72 - 1.5) / 4, abs=0.05
    )
    assert hand.figure("back darts take in (level)") == pytest.approx(
        0.6 * ((98 + 4 - 72 - 1.5) / 2 - 2 * 3.5625), abs=0.05
    )


def test_mermaid_is_short_enough_to_draw_from():
    said = text("mermaid", sample=True)
    assert 40 < len(said) < 90


def test_mermaid_slashes_are_told_from_where_to_where():
    told = " ".join(text("mermaid", sample=True))
    assert (
        "Slash the front from the middle of front hem over the middle of front break "
        "line to, not through, front side at the break line. Spread it to a gap of "
        "3 cm at the middle of front break line" in told
    )


def test_band_is_one_strip_with_its_marks():
    """73.5 of waist less 0.5 eased in, and 3 of underlap: 76 by twice 3."""
    (band,) = [
        s for s in text("mermaid", sample=True) if s.startswith("Draw the band as")
    ]
    assert "6 cm wide and 76 cm high" in band
    assert "underlap 3 cm and joining edge 73 cm" in band
    assert "the fold line, 3 cm from the joining edge" in band


def test_a_number_set_anew_further_down_is_told_as_it_stood():
    """The block knows no opening; the zip gives it one: 0 never equals 18."""
    worked = work("mermaid", SAMPLE)
    moments = worked.replay
    block = moments["block/without_an_opening/opening_end"]
    assert block.after == 0.0
    assert moments["closing_finish/opening_end"].after > 100.0
    for words in text("mermaid", sample=True):
        assert not re.search(r"(?:= |: )0 cm = [1-9]", words)


def test_two_zero_points_in_a_row_are_told_together():
    draft = small(point("front_zero", 0, 0), point("back_zero", 0, 0))
    worked = Reworking().work(draft, Inputs({}))
    (part,) = drafting_text(worked, CM)
    assert part.sentences == ("Mark the zero point: front zero and back zero.",)


ZERO = re.compile(r"(?<![\d./])0 (?:cm|in)\b|\b0°")
DOES_NOTHING = re.compile(r"(?i)\b(by|off|over|longer|out|lengthen|curve) 0 (cm|in)\b")


@pytest.mark.parametrize("manner", [CM, INCHES], ids=["cm", "in"])
@pytest.mark.parametrize("style", styles.names())
def test_every_style_is_told_in_words(style, manner):
    said = text(style, manner)
    assert len(said) > 10
    for words in said:
        assert words.endswith("."), words
        assert not re.search(r"[_{}?\[\]]|None| if |\bdeg\b", words), words
        assert not DOES_NOTHING.search(words), words
        assert not ZERO.search(words), words
        assert (" in" if manner is CM else " cm") not in re.findall(
            r"\d( in\b| cm\b)", words
        ), words


@pytest.mark.parametrize("style", styles.names())
def test_straight_lines_run_between_points_marked_before(style):
    """A hand cannot draw from what it has not marked, drawn or traced."""
    known: set[str] = set()
    drawn = 0
    for words in text(style):
        if words.startswith("With the ruler draw "):
            ends = re.findall(
                r" from ([a-z0-9 ]+?) (?:over|to) ([a-z0-9 ]+?)(?=,|;|\.| and )", words
            )
            for name in [name for pair in ends for name in pair]:
                drawn += 1
                place = re.search(r"where (.+?) meets|end of (.+)", name)
                first = next(filter(None, place.groups())) if place else name
                assert any(first in before for before in known), (first, words)
        known.add(words)
    # A quarter of a circle has the fewest straight lines; straight cloth is strips.
    assert drawn + 4 * sum(" as a strip, " in words for words in known) >= 4


def options_of(style):
    draft = styles.style(style)
    return [
        (choice.name, option)
        for choice in draft.choices
        for option in choice.options
        if option != choice.default
    ]


@pytest.mark.parametrize("style", ["straight", "mermaid"])
def test_every_choice_is_told_in_words(style):
    """Plackets, vents, pockets, facings: no message id, no nought, no raw name."""
    raw = re.compile(r"[_{}?\[\]]|None| if |step\.|making\.")
    for choice, option in options_of(style):
        for words in text(style, CM, True, **{choice: option}):
            assert not raw.search(words), (choice, option, words)
            assert not ZERO.search(words), (choice, option, words)


def test_placket_is_told_with_its_buttons():
    """A count worked on the way is shown as the number it is."""
    told = " ".join(text("straight", closing="placket_centre_back"))
    assert re.search(r"button gap = button reach ÷ \d = ", told)
    assert re.search(r"Mark buttonhole 1 to \d on the placket facing, evenly ", told)
