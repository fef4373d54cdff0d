"""Pieces laid on a cloth so that they take little of it."""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import combinations
from typing import Any

from skirtwright.budget import own_search
from skirtwright.geometry import Motion, Point, shift
from skirtwright.geometry.area import shared_area
from skirtwright.geometry.box import box_of
from skirtwright.geometry.ring import lie_apart
from skirtwright.geometry.tolerance import SAME
from skirtwright.lay.cells import ANYWHERE, Cells, Place, Shape, Steps, rows_of
from skirtwright.lay.cloth_to_cut import Cloth, checked, opened, widest_sold
from skirtwright.lay.copies import Copy, Way, copies_of
from skirtwright.pieces.cutting import Cut
from skirtwright.pieces.piece import Piece
from skirtwright.problems import Problem, Refused

TRIES = 4000
"""Lays tried for one that is cut from; fewer where one is much work."""

QUICK = 400
"""Lays tried where many have to be judged."""

_WORK = 400_000
"""Of a lay, as `Floor.work` reckons, up to which all tries are made."""

_CELLS = Cells(2.0, 6.0)
"""How fine to look, mm, at the most."""

_FEW, _FINE = 3, 0.4
"""So few pieces are looked at so finely across, mm: two may only just go abreast."""

_SEED = 1

_TOUCHES = 1.0
"""What two pieces may share before it is told, mm2: less is rounding."""

_OFF = 0.05
"""How far a piece may lie off the cloth before it is told, mm."""

_OURS = 4_000_000
"""Work of one lay that more than any skirt takes: past it the clock is not ours."""


@dataclass(frozen=True)
class Placed:
    """A copy where it lies.

    Attributes:
        motion: from its draft to the cloth.
        locked: it stays when the rest is laid anew.
    """

    copy: Copy
    way: Way
    motion: Motion
    locked: bool = False

    @property
    def key(self) -> tuple[str, int]:
        """Its piece, and which it is of the times that is laid."""
        return self.copy.piece.name, self.copy.number

    @cached_property
    def outline(self) -> tuple[Point, ...]:
        """Its outline on the cloth, mm, anticlockwise."""
        ring = tuple(map(self.motion, self.copy.outline))
        return ring[::-1] if self.way.mirrored else ring


@dataclass(frozen=True)
class Fault:
    """What keeps a lay from being cut.

    Attributes:
        placed: the pieces it is of.
    """

    problem: Problem
    placed: tuple[Placed, ...]


@dataclass(frozen=True)
class Lay:
    """Pieces laid on a cloth.

    Attributes:
        cloth: what they lie on; single where it would have had to be folded but the
            pieces do not go on it so, or nothing of them is cut double.
        placed: in the order they are cut, from the end the cloth is cut at.
        asked: how the cloth was to lie.
        left_off: pieces that do not go on it and are not laid.
    """

    cloth: Cloth
    placed: tuple[Placed, ...]
    asked: Cloth
    left_off: tuple[Piece, ...] = ()

    @cached_property
    def reach(self) -> float:
        """How far along the cloth the pieces lie, mm."""
        return _reach(self.placed)

    @property
    def length(self) -> float:
        """Cloth that is cut, mm; twice the reach where it is folded end to end."""
        return self.reach * (2 if self.cloth.fold == "crosswise" else 1)

    @property
    def bought(self) -> float:
        """Cloth to be bought, before it shrinks, mm."""
        return self.cloth.bought(self.length)

    @property
    def too_wide_folded(self) -> bool:
        """Whether a piece is too wide for the cloth as it was to lie."""
        return any(one.copy.across > self.asked.room + SAME for one in self.placed)

    @property
    def efficiency(self) -> float:
        """Share of the cloth that the pieces cover."""
        area = sum(
            placed.copy.piece.cut_area
            * placed.copy.gives
            * (2 if placed.copy.piece.spec.folds else 1)
            for placed in self.placed
        )
        return area / (self.cloth.shrunk_width * self.length)

    @cached_property
    def faults(self) -> tuple[Fault, ...]:
        """Pieces that lie over one another, off the cloth or off its fold."""
        off = (
            fault for one in self.placed if (fault := _fault_off_cloth(one, self.cloth))
        )
        return (*_overlaps(self.placed), *off)


def _reach(placed: Iterable[Placed]) -> float:
    """How far along the cloth pieces lie, mm."""
    return max(p.y for one in placed for p in one.outline)


def _overlaps(placed: Sequence[Placed]) -> Iterator[Fault]:
    boxes = [(one, box_of(one.outline)) for one in placed]
    for (one, box), (other, its) in combinations(boxes, 2):
        if not box.meets(its) or lie_apart(one.outline, other.outline):
            continue
        if shared_area(one.outline, other.outline) > _TOUCHES:
            told = {"piece": _title(one), "other": _title(other)}
            yield _fault("lay.overlap", told, one, other)


def _fault_off_cloth(one: Placed, cloth: Cloth) -> Fault | None:
    box, told = box_of(one.outline), {"piece": _title(one)}
    right = box.right - cloth.edge - cloth.room
    by = max(cloth.edge - box.left, right, -box.bottom)
    from_fold = box.left if cloth.fold == "lengthwise" else box.bottom
    if by > _OFF:
        return _fault("lay.off_cloth", {**told, "by": by}, one)
    if one.copy.on_fold and from_fold > _OFF:
        return _fault("lay.off_fold", {**told, "by": from_fold}, one)
    return None


def _fault(code: str, told: dict[str, Any], *placed: Placed) -> Fault:
    where = placed[0].copy.piece.name
    return Fault(Problem(code, "wrong", where, told), placed)


def _title(one: Placed) -> str:
    return one.copy.piece.spec.title


def lay(
    cut: Cut,
    cloth: Cloth,
    tries: int = TRIES,
    better: Callable[[float], None] | None = None,
    held: Sequence[Placed] = (),
) -> Lay | None:
    """The pieces of a cloth laid on it; None where none is cut of it.

    Where a piece does not go on the folded cloth, or nothing is cut of two layers of it
    or on its fold, it is laid open, if it goes so and none is held where it lies.

    Args:
        tries: lays to try; the same number gives the same lay.
        better: told the share of the work that is done.
        held: what stays where it lies on this cloth; the rest is laid round it.

    Raises:
        BadInput: it is no cloth.
        Refused: a piece does not go on it, or it has more pieces than any skirt.
    """
    checked(cloth)
    if not any(p.spec.material == cloth.material for p in cut.shown):
        return None
    for laid_on in (cloth,) if held else (cloth, opened(cloth)):
        copies = copies_in_phase(cut, laid_on)
        wide = widest_of(copies, laid_on)
        if laid_on is cloth and not held and _wastes_layer(copies, cloth):
            continue
        if wide is None:
            placed = _placed(copies, laid_on, tries, better, held)
            if placed:
                return Lay(laid_on, tuple(sorted(placed, key=from_end)), cloth)
    if wide is None:
        # With room across all can be laid open: what is held is in the way.
        name = cloth.material
        raise Refused("lay.held_in_the_way", name, material=name)
    raise too_wide(wide, laid_on)


def too_wide(copy: Copy, cloth: Cloth) -> Refused:
    """That a piece does not go on a cloth, and what would do."""
    # The width, as sold, on which it would go.
    least = (copy.across + 2 * cloth.selvedge) / (1 - cloth.shrinks_across)
    return Refused(
        "lay.too_wide" if least <= widest_sold() else "lay.wider_than_sold",
        copy.piece.name,
        piece=copy.piece.spec.title,
        material=cloth.material,
        needed=copy.across,
        room=cloth.room,
        least=least,
    )


def _wastes_layer(copies: Iterable[Copy], cloth: Cloth) -> bool:
    """Whether every piece is cut from one layer of folded cloth, as unlike ones are."""
    single = all(copy.gives == 1 and not copy.on_fold for copy in copies)
    return cloth.layers > 1 and single


def widest_of(copies: Iterable[Copy], cloth: Cloth) -> Copy | None:
    """The copy that needs most room across, where that is more than there is."""
    widest = max(copies, key=lambda copy: copy.across)
    return widest if widest.across > cloth.room + SAME else None


def copies_in_phase(cut: Cut, cloth: Cloth) -> list[Copy]:
    """Everything to be laid on a cloth, with what has to lie where a repeat begins.

    Raises:
        Refused: more than any skirt is cut of.
    """
    from skirtwright.lay.repeats import centres, phases

    pieces = [p for p in cut.shown if p.spec.material == cloth.material]
    along = phases(cut, cloth.material) if cloth.repeat_along else {}
    across = centres(cut, cloth.material) if cloth.repeat_across else {}
    return [
        replace(
            copy, phase=along.get(copy.piece.name), centre=across.get(copy.piece.name)
        )
        for copy in copies_of(pieces, cloth)
    ]


def from_end(placed: Placed) -> tuple[float, float]:
    """For the order in which pieces are cut."""
    box = box_of(placed.outline)
    return box.bottom, box.left


def _placed(
    copies: Sequence[Copy],
    cloth: Cloth,
    tries: int,
    better: Callable[[float], None] | None,
    held: Sequence[Placed],
) -> list[Placed]:
    """The copies where they lie in the best lay found; none where there is none."""
    # What places them is loaded for the first lay, which few starts come to.
    from skirtwright.lay.placing import Floor

    known = {one.key for one in held}
    copies = [c for c in copies if (c.piece.name, c.number) not in known]
    if not copies:
        return list(held)
    across = _FINE if len(copies) <= _FEW else _CELLS.width
    cells = Cells(
        _fitting(cloth.repeat_across, across),
        _fitting(cloth.repeat_along, _CELLS.height),
    )
    turned = [_shapes(copy, cloth, cells) for copy in copies]
    fixed = [place for one in held if (place := _held_at(one, cells, cloth))]
    floor = Floor([[shape for _, shape in shapes] for shapes in turned], cells, fixed)
    with own_search(floor.work, _OURS):
        chance = random.Random(_SEED)  # noqa: S311 -- the same tries every time
        count = max(round(tries * min(1.0, _WORK / floor.work)), 1)
        room = cloth.room + 2 * Copy.margin(cloth.gap)
        lays = [
            [
                _put(copy, shapes, found.places[number], cells, cloth)
                for number, (copy, shapes) in enumerate(
                    zip(copies, turned, strict=True)
                )
            ]
            for found in floor.shortest(room, count, chance, better)
        ]
        settled = [_settled([*placed, *held], cloth) for placed in lays]
        return min(settled, key=_reach, default=[])


def _held_at(one: Placed, cells: Cells, cloth: Cloth) -> Place | None:
    """The cells that a piece held in its place takes; None where it lies off them."""
    home = shift(-_corner(cloth))
    ring = [home(one.motion(p)) for p in one.copy.widened(cloth.gap)]
    box = box_of(ring)
    if box.right <= 0 or box.top <= 0:
        return None
    x, y = (
        max(int(low // size), 0)
        for low, size in zip(
            (box.left, box.bottom), (cells.width, cells.height), strict=True
        )
    )
    corner = shift(Point(-x * cells.width, -y * cells.height))
    rows = rows_of([([corner(p) for p in ring], True)], cells, 0.0)
    return Place(Shape(corner, box.width, box.height, rows), x, y)


def _corner(cloth: Cloth) -> Point:
    """Where the cells begin on the cloth."""
    margin = Copy.margin(cloth.gap)
    return Point(cloth.edge - margin, -margin)


def _fitting(repeat: float, size: float) -> float:
    """The size of a cell of which a repeat holds a whole number, mm."""
    return repeat / math.ceil(repeat / size) if repeat else size


def _shapes(copy: Copy, cloth: Cloth, cells: Cells) -> list[tuple[Way, Shape]]:
    """The copy turned each way that goes on the cloth, without like ones."""
    found: dict[tuple[int, ...], tuple[Way, Shape]] = {}
    ring, margin = copy.widened(cloth.gap), Copy.margin(cloth.gap)
    for way in copy.ways:
        box = box_of(map(way.motion, copy.outline))
        if box.width > cloth.room + SAME:
            continue
        centre = way.motion(copy.centre).x - box.left if copy.centre else None
        phase = way.motion(copy.phase).y - box.bottom if copy.phase else None
        middle = cloth.pattern_begins - cloth.edge
        over, columns = _steps(centre, cloth.repeat_across, cells.width, middle)
        up, levels = _steps(phase, cloth.repeat_along, cells.height, 0.0)
        if copy.on_fold and cloth.fold == "lengthwise":
            over, columns = 0.0, Steps(0, 0)
        elif copy.on_fold:
            up, levels = 0.0, Steps(0, 0)
        corner = Point(margin + over - box.left, margin + up - box.bottom)
        home = way.motion.then(shift(corner))
        rows = rows_of([([home(p) for p in ring], True)], cells, 0.0)
        size = (box.width + over + 2 * margin, box.height + up + 2 * margin)
        shape = Shape(home, *size, rows, columns, levels)
        found.setdefault(rows, (way, shape))
    return list(found.values())


def _steps(
    held: float | None, repeat: float, size: float, begins: float
) -> tuple[float, Steps]:
    """How far in a shape begins, mm, and the cells it may lie at, to be in phase.

    Args:
        held: how far from the shape's beginning the point is that is held, mm.
        repeat: mm; 0 for none.
        size: of a cell, mm.
        begins: where a repeat begins, mm.
    """
    if held is None or not repeat:
        return 0.0, ANYWHERE
    cell, rest = divmod(begins, size)
    before = math.ceil((held - rest) / size - SAME)
    apart = round(repeat / size)
    first = (int(cell) - before) % apart
    return before * size + rest - held, Steps(first, apart)


def _put(
    copy: Copy,
    shapes: Sequence[tuple[Way, Shape]],
    place: Place,
    cells: Cells,
    cloth: Cloth,
) -> Placed:
    way = next(way for way, shape in shapes if shape is place.shape)
    return Placed(copy, way, place.motion(cells).then(shift(_corner(cloth))))


def _settled(placed: Sequence[Placed], cloth: Cloth) -> list[Placed]:
    """Slid down and to the left as far as each is free to."""
    from skirtwright.lay.settling import settled

    slides = []
    for one in placed:
        across = not (
            one.copy.centre or (one.copy.on_fold and cloth.fold == "lengthwise")
        )
        along = not (one.copy.phase or (one.copy.on_fold and cloth.fold == "crosswise"))
        slides.append((across and not one.locked, along and not one.locked))
    rings = [[*map(one.motion, one.copy.widened(cloth.gap))] for one in placed]
    room = [box_of(one.outline) for one in placed]
    steps = settled(rings, slides, [(b.left - cloth.edge, b.bottom) for b in room])
    return [
        replace(one, motion=one.motion.then(shift(step)))
        for one, step in zip(placed, steps, strict=True)
    ]
