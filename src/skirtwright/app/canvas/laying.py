"""What lies where on the table: the draft at the left, the pieces to its right.

Nothing on the table moves by itself. A thing keeps its place while it grows; only a
neighbour that would be covered is pushed along, and nothing is laid out afresh unless
other things come to lie there.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from skirtwright.app.canvas.view import box_round
from skirtwright.draft.shapes.panel import Panel
from skirtwright.geometry.box import Box
from skirtwright.geometry.point import Point
from skirtwright.pieces.piece import Piece

Kind = Literal["draft", "piece"]
_Thing = tuple[Kind, str, Box]
"""Kind, name, and the box round it as drafted."""

GAP = 90.0
"""Clear table between neighbours when they are first laid out, mm."""

LEAST_GAP = 24.0
"""Clear table below which a neighbour is pushed along, mm."""

ROW_GAP = 170.0
"""Clear table between rows when they are first laid out, mm: room for their names."""

SHEET_GAP = 150.0
"""Clear table between the draft's paper and the pieces, mm."""

SHEET_MARGIN = 60.0
"""Paper round the draft, mm."""

_SHEET_STEP = 50.0
_ROW_SHARE = 2.6
"""Pieces begin a new row beyond this multiple of the draft's width."""

SHELL = "shell"
_CLOTHS = (SHELL, "lining", "interfacing")
"""The order in which cloths are laid out; others come after them."""

_FLAT = 3.0
"""Rows are broken so that those of one cloth are so many times as wide as high: with
another cloth below, all together is about as a screen is."""

_WIDER = 1.35
"""A row may be so much wider than the widest heap, for a small one beside another."""


@dataclass(frozen=True)
class Laid:
    """A thing on the table.

    Attributes:
        kind: part of the draft, or a piece.
        name: of the panel or the piece.
        offset: how far it is moved from where it was drafted, mm.
        box: round it, on the table, mm.
        material: the cloth it is cut of.
        body: the side of the body it lies on, `front` or `back`, or nothing.
    """

    kind: Kind
    name: str
    offset: Point
    box: Box
    material: str = "shell"
    body: str = ""


@dataclass(frozen=True)
class Heap:
    """The pieces of one cloth, lying together.

    Attributes:
        material: of all of them.
        box: round them, on the table, mm.
    """

    material: str
    box: Box


@dataclass(frozen=True)
class Layout:
    """Everything on the table.

    Attributes:
        laid: draft first, then pieces, from left to right.
        sheet: the paper the draft is drawn on; None without a draft.
        printed: the sheets the pieces lie on while a print is made ready.
    """

    laid: tuple[Laid, ...] = ()
    sheet: Box | None = None
    printed: Box | None = None

    def find(self, kind: Kind, name: str) -> Laid | None:
        """The thing of that kind and name."""
        return next(
            (laid for laid in self.laid if (laid.kind, laid.name) == (kind, name)), None
        )

    def without(self, pieces: Collection[str]) -> Layout:
        """The same table with some pieces left off; their places stay empty."""
        kept = [p for p in self.laid if p.kind == "draft" or p.name not in pieces]
        return replace(self, laid=tuple(kept))

    def heaps(self) -> tuple[Heap, ...]:
        """The pieces of each cloth."""
        found: dict[str, list[Box]] = {}
        for laid in self.laid:
            if laid.kind == "piece":
                found.setdefault(laid.material, []).append(laid.box)
        return tuple(
            Heap(name, box)
            for name, boxes in found.items()
            if (box := box_round(boxes)) is not None
        )

    def on_sheets(self, size: Box) -> Layout:
        """The same table with the pieces gone to sheets that begin where they lay.

        Args:
            size: of the sheets, their upper left corner at 0, 0.
        """
        pieces = self.box("piece") or self.box()
        corner = Point(pieces.left, pieces.top) if pieces else Point(0.0, 0.0)
        draft = tuple(laid for laid in self.laid if laid.kind == "draft")
        return replace(self, laid=draft, printed=size.moved(corner))

    def box(self, kind: Kind | None = None) -> Box | None:
        """Round everything, or round everything of a kind."""
        boxes = [laid.box for laid in self.laid if kind in (None, laid.kind)]
        if self.sheet and kind != "piece":
            boxes.append(self.sheet)
        if self.printed and kind != "draft":
            boxes.append(self.printed)
        return box_round(boxes)


def lay_out(
    panels: Mapping[str, Panel],
    pieces: Sequence[Piece],
    before: Layout = Layout(),
    held: str | None = None,
) -> Layout:
    """Lay the draft's panels and the pieces on the table.

    Args:
        panels: of the draft, in order.
        pieces: in order.
        before: how the table lay; what is still there keeps its place.
        held: the panel that is being pulled; it and what lies left of it stay put.
    """
    materials = {piece.spec.panel: piece.spec.material for piece in reversed(pieces)}
    draft: list[_Thing] = [("draft", name, panel.box) for name, panel in panels.items()]
    cut: list[_Thing] = [("piece", piece.name, piece.box) for piece in pieces]
    same = [(laid.kind, laid.name) for laid in before.laid] == [
        (k, n) for k, n, _ in draft + cut
    ]
    if same and before.laid:
        boxes = [box for _, _, box in draft + cut]
        kept = _kept(before, boxes, held)
        # What was pushed may push what lies beyond it; laid again, all stays.
        for _ in kept.laid if held is None else ():
            last, kept = kept, _kept(kept, boxes, None)
            if kept == last:
                break
        return _of_cloths(kept, pieces, materials)
    laid = _laid_draft(draft, materials)
    sheet = _sheet(laid, None)
    start = Point(sheet.right + SHEET_GAP, 0.0) if sheet else Point(0.0, 0.0)
    widest = _ROW_SHARE * sheet.width if sheet else float("inf")
    heaps: dict[str, list[_Thing]] = {}
    for piece, thing in sorted(zip(pieces, cut, strict=True), key=_by_cloth):
        heaps.setdefault(piece.spec.material, []).append(thing)
    found = {thing.name: thing for thing in _heaped(heaps, start, widest)}
    fresh = Layout((*laid, *(found[name] for _, name, _ in cut)), sheet)
    return _of_cloths(fresh, pieces, materials)


def _of_cloths(
    layout: Layout, pieces: Sequence[Piece], panels: Mapping[str, str]
) -> Layout:
    """The same, each thing with its cloth and the side of the body it lies on."""
    cloths: dict[Kind, Mapping[str, str]] = {
        "draft": panels,
        "piece": {piece.name: piece.spec.material for piece in pieces},
    }
    bodies: dict[Kind, Mapping[str, str]] = {
        "draft": {piece.spec.panel: piece.spec.body for piece in reversed(pieces)},
        "piece": {piece.name: piece.spec.body for piece in pieces},
    }
    laid = tuple(
        replace(
            one,
            material=cloths[one.kind].get(one.name, SHELL),
            body=bodies[one.kind].get(one.name, ""),
        )
        for one in layout.laid
    )
    return replace(layout, laid=laid)


def _by_cloth(of: tuple[Piece, _Thing]) -> int:
    return _rank(of[0].spec.material)


def _rank(material: str) -> int:
    return _CLOTHS.index(material) if material in _CLOTHS else len(_CLOTHS)


def _laid_draft(
    draft: Sequence[_Thing], materials: Mapping[str, str]
) -> tuple[Laid, ...]:
    """The skirt's own panels in rows; those of its lining and so on below them."""
    own = [t for t in draft if materials.get(t[1], SHELL) == SHELL]
    rest = [t for t in draft if t not in own]
    rest.sort(key=lambda thing: _rank(materials.get(thing[1], SHELL)))
    wide = max(_room(own), _room(rest))
    found: dict[str, Laid] = {}
    down, level = 0.0, False
    for things in (own, rest):
        for row in _broken(things, wide):
            laid = _row(row, Point(0.0, down), level=level)
            found.update((one.name, one) for one in laid)
            down, level = min(one.box.bottom for one in laid) - GAP, True
    return tuple(found[name] for _, name, _ in draft)


def _row(things: Sequence[_Thing], start: Point, *, level: bool) -> tuple[Laid, ...]:
    """Side by side from `start`; with `level` their tops are at its height.

    Else they stand at the heights they are drafted at, so that hip lines are level;
    what is drafted somewhere else altogether has its top where the first one has it.
    """
    laid = []
    x, first = start.x, things[0][2]
    for kind, name, box in things:
        here = first.bottom < box.middle.y < first.top
        lift = start.y - box.top if level else 0.0 if here else first.top - box.top
        step = Point(x - box.left, lift)
        laid.append(Laid(kind, name, step, box.moved(step)))
        x += box.width + GAP
    return tuple(laid)


def _heaped(
    heaps: Mapping[str, Sequence[_Thing]], start: Point, widest: float
) -> Iterator[Laid]:
    """Heap by heap from left to right, a new row where one would become too wide.

    No row is much wider than the widest heap, so that all lies near. The first row
    stands at the height it is drafted at: the hip lines of draft and pieces are level,
    as they would be on the table.
    """
    wide = min(_WIDER * max(map(_room, heaps.values()), default=0.0), widest)
    x, y, lowest, level = start.x, start.y, start.y, False
    for things in heaps.values():
        if x > start.x and x + _width(things) > start.x + wide:
            x, y, level = start.x, lowest - ROW_GAP, True
        top, right = y, x
        for number, row in enumerate(_broken(things, max(wide, _room(things)))):
            laid = _row(row, Point(x, top), level=level or number > 0)
            yield from laid
            bottom = min(one.box.bottom for one in laid)
            top, lowest = bottom - GAP, min(lowest, bottom)
            right = max(right, laid[-1].box.right)
        x = right + 2 * GAP


def _room(things: Sequence[_Thing]) -> float:
    """How wide things are laid: in a row, or in several where that is too long."""
    if not things:
        return 0.0
    area = sum((box.width + GAP) * (box.height + GAP) for _, _, box in things)
    least = max(box.width for _, _, box in things)
    return min(_width(things), max(least, math.sqrt(_FLAT * area)))


def _width(things: Sequence[_Thing]) -> float:
    return sum(box.width for _, _, box in things) + GAP * (len(things) - 1)


def _broken(things: Sequence[_Thing], widest: float) -> Iterator[Sequence[_Thing]]:
    """Things in rows no wider than `widest`, at least one in each."""
    rest = list(things)
    while rest:
        count = 1
        while count < len(rest) and _width(rest[: count + 1]) <= widest:
            count += 1
        yield rest[:count]
        rest = rest[count:]


def _kept(before: Layout, boxes: Sequence[Box], held: str | None) -> Layout:
    """The same things in the places they have, pushed along where they would meet."""
    done: list[tuple[Laid, Laid]] = []
    steady = held is not None
    sized = dict(zip(before.laid, boxes, strict=True))
    for old in _as_read(before.laid):
        new = replace(old, box=sized[old].moved(old.offset))
        done.append((old, new if steady else _pushed(new, old, done)))
        steady = steady and old.name != held
    now = dict(done)
    kept = [now[old] for old in before.laid]
    sheet = _sheet([laid for laid in kept if laid.kind == "draft"], before.sheet)
    # Pieces give way to a larger sheet of paper, and never lie on it.
    if sheet and before.sheet and held is None:
        left = min((p.box.left for p in kept if p.kind == "piece"), default=math.inf)
        lacking = sheet.right + LEAST_GAP - left
        push = Point(max(sheet.right - before.sheet.right, lacking, 0.0), 0.0)
        kept = [_moved(laid, push) if laid.kind == "piece" else laid for laid in kept]
    return Layout(tuple(kept), sheet)


def _as_read(laid: Sequence[Laid]) -> list[Laid]:
    """Row by row, each from left to right, the draft's before those of the pieces."""
    rows: dict[Laid, int] = {}
    for one in sorted(laid, key=lambda each: -each.box.top):
        above = [rows[o] for o in rows if o.kind == one.kind and _is_above(o, one)]
        rows[one] = 1 + max(above, default=0)
    return sorted(laid, key=lambda each: (each.kind, rows[each], each.box.left))


def _is_above(one: Laid, other: Laid) -> bool:
    return one.box.bottom >= other.box.top


def _pushed(thing: Laid, was: Laid, others: Sequence[tuple[Laid, Laid]]) -> Laid:
    """A thing moved down and right until it is clear of those before it.

    Args:
        thing: as large as it is now.
        was: as it lay.
        others: those before it, each as it lay and as it lies now.
    """
    alike = [pair for pair in others if pair[1].kind == thing.kind]
    above = [now.box.bottom for old, now in alike if _is_above(old, was)]
    lacking = thing.box.top + LEAST_GAP - min(above, default=float("inf"))
    if lacking > 0:
        thing = _moved(thing, Point(0.0, -lacking))
    for old, other in alike:
        beside = not _is_above(old, was) and old.box.left <= was.box.left
        lacking = other.box.right + LEAST_GAP - thing.box.left
        if lacking > 0 and beside:
            thing = _moved(thing, Point(lacking, 0.0))
    return thing


def _moved(thing: Laid, step: Point) -> Laid:
    return replace(thing, offset=thing.offset + step, box=thing.box.moved(step))


def _sheet(draft: Sequence[Laid], before: Box | None) -> Box | None:
    """The paper under the draft: cut in whole steps, never cut smaller."""
    inner = box_round(laid.box for laid in draft)
    if inner is None:
        return None
    needed = inner.grown(SHEET_MARGIN)
    if before:
        needed = box_round((needed, before)) or needed
    left, bottom = needed.left // _SHEET_STEP, needed.bottom // _SHEET_STEP
    right, top = -(-needed.right // _SHEET_STEP), -(-needed.top // _SHEET_STEP)
    return Box(*(_SHEET_STEP * value for value in (left, bottom, right, top)))
