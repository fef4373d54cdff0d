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
from skirtwright.export.free_cells import RISE, FreeCells, Inside
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
        rows = (len(self.lines) - 1) * LEADING + RISE + DESCENT
        return wide, rows * self.height

    def texts(self, corner: Point, layer: Layer) -> Iterator[Text]:
        """The words, the lower left corner of their room given."""
        top = corner.y + self.size[1] - RISE * self.height
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
        self._room = FreeCells(boxes, least, close)
        self.placed: list[list[tuple[Mark, ...]]] = []
        for mark in (*sheet.marks, *taken):
            self._room.keep_clear(mark)
        self.sheet = replace(sheet, groups=tuple(self._lettered(sheet.groups)))

    # Words

    def _lettered(self, groups: Sequence[Group]) -> Iterator[Group]:
        insides = [self._room.inside(group) for group in groups]
        self._outside = self._room.clear_of(insides)
        self.placed = [[self._stay(label) for label in g.labels] for g in groups]
        names: list[list[Mark]] = [[] for _ in groups]
        for of_lines in (True, False):
            for n, (group, inside) in enumerate(zip(groups, insides, strict=True)):
                for i, label in enumerate(group.labels):
                    if bool(label.of) != of_lines:
                        continue
                    put = self._on_a_line if of_lines else self._on_a_piece
                    words = self.placed[n][i] or tuple(put(label, group, inside))
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
        boxes = [box_of([text]).grown(-self._room.cell) for text in words]
        if not all(self._room.fits(box) for box in boxes):
            return ()
        for text in words:
            self._room.keep_clear(text)
        self._room.keep_leader([m for m in label.stays if not isinstance(m, Text)])
        return label.stays

    def _sizes(self, wanted: float) -> Iterator[float]:
        size = max(wanted, self._least)
        while size > self._least * 1.05:
            yield size
            size *= _SHRINK
        yield self._least

    def _put(self, block: _Block, corner: Point, layer: Layer) -> list[Mark]:
        texts = list(block.texts(corner, layer))
        for text in texts:
            self._room.keep_clear(text)
        return [*texts]

    # What is said of a line

    def _on_a_line(self, label: Label, group: Group, inside: Inside) -> list[Mark]:
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
                    box = _box_at(corner, block.size)
                    if _in_one(box, fields) and self._room.fits(box, inside):
                        return self._put(block, corner, label.layer)
        return self._led(words, places, fields, inside)

    def _beside(
        self, place: Point, size: tuple[float, float], *, level: bool
    ) -> Iterator[Point]:
        """Lower left corners of words over, under and on either side of a place."""
        wide, high = size
        off = self._room.clear + self._room.cell
        for far in (off, off + self._room.cell):
            above = [Point(-wide / 2, far), Point(-wide / 2, -far - high)]
            aside = [Point(far, -high / 2), Point(-far - wide, -high / 2)]
            for step in (*above, *aside) if level else (*aside, *above):
                yield place + step

    def _led(
        self,
        words: tuple[str, ...],
        places: Sequence[Point],
        fields: Sequence[Field],
        inside: Inside,
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
        within: Inside | None,
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
            for corner in self._room.near(block.size, field.core, within, wanted)
        ]
        for _, block, corner in sorted(spots, key=lambda spot: spot[0])[:_TRIES]:
            look_up()
            box = _box_at(corner, block.size)
            end = min(ends, key=box.middle.to)
            leader = self._leader(box, end, crossing=crossing)
            if leader is not None:
                texts = self._put(block, corner, "label")
                self._room.keep_leader(leader)
                return [*texts, *leader]
        return []

    def _leader(self, box: Box, end: Point, *, crossing: bool) -> list[Mark] | None:
        """A thin line from words to a dot, not through other words; see `_aside`."""
        near = Point(
            min(max(end.x, box.left), box.right), min(max(end.y, box.bottom), box.top)
        )
        reach = near.to(end)
        gap = 0.6 * self._room.clear
        if reach < 2 * gap:
            return None
        start = near.between(end, gap / reach)
        if self._room.crosses(start, end, leaders=not crossing):
            return None
        radius = max(_DOT, _DOT_SHARE * self._least)
        dot = arc(end, end + Point(radius, 0), 360.0).segments
        weight = max(_LEADER, _LEADER_SHARE * self._least)
        return [
            Stroke(line(start, end), "label", weight, ()),
            Fill(dot, "label"),
        ]

    # What is said of a piece

    def _on_a_piece(self, label: Label, group: Group, inside: Inside) -> list[Mark]:
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
        inside: Inside,
        words: Sequence[Mark],
    ) -> Iterator[Mark]:
        """The name on all sheets but that of the label's words."""
        name = label.versions[-1][0]
        for (_, middle), field in self._most_first(group, inside):
            told = any(isinstance(w, Text) and field.core.holds(w.at) for w in words)
            if not told and self._room.share(field.window, inside)[0]:
                yield from self._named(name, field, inside, middle)

    def _most_first(
        self, group: Group, inside: Inside
    ) -> list[tuple[tuple[int, Point], Field]]:
        """The sheets of a piece, those that show most of it first; see `_share`."""
        fields = [(self._room.share(f.core, inside), f) for f in self._touching(group)]
        return sorted(fields, key=lambda each: -each[0][0])

    def _label_put(
        self,
        block: _Block,
        fields: Sequence[tuple[tuple[int, Point], Field]],
        inside: Inside,
    ) -> list[Mark]:
        """A label on the first sheet with room for it, at ease or closely."""
        for aside in (_AT_EASE * block.height, 0.0):
            for (_, middle), field in fields:
                spots = self._room.near(block.size, field.core, inside, middle, aside)
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
        self, name: str, field: Field, inside: Inside, middle: Point
    ) -> list[Mark]:
        """A piece's name on a sheet, in one line, broken, or aside with a leader."""
        look_up()
        label = Label(((name,),), _NAME)
        for block in self._blocks(label, bold=True):
            spots = self._room.near(block.size, field.core, inside, middle)
            if spots:
                return self._put(block, spots[0], "label")
        target = self._room.deepest(field.window, inside, middle)
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
            spots = self._room.near(block.size, field.core, None, near)
            if spots:
                return self._put(block, spots[0], "frame")
        return []


def _box_at(corner: Point, size: tuple[float, float]) -> Box:
    return Box(corner.x, corner.y, corner.x + size[0], corner.y + size[1])


def _in_one(box: Box, fields: Sequence[Field]) -> bool:
    return any(all(map(f.core.holds, box.corners[::2])) for f in fields)
