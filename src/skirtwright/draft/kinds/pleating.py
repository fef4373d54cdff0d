"""Pleats, one or several."""

from __future__ import annotations

from typing import Literal

from skirtwright.draft.counting import whole_number
from skirtwright.draft.shapes.folds import PLEAT_LINES, Fold
from skirtwright.draft.shapes.laid_pleats import PleatedCloth, Side
from skirtwright.draft.shapes.panel import Dart, Panel
from skirtwright.draft.shapes.pleats import Pleat, let_in, with_dart_taken_in
from skirtwright.draft.step import EdgeStep, Length, PlaceOf, Ratio
from skirtwright.geometry.point import Point
from skirtwright.geometry.tolerance import OUTLINE
from skirtwright.problems import Refused


class AddPleats(EdgeStep):
    """Lets pleats into a panel, `pleat[1]` on, each from a place to a place across.

    Each takes up `top` where it is folded and adds `bottom` at its foot; with nothing
    at the foot it is hinged there. The folded edge keeps its finished length and run;
    the foot's edge is drawn open. Marks `pleat[1].fold`, `.middle` and `.meets` are
    where the cloth is folded and laid. The first `count` places are used. Where the
    edge has the dart `dart`, the last pleat stands at it and is folded with it.
    """

    kind: Literal["add_pleats"] = "add_pleats"
    to: str
    count: Ratio
    at: list[PlaceOf]
    feet: list[PlaceOf]
    top: Length
    bottom: Length
    lap: Length = "0"
    stays: str
    laid: Literal["to_start", "to_end"] = "to_end"
    dart: str = ""

    def parts(self, of_panel: tuple[str, ...]) -> tuple[str, ...]:
        """The lines of the pleats too."""
        return (*of_panel, *map(Fold("pleat", 1).part, PLEAT_LINES))

    def draw(
        self,
        panel: Panel,
        count: float,
        at: tuple[Point, ...],
        feet: tuple[Point, ...],
        top: float,
        bottom: float,
        lap: float,
    ) -> Panel:
        """The pleated panel.

        Raises:
            Refused: not a whole number, too few places, nothing taken up, a lap deeper
                than the pleat, or what `skirtwright.draft.shapes.pleats.let_in`
                refuses.
        """
        number = whole_number(count)
        if number is None:
            raise Refused("draft.not_whole", self.step, count=count)
        if len(at) < number or len(feet) < number:
            raise Refused("draft.too_few_places", self.step, count=number)
        if number and (top <= 0 or bottom < 0 or not 0 <= 2 * lap < top):
            raise Refused("draft.pleat_not_positive", self.step, width=top)
        # From the last to the first: what is let in further on then moves along with
        # the paper, and the places before it stay where they were.
        held_first = self._held_at_start(panel)
        order = range(number - 1, -1, -1) if held_first else range(number)
        already = _pleats_there(panel)
        for index in order:
            pleat = Pleat(
                str(Fold("pleat", already + index + 1)),
                self.edge,
                self.to,
                at[index],
                feet[index],
                top,
                bottom,
                lap,
                self.laid == "to_start",
            )
            dart = self.dart_of(panel) if index == number - 1 else None
            try:
                if dart:
                    panel, pleat = with_dart_taken_in(panel, dart, pleat)
                panel = let_in(panel, pleat, self.stays)
            except Refused as refused:
                problem = refused.problem
                raise Refused(problem.code, self.step, **problem.values) from refused
        return panel

    def dart_of(self, panel: Panel) -> Dart | None:
        """The dart the last pleat is folded with; None when the edge has none."""
        named = (d for d in panel.darts if d.name == self.dart and d.edge == self.edge)
        return next(named, None)

    def _held_at_start(self, panel: Panel) -> bool:
        """True when the part at the start of the folded edge lies still."""
        start = panel.neighbours(self.edge)[0][0]
        return start.name == self.stays


def _pleats_there(panel: Panel) -> int:
    folds = {
        Fold.of(segment.fold) for edge in panel.edges for segment in edge.chain.segments
    }
    return sum(fold is not None and fold.kind == "pleat" for fold in folds)


class LayPleats(EdgeStep):
    """Lays pleats all along a straight edge of straight cloth, `pleat[1]` on.

    Their middles stand `apart` from one another, the first at the edge's start or, with
    `begins` `shown`, half as far on; a pleat at an end of the edge is half of one. Each
    takes up `under` along the edge and `under_low` from `down` below it to the edge
    `to`: its fold lines run aslant between. `laid` is which way they are folded, or
    `both`: to either side of its middle, as between box pleats; half a pleat at the
    start is folded as those are. Lines across at `down` are folded with them.
    """

    kind: Literal["lay_pleats"] = "lay_pleats"
    to: str
    apart: Length
    under: Length
    under_low: Length
    down: Length
    begins: Literal["under", "shown"] = "under"
    laid: Literal["to_start", "to_end", "both"] = "to_end"

    def parts(self, of_panel: tuple[str, ...]) -> tuple[str, ...]:
        """The lines of the pleats too."""
        return (*of_panel, *map(Fold("pleat", 1).part, PLEAT_LINES))

    def draw(
        self, panel: Panel, apart: float, under: float, under_low: float, down: float
    ) -> Panel:
        """The pleated panel.

        Raises:
            Refused: a pleat that takes up nothing or all there is, or pleats that do
                not fill the edge.
        """
        if not 0 < min(under, under_low) <= max(under, under_low) < apart:
            raise Refused("draft.pleat_not_positive", self.step, width=under)
        length = panel.edge(self.edge).chain.length
        middles = self._middles(length, apart)
        if not middles or abs(length - middles[-1]) > OUTLINE:
            raise Refused("draft.pleats_do_not_fill", self.step, apart=apart)
        cloth = PleatedCloth(panel, self.edge, self.to, down)
        for middle in middles:
            for side in self._sides(middle, length):
                cloth.lay(side, middle, under / 2, under_low / 2)
        return cloth.folded()

    def _middles(self, length: float, apart: float) -> list[float]:
        first = apart / 2 if self.begins == "shown" else 0.0
        count = int((length - first + OUTLINE) / apart) + 1 if length >= first else 0
        return [first + number * apart for number in range(count)]

    def _sides(self, middle: float, length: float) -> tuple[Side, ...]:
        """What is laid about a middle: the way its fold lies, and the parts of it."""
        if middle < OUTLINE:
            return ("after",)
        if middle > length - OUTLINE:
            return ("hidden",) if self.laid == "to_start" else ("before",)
        whole: dict[str, tuple[Side, ...]] = {
            "both": ("before", "after"),
            "to_end": ("whole_before",),
            "to_start": ("whole_after",),
        }
        return whole[self.laid]
