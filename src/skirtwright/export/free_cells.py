"""Which cells of a drawing are free: of lines, joins, crosses and words.

A drawing is laid out in rows of small cells, a row a whole number with a bit a cell, so
that room for words is found by shifting and masking rows.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from skirtwright.export.printed_letters import DESCENT
from skirtwright.export.sheet import Fill, Group, Mark, Text
from skirtwright.geometry import Point
from skirtwright.geometry.box import Box
from skirtwright.lay.cells import Cells, draw, fill

_CELL = 1.0
_CELL_SHARE = 1 / 8
_CLEAR = 1.3
_CLEAR_SHARE = 1 / 4
"""Sizes of cells, and room kept round lines and words, mm; in parts of a capital's
height where letters are large."""

_MOST_CELLS = 3e7
RISE = 1.15
"""Height of an accent over the line, in parts of a capital's height."""

_EDGE = 50.0
"""Looked at round the drawing, mm: accents and clear room reach a little over it."""

_FLAT = 0.2
_HAIR = 0.01

Rows = list[int]
Inside = dict[int, int]
"""The cells of a piece: its rows' numbers with their bits."""


class FreeCells:
    """The room left on a drawing.

    Args:
        boxes: of all that is to be drawn on it.
        least: height of the smallest capitals, mm.
        close: how close together things may stand, 1 as on a pattern.

    Attributes:
        cell: how large a cell is, mm.
        clear: the room kept round lines and words, mm.
    """

    def __init__(self, boxes: Sequence[Box], least: float, close: float) -> None:
        self._left = min(box.left for box in boxes) - _EDGE
        self._low = min(box.bottom for box in boxes) - _EDGE
        wide = max(box.right for box in boxes) - self._left
        high = max(box.top for box in boxes) + _EDGE - self._low
        enough = math.sqrt(wide * high / _MOST_CELLS)
        self.cell = fine = max(_CELL * close, least * _CELL_SHARE, enough)
        self.clear = max(_CLEAR * close, least * _CLEAR_SHARE)
        count = math.ceil(high / fine) + 1
        self._lines: Rows = [0] * count
        self._words: Rows = [0] * count
        self._leaders: Rows = [0] * count

    def keep_clear(self, mark: Mark) -> None:
        """Have a mark's cells taken, with room round it."""
        if isinstance(mark, Text):
            for words, motion, wide in mark.lines():
                if words:
                    low, high = -DESCENT * mark.height_mm, RISE * mark.height_mm
                    corners = ((0, low), (wide, low), (wide, high), (0, high))
                    self._outline([motion(Point(x, y)) for x, y in corners])
            return
        closed = isinstance(mark, Fill)
        points = self._home(mark.points(_FLAT))
        self._take(points, self._lines, filled=closed)

    def _outline(self, corners: Sequence[Point]) -> None:
        self._take(self._home(corners), self._words, filled=True)
        self._take(self._home(corners), self._lines, filled=True)

    def _take(self, points: Sequence[Point], rows: Rows, *, filled: bool) -> None:
        taken: Inside = {}
        cells = Cells(self.cell, self.cell)
        draw([*points, points[0]] if filled else points, cells, self.clear, taken)
        if filled:
            fill(points, cells, taken)
        for row, bits in taken.items():
            if row < len(rows):
                rows[row] |= bits

    def _home(self, points: Sequence[Point]) -> list[Point]:
        return [Point(p.x - self._left, p.y - self._low) for p in points]

    def inside(self, group: Group) -> Inside:
        """The cells of a piece, its rim too."""
        taken: Inside = {}
        cells = Cells(self.cell, self.cell)
        for stroke in group.outlines:
            points = self._home(stroke.points(_FLAT))
            own: Inside = {}
            draw(points, cells, _HAIR, own)
            fill(points, cells, own)
            for row, bits in own.items():
                taken[row] = taken.get(row, 0) | bits
        return taken

    def clear_of(self, insides: Sequence[Inside]) -> Inside:
        """The cells that no piece takes."""
        # Every bit: whatever is looked at is cut to its field.
        outside = dict.fromkeys(range(len(self._lines)), -1)
        for inside in insides:
            for row, bits in inside.items():
                if row in outside:
                    outside[row] &= ~bits
        return outside

    def _span(self, box: Box) -> tuple[range, int, int]:
        """The rows of a box, its first cell, and how many cells it is across."""
        first = math.ceil((box.left - self._left) / self.cell - 1e-9)
        last = math.floor((box.right - self._left) / self.cell + 1e-9)
        low = math.ceil((box.bottom - self._low) / self.cell - 1e-9)
        high = math.floor((box.top - self._low) / self.cell + 1e-9)
        rows = range(max(low, 0), min(high, len(self._lines)))
        return rows, max(first, 0), max(last - max(first, 0), 0)

    def _free(self, core: Box, within: Inside | None) -> Rows:
        """What is free of a box, the first bit its left edge; within a piece alone."""
        rows, first, count = self._span(core)
        every = (1 << count) - 1
        free = [~self._lines[row] >> first & every for row in rows]
        if within is None:
            return free
        return [
            bits & within.get(row, 0) >> first
            for row, bits in zip(rows, free, strict=True)
        ]

    def near(
        self,
        size: tuple[float, float],
        core: Box,
        within: Inside | None,
        wanted: Point,
        aside: float = 0.0,
    ) -> list[Point]:
        """Where a block of words has room: lower left corners, one a row.

        Args:
            size: width and height of the block, mm.
            core: where it may stand.
            within: of a piece, for words on it.
            wanted: where its middle is wanted; the nearest come first.
            aside: how much further from everything it keeps than words must, mm.
        """
        wide, high = (side + 2 * aside for side in size)
        across, up = math.ceil(wide / self.cell), math.ceil(high / self.cell)
        rows, first, _ = self._span(core)
        spots = rooms(self._free(core, within), across, up)
        x = (wanted.x - self._left - wide / 2) / self.cell - first
        y = (wanted.y - self._low - high / 2) / self.cell - rows.start
        spare = (across * self.cell - wide) / 2 + aside
        return [
            Point(
                self._left + (first + at) * self.cell + spare,
                self._low + (rows.start + row) * self.cell + aside,
            )
            for _, at, row in sorted(_nearest(spots, x, y))
        ]

    def fits(self, box: Box, within: Inside | None = None) -> bool:
        """Whether words have room in a box, on a piece if one is given."""
        first = math.floor((box.left - self._left) / self.cell)
        last = math.ceil((box.right - self._left) / self.cell)
        low = math.floor((box.bottom - self._low) / self.cell)
        high = math.ceil((box.top - self._low) / self.cell)
        if first < 0 or low < 0 or high > len(self._lines):
            return False
        mask = (1 << last) - (1 << first)
        return all(
            not self._lines[row] & mask
            and (within is None or within.get(row, 0) & mask == mask)
            for row in range(low, high)
        )

    def keep_leader(self, leader: Iterable[Mark]) -> None:
        """Have the cells of a leader taken; it is known what they are taken by."""
        for mark in leader:
            self.keep_clear(mark)
            points = self._home(mark.points(_FLAT))
            self._take(points, self._leaders, filled=False)

    def crosses(self, start: Point, end: Point, *, leaders: bool) -> bool:
        """Whether a straight line runs over words; over `leaders` too, if asked."""
        steps = math.ceil(start.to(end) / self.cell)
        for number in range(steps + 1):
            at = start.between(end, number / max(steps, 1))
            row = int((at.y - self._low) // self.cell)
            cell = int((at.x - self._left) // self.cell)
            if not 0 <= row < len(self._words):
                continue
            taken = self._words[row] | (self._leaders[row] if leaders else 0)
            if taken >> cell & 1:
                return True
        return False

    def share(self, box: Box, inside: Inside) -> tuple[int, Point]:
        """How many cells of a piece lie in a box, and their middle."""
        rows, first, count = self._span(box)
        every = (1 << count) - 1
        cells, up, across = 0, 0.0, 0.0
        for row in rows:
            bits = inside.get(row, 0) >> first & every
            if bits:
                number = bits.bit_count()
                cells += number
                up += number * row
                low = (bits & -bits).bit_length() - 1
                across += number * (first + (low + bits.bit_length()) / 2)
        if not cells:
            return 0, box.middle
        middle = Point(
            self._left + across / cells * self.cell,
            self._low + up / cells * self.cell,
        )
        return cells, middle

    def deepest(self, box: Box, inside: Inside, near: Point) -> Point | None:
        """A place well inside what a window shows of a piece."""
        rows, first, count = self._span(box)
        every = (1 << count) - 1
        seen = [inside.get(row, 0) >> first & every for row in rows]
        for deep in (9, 5, 3, 1):
            spots = rooms(seen, deep, deep)
            x = round((near.x - self._left) / self.cell - first)
            y = (near.y - self._low) / self.cell - rows.start
            found = min(_nearest(spots, x, y), default=None)
            if found is not None:
                _, at, row = found
                half = deep / 2
                return Point(
                    self._left + (first + at + half) * self.cell,
                    self._low + (rows.start + row + half) * self.cell,
                )
        return None


def rooms(free: Sequence[int], wide: int, high: int) -> list[int]:
    """Where a box of cells has room: for each row a bit for each lower left corner.

    Args:
        free: rows of cells that are free.
        wide: cells across.
        high: cells up.
    """
    rows = [_all_free(row, wide) for row in free]
    done = 1
    while done < high:
        step = min(done, high - done)
        rows = [a & b for a, b in zip(rows, rows[step:], strict=False)]
        done += step
    return rows


def _all_free(row: int, wide: int) -> int:
    done = 1
    while row and done < wide:
        step = min(done, wide - done)
        row &= row >> step
        done += step
    return row


def _nearest(
    spots: Sequence[int], x: float, y: float
) -> Iterator[tuple[float, int, int]]:
    """Of each row the free cell nearest to a place: how near, across, up."""
    for row, bits in enumerate(spots):
        if bits:
            at = _nearest_bit(bits, round(x))
            yield math.hypot(at - x, row - y), at, row


def _nearest_bit(bits: int, wanted: int) -> int:
    """The set bit nearest to a wanted one."""
    wanted = max(wanted, 0)
    below = (bits & (1 << wanted + 1) - 1).bit_length() - 1
    above = bits >> wanted
    over = wanted + (above & -above).bit_length() - 1 if above else -1
    if below < 0 or (over >= 0 and over - wanted < wanted - below):
        return over
    return below
