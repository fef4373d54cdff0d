"""Words given their places, once it is known where the pieces lie on the paper.

One set of rules for sheets, rolls, projector, plotter and SVG. Words read level, lie
within one sheet and clear of every line, join, cross and other words. What is said of
a line stands beside it on its piece; the label stands where the piece has most room,
and the piece's name on every other sheet that shows some of it. Where there is no room
words are made smaller, then shorter, then broken into lines, and at last they stand
aside, a thin line leading to what they are about.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product

from skirtwright.budget import look_up
from skirtwright.export.printed_letters import DESCENT, width_of
from skirtwright.export.setting import broken
from skirtwright.export.sheet import (
    LEADING,
    SMALLEST_LETTERS,
    Fill,
    Group,
    Label,
    Layer,
    Mark,
    Sheet,
    Stroke,
    Text,
    box_of,
    line,
)
from skirtwright.geometry import Chain, Point
from skirtwright.geometry.arc import arc
from skirtwright.geometry.box import Box
from skirtwright.lay.cells import Cells, draw, fill

_CELL = 1.0
_CELL_SHARE = 1 / 8
_CLEAR = 1.3
_CLEAR_SHARE = 1 / 4
"""Sizes of cells, and room kept round lines and words, mm; in parts of a capital's
height where letters are large."""

_MOST_CELLS = 3e7
_RISE = 1.15
"""Height of an accent over the line, in parts of a capital's height."""

_SHRINK = 0.8
_AT_EASE = 1.5
"""How much further than it must a label keeps from lines, where there is room, in
parts of a capital's height."""

_FIELDS = 6
"""Sheets looked at for a label: those that show most of the piece."""

_SHORTER = (0.6, 0.35)
"""How wide broken lines are, in parts of the whole: the widest first."""

_ALONG = 4.0
_NAME = 4.0
"""Height of capitals of a name on the further sheets of a piece, mm."""

_EDGE = 50.0
"""Looked at round the drawing, mm: accents and clear room reach a little over it."""

_FLAT = 0.2
_HAIR = 0.01
_LEADER, _LEADER_SHARE = 0.18, 1 / 20
_DOT, _DOT_SHARE = 0.7, 1 / 8
"""Pen of a leader and radius of its dot, mm; for large letters in parts of a capital.
"""
_TRIES = 40
"""Places tried for words with a leader, the nearest first."""


@dataclass(frozen=True)
class Field:
    """A sheet, or a whole roll: words stay within one.

    Attributes:
        window: what is seen of the drawing there.
        core: where words may stand: clear of joins and of the frame.
    """

    window: Box
    core: Box


Rows = list[int]


@dataclass(frozen=True)
class _Block:
    """Lines of words with their size.

    Attributes:
        lines: as read; the first is bold where there is a second or `bold`.
        height: of capitals, mm.
        bold: whether the first line is.
    """

    lines: tuple[str, ...]
    height: float
    bold: bool

    @property
    def size(self) -> tuple[float, float]:
        """Width and height of the room they take, mm."""
        wide = max(
            width_of(words, self.height, bold=self.bold and not number)
            for number, words in enumerate(self.lines)
        )
        rows = (len(self.lines) - 1) * LEADING + _RISE + DESCENT
        return wide, rows * self.height

    def texts(self, corner: Point, layer: Layer) -> Iterator[Text]:
        """The words, the lower left corner of their room given."""
        top = corner.y + self.size[1] - _RISE * self.height
        for number, words in enumerate(self.lines):
            foot = Point(corner.x, top - number * LEADING * self.height)
            bold = self.bold and not number
            yield Text(words, foot, self.height, layer=layer, bold=bold)


def _broken(block: _Block, share: float = _SHORTER[0]) -> _Block:
    """The same words in lines of a share of their width, no word cut."""
    width = share * block.size[0]
    lines = []
    for number, words in enumerate(block.lines):
        bold = block.bold and not number
        lines += broken(words, width, block.height, bold=bold, whole=True)
    return replace(block, lines=tuple(lines))


def width_aside(label: Label, height: float) -> float:
    """How wide the shortest of a label's words are in short lines, mm."""
    return _broken(_Block(label.versions[-1], height, bold=not label.of)).size[0]


class Room:
    """The room left on a drawing, and the words that were given places in it.

    Args:
        sheet: the pieces where they lie, with their labels.
        fields: the sheets, or the whole of a roll.
        taken: marks of the pages themselves, where they come to lie in the drawing.
        least: height of the smallest capitals, mm.
        close: how close together things may stand, 1 as on a pattern.

    Attributes:
        sheet: the same with all words in their places, and no labels.
        placed: of each piece, where the words of each label came to stand.
    """

    def __init__(
        self,
        sheet: Sheet,
        fields: Sequence[Field],
        taken: Iterable[Mark] = (),
        least: float = SMALLEST_LETTERS,
        close: float = 1.0,
    ) -> None:
        self._fields = fields
        self._least = least
        boxes = [*(g.outline_box for g in sheet.groups), *(f.window for f in fields)]
        self._left = min(box.left for box in boxes) - _EDGE
        self._low = min(box.bottom for box in boxes) - _EDGE
        wide = max(box.right for box in boxes) - self._left
        high = max(box.top for box in boxes) + _EDGE - self._low
        enough = math.sqrt(wide * high / _MOST_CELLS)
        self._cell = fine = max(_CELL * close, least * _CELL_SHARE, enough)
        self._clear = max(_CLEAR * close, least * _CLEAR_SHARE)
        count = math.ceil(high / fine) + 1
        self._lines: Rows = [0] * count
        self._words: Rows = [0] * count
        self._leaders: Rows = [0] * count
        self.placed: list[list[tuple[Mark, ...]]] = []
        for mark in (*sheet.marks, *taken):
            self._keep_clear(mark)
        self.sheet = replace(sheet, groups=tuple(self._lettered(sheet.groups)))

    # Rows of cells

    def _keep_clear(self, mark: Mark) -> None:
        if isinstance(mark, Text):
            for words, motion, wide in mark.lines():
                if words:
                    low, high = -DESCENT * mark.height_mm, _RISE * mark.height_mm
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
        taken: dict[int, int] = {}
        cells = Cells(self._cell, self._cell)
        draw([*points, points[0]] if filled else points, cells, self._clear, taken)
        if filled:
            fill(points, cells, taken)
        for row, bits in taken.items():
            if row < len(rows):
                rows[row] |= bits

    def _home(self, points: Sequence[Point]) -> list[Point]:
        return [Point(p.x - self._left, p.y - self._low) for p in points]

    def _inside(self, group: Group) -> dict[int, int]:
        """The cells of a piece, its rim too."""
        taken: dict[int, int] = {}
        cells = Cells(self._cell, self._cell)
        for stroke in group.outlines:
            points = self._home(stroke.points(_FLAT))
            own: dict[int, int] = {}
            draw(points, cells, _HAIR, own)
            fill(points, cells, own)
            for row, bits in own.items():
                taken[row] = taken.get(row, 0) | bits
        return taken

    def _clear_of(self, insides: Sequence[dict[int, int]]) -> dict[int, int]:
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
        first = math.ceil((box.left - self._left) / self._cell - 1e-9)
        last = math.floor((box.right - self._left) / self._cell + 1e-9)
        low = math.ceil((box.bottom - self._low) / self._cell - 1e-9)
        high = math.floor((box.top - self._low) / self._cell + 1e-9)
        rows = range(max(low, 0), min(high, len(self._lines)))
        return rows, max(first, 0), max(last - max(first, 0), 0)

    def _free(self, core: Box, within: dict[int, int] | None) -> Rows:
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

    def _near(
        self,
        block: _Block,
        core: Box,
        within: dict[int, int] | None,
        wanted: Point,
        aside: float = 0.0,
    ) -> list[Point]:
        """Lower left corners where a block has room, one a row, the nearest first.

        It keeps `aside` mm further from everything than words must.
        """
        wide, high = (side + 2 * aside for side in block.size)
        across, up = math.ceil(wide / self._cell), math.ceil(high / self._cell)
        rows, first, _ = self._span(core)
        spots = rooms(self._free(core, within), across, up)
        x = (wanted.x - self._left - wide / 2) / self._cell - first
        y = (wanted.y - self._low - high / 2) / self._cell - rows.start
        found = []
        for row, bits in enumerate(spots):
            if bits:
                at = _nearest_bit(bits, round(x))
                found.append((math.hypot(at - x, row - y), at, row))
        found.sort()
        spare = (across * self._cell - wide) / 2 + aside
        return [
            Point(
                self._left + (first + at) * self._cell + spare,
                self._low + (rows.start + row) * self._cell + aside,
            )
            for _, at, row in found
        ]

    def _fits(self, box: Box, within: dict[int, int] | None = None) -> bool:
        """Whether words have room in a box, on a piece if one is given."""
        first = math.floor((box.left - self._left) / self._cell)
        last = math.ceil((box.right - self._left) / self._cell)
        low = math.floor((box.bottom - self._low) / self._cell)
        high = math.ceil((box.top - self._low) / self._cell)
        if first < 0 or low < 0 or high > len(self._lines):
            return False
        mask = (1 << last) - (1 << first)
        return all(
            not self._lines[row] & mask
            and (within is None or within.get(row, 0) & mask == mask)
            for row in range(low, high)
        )

    # Words

    def _lettered(self, groups: Sequence[Group]) -> Iterator[Group]:
        insides = [self._inside(group) for group in groups]
        self._outside = self._clear_of(insides)
        self.placed = [[self._stay(label) for label in g.labels] for g in groups]
        names: list[list[Mark]] = [[] for _ in groups]
        for of_lines in (True, False):
            for n, (group, inside) in enumerate(zip(groups, insides, strict=True)):
                for i, label in enumerate(group.labels):
                    if bool(label.of) != of_lines:
                        continue
                    words = self.placed[n][i] or tuple(
                        self._put_label(label, group, inside)
                    )
                    self.placed[n][i] = words
                    if not of_lines:
                        names[n] += self._names(label, group, inside, words)
        for group, placed, further in zip(groups, self.placed, names, strict=True):
            marks = (*group.marks, *(m for of_one in placed for m in of_one), *further)
            yield replace(group.holding(marks), labels=())

    def _stay(self, label: Label) -> tuple[Mark, ...]:
        """Words that stood there before stay, unless something is in their way."""
        words = [mark for mark in label.stays if isinstance(mark, Text)]
        # The cells may lie a little otherwise than they did.
        boxes = [box_of([text]).grown(-self._cell) for text in words]
        if not all(self._fits(box) for box in boxes):
            return ()
        for text in words:
            self._keep_clear(text)
        self._keep_leader([m for m in label.stays if not isinstance(m, Text)])
        return label.stays

    def _put_label(
        self, label: Label, group: Group, inside: dict[int, int]
    ) -> list[Mark]:
        if label.of:
            return self._on_a_line(label, group, inside)
        return self._on_a_piece(label, group, inside)

    def _sizes(self, wanted: float) -> Iterator[float]:
        size = max(wanted, self._least)
        while size > self._least * 1.05:
            yield size
            size *= _SHRINK
        yield self._least

    def _put(self, block: _Block, corner: Point, layer: Layer) -> list[Mark]:
        texts = list(block.texts(corner, layer))
        for text in texts:
            self._keep_clear(text)
        return [*texts]

    # What is said of a line

    def _on_a_line(
        self, label: Label, group: Group, inside: dict[int, int]
    ) -> list[Mark]:
        chain = Chain(label.of)
        steps = max(math.ceil(chain.length / _ALONG), 1)
        shares = sorted(
            (n / steps for n in range(steps + 1)), key=lambda s: abs(s - label.share)
        )
        places = [chain.at(share * chain.length) for share in shares]
        fields = self._touching(group)
        straight = chain.end - chain.start
        level = abs(straight.x) >= abs(straight.y)
        words = label.versions[0]
        for block in self._blocks(label, bold=False):
            for place in places:
                look_up()
                for corner in self._beside(place, block.size, level=level):
                    box = Box(corner.x, corner.y, corner.x + block.size[0],
                              corner.y + block.size[1])  # fmt: skip
                    if _in_one(box, fields) and self._fits(box, inside):
                        return self._put(block, corner, label.layer)
        return self._led(words, places, fields, inside)

    def _beside(
        self, place: Point, size: tuple[float, float], *, level: bool
    ) -> Iterator[Point]:
        """Lower left corners of words over, under and on either side of a place."""
        wide, high = size
        off = self._clear + self._cell
        for far in (off, off + self._cell):
            above = [Point(-wide / 2, far), Point(-wide / 2, -far - high)]
            aside = [Point(far, -high / 2), Point(-far - wide, -high / 2)]
            for step in (*above, *aside) if level else (*aside, *above):
                yield place + step

    def _led(
        self,
        words: tuple[str, ...],
        places: Sequence[Point],
        fields: Sequence[Field],
        inside: dict[int, int],
    ) -> list[Mark]:
        """Words aside with a line to the place they are about: on the piece, or off."""
        for crossing, within in product((False, True), (inside, self._outside, None)):
            for field in fields:
                seen = [p for p in places if field.window.holds(p)]
                if not seen:
                    continue
                marks = self._aside(
                    words, seen[0], field, within, seen, crossing=crossing
                )
                if marks:
                    return marks
        return []

    def _aside(
        self,
        words: tuple[str, ...],
        wanted: Point,
        field: Field,
        within: dict[int, int] | None,
        ends: Sequence[Point],
        *,
        bold: bool = False,
        crossing: bool,
    ) -> list[Mark]:
        """Words near a place with a leader to it; `crossing` other leaders or not."""
        one = _Block(words, self._least, bold)
        spots = [
            (corner.to(wanted), block, corner)
            for block in (one, _broken(one))
            for corner in self._near(block, field.core, within, wanted)
        ]
        for _, block, corner in sorted(spots, key=lambda spot: spot[0])[:_TRIES]:
            look_up()
            wide, high = block.size
            box = Box(corner.x, corner.y, corner.x + wide, corner.y + high)
            end = min(ends, key=box.middle.to)
            leader = self._leader(box, end, crossing=crossing)
            if leader is not None:
                texts = self._put(block, corner, "label")
                self._keep_leader(leader)
                return [*texts, *leader]
        return []

    def _leader(self, box: Box, end: Point, *, crossing: bool) -> list[Mark] | None:
        """A thin line from words to a dot, not through other words; see `_aside`."""
        near = Point(
            min(max(end.x, box.left), box.right), min(max(end.y, box.bottom), box.top)
        )
        reach = near.to(end)
        gap = 0.6 * self._clear
        if reach < 2 * gap:
            return None
        start = near.between(end, gap / reach)
        if self._meets(start, end, self._words):
            return None
        if not crossing and self._meets(start, end, self._leaders):
            return None
        radius = max(_DOT, _DOT_SHARE * self._least)
        dot = arc(end, end + Point(radius, 0), 360.0).segments
        weight = max(_LEADER, _LEADER_SHARE * self._least)
        return [
            Stroke(line(start, end), "label", weight, ()),
            Fill(dot, "label"),
        ]

    def _keep_leader(self, leader: Iterable[Mark]) -> None:
        for mark in leader:
            self._keep_clear(mark)
            points = self._home(mark.points(_FLAT))
            self._take(points, self._leaders, filled=False)

    def _meets(self, start: Point, end: Point, rows: Rows) -> bool:
        """Whether a straight line runs over cells that are taken."""
        steps = math.ceil(start.to(end) / self._cell)
        for number in range(steps + 1):
            at = start.between(end, number / max(steps, 1))
            row = int((at.y - self._low) // self._cell)
            cell = int((at.x - self._left) // self._cell)
            if 0 <= row < len(rows) and rows[row] >> cell & 1:
                return True
        return False

    # What is said of a piece

    def _on_a_piece(
        self, label: Label, group: Group, inside: dict[int, int]
    ) -> list[Mark]:
        """The label where it is read best."""
        fields = self._most_first(group, inside)
        for block in self._blocks(label, bold=True):
            put = self._label_put(block, fields[:_FIELDS], inside)
            if put:
                return put
        return []

    def _names(
        self,
        label: Label,
        group: Group,
        inside: dict[int, int],
        words: Sequence[Mark],
    ) -> Iterator[Mark]:
        """The name on all sheets but that of the label's words."""
        name = label.versions[-1][0]
        for (_, middle), field in self._most_first(group, inside):
            told = any(isinstance(w, Text) and field.core.holds(w.at) for w in words)
            if not told and self._share(field.window, inside)[0]:
                yield from self._named(name, field, inside, middle)

    def _most_first(
        self, group: Group, inside: dict[int, int]
    ) -> list[tuple[tuple[int, Point], Field]]:
        """The sheets of a piece, those that show most of it first; see `_share`."""
        fields = [(self._share(f.core, inside), f) for f in self._touching(group)]
        return sorted(fields, key=lambda each: -each[0][0])

    def _label_put(
        self,
        block: _Block,
        fields: Sequence[tuple[tuple[int, Point], Field]],
        inside: dict[int, int],
    ) -> list[Mark]:
        """A label on the first sheet with room for it, at ease or closely."""
        for aside in (_AT_EASE * block.height, 0.0):
            for (_, middle), field in fields:
                spots = self._near(block, field.core, inside, middle, aside)
                if spots:
                    return self._put(block, spots[0], "label")
        return []

    def _blocks(self, label: Label, *, bold: bool) -> Iterator[_Block]:
        """Each version large and small, then broken into shorter lines."""
        for version in label.versions:
            for size in self._sizes(label.height_mm):
                yield _Block(version, size, bold)
            for share in _SHORTER:
                for size in self._sizes(label.height_mm):
                    yield _broken(_Block(version, size, bold), share)

    def _named(
        self, name: str, field: Field, inside: dict[int, int], middle: Point
    ) -> list[Mark]:
        """A piece's name on a sheet, in one line, broken, or aside with a leader."""
        look_up()
        label = Label(((name,),), _NAME)
        for block in self._blocks(label, bold=True):
            spots = self._near(block, field.core, inside, middle)
            if spots:
                return self._put(block, spots[0], "label")
        target = self._deepest(field.window, inside, middle)
        if target is None:
            return []
        for crossing, within in product((False, True), (self._outside, None)):
            marks = self._aside(
                (name,), target, field, within, [target], bold=True, crossing=crossing
            )
            if marks:
                return marks
        return []

    def _touching(self, group: Group) -> list[Field]:
        box = group.outline_box
        return [field for field in self._fields if field.window.meets(box)]

    def _share(self, box: Box, inside: dict[int, int]) -> tuple[int, Point]:
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
            self._left + across / cells * self._cell,
            self._low + up / cells * self._cell,
        )
        return cells, middle

    def _deepest(self, box: Box, inside: dict[int, int], near: Point) -> Point | None:
        """A place well inside what a window shows of a piece."""
        rows, first, count = self._span(box)
        every = (1 << count) - 1
        seen = [inside.get(row, 0) >> first & every for row in rows]
        for deep in (9, 5, 3, 1):
            spots = rooms(seen, deep, deep)
            x = round((near.x - self._left) / self._cell - first)
            y = (near.y - self._low) / self._cell - rows.start
            found = [
                (math.hypot(at - x, row - y), at, row)
                for row, bits in enumerate(spots)
                if bits
                for at in (_nearest_bit(bits, x),)
            ]
            if found:
                _, at, row = min(found)
                half = deep / 2
                return Point(
                    self._left + (first + at + half) * self._cell,
                    self._low + (rows.start + row + half) * self._cell,
                )
        return None

    # What is said of a sheet

    def words_on(
        self,
        field: Field,
        lines: tuple[str, ...],
        height: float,
        near: Point,
        *,
        bold: bool = True,
    ) -> list[Mark]:
        """A page's own words, in the room that is left; none where there is none."""
        for size in self._sizes(height):
            block = _Block(lines, size, bold)
            spots = self._near(block, field.core, None, near)
            if spots:
                return self._put(block, spots[0], "frame")
        return []


def _in_one(box: Box, fields: Sequence[Field]) -> bool:
    return any(
        f.core.left <= box.left
        and box.right <= f.core.right
        and f.core.bottom <= box.bottom
        and box.top <= f.core.top
        for f in fields
    )


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


def _nearest_bit(bits: int, wanted: int) -> int:
    """The set bit nearest to a wanted one."""
    wanted = max(wanted, 0)
    below = (bits & (1 << wanted + 1) - 1).bit_length() - 1
    above = bits >> wanted
    over = wanted + (above & -above).bit_length() - 1 if above else -1
    if below < 0 or (over >= 0 and over - wanted < wanted - below):
        return over
    return below


def labelled(
    sheet: Sheet,
    fields: Sequence[Field],
    taken: Iterable[Mark] = (),
    least: float = SMALLEST_LETTERS,
) -> Sheet:
    """The sheet with a place for all its words; see `Room`."""
    return Room(sheet, fields, taken, least).sheet
