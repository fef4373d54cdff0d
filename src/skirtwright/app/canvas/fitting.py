"""How the window is shared: the drawing as large as it will go, margin column, stack.

All in logical pixels, x right and y down. Pure: no Qt.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from skirtwright.app.canvas.laying import SKIRT, Card, Layout
from skirtwright.app.canvas.view import Margins, View, fitted
from skirtwright.geometry.box import Box

MARGIN: Final = 24.0

LEAST_SHARE: Final = 0.9
"""Of its scale a drawing keeps when a slip is laid over part of the table."""

_LEAST_APART: Final = 0.55
"""The same of halves drafted apart: all of them and the figures are to be seen."""

_LEAST_WIDE: Final = 0.6
"""The same of a drawing so wide that else some of it would be under the slip."""

_FIGURES: Final = 120.0
"""Room for the figures left of the drawing, px."""

_TALL: Final = 0.7
"""Of the table's height a skirt has at least, unless it is too wide."""

_WIDE: Final = 0.905
"""Of the table's width a skirt has that is too wide for that."""

_TOP: Final = 0.055
_BELOW: Final = 0.13
_ROW: Final = 0.17
_DIMENSION: Final = 76.0
"""Room right of the drawing for its length, px."""

_TURNED: Final = 72.0
"""The same for one that is written along its line, px."""

_OVER: Final = 56.0
"""Room over a drawing too wide for figures beside it, where it is not tall, px."""

_BESIDE: Final = 120.0
"""Room for a figure between its column and the drawing, px."""

_FIGURE: Final = 0.4
"""Of the table's height the skirt on her has at most."""

_FIGURE_WIDE: Final = 0.75
"""Of its height its room is wide."""

_LEAST_SEEN: Final = 72.0
"""Height of the skirt on her below which she is left out, px."""

_CARD_WIDER: Final = 1.5
"""Cards grow so many times wider with her text at most: the skirt needs the room."""

NAMES: Final = 36.0
"""Room for figures under the hem, px."""


@dataclass(frozen=True)
class Window:
    """The table's part of the window.

    Attributes:
        width: of the whole, px.
        height: of the whole, px.
        right: covered at the right, px.
        bottom: covered below, px.
        text: so many times as large as ordinary text hers is.
    """

    width: float
    height: float
    right: float = 0.0
    bottom: float = 0.0
    text: float = 1.0

    @property
    def free_height(self) -> float:
        """Not covered, px."""
        return self.height - self.bottom

    @property
    def free_width(self) -> float:
        """Not covered, px."""
        return self.width - self.right

    def between(self, small: float, large: float) -> float:
        """A size at 1024 px and at 1440 px and more, and between them, px."""
        share = min(max((self.width - 1024.0) / 416.0, 0.0), 1.0)
        return small + (large - small) * share

    @property
    def card_wide(self) -> float:
        """Across a card of the stack, px; with large text wider, but not as much."""
        return self.between(156.0, 170.0) * min(self.text, _CARD_WIDER)


@dataclass(frozen=True)
class Fit:
    """How what is on the table is best seen.

    Attributes:
        view: of the table.
        low: the cards stand in a row along the lower edge, for the drawing is wide.
        column: the left edge of the figures' column, px.
    """

    view: View
    low: bool
    column: float


@dataclass(frozen=True)
class Area:
    """An upright rectangle of the window, px."""

    left: float
    top: float
    width: float
    height: float

    @property
    def right(self) -> float:
        """Its right edge."""
        return self.left + self.width

    @property
    def bottom(self) -> float:
        """Its lower edge."""
        return self.top + self.height

    def holds(self, x: float, y: float) -> bool:
        """Whether a pixel lies in it."""
        return self.left <= x <= self.right and self.top <= y <= self.bottom


@dataclass(frozen=True)
class Stacked:
    """A card of the stack as it stands in the window.

    Attributes:
        area: of the whole card; the next one covers all but its upper edge.
        edge: its upper edge with the name.
        drawn: what is on it is drawn.
    """

    card: Card
    area: Area
    edge: Area
    drawn: bool


def best_fit(layout: Layout, window: Window) -> Fit | None:
    """What is on the table, whole and as large as it will go; None for nothing."""
    box = layout.box()
    if box is None:
        return None
    plain = replace(window, right=0.0)
    apart = layout.apart and layout.brought == SKIRT
    if layout.brought == SKIRT:
        fit = _skirt(box, plain, apart=apart)
    else:
        fit = _cards(box, plain)
    if not window.right:
        return fit
    return _beside_cover(fit, box, window, apart=apart)


def _skirt(box: Box, window: Window, *, apart: bool) -> Fit:
    tall, wide = window.free_height, window.width
    column = window.between(104.0, 172.0)
    letters = window.between(88.0, 124.0)
    stack = window.card_wide + MARGIN + window.between(56.0, 78.0)
    high = Margins(column + letters, _TOP * tall, stack, _BELOW * tall)
    fit = Fit(fitted_from_top(box, wide, tall, high), low=False, column=column)
    if box.height * fit.view.scale >= _TALL * tall:
        return fit
    below = _ROW * tall + MARGIN + NAMES
    low = Margins(MARGIN + _FIGURES, _TOP * tall, 112.0, below)
    fit = Fit(fitted_from_top(box, wide, tall, low), low=True, column=MARGIN)
    if apart or box.height * fit.view.scale >= (_TALL - 0.005) * tall:
        return fit
    side = (1.0 - _WIDE) * wide
    right = max(side / 2, min(side - MARGIN, _TURNED))
    top = _TOP * tall
    full = Margins(side - right, top, right, below)
    view = fitted_from_top(box, wide, tall, full)
    spare = tall - top - below - box.height * view.scale
    lower = view.panned(0.0, min(max(_OVER - top, 0.0), spare))
    return Fit(lower, low=True, column=MARGIN)


def _cards(box: Box, window: Window) -> Fit:
    tall = window.free_height
    stack = window.card_wide + 2 * MARGIN
    margins = Margins(2 * MARGIN, _TOP * tall, stack, 2 * MARGIN)
    view = fitted(box, window.width, tall, margins)
    return Fit(view, low=False, column=MARGIN)


def fitted_from_top(box: Box, width: float, height: float, margins: Margins) -> View:
    """A box whole and as large as it will go, hung at the top rather than midway."""
    view = fitted(box, width, height, margins)
    spare = height - margins.top - margins.bottom - box.height * view.scale
    return view.panned(0.0, -spare / 2)


def _beside_cover(fit: Fit, box: Box, window: Window, *, apart: bool) -> Fit:
    """No further aside and no smaller than it must be; the left stays in sight.

    What does not fit even at the least share of its scale goes under the cover.
    """
    told = window.free_width - _DIMENSION
    before = fit.view
    left = before.screen(box.corners[3])[0]
    wide = box.width * before.scale
    # Aside, where there is room, until its length can be told beside it.
    lacking = max(left + wide - told, 0.0)
    spare = max(left - window.between(170.0, 262.0), 0.0)
    if lacking <= spare:
        column = max(min(fit.column, left - lacking - _BESIDE), MARGIN)
        return replace(fit, view=before.panned(-lacking, 0.0), column=column)
    too_wide = LEAST_SHARE * wide > window.free_width - 2 * MARGIN
    least = _LEAST_WIDE if too_wide else LEAST_SHARE
    room = MARGIN if too_wide else window.between(170.0, 262.0)
    if apart:
        least, room = _LEAST_APART, window.between(170.0, 200.0)
    scale = max(least * before.scale, (told - room) / box.width)
    scale = min(scale, before.scale)
    left = max(min(left, told - box.width * scale), MARGIN)
    top = before.screen(box.corners[3])[1]
    view = View(scale, box.left - left / scale, box.top + top / scale)
    column = max(min(fit.column, left - _BESIDE), MARGIN)
    return Fit(view, fit.low, column)


# The stack


def stacked(cards: Sequence[Card], window: Window, *, low: bool) -> list[Stacked]:
    """The cards where they stand, from the back of the stack to its top."""
    if not cards or window.right:
        return []
    return list((_row if low else _pile)(cards, window))


def _pile(cards: Sequence[Card], window: Window) -> Iterator[Stacked]:
    """One over the other in the lower right corner, narrower towards the back."""
    wide, edge = window.card_wide, window.text * window.between(26.0, 30.0)
    tall = max(window.between(104.0, 176.0), 3 * edge)
    foot = window.free_height - MARGIN / 2 - window.between(0.0, 12.0)
    right = window.width - MARGIN
    last = len(cards) - 1
    tall = min(tall, max(foot - MARGIN / 2 - last * edge, edge))
    for number, card in enumerate(cards):
        depth = last - number
        inset = min(2.0 * depth, wide / 18)
        top = foot - tall - depth * edge
        area = Area(right - wide + inset, top, wide - 2 * inset, foot - top)
        strip = Area(area.left, top, area.width, edge if depth else tall)
        yield Stacked(card, area, strip, depth == 0)


def _row(cards: Sequence[Card], window: Window) -> Iterator[Stacked]:
    """Beside one another along the lower edge, right of the figure."""
    tall = _ROW * window.free_height
    start = window.between(120.0, 200.0)
    room = window.width - MARGIN - start
    gap = min(MARGIN, 0.14 * room / len(cards))
    wide = min((room + gap) / len(cards) - gap, window.between(140.0, 152.0))
    left = window.width - MARGIN - len(cards) * (wide + gap) + gap
    top = window.free_height - tall - MARGIN / 2
    for number, card in enumerate(cards):
        area = Area(left + number * (wide + gap), top, wide, tall)
        yield Stacked(card, area, area, drawn=True)


def figure_place(
    window: Window, drawing: tuple[float, float], cards: float, *, low: bool
) -> Area | None:
    """Where the skirt on her stands, in the lower left corner, beside or below all.

    Args:
        window: the table's part of it.
        drawing: its left and its lower edge, px.
        cards: where the first of them begins at the left, px.
        low: the cards stand in a row.

    Returns:
        None where there is no room in which she could be seen.
    """
    foot, (left, lowest) = window.free_height - MARGIN, drawing
    most = _FIGURE * window.free_height
    if low:
        # Under a drawing that is wide and not tall there is room for more of her.
        beneath = foot - lowest - MARGIN - NAMES
        tall = min(max(_ROW * window.free_height, beneath), most)
        wide = min(_FIGURE_WIDE * tall, cards - 2 * MARGIN)
    else:
        wide, tall = window.between(88.0, 140.0), most
    if left < MARGIN + wide:
        tall = min(tall, foot - lowest - MARGIN)
    return Area(MARGIN, foot - tall, wide, tall) if tall >= _LEAST_SEEN else None
