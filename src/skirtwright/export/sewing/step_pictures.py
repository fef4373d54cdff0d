"""Small drawings beside the words: what a step joins, and how far the draft has come.

Made from the pieces and panels as they are drawn; nothing is said in them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from skirtwright.draft.shapes.panel import Panel
from skirtwright.export.sewing.drafting_halves import of_left_half
from skirtwright.export.sewing.sewing_order import SewingRow
from skirtwright.export.sheet import Fill, Mark, Path, Stroke, box_of
from skirtwright.geometry import Chain, Motion, Point, reflect, shift, turn
from skirtwright.pieces.piece import Piece

_THIN, _SEWN = 0.18, 0.7
"""Pens for what is there and for what is sewn now, mm."""

_LIT = 0.87
"""Grey of the pieces a step takes up: light, so that their lines are seen on it."""

_GAP = 2.5
"""Between drawings on the page, mm."""

_LEAST_SCALE = 12.0
"""No drawing is larger than one to so many."""

_TO_ONE_SIDE = 0.25
"""A seam lies at the left or right of a piece from this share of its width."""

_MANY = 4
"""Of more pieces than these only the left is drawn of a left and a right."""

_STRIP = 4.0
"""From so many times as high as wide a piece alone is drawn lying."""

_MIRROR = Motion(a=-1.0)


@dataclass(frozen=True)
class _Drawn:
    """One piece as it is to be drawn: its lines, mm at full size."""

    outline: Path
    inside: tuple[Path, ...]
    sewn: tuple[Path, ...]

    def moved(self, motion: Motion) -> _Drawn:
        return _Drawn(
            _moved(self.outline, motion),
            tuple(_moved(path, motion) for path in self.inside),
            tuple(_moved(path, motion) for path in self.sewn),
        )


def _moved(path: Path, motion: Motion) -> Path:
    return tuple(segment.moved(motion) for segment in path)


def step_picture(
    row: SewingRow, pieces: Sequence[Piece], width: float, height: float
) -> tuple[Mark, ...]:
    """The pieces that a step joins or uses, what it sews drawn heavily.

    Args:
        width: room across, mm.
        height: room down, mm.

    Returns:
        Marks from the lower left corner on; none where nothing is joined.
    """
    by_name = {piece.name: piece for piece in pieces}
    taken = (*row.pieces, *row.shown)
    sewn: dict[str, set[str]] = {piece.name: set() for piece in taken}
    pairs: set[str] = set()
    for each in row.seams:
        first, second = each.walked.seam.sides
        for run in (*first, *second):
            sewn.setdefault(run.piece, set()).add(run.edge)
        if first == second:
            pairs.update(run.piece for run in first)
    if len(sewn) > _MANY:
        sewn = {n: edges for n, edges in sewn.items() if of_left_half(n) not in sewn}
    drawn: list[_Drawn] = []
    boxes = [by_name[name].panel.box for name in sewn]
    lying = all(box.height > _STRIP * box.width for box in boxes)
    for name, edges in sewn.items():
        made = _of_piece(by_name[name], edges)
        if lying:
            made = made.moved(turn(Point(0, 0), 90))
        # Every other piece turned over, so that what is sewn together lies together.
        facing = made if _lies_left(made) == bool(len(drawn) % 2) else _over(made)
        drawn += [facing, _over(facing)] if name in pairs else [facing]
    return tuple(_set(drawn, width, height, lit=True))


def stage_picture(
    panels: Sequence[Panel], width: float, height: float
) -> tuple[Mark, ...]:
    """Panels as they are drawn at one stage of the draft, their marks on them.

    Args:
        width: room across, mm.
        height: room down, mm.
    """
    drawn = [
        _Drawn(
            panel.outline.segments,
            tuple(
                mark.shape.segments
                for mark in panel.marks
                if isinstance(mark.shape, Chain)
            ),
            (),
        )
        for panel in panels
    ]
    return tuple(_set(drawn, width, height, lit=False))


def _of_piece(piece: Piece, edges: set[str]) -> _Drawn:
    """A piece with its darts; whole where it is cut on the fold."""
    panel = piece.panel
    inside = tuple(dart.stitching.segments for dart in piece.darts)
    sewn = tuple(panel.edge(name).chain.segments for name in sorted(edges))
    if not piece.spec.folds:
        return _Drawn(panel.outline.segments, inside, sewn)
    fold = panel.edge(next(iter(piece.spec.folds)))
    at = panel.edges.index(fold)
    round_ = (*panel.edges[at + 1 :], *panel.edges[:at])
    half = tuple(s for edge in round_ for s in edge.ringwise.segments)
    over = reflect(fold.chain.start, fold.chain.end)
    other = _moved(Chain(half).reversed().segments, over)
    return _Drawn(
        (*half, *other),
        (*inside, *(_moved(path, over) for path in inside)),
        (*sewn, *(_moved(path, over) for path in sewn)),
    )


def _over(drawn: _Drawn) -> _Drawn:
    return drawn.moved(_MIRROR)


def _lies_left(drawn: _Drawn) -> bool:
    """Whether what is sewn lies at a piece's left; False where it does not matter."""
    if not drawn.sewn:
        return False
    whole = box_of([Stroke(drawn.outline, "cutting")])
    part = box_of([Stroke(path, "cutting") for path in drawn.sewn])
    middle = (part.left + part.right) / 2 - whole.left
    return middle < (0.5 - _TO_ONE_SIDE / 2) * whole.width


def _set(
    drawn: Sequence[_Drawn], width: float, height: float, *, lit: bool
) -> Iterator[Mark]:
    """Drawings beside one another at one scale, their tops level."""
    if not drawn:
        return
    boxes = [box_of([Stroke(each.outline, "cutting")]) for each in drawn]
    room = width - _GAP * (len(boxes) - 1)
    shrink = max(
        sum(box.width for box in boxes) / room,
        max(box.height for box in boxes) / height,
        _LEAST_SCALE,
    )
    across, top = 0.0, max(box.height for box in boxes) / shrink
    for each, box in zip(drawn, boxes, strict=True):
        to_corner = shift(Point(-box.left, -box.top)).then(
            Motion(a=1 / shrink, d=1 / shrink)
        )
        placed = each.moved(to_corner.then(shift(Point(across, top))))
        if lit:
            yield Fill(placed.outline, "inside", _LIT)
        yield Stroke(placed.outline, "cutting", _THIN, ())
        for path in placed.inside:
            yield Stroke(path, "stitching", _THIN, ())
        for path in placed.sewn:
            yield Stroke(path, "stitching", _SEWN, ())
        across += box.width / shrink + _GAP
