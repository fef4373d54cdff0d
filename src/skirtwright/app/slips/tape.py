"""The little figure that shows where the tape goes for the field in hand."""

from __future__ import annotations

from functools import cache
from itertools import pairwise

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QColor,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QPen,
    QPolygonF,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from skirtwright import shelf
from skirtwright.app.guard import guarded
from skirtwright.app.look import LIGHT, Colours
from skirtwright.figure.bare_views import bare
from skirtwright.figure.body import Body, body_of
from skirtwright.measures.card import Card, values_of
from skirtwright.measures.records import take

# Heights as shares of the figure, crown to floor; half widths likewise. Drawn after
# the eye, as a dress form on its feet; nothing is measured from it.
_OUTLINE = (
    (0.14, 0.030),
    (0.165, 0.036),
    (0.19, 0.105),
    (0.28, 0.088),
    (0.375, 0.066),
    (0.44, 0.088),
    (0.50, 0.104),
    (0.58, 0.100),
    (0.715, 0.076),
    (0.80, 0.070),
    (0.955, 0.046),
    (0.985, 0.052),
)
_HALF = {0.375: 0.066, 0.44: 0.088, 0.50: 0.104, 0.55: 0.102, 0.715: 0.078, 0.80: 0.07}
_WAIST, _TOP, _HIP, _THIGH, _KNEE, _CALF, _FLOOR = (
    0.375,
    0.44,
    0.50,
    0.55,
    0.715,
    0.80,
    0.985,
)

_ROUND = {
    "waist": _WAIST,
    "top_hip": _TOP,
    "hip": _HIP,
    "seated_hip": _HIP,
    "thigh": _THIGH,
    "knee": _KNEE,
    "calf": _CALF,
}
_ONE_LEG = frozenset({"thigh", "knee", "calf"})
_ACROSS = {
    "front_waist": _WAIST,
    "back_waist": _WAIST,
    "front_hip": _HIP,
    "back_hip": _HIP,
    "dart_spacing": 0.265,
}
_DOWN = {
    "waist_to_hip": (_WAIST, _HIP, 1.0),
    "waist_to_knee": (_WAIST, _KNEE, 1.0),
    "waist_to_floor_side": (_WAIST, _FLOOR, 1.0),
    "waist_to_floor_front": (_WAIST, _FLOOR, 0.0),
    "waist_to_floor_back": (_WAIST, _FLOOR, 0.0),
    "height": (0.02, _FLOOR, 1.35),
}


_ASIDE = {"seat_behind_waist": "hip", "stomach_before_waist": "upper_hip"}
"""What is taken with plumb line and ruler, and the section the line touches."""


@cache
def _sample_body() -> Body:
    """The sample client's, to show how it is taken."""
    body = body_of(values_of(take(Card, shelf.read_json("cards/sample.json"))))
    if body is None:
        message = "the sample card lacks what a body is drawn from"
        raise LookupError(message)
    return body


class TapeFigure(QWidget):
    """A figure with the tape where the measurement in hand is taken."""

    def __init__(self) -> None:
        super().__init__()
        self._name = ""
        self._colours: Colours = LIGHT
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def show_tape(self, name: str) -> None:
        """The measurement in hand."""
        if name != self._name:
            self._name = name
            self.update()

    def set_colours(self, colours: Colours) -> None:
        """Light or dark."""
        self._colours = colours
        self.update()

    @guarded(otherwise=lambda: QSize(64, 130))
    def sizeHint(self) -> QSize:
        return QSize(64, 130)

    @guarded()
    def paintEvent(self, event: QPaintEvent) -> None:
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            tall = float(self.height())
            painter.translate(self.width() / 2, 0.0)
            if self._name in _ASIDE:
                self._from_the_side(painter, tall)
                return
            painter.setPen(QPen(QColor(self._colours.field_line), 1.4))
            painter.setBrush(QColor(self._colours.field))
            painter.drawPath(_figure(tall))
            painter.drawEllipse(
                QRectF(-0.05 * tall, 0.015 * tall, 0.1 * tall, 0.12 * tall)
            )
            painter.drawLine(QPointF(0, 0.56 * tall), QPointF(0, 0.97 * tall))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            pen = QPen(QColor(self._colours.accent), 3.0)
            pen.setCapStyle(Qt.PenCapStyle.RoundCap)
            painter.setPen(pen)
            self._tape(painter, tall)

    def _from_the_side(self, painter: QPainter, tall: float) -> None:
        """A plumb line that touches her, and a ruler from it to the waist."""
        body = _sample_body()
        shape = next(line for line in bare(body, "side") if line.kind == "body")
        scale = 0.97 * tall / max(y for _, y in shape.points)

        def at(x: float, up: float) -> QPointF:
            return QPointF(x * scale, 0.98 * tall - up * scale)

        painter.setPen(QPen(QColor(self._colours.field_line), 1.4))
        painter.setBrush(QColor(self._colours.field))
        painter.drawPolygon(QPolygonF([at(x, y) for x, y in shape.points]))
        waist, touched = body.section("waist"), body.section(_ASIDE[self._name])
        # Her back is to the right of the picture.
        back = 1.0 if touched.name == "hip" else -1.0
        line, end = (
            back * each.depth - each.y for each in (touched.ovals[0], waist.ovals[0])
        )
        painter.setPen(QPen(QColor(self._colours.field_line), 1.4))
        foot = body.section("knee").height
        painter.drawLine(at(line, waist.height + 0.1 * body.stature), at(line, foot))
        painter.setBrush(QColor(self._colours.field_line))
        painter.drawEllipse(at(line, foot), 2.5, 2.5)
        pen = QPen(QColor(self._colours.accent), 3.0)
        pen.setCapStyle(Qt.PenCapStyle.RoundCap)
        painter.setPen(pen)
        painter.drawLine(at(line, waist.height), at(end, waist.height))

    def _tape(self, painter: QPainter, tall: float) -> None:
        name = self._name
        if name in _ROUND:
            level, half = _ROUND[name], _HALF[_ROUND[name]]
            left = 0.0 if name in _ONE_LEG else -half
            box = QRectF(
                left * tall, (level - 0.012) * tall, (half - left) * tall, 0.024 * tall
            )
            painter.drawEllipse(box)
        elif name in _ACROSS:
            level = _ACROSS[name]
            half = 0.5 * _HALF[_HIP] if name == "dart_spacing" else _HALF[level]
            right = 0.0 if name == "dart_spacing" else half
            painter.drawLine(
                QPointF(-half * tall, level * tall), QPointF(right * tall, level * tall)
            )
        elif name in _DOWN:
            top, foot, side = _DOWN[name]
            x = side * (_HALF[_HIP] + 0.012) * tall
            painter.drawLine(QPointF(x, top * tall), QPointF(x, foot * tall))
            for end in (top, foot):
                painter.drawLine(
                    QPointF(x - 0.022 * tall, end * tall),
                    QPointF(x + 0.022 * tall, end * tall),
                )


def _figure(tall: float) -> QPainterPath:
    """The outline, right side down and left side up, smooth."""
    right = [QPointF(half * tall, level * tall) for level, half in _OUTLINE]
    path = QPainterPath(right[0])
    _smooth(path, right)
    left = [QPointF(-point.x(), point.y()) for point in reversed(right)]
    path.lineTo(left[0])
    _smooth(path, left)
    path.closeSubpath()
    return path


def _smooth(path: QPainterPath, points: list[QPointF]) -> None:
    for before, after in pairwise(points):
        middle = (before.y() + after.y()) / 2
        path.cubicTo(QPointF(before.x(), middle), QPointF(after.x(), middle), after)
