"""Darts shut again: wholly, in part, or right across a yoke."""

from __future__ import annotations

from dataclasses import replace
from typing import ClassVar, Literal

from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.shapes.shutting import (
    outermost,
    shut_across,
    shut_outermost,
    tips_on_line,
)
from skirtwright.draft.step import (
    Degrees,
    Figure,
    Length,
    LineOf,
    PanelOf,
    Step,
)
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.point import heading
from skirtwright.problems import Refused


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


class ShutDart(Step):
    """Shuts the last dart of an edge until another edge opens by a length.

    The paper beyond the dart turns about its tip. What is not shut stays a dart; the
    edge keeps its finished length and its run. An edge without darts stays as it is.
    """

    kind: Literal["shut_dart"] = "shut_dart"
    panel: PanelOf
    edge: str
    to: str
    opening: Length
    direction: Degrees = "270"

    rewrites: ClassVar[str | None] = "panel"

    def draw(self, panel: Panel, opening: float, direction: float) -> Panel:
        """The panel with the dart narrower or gone.

        Raises:
            Refused: a negative opening, or more than the dart gives, with the most
                that would do.
        """
        along = heading(direction)
        try:
            return shut_outermost(panel, self.edge, self.to, along, opening)
        except Refused as refused:
            problem = refused.problem
            raise Refused(problem.code, self.step, **problem.values) from refused


class TipsToLine(Step):
    """Brings the darts of an edge to end on a line.

    A dart that ends short of it is lengthened, one that ends up to `within` beyond it
    is shortened; a longer one stays. The finished edge keeps its length.
    """

    kind: Literal["tips_to_line"] = "tips_to_line"
    panel: PanelOf
    edge: str
    line: LineOf
    within: Length = "2.5 cm"

    rewrites: ClassVar[str | None] = "panel"

    def draw(self, panel: Panel, line: Chain, within: float) -> Panel:
        """The panel with its darts' tips moved and their caps drawn anew."""
        return tips_on_line(panel, self.edge, line, within)


class ShutDarts(Step):
    """Shuts all darts of an edge in a panel they run right across, such as a yoke."""

    kind: Literal["shut_darts"] = "shut_darts"
    panel: PanelOf
    edge: str
    across: str

    rewrites: ClassVar[str | None] = "panel"

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


class BowLegs(Step):
    """Curves the legs of an edge's darts, full (or, by less than nothing, hollow).

    Half way down each leg lies `by` further from the fold, but never past 0.8 of its
    way there; ends, tips and the finished edge stay.
    """

    kind: Literal["bow_legs"] = "bow_legs"
    panel: PanelOf
    edge: str
    by: Length

    rewrites: ClassVar[str | None] = "panel"

    def draw(self, panel: Panel, by: float) -> Panel:
        """The panel with its darts curved."""
        bowed = (
            replace(dart, bow=by) if dart.edge == self.edge else dart
            for dart in panel.darts
        )
        return replace(panel, darts=tuple(bowed)) if by else panel


KINDS: tuple[type[Step], ...] = (DartGives, ShutDart, TipsToLine, ShutDarts, BowLegs)
