"""What lies where on the table: the draft at the left, the pieces to its right.

Nothing on the table moves by itself. A thing keeps its place while it grows; only a
neighbour that would be covered is pushed along, and nothing is laid out afresh unless
other things come to lie there.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from skirtwright.app.canvas.view import box_round
from skirtwright.draft.panel import Panel
from skirtwright.geometry.box import Box, box_of
from skirtwright.geometry.point import Point
from skirtwright.pieces.piece import Piece

Kind = Literal["draft", "piece"]
_Thing = tuple[Kind, str, Box]
"""Kind, name, and the box round it as drafted."""

GAP = 90.0
"""Clear table between neighbours when they are first laid out, mm."""

LEAST_GAP = 24.0
"""Clear table below which a neighbour is pushed along, mm."""

SHEET_GAP = 150.0
"""Clear table between the draft's paper and the pieces, mm."""

SHEET_MARGIN = 60.0
"""Paper round the draft, mm."""

_SHEET_STEP = 50.0
_ROW_SHARE = 2.6
"""Pieces begin a new row beyond this multiple of the draft's width."""


@dataclass(frozen=True)
class Laid:
    """A thing on the table.

    Attributes:
        kind: part of the draft, or a piece.
        name: of the panel or the piece.
        offset: how far it is moved from where it was drafted, mm.
        box: round it, on the table, mm.
    """

    kind: Kind
    name: str
    offset: Point
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
    draft: list[_Thing] = [
        ("draft", name, _box_of_panel(panel)) for name, panel in panels.items()
    ]
    cut: list[_Thing] = [("piece", piece.name, box_of(piece.cut)) for piece in pieces]
    same = [(laid.kind, laid.name) for laid in before.laid] == [
        (k, n) for k, n, _ in draft + cut
    ]
    if same and before.laid:
        return _kept(before, [box for _, _, box in draft + cut], held)
    rows = _row(draft, Point(0.0, 0.0), level=False)
    sheet = _sheet(rows, None)
    start = Point(sheet.right + SHEET_GAP, 0.0) if sheet else Point(0.0, 0.0)
    widest = _ROW_SHARE * sheet.width if sheet else float("inf")
    return Layout((*rows, *_rows(cut, start, widest)), sheet)


def _box_of_panel(panel: Panel) -> Box:
    # Half a mm is nothing to a frame round it, and quick.
    return box_of(panel.outline.flattened(0.5))


def _row(things: Sequence[_Thing], start: Point, *, level: bool) -> tuple[Laid, ...]:
    """Side by side from `start`; with `level` their tops are at its height."""
    laid = []
    x = start.x
    for kind, name, box in things:
        step = Point(x - box.left, start.y - box.top if level else 0.0)
        laid.append(Laid(kind, name, step, box.moved(step)))
        x += box.width + GAP
    return tuple(laid)


def _rows(things: Sequence[_Thing], start: Point, widest: float) -> Iterator[Laid]:
    """Pieces in rows; those of the first row stand at the height they are drafted at.

    So the hip lines of draft and pieces are level, as they would be on the table.
    """
    rest = list(things)
    first = True
    y = start.y
    while rest:
        count, x = 1, rest[0][2].width
        while count < len(rest) and x + GAP + rest[count][2].width <= widest:
            x += GAP + rest[count][2].width
            count += 1
        row = _row(rest[:count], Point(start.x, y), level=not first)
        yield from row
        y = min(laid.box.bottom for laid in row) - GAP
        rest, first = rest[count:], False


def _kept(before: Layout, boxes: Sequence[Box], held: str | None) -> Layout:
    """The same things in the places they have, pushed along where they would meet."""
    kept: list[Laid] = []
    steady = held is not None
    for old, box in zip(before.laid, boxes, strict=True):
        new = replace(old, box=box.moved(old.offset))
        kept.append(new if steady else _pushed(new, kept))
        steady = steady and old.name != held
    sheet = _sheet([laid for laid in kept if laid.kind == "draft"], before.sheet)
    # Pieces give way to a larger sheet of paper.
    if sheet and before.sheet and sheet.right > before.sheet.right and held is None:
        push = Point(sheet.right - before.sheet.right, 0.0)
        kept = [_moved(laid, push) if laid.kind == "piece" else laid for laid in kept]
    return Layout(tuple(kept), sheet)


def _pushed(thing: Laid, others: Sequence[Laid]) -> Laid:
    """A thing moved right until it is clear of those before it in its row."""
    for other in others:
        if other.kind != thing.kind or not _in_one_row(other.box, thing.box):
            continue
        lacking = other.box.right + LEAST_GAP - thing.box.left
        if lacking > 0:
            thing = _moved(thing, Point(lacking, 0.0))
    return thing


def _in_one_row(first: Box, second: Box) -> bool:
    return first.bottom < second.top and second.bottom < first.top


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
