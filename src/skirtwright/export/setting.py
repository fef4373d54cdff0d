"""Setting lines of words into boxes: a heading and rows, broken to fit."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from skirtwright.export.facts import Row
from skirtwright.export.printed_letters import width_of
from skirtwright.export.sheet import Mark, Text
from skirtwright.geometry import Point
from skirtwright.geometry.box import Box

LETTERS = 2.1
"""Height of capitals in running words, mm."""

LINE = 4.2
"""From line to line, mm."""

_GAP = 3.0
_INDENT = 3.0
_WIDEST_COLUMN = 0.55
"""Of the room: where names are wider, what is told of them stands below them."""


@dataclass(frozen=True)
class Line:
    """One line of a list: words, and perhaps a value at the right.

    Attributes:
        heading: it stands over what follows.
        column: where the value begins, mm from the left; nought for a value that ends
            at the right.
    """

    words: str
    value: str = ""
    heading: bool = False
    column: float = 0.0


def heading(words: str) -> list[Line]:
    """A heading with a little room above it."""
    return [Line(""), Line(words, heading=True)]


def rows(pairs: Iterable[Row]) -> list[Line]:
    """Names with their values."""
    return [Line(name, value) for name, value in pairs]


def in_columns(pairs: Sequence[Row]) -> list[Line]:
    """Names, and what is told of each in a column beside them."""
    column = max(width_of(name, LETTERS) for name, _ in pairs) + _GAP
    return [Line(name, value, column=column) for name, value in pairs]


def broken(
    words: str,
    width: float,
    height: float = LETTERS,
    *,
    bold: bool = False,
    whole: bool = False,
) -> list[str]:
    """Words broken into lines no wider than `width` mm; a long word is cut.

    With `whole` no word is cut, however long.
    """
    lines: list[str] = []
    line = ""
    for word in words.split():
        joined = f"{line} {word}".strip()
        if width_of(joined, height, bold=bold) <= width:
            line = joined
            continue
        if line:
            lines.append(line)
        line = word
        while not whole and width_of(line, height, bold=bold) > width and len(line) > 1:
            fits = _letters_that_fit(line, width, height, bold)
            lines.append(line[:fits])
            line = line[fits:]
    return [*lines, line] if line or not lines else lines


def _letters_that_fit(word: str, width: float, height: float, bold: bool) -> int:
    fits = 1
    while width_of(word[: fits + 1], height, bold=bold) <= width:
        fits += 1
    return fits


def flowed(
    lines: Sequence[Line], boxes: Sequence[Box]
) -> tuple[list[Mark], list[Line]]:
    """Lines set into boxes in turn, and the lines for which there was no room."""
    marks: list[Mark] = []
    waiting = list(lines)
    for box in boxes:
        foot = box.top
        if waiting and not waiting[0].words:
            waiting.pop(0)
        while waiting:
            set_line, used = _set(waiting[0], box, foot)
            # A heading stands over what it heads.
            heads = waiting[0].heading and waiting[1:2]
            needed = used + (_set(heads[0], box, foot)[1] if heads else 0)
            if foot - needed < box.bottom:
                break
            marks.extend(set_line)
            foot -= used
            waiting.pop(0)
    return marks, waiting


def _set(line: Line, box: Box, top: float) -> tuple[list[Mark], float]:
    """One line's marks from a height down, and the room it takes."""
    if not line.words:
        return [], LINE / 2
    if 0 < line.column < _WIDEST_COLUMN * box.width:
        return _set_in_columns(line, box, top)
    beside = width_of(line.words, LETTERS) + width_of(line.value, LETTERS) + _GAP
    if line.value and beside <= box.width:
        at = Point(box.left, top - LINE)
        right = Point(box.right, top - LINE)
        return [
            Text(line.words, at, LETTERS, layer="label"),
            Text(line.value, right, LETTERS, layer="label", anchor="end"),
        ], LINE
    parts = [(0.0, p) for p in broken(line.words, box.width, bold=line.heading)]
    if line.value:
        parts += [(_INDENT, p) for p in broken(line.value, box.width - _INDENT)]
    marks: list[Mark] = [
        Text(
            part,
            Point(box.left + indent, top - LINE * number),
            LETTERS,
            layer="label",
            bold=line.heading,
        )
        for number, (indent, part) in enumerate(parts, 1)
    ]
    return marks, LINE * len(parts)


def _set_in_columns(line: Line, box: Box, top: float) -> tuple[list[Mark], float]:
    """A name, and what is told beside it; where it must break it does at its parts."""
    room = box.width - line.column
    told = [line.value]
    if width_of(line.value, LETTERS) > room:
        parts = line.value.split("; ")
        told = [each for part in parts for each in broken(part, room)]
    marks: list[Mark] = [
        Text(words, Point(box.left + x, top - LINE * number), LETTERS, layer="label")
        for x, lines in ((0.0, [line.words]), (line.column, told))
        for number, words in enumerate(lines, 1)
    ]
    return marks, LINE * len(told)
