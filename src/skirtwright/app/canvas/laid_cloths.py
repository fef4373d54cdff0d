"""Where the cloths lie on the table and the pieces on them; what a hand moves there.

A cutter has the cloth before her with its length from left to right: the cut end at
the left, the fold or the left selvedge away from her. Pure: no Qt.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

from skirtwright.app.canvas.fitting import MARGIN, Window
from skirtwright.app.canvas.view import View
from skirtwright.geometry import Motion, Point
from skirtwright.geometry.box import Box
from skirtwright.geometry.ring import holds
from skirtwright.lay.by_hand import locked, moved, turned
from skirtwright.lay.cloth_to_cut import sold
from skirtwright.lay.lay import Fault, Lay, Placed
from skirtwright.measures.units import Unit
from skirtwright.problems import Problem

TITLE, RULER = 34.0, 56.0
"""Room over a cloth for its name, and under it for the measure from its end, px.

Like all room for words here it is larger where her letters are.
"""

_BETWEEN = 28.0
"""Between two cloths, px."""

_ROOMS = (430.0, 250.0)
"""Room a cloth has at least, for all that is told of it, or for its name, px."""

_MUCH_LARGER = 1.15
"""Cloths have little room for words only where they are seen so many times as large."""

_SMALL = 0.4
"""Cloths that were seen smaller than so, beside the first alone, lie one below another
from there on: where letters are large there is no room for all that is told of each."""

LEFT, RIGHT = 44.0, 76.0
"""Room at both ends of a cloth for what its edges are, px."""

ORIGIN = Point(0.0, 0.0)

Key = tuple[str, str, int]
"""A piece on a cloth: the cloth's material, the piece, which it is of its times."""


@dataclass(frozen=True)
class Spread:
    """A cloth spread on the table.

    Attributes:
        long: how much of it is shown: what there is of it, or is bought, mm.
        corner: the table's place of the cut end at the fold or the left edge.
        room: for its name at least, px.
    """

    lay: Lay
    long: float
    corner: Point = ORIGIN
    room: float = _ROOMS[0]

    @property
    def wide(self) -> float:
        """Across, as it lies, mm."""
        cloth = self.lay.cloth
        return cloth.shrunk_width / (2 if cloth.fold == "lengthwise" else 1)

    @property
    def home(self) -> Motion:
        """From the cloth to the table."""
        return Motion(a=0.0, b=-1.0, c=1.0, d=0.0, e=self.corner.x, f=self.corner.y)

    def on_cloth(self, place: Point) -> Point:
        """The place of the cloth that lies there on the table."""
        return Point(self.corner.y - place.y, place.x - self.corner.x)

    @property
    def box(self) -> Box:
        """Round the cloth, on the table."""
        x, y = self.corner.x, self.corner.y
        return Box(x, y - self.wide, x + self.long, y)


def spread(lay: Lay, unit: Unit) -> Spread:
    """A cloth as long as there is of it, or as what is bought."""
    cloth = lay.asked
    whole = cloth.left(cloth.on_hand or sold(lay.bought, unit))
    layers = 2 if lay.cloth.fold == "crosswise" else 1
    return Spread(lay, max(lay.reach, whole / layers))


def arranged(
    spreads: Sequence[Spread], window: Window
) -> tuple[tuple[Spread, ...], View]:
    """The cloths in rows, as large as they go, and the view that shows them."""
    if not spreads:
        return (), View()
    # As if her letters were ordinary, in a window that is smaller instead.
    wide = window.free_width / window.text - LEFT
    tall = window.free_height / window.text - 2 * MARGIN
    (scale, rows), (larger, closer) = (
        max(
            ((_scale(rows, wide, tall), rows) for rows in _rows(roomy)),
            key=lambda each: each[0],
        )
        for roomy in ([replace(one, room=room) for one in spreads] for room in _ROOMS)
    )
    if larger > scale * _MUCH_LARGER:
        scale, rows = larger, closer
    first = _scale([[replace(spreads[0], room=_ROOMS[1])]], wide, tall)
    if scale < _SMALL * first:
        scale, rows = first, [[replace(one, room=_ROOMS[1])] for one in spreads]
    view = View(scale * window.text, -LEFT / scale, MARGIN / scale)
    laid, y = [], 0.0
    for row in rows:
        x, y = 0.0, y - TITLE / scale
        for one in row:
            room = one.room * window.text
            laid.append(replace(one, corner=Point(x, y), room=room))
            x += _room(one, scale) / scale
        y -= max(one.wide for one in row) + (RULER + _BETWEEN) / scale
    return tuple(laid), view


def _rows(spreads: Sequence[Spread]) -> Iterator[list[Sequence[Spread]]]:
    """All ways to lay cloths in rows, one after another."""
    yield [spreads]
    for cut in range(1, len(spreads)):
        for rest in _rows(spreads[cut:]):
            yield [spreads[:cut], *rest]


def _room(one: Spread, scale: float) -> float:
    return max(one.long * scale + RIGHT, one.room) + LEFT


def _scale(rows: Sequence[Sequence[Spread]], wide: float, tall: float) -> float:
    """The largest scale at which rows go into so many px."""
    low, high = 0.0, 2.0
    for _ in range(30):
        scale = (low + high) / 2
        across = max(sum(_room(one, scale) for one in row) for row in rows)
        down = sum(max(one.wide for one in row) * scale for row in rows)
        down += len(rows) * (TITLE + RULER + _BETWEEN) - _BETWEEN
        goes = across - LEFT <= wide and down <= tall
        low, high = (scale, high) if goes else (low, scale)
    return max(low, 0.02)


@dataclass(frozen=True)
class Held:
    """A piece in hand.

    Attributes:
        pressed: where it was taken, on the cloth, mm.
        step: how far it was moved since, mm.
    """

    key: Key
    pressed: Point
    step: Point = ORIGIN


@dataclass(frozen=True)
class Cloths:
    """What is to be seen of the cloths.

    Attributes:
        view: that shows them all.
        sure: the materials that are laid as the order stands; of others it is an
            estimate.
        share: of the laying that is done, 1 when none is going on.
        chosen: the piece that was clicked, or that has the keyboard.
        hovered: the piece that is pointed at.
        held: the piece in hand.
        wrong: what keeps the cloths from being cut.
    """

    spreads: tuple[Spread, ...] = ()
    view: View = field(default_factory=View)
    sure: frozenset[str] = frozenset()
    share: float = 1.0
    chosen: Key | None = None
    hovered: Key | None = None
    held: Held | None = None
    wrong: tuple[Fault, ...] = ()

    def shown(
        self, lays: Sequence[Lay], unit: Unit, window: Window, *, afresh: bool
    ) -> Cloths:
        """The same table with other lays.

        Args:
            lays: the cloths with their pieces.
            window: where they are to be seen.
            afresh: True to arrange them anew; else those that lie there stay.
        """
        spreads = [spread(lay, unit) for lay in lays]
        before = {one.lay.cloth.material: one for one in self.spreads}
        kept = not afresh and set(before) == {o.lay.cloth.material for o in spreads}
        if kept:
            were = (before[one.lay.cloth.material] for one in spreads)
            now = tuple(
                replace(one, corner=was.corner, room=was.room)
                for one, was in zip(spreads, were, strict=True)
            )
            return replace(self, spreads=now)
        laid, view = arranged(spreads, window)
        return replace(self, spreads=laid, view=view)

    # The pieces

    def pieces(self) -> list[Key]:
        """All pieces, cloth by cloth, from the cut end."""
        return [
            _key(each, placed) for each in self.spreads for placed in each.lay.placed
        ]

    def find(self, key: Key | None) -> tuple[Spread, Placed] | None:
        """A piece and the cloth it lies on."""
        for each in self.spreads:
            for placed in each.lay.placed:
                if _key(each, placed) == key:
                    return each, placed
        return None

    def at(self, place: Point) -> Key | None:
        """The piece that lies there on the table, the chosen one first."""
        found = [
            _key(each, placed)
            for each in self.spreads
            for placed in each.lay.placed
            if holds(placed.outline, each.on_cloth(place))
        ]
        return self.chosen if self.chosen in found else next(iter(found), None)

    def taken(self, key: Key, place: Point) -> Cloths:
        """With a piece taken in hand at a place of the table."""
        found = self.find(key)
        if found is None:
            return self
        held = Held(key, found[0].on_cloth(place))
        return replace(self, chosen=key, held=held)

    def dragged(self, place: Point) -> Cloths:
        """With what is in hand at a place of the table."""
        held, found = self.held, self.find(self.held.key if self.held else None)
        if held is None or found is None:
            return self
        step = found[0].on_cloth(place) - held.pressed
        return replace(self, held=replace(held, step=step)).judged()

    @cached_property
    def in_hand(self) -> Lay | None:
        """The lay with what is in hand where it would lie."""
        found = self.find(self.held.key if self.held else None)
        if found is None or self.held is None:
            return None
        return moved(found[0].lay, found[1], self.held.step)

    def seen(self) -> tuple[Spread, ...]:
        """The cloths with what is in hand where it would lie."""
        lay = self.in_hand
        if lay is None or self.held is None:
            return self.spreads
        return tuple(
            replace(one, lay=lay) if one.lay.cloth.material == self.held.key[0] else one
            for one in self.spreads
        )

    # What keys do to the chosen one

    def stepped(self, step: Point) -> Lay | None:
        """The lay with the chosen piece moved, mm of the cloth."""
        found = self.find(self.chosen)
        return moved(found[0].lay, found[1], step) if found else None

    def turned(self) -> Lay | None:
        """The lay with the chosen piece turned end for end.

        Raises:
            Refused: nap, repeat or fold hold it as it lies.
        """
        found = self.find(self.chosen)
        return turned(*_pair(found)) if found else None

    def locked(self) -> Lay | None:
        """The lay with the chosen piece locked, or let go."""
        found = self.find(self.chosen)
        return locked(*_pair(found), on=not found[1].locked) if found else None

    def judged(self) -> Cloths:
        """The same with what is wrong with the cloths laid as the order stands."""
        lays = [one.lay for one in self.seen() if one.lay.cloth.material in self.sure]
        return replace(self, wrong=tuple(f for lay in lays for f in lay.faults))

    def wrong_with(self, key: Key) -> list[Problem]:
        """What is wrong with where a piece lies."""
        return [fault.problem for fault in self.wrong if key in keys_of(fault)]


def keys_of(fault: Fault) -> list[Key]:
    """The pieces a fault is of."""
    return [(one.copy.piece.spec.material, *one.key) for one in fault.placed]


def _pair(found: tuple[Spread, Placed]) -> tuple[Lay, Placed]:
    return found[0].lay, found[1]


def _key(each: Spread, placed: Placed) -> Key:
    return (each.lay.cloth.material, *placed.key)
