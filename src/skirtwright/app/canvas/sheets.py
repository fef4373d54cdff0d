"""The edges of the sheets of a print, across the pieces where they lie on the table.

Each piece keeps its place: the edges that fall on it on paper cross it here, and each
sheet has its name on it. Where two sheets share a strip the edge runs in its middle.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPainterPath, QPen, QPolygonF

from skirtwright.app.canvas.drawing import Brushes
from skirtwright.app.canvas.laying import Laid
from skirtwright.app.canvas.lettering import sized
from skirtwright.app.canvas.view import View
from skirtwright.app.look import letters
from skirtwright.geometry.box import Box
from skirtwright.geometry.point import Motion, Point, turn
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.piece_drawing import outlines
from skirtwright.words import Manner, translate

if TYPE_CHECKING:
    from skirtwright.export import sheet as paper
    from skirtwright.export.full_size import FullSize
    from skirtwright.export.plotter import Plot
    from skirtwright.export.tiles import Blocks, Tile, Tiling

    Printed = Blocks | FullSize | paper.Sheet | Plot
    """Pieces where they will lie on paper, for each kind of print."""

_BEYOND = 18.0
"""How far an edge runs beyond its piece, px."""

_TINT = 0.55
_LETTERS = 15
_INSET = 6.0
_SAME = 0.5
"""mm by which two outlines of one piece may differ."""


@dataclass(frozen=True)
class SheetOver:
    """A sheet as it lies over a piece.

    Attributes:
        name: such as `1A`; may be empty.
        corners: in the piece's own coordinates, mm.
        again: it is printed again, while others are there from a print before.
    """

    name: str
    corners: tuple[Point, ...]
    again: bool = False


Sheets = Mapping[str, tuple[SheetOver, ...]]
"""By the name of the piece."""


def sheets_over(laid: Printed, pieces: Sequence[Piece], manner: Manner) -> Sheets:
    """The sheets that each piece lies on.

    Args:
        manner: in which the pieces were named on paper.
    """
    sheet, windows = _windows(laid)
    again = _printed_again(laid)
    groups = {group.name: group for group in sheet.groups}
    found = {}
    for piece in pieces:
        group = groups.get(translate(piece.spec.title, manner))
        motion = _motion(piece, group) if group else None
        if group is not None and motion is not None:
            back = _undone(motion)
            over = [w for w in windows if _meet(w[1], group.outline_box)]
            found[piece.name] = tuple(
                SheetOver(name, tuple(map(back, box.corners)), name in again)
                for name, box in over
            )
    return found


def _windows(laid: Printed) -> tuple[paper.Sheet, list[tuple[str, Box]]]:
    """The drawing, and each sheet that is printed, less what its neighbours share."""
    from skirtwright.export.plotter import Plot
    from skirtwright.export.sheet import Sheet
    from skirtwright.export.tiles import Blocks

    if isinstance(laid, Sheet):
        # Thrown on the cloth: there are no sheets.
        return laid, []
    if isinstance(laid, Blocks):
        return laid.sheet, [
            (tile.name, _alone(tile, tiling))
            for tiling in laid.tilings
            for tile in tiling.tiles
            if not tile.blank
        ]
    windows = laid.frames if isinstance(laid, Plot) else laid.windows
    many = len(windows) > 1
    return laid.sheet, [
        (str(number) if many else "", box) for number, box in enumerate(windows, 1)
    ]


def _printed_again(laid: Printed) -> set[str]:
    """The names of sheets to be printed again, where others are there already."""
    from skirtwright.export.tiles import Blocks

    if not isinstance(laid, Blocks):
        return set()
    kept = any(tiling.kept for tiling in laid.tilings)
    return {tile.name for _, tile in laid.printed} if kept else set()


def _alone(tile: Tile, laid: Tiling) -> Box:
    """A window up to the middle of what it shares with each neighbour."""
    half, box = laid.overlap / 2, tile.window
    return Box(
        box.left + half * (tile.column > 0),
        box.bottom + half * (tile.row < laid.rows - 1),
        box.right - half * (tile.column < laid.columns - 1),
        box.top - half * (tile.row > 0),
    )


def _meet(one: Box, other: Box) -> bool:
    across = min(one.right, other.right) - max(one.left, other.left)
    along = min(one.top, other.top) - max(one.bottom, other.bottom)
    return across > 0 and along > 0


def _motion(piece: Piece, group: paper.Group) -> Motion | None:
    """From where a piece was drafted to where it lies on paper."""
    from skirtwright.export.sheet import Stroke

    for line in outlines(piece):
        if not line.closed or line.kind not in ("cutting", "stitching"):
            continue
        own = [segment.start for segment in line.chain.segments]
        far = max(range(len(own)), key=lambda n: own[0].to(own[n]))
        for mark in group.marks:
            if not (isinstance(mark, Stroke) and mark.closed):
                continue
            there = [segment.start for segment in mark.path]
            if mark.layer != line.kind or len(there) != len(own):
                continue
            way, other = own[far] - own[0], there[far] - there[0]
            if abs(way.size() - other.size()) <= _SAME:
                turned = math.degrees(
                    math.atan2(other.y, other.x) - math.atan2(way.y, way.x)
                )
                moved = there[0] - own[0]
                return turn(own[0], turned).then(Motion(e=moved.x, f=moved.y))
    return None


def _undone(motion: Motion) -> Motion:
    """The motion back; it turns nothing over."""
    a, b, c, d, e, f = motion.a, motion.b, motion.c, motion.d, motion.e, motion.f
    return Motion(a, c, b, d, -(a * e + b * f), -(c * e + d * f))


# Painting


def paint_sheets(
    painter: QPainter,
    view: View,
    laid: Laid,
    sheets: tuple[SheetOver, ...],
    outline: QPainterPath,
    clear: tuple[QRectF, QRectF],
    brushes: Brushes,
) -> None:
    """The edges across a piece, and the name of each sheet in its corner.

    Args:
        clear: what the piece's own name covers, px, and its grain arrow: no sheet's
            name is there, and through the first goes no edge.
        outline: of the piece, px.
    """
    colours = brushes.colours
    near = outline.boundingRect().adjusted(-_BEYOND, -_BEYOND, _BEYOND, _BEYOND)
    areas = [_area(sheet, laid, view) for sheet in sheets]
    painter.save()
    whole, hole = QPainterPath(), QPainterPath()
    whole.addRect(near)
    hole.addRect(clear[0])
    painter.setClipPath(whole - hole)
    painter.setPen(QPen(QColor(colours.faint), 1.0))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for sheet, area in zip(sheets, areas, strict=True):
        if sheet.again:
            shown = QPainterPath()
            shown.addPolygon(area)
            tint = QColor(colours.reprint)
            tint.setAlphaF(_TINT)
            painter.fillPath(shown & outline, tint)
    # Upright and level lines of one pixel are crisp only so.
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
    for area in areas:
        painter.drawPolygon(area)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    font = letters(brushes.percent, sized(_LETTERS), bold=True)
    metrics = QFontMetricsF(font)
    painter.setFont(font)
    painter.setPen(QColor(colours.faint))
    taken = [*clear]
    for sheet, area in zip(sheets, areas, strict=True):
        size = (metrics.horizontalAdvance(sheet.name), metrics.height())
        for place in _corners(area.boundingRect() & near, size):
            if outline.contains(place) and not any(map(place.intersects, taken)):
                painter.drawText(place, Qt.AlignmentFlag.AlignCenter, sheet.name)
                taken.append(place)
                break
    painter.restore()


def _area(sheet: SheetOver, laid: Laid, view: View) -> QPolygonF:
    places = (view.screen(laid.at(corner)) for corner in sheet.corners)
    return QPolygonF([QPointF(x, y) for x, y in places])


def _corners(area: QRectF, size: tuple[float, float]) -> Iterator[QRectF]:
    """Where a sheet's name may stand on it: from its upper left corner on."""
    wide, tall = size[0] + 4, size[1]
    lefts = [area.left() + _INSET, area.right() - _INSET - wide]
    lefts += [area.center().x() - wide / 2]
    tops = [area.top() + _INSET, area.center().y() - tall / 2]
    tops += [area.bottom() - _INSET - tall]
    for top in tops:
        for left in lefts:
            yield QRectF(left, top, wide, tall)
