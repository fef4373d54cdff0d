"""The skirt on her among the words of a printed page: marks in mm, black and greys."""

from __future__ import annotations

from itertools import pairwise

from skirtwright.export.sheet import Fill, Mark, Stroke
from skirtwright.figure.drawn_figure import FILLED, VIEWS, Kind, Line
from skirtwright.figure.views import dressed
from skirtwright.geometry.box import box_of
from skirtwright.geometry.point import Point
from skirtwright.geometry.segment import Line as Straight
from skirtwright.report import Report

_GREYS: dict[Kind, float] = {"inside": 0.72, "body": 0.88, "skirt": 1.0}

_WEIGHTS: dict[Kind, float] = {"outline": 0.3, "edge": 0.25, "tight": 0.5}
_LIGHT = 0.13
"""mm; the kinds of line that are named no other way."""

_LEFT_OUT: frozenset[Kind] = frozenset({"taped", "guessed"})

_BETWEEN = 0.1
"""Between two views, as a share of the height."""


def figure_marks(report: Report, high: float) -> tuple[Mark, ...]:
    """The skirt on her from the front, the side and the back, so many mm high.

    The lower left corner is at nought; nothing where no piece hangs from her waist.
    """
    skirt = report.worn()
    if skirt is None:
        return ()
    pictures = [dressed(skirt, view) for view in VIEWS]
    boxes = [
        box_of(Point(x, y) for line in picture for x, y in line.points)
        for picture in pictures
    ]
    foot = min(box.bottom for box in boxes)
    scale = high / (max(box.top for box in boxes) - foot)
    marks: list[Mark] = []
    left = 0.0
    for picture, box in zip(pictures, boxes, strict=True):
        home = Point(left - box.left * scale, -foot * scale)
        marks += [
            _mark(line, home, scale) for line in picture if line.kind not in _LEFT_OUT
        ]
        left += box.width * scale + _BETWEEN * high
    return tuple(marks)


def _mark(line: Line, home: Point, scale: float) -> Mark:
    places = [home + Point(x, y) * scale for x, y in line.points]
    path = tuple(Straight(a, b) for a, b in pairwise(places) if a != b)
    if line.kind in FILLED:
        return Fill(path, "label", _GREYS[line.kind])
    return Stroke(path, "label", _WEIGHTS.get(line.kind, _LIGHT), ())
