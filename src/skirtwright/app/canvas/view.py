"""Where she looks: how a place on the table comes to lie on the screen.

The table is measured in mm, x right and y up; the screen in logical pixels, x right
and y down. Pure: no Qt.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from skirtwright.geometry.box import Box
from skirtwright.geometry.point import Point

LEAST_SCALE: Final = 0.02
"""Pixels a mm is shown at least: 50 m of table on a screen."""

MOST_SCALE: Final = 60.0
"""Pixels a mm is shown at most."""


def box_round(boxes: Iterable[Box]) -> Box | None:
    """The smallest box round boxes; None round nothing."""
    known = list(boxes)
    if not known:
        return None
    return Box(
        min(box.left for box in known),
        min(box.bottom for box in known),
        max(box.right for box in known),
        max(box.top for box in known),
    )


@dataclass(init=False, slots=True, unsafe_hash=True)
class View:
    """A way of looking at the table.

    Attributes:
        scale: logical pixels to a mm.
        left: the x of the table that lies at the screen's left edge, mm.
        top: the y of the table that lies at the screen's upper edge, mm.
    """

    scale: Final[float]
    left: Final[float]
    top: Final[float]

    def __init__(self, scale: float = 0.5, left: float = 0.0, top: float = 0.0) -> None:
        self.scale = scale
        self.left = left
        self.top = top

    def screen(self, place: Point) -> tuple[float, float]:
        """Where a place of the table is shown, px."""
        return (place.x - self.left) * self.scale, (self.top - place.y) * self.scale

    def table(self, x: float, y: float) -> Point:
        """The place of the table that is shown at a pixel."""
        return Point(self.left + x / self.scale, self.top - y / self.scale)

    def zoomed(self, x: float, y: float, factor: float) -> View:
        """Nearer or further by a factor, the place under the pixel staying there."""
        scale = min(max(self.scale * factor, LEAST_SCALE), MOST_SCALE)
        held = self.table(x, y)
        return View(scale, held.x - x / scale, held.y + y / scale)

    def panned(self, x: float, y: float) -> View:
        """With the table pushed by so many pixels, right and down."""
        return View(self.scale, self.left - x / self.scale, self.top + y / self.scale)

    def centred(self, place: Point, width: float, height: float) -> View:
        """With a place in the middle of a screen of that size, px."""
        left = place.x - width / 2 / self.scale
        return View(self.scale, left, place.y + height / 2 / self.scale)

    def between(self, other: View, share: float, width: float, height: float) -> View:
        """The view at a share of the way to another; zooming goes evenly."""
        scale = self.scale * (other.scale / self.scale) ** share
        here = self.table(width / 2, height / 2)
        there = other.table(width / 2, height / 2)
        turned = View(scale)
        return turned.centred(here.between(there, share), width, height)


@dataclass(frozen=True)
class Margins:
    """Pixels of the window that stay free."""

    left: float = 0.0
    top: float = 0.0
    right: float = 0.0
    bottom: float = 0.0


def fitted(box: Box, width: float, height: float, margins: Margins) -> View:
    """The view that shows a box whole and as large as it will go.

    Args:
        box: what is to be seen, mm.
        width: of the window, px.
        height: of the window, px.
        margins: what is to stay free.
    """
    across = max(width - margins.left - margins.right, 1.0)
    down = max(height - margins.top - margins.bottom, 1.0)
    wanted = min(across / max(box.width, 1.0), down / max(box.height, 1.0))
    scale = min(max(wanted, LEAST_SCALE), MOST_SCALE)
    middle = box.middle
    return View(
        scale,
        middle.x - (margins.left + across / 2) / scale,
        middle.y + (margins.top + down / 2) / scale,
    )


def nice_step(least: float, steps: Iterable[float]) -> float:
    """The smallest of rising steps that is not less than `least`; else the last."""
    last = math.nan
    for step in steps:
        last = step
        if step >= least:
            break
    return last
