"""Darts: set in, shut wholly or in part, brought to a line, bowed, made into tucks."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import Literal

from skirtwright.draft.counting import whole_number
from skirtwright.draft.shapes.darts import darts_on, opened, shut_darts
from skirtwright.draft.shapes.edges import inward
from skirtwright.draft.shapes.folds import TUCK_LINES, Fold
from skirtwright.draft.shapes.panel import Dart, Panel
from skirtwright.draft.shapes.shutting import (
    outermost,
    shut_across,
    shut_line,
    shut_outermost,
    tips_on_line,
)
from skirtwright.draft.step import (
    Degrees,
    EdgeStep,
    Figure,
    Length,
    LineOf,
    PanelOf,
    Ratio,
    Step,
)
from skirtwright.geometry.chain import Chain, join, straight
from skirtwright.geometry.point import Point, heading
from skirtwright.geometry.tolerance import SAME
from skirtwright.problems import Refused


class InsertDarts(EdgeStep):
    """Darts set into an edge.

    Distances are walked from the edge's start with the darts shut. All are `width`
    wide on the edge; each goes in square to the edge (or upright) by its length, or
    to its height over the zero line where `tips_up` is given.
    """

    kind: Literal["insert_darts"] = "insert_darts"
    count: Ratio
    at: list[Length]
    width: Length
    lengths: list[Length] = []
    tips_up: list[Length] = []
    axis: Literal["square", "upright"] = "square"

    def draw(
        self,
        panel: Panel,
        count: float,
        at: tuple[float, ...],
        width: float,
        lengths: tuple[float, ...],
        tips_up: tuple[float, ...],
    ) -> Panel:
        """The panel with its darts, the edge still as it was drawn.

        Raises:
            Refused: not a whole number, too few places, a width that is not positive,
                or darts that do not fit on the edge.
        """
        number = whole_number(count)
        if number is None:
            raise Refused("draft.not_whole", self.step, count=count)
        if number == 0:
            return panel
        depths = tips_up or lengths
        if len(at) < number or len(depths) < number:
            raise Refused("draft.too_few_places", self.step, count=number)
        if width <= 0:
            raise Refused("draft.dart_not_positive", self.step, width=width)
        chain = panel.edge(self.edge).chain
        self._fit(chain, at[:number], width)
        parts: list[Chain] = []
        darts = list(panel.darts)
        done = 0.0
        for index in range(number):
            middle = at[index] + width * (index + 0.5)
            name = str(Fold("dart", len(darts) + 1))
            if middle - width / 2 > done + SAME:
                parts.append(chain.part(done, middle - width / 2))
            cap = chain.part(middle - width / 2, middle + width / 2)
            parts.append(cap.taken_up(name))
            done = middle + width / 2
            tip = self._tip(panel, middle, depths[index], bool(tips_up))
            darts.append(Dart(name, self.edge, tip))
        rest = chain.split(done)[1]
        drawn = join([*parts, rest])
        placed = panel.with_chain(self.edge, drawn)
        return Panel(placed.edges, tuple(darts), placed.marks)

    def _fit(self, chain: Chain, at: tuple[float, ...], width: float) -> None:
        room = chain.length - width * len(at)
        ordered = all(a < b for a, b in pairwise(at))
        if not ordered or at[0] < 0 or at[-1] > room:
            raise Refused("draft.darts_do_not_fit", self.step, room=max(room, 0.0))

    def _tip(self, panel: Panel, middle: float, depth: float, up: bool) -> Point:
        edge = panel.edge(self.edge)
        place, along = edge.chain.at(middle), edge.chain.direction_at(middle)
        into = inward(edge, along) if self.axis == "square" else Point(0.0, -1.0)
        if not up:
            if depth <= 0:
                raise Refused("draft.dart_not_positive", self.step, width=depth)
            return place + into * depth
        if into.y == 0 or (depth - place.y) / into.y <= 0:
            raise Refused(
                "draft.dart_tip_too_high", self.step, up=depth, highest=place.y
            )
        return place + into * ((depth - place.y) / into.y)


class DartGives(Step):
    """How far an edge opens when a dart is shut, but no more than is asked for.

    The dart is the last of its edge; none gives nothing. The slash runs straight
    from its tip in `direction` (270 down).
    """

    kind: Literal["dart_gives"] = "dart_gives"
    panel: PanelOf
    edge: str
    to: str
    asked: Figure
    direction: Degrees = "270"

    def draw(self, panel: Panel, asked: float, direction: float) -> float:
        """The opening, mm.

        Raises:
            Refused: the straight from the tip misses the edge.
        """
        last = outermost(panel, self.edge, self.to, heading(direction))
        return min(asked, last.gives) if last else 0.0


class ShutDart(EdgeStep):
    """Shuts the last dart of an edge until another edge opens by a length.

    The paper beyond the dart turns about its tip. What is not shut stays a dart; the
    edge keeps its finished length and its run. Narrower than `eased` it is no dart, and
    the edge is that much longer. An edge without darts stays as it is.
    """

    kind: Literal["shut_dart"] = "shut_dart"
    to: str
    opening: Length
    eased: Length = "0 cm"
    direction: Degrees = "270"

    def draw(
        self, panel: Panel, opening: float, eased: float, direction: float
    ) -> Panel:
        """The panel with the dart narrower or gone.

        Raises:
            Refused: a negative opening, or more than the dart gives, with the most
                that would do.
        """
        along = heading(direction)
        try:
            return shut_outermost(panel, self.edge, self.to, along, opening, eased)
        except Refused as refused:
            problem = refused.problem
            raise Refused(problem.code, self.step, **problem.values) from refused


class TipsToLine(EdgeStep):
    """Brings the darts of an edge to end on a line.

    A dart that ends short of it is lengthened, one that ends up to `within` beyond it
    is shortened; a longer one by less, and from twice as far on it stays. The finished
    edge keeps its length.
    """

    kind: Literal["tips_to_line"] = "tips_to_line"
    line: LineOf
    within: Length = "2.5 cm"

    def draw(self, panel: Panel, line: Chain, within: float) -> Panel:
        """The panel with its darts' tips moved and their caps drawn anew."""
        return tips_on_line(panel, self.edge, line, within)


class ShutDarts(EdgeStep):
    """Shuts all darts of an edge in a panel they run right across, such as a yoke."""

    kind: Literal["shut_darts"] = "shut_darts"
    across: str

    def draw(self, panel: Panel) -> Panel:
        """The panel without darts; both edges keep their finished lengths.

        Raises:
            Refused: a dart ends inside the panel, short of the edge across.
        """
        try:
            return shut_across(panel, self.edge, self.across)
        except Refused as refused:
            values = {**refused.problem.values, "edge": self.across}
            raise Refused(refused.problem.code, self.step, **values) from refused


class BowLegs(EdgeStep):
    """Curves the legs of an edge's darts, full (or, by less than nothing, hollow).

    Half way down each leg lies `by` further from the fold, but never past 0.8 of its
    way there; ends, tips and the finished edge stay.
    """

    kind: Literal["bow_legs"] = "bow_legs"
    by: Length

    def draw(self, panel: Panel, by: float) -> Panel:
        """The panel with its darts curved."""
        bowed = (
            replace(dart, bow=by) if dart.edge == self.edge else dart
            for dart in panel.darts
        )
        return replace(panel, darts=tuple(bowed)) if by else panel


class DartsToTucks(EdgeStep):
    """Makes tucks of the darts of an edge, `tuck[1]` on from its start.

    Each takes up what the dart did; its two lines, the marks `tuck[1].left` and
    `.right`, follow the dart's legs for `length`, below which the cloth is free.
    """

    kind: Literal["tucks"] = "tucks"
    length: Length
    pressed: Literal["start", "end"] = "end"

    def parts(self, of_panel: tuple[str, ...]) -> tuple[str, ...]:
        """The lines of the tucks too."""
        return (*of_panel, *map(Fold("tuck", 1).part, TUCK_LINES))

    def draw(self, panel: Panel, length: float) -> Panel:
        """The panel with tucks; the edge keeps its finished length and its run.

        Raises:
            Refused: a length that is not positive.
        """
        if length <= 0:
            raise Refused("draft.distance_not_positive", self.step, distance=length)
        shut = shut_darts(panel, self.edge)
        if not shut:
            return panel
        smooth = shut_line(panel, self.edge)
        chain = opened(smooth, shut, self.pressed == "start")
        tucks = {s.dart.name: Fold("tuck", n) for n, s in enumerate(shut, 1)}
        segments = (s.taken_up(str(tucks.get(s.fold, s.fold))) for s in chain.segments)
        drawn = panel.with_chain(self.edge, Chain(tuple(segments)))
        for dart in darts_on(panel, self.edge):
            for side, leg in zip(TUCK_LINES, panel.legs(dart), strict=True):
                reach = min(length, leg.to(dart.tip))
                foot = leg + (dart.tip - leg).unit() * reach
                line = straight(leg, foot)
                drawn = drawn.with_mark(tucks[dart.name].part(side), line)
        kept = tuple(dart for dart in panel.darts if dart.name not in tucks)
        return replace(drawn, darts=kept)
