"""The skirt on her, painted: small in the table's corner, large when asked for."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen, QPolygonF

from skirtwright.app.look import Colours, letters
from skirtwright.figure.drawn_figure import FILLED, VIEWS, Kind, Picture, Place
from skirtwright.figure.found_on_her import Mark, found_on_her
from skirtwright.figure.views import dressed
from skirtwright.figure.wearing import Wearing
from skirtwright.geometry.box import Box
from skirtwright.problems import Severity, SkirtwrightError
from skirtwright.report import Report
from skirtwright.words import Manner

_LINES: dict[Kind, float] = {
    "floor": 1.4,
    "behind": 1.2,
    "taped": 1.1,
    "guessed": 1.1,
    "wave": 0.9,
    "dart": 1.1,
    "pleat": 1.1,
    "seam": 1.1,
    "edge": 1.6,
    "outline": 2.0,
    "tight": 3.2,
}
"""Weights at the size of the corner, px."""

_SMALL_LEAVES_OUT: frozenset[Kind] = frozenset({"taped", "guessed"})

_SEEN = 1.0
"""Points of a line nearer to one another than this, px, are not told apart."""

_BETWEEN = 0.08
"""Between two views beside one another, as a share of the height."""


@dataclass(frozen=True)
class Figure:
    """The figure as it is to be painted.

    Attributes:
        pictures: one, or several beside one another.
        large: it fills the table.
        guessed: the measurements it is drawn on are not hers yet: its lines are dashed.
        found: for each picture, the findings that are shown on it.
    """

    pictures: tuple[Picture, ...]
    colours: Colours
    large: bool = False
    guessed: bool = False
    found: tuple[tuple[Mark, ...], ...] = ()
    manner: Manner = Manner()


class FigureView:
    """The figure beside the drawing, look after look.

    Attributes:
        is_large: it fills the table, from the front, the side and the back.
    """

    def __init__(self) -> None:
        self.is_large = False
        self._wearing = Wearing()
        self._report: Report | None = None
        self._pictures: dict[bool, tuple[Picture, ...]] = {}
        self._found: dict[bool, tuple[tuple[Mark, ...], ...]] = {}

    def show(self, report: Report) -> None:
        """Another look; what is drawn of it is drawn when asked for."""
        self._report = report
        self._pictures.clear()

    def show_later(self, report: Report) -> None:
        """Another look, while a hand pulls: until `catch_up` she stands as she did."""
        self._report = report

    def catch_up(self) -> None:
        """Draw the look that was shown last."""
        self._pictures.clear()

    def figure(self, colours: Colours, manner: Manner) -> Figure | None:
        """As it is to be painted; None where nothing hangs from her waist."""
        large = self.is_large
        figure = self._figure_in(colours, large=large)
        if figure is None:
            return None
        return replace(figure, found=self._found[large], manner=manner)

    def small(self, colours: Colours) -> Figure | None:
        """The same from the front alone, to be painted small."""
        return self._figure_in(colours, large=False)

    def _figure_in(self, colours: Colours, *, large: bool) -> Figure | None:
        if large not in self._pictures:
            self._pictures[large] = self._drawn(large=large)
        pictures = self._pictures[large]
        return Figure(pictures, colours, large) if pictures else None

    def _drawn(self, *, large: bool) -> tuple[Picture, ...]:
        self._found[large] = ()
        if self._report is None:
            return ()
        try:
            skirt = self._report.worn(self._wearing, fine=large)
        except SkirtwrightError:
            # The verb says why; the drawing beside it stands all the same.
            return ()
        if skirt is None:
            return ()
        views = VIEWS if large else VIEWS[:1]
        # What was decided for her is nothing to look at in the corner.
        problems = [p for p in self._report.problems if large or p.severity != "note"]
        self._found[large] = tuple(found_on_her(problems, skirt, v) for v in views)
        return tuple(dressed(skirt, view) for view in views)


def paint(
    painter: QPainter, area: QRectF, figure: Figure, *, one_scale: bool = False
) -> None:
    """Paint a figure as large as it goes into an area, on the area's foot.

    Args:
        area: px.
        one_scale: as tall as the area, however wide the skirt: for several in a row.
    """
    found = figure.found or ((),) * len(figure.pictures)
    boxes = [
        _box(picture, marks if figure.large else ())
        for picture, marks in zip(figure.pictures, found, strict=True)
    ]
    tall = max(box.top for box in boxes)
    low = min(box.bottom for box in boxes)
    gap = _BETWEEN * tall
    wide = sum(box.width for box in boxes) + gap * (len(boxes) - 1)
    scale = area.height() / (tall - low)
    if not one_scale:
        scale = min(scale, area.width() / wide)
    x = area.center().x() - wide * scale / 2
    foot = area.bottom() + low * scale
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    over: list[tuple[tuple[Mark, ...], QPointF]] = []
    for picture, box, marks in zip(figure.pictures, boxes, found, strict=True):
        origin = QPointF(x - box.left * scale, foot)
        _paint_one(painter, picture, origin, scale, figure)
        over.append((marks, origin))
        x += (box.width + gap) * scale
    # Over every picture: words may reach beyond their own. Each is said once.
    said: set[str] = set()
    for marks, origin in over:
        _paint_found(painter, marks, (origin, scale), figure, area.left(), said)
    painter.restore()


def _paint_one(
    painter: QPainter, picture: Picture, origin: QPointF, scale: float, figure: Figure
) -> None:
    heavier = 1.25 if figure.large else 1.0
    for line in picture:
        if not figure.large and line.kind in _SMALL_LEAVES_OUT:
            continue
        places = QPolygonF(
            [
                QPointF(origin.x() + x * scale, origin.y() - y * scale)
                for x, y in _spaced_points(line.points, _SEEN / scale)
            ]
        )
        colour = _colour(line.kind, figure.colours)
        if line.kind in FILLED:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(colour)
            painter.drawPolygon(places)
            continue
        pen = QPen(colour, _LINES[line.kind] * heavier)
        pen.setCapStyle(Qt.PenCapStyle.RoundCap)
        pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        if line.kind == "guessed" or (figure.guessed and line.kind != "floor"):
            pen.setDashPattern([4.0, 4.0])
        painter.setPen(pen)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPolyline(places)


def _spaced_points(points: Sequence[Place], gap: float) -> Iterator[Place]:
    """The ends of a line, and of its points those so far from the one before, mm."""
    *inner, end = points
    x, y = math.inf, math.inf
    for a, b in inner:
        if abs(a - x) + abs(b - y) >= gap:
            yield a, b
            x, y = a, b
    yield end


_DASHES: dict[Severity, list[float]] = {"caution": [5.0, 2.5], "note": [1.0, 2.5]}
"""Patterns of what is found, beside its colours; what is wrong is one stroke."""


def _paint_found(
    painter: QPainter,
    marks: Sequence[Mark],
    stands: tuple[QPointF, float],
    figure: Figure,
    left: float,
    said: set[str],
) -> None:
    """What the checks found about the body, each with its figure over it."""
    (origin, scale), taken = stands, list[QRectF]()
    for mark in marks:
        colour = QColor(getattr(figure.colours, mark.severity))
        pen = QPen(colour, 2.6 if figure.large else 2.0)
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        if mark.severity in _DASHES:
            pen.setDashPattern(_DASHES[mark.severity])
        painter.setPen(pen)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for line in mark.lines:
            places = [_on_screen(place, origin, scale) for place in line]
            painter.drawPolyline(QPolygonF(places))
        words = mark.says.said(figure.manner)
        if words in said:
            continue
        said.add(words)
        font = letters(100, 2.0 if figure.large else -1.0, bold=True)
        metrics = QFontMetricsF(font)
        foot = _on_screen(mark.at, origin, scale)
        wide, tall = metrics.horizontalAdvance(words) + 8, metrics.height()
        # Wider than she is, in a corner, it is still read from its beginning.
        begins = max(foot.x() - wide / 2, left)
        slip = QRectF(begins, foot.y() - tall - 2, wide, tall)
        while any(map(slip.intersects, taken)):
            slip.translate(0, -tall)
        taken.append(slip)
        painter.fillRect(slip, QColor(figure.colours.paper))
        painter.setFont(font)
        painter.drawText(slip, Qt.AlignmentFlag.AlignCenter, words)


def _on_screen(place: Place, origin: QPointF, scale: float) -> QPointF:
    return QPointF(origin.x() + place[0] * scale, origin.y() - place[1] * scale)


@lru_cache(maxsize=64)
def _colour(kind: Kind, colours: Colours) -> QColor:
    if kind == "inside":
        return QColor(colours.cloth).darker(112)
    if kind == "wave":
        faint = QColor(colours.stitching)
        faint.setAlphaF(0.55)
        return faint
    known: dict[Kind, str] = {
        "body": colours.body,
        "skirt": colours.cloth,
        "floor": colours.chalk,
        "taped": colours.chalk,
        "guessed": colours.chalk,
        "tight": colours.accent,
    }
    return QColor(known.get(kind, colours.stitching))


def _box(picture: Picture, marks: Sequence[Mark]) -> Box:
    """Round a picture, and as wide as what is marked on it."""
    marked = (place for mark in marks for line in mark.lines for place in line)
    across = [x for line in picture for x, _ in line.points]
    across += [x for x, _ in marked]
    along = [y for line in picture for _, y in line.points]
    return Box(min(across), min(along), max(across), max(along))
