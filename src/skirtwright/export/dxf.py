"""The DXF writer: blocks of lines, points and words, as release 12 has them.

Release 12 is what every reader of DXF knows. The text is plain ASCII; a block's name
keeps to what that release allows, and numbers have six decimals, so that outlines of
thousands of points come back as long as they went.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass

from skirtwright.budget import spend
from skirtwright.geometry import Point
from skirtwright.geometry.box import Box, box_of

_LONGEST_NAME = 31
"""Of a block, in release 12."""

_PLAIN = str.maketrans(
    {
        "\N{FRACTION SLASH}": "/",
        "\N{MULTIPLICATION SIGN}": "x",
        "\N{EN DASH}": "-",
        "\N{MINUS SIGN}": "-",
        "\N{RIGHT SINGLE QUOTATION MARK}": "'",
        "\N{LATIN SMALL LETTER SHARP S}": "ss",
        "Ł": "L",
        "ł": "l",
        "Ø": "O",
        "ø": "o",
        "Đ": "D",
        "đ": "d",
        "Æ": "AE",
        "æ": "ae",
        "ı": "i",
    }
)
"""Letters and signs that have no plain letter within them."""


@dataclass(frozen=True)
class Polyline:
    """Straight lines through points, mm; from the last to the first where closed."""

    layer: int
    points: tuple[Point, ...]
    closed: bool = False


@dataclass(frozen=True)
class Dot:
    """A point, mm."""

    layer: int
    at: Point


@dataclass(frozen=True)
class Words:
    """One line of words: its foot and the height of its capitals, mm."""

    layer: int
    text: str
    at: Point
    height: float


Entity = Polyline | Dot | Words


@dataclass(frozen=True)
class Block:
    """Entities kept together under a name.

    Attributes:
        at: where its origin comes to lie in the drawing, mm.
    """

    name: str
    entities: tuple[Entity, ...]
    at: Point

    @property
    def box(self) -> Box:
        """The room its lines take where it lies, mm."""
        lines = [e.points for e in self.entities if isinstance(e, Polyline)]
        return box_of(p + self.at for points in lines for p in points)


def block_name(wanted: str, taken: Collection[str]) -> str:
    """A name that release 12 allows and no other block has."""
    plain = re.sub(r"[^A-Z0-9_$-]+", "_", ascii_of(wanted).upper()) or "PIECE"
    name, number = plain[:_LONGEST_NAME], 1
    while name in taken:
        number += 1
        ending = f"_{number}"
        name = plain[: _LONGEST_NAME - len(ending)] + ending
    return name


def ascii_of(text: str) -> str:
    """Words in ASCII: accents dropped, other scripts as question marks."""
    parts = unicodedata.normalize("NFKD", text.translate(_PLAIN)).translate(_PLAIN)
    kept = "".join(c for c in parts if not unicodedata.combining(c))
    return "".join(c if " " <= c <= "~" else "?" for c in kept)


def write_dxf(blocks: Sequence[Block], words: Sequence[Words]) -> bytes:
    """A DXF file of release 12.

    Args:
        blocks: each is inserted once, where it lies.
        words: of the whole drawing.
    """
    layers = {e.layer for block in blocks for e in block.entities}
    layers |= {text.layer for text in words}
    return b"".join(_coded(_file(blocks, words, sorted(layers))))


Pair = tuple[int, str | int | float]
"""A group code and its value."""


def _coded(pairs: Iterable[Pair]) -> Iterator[bytes]:
    for code, value in pairs:
        said = f"{value:.6f}" if isinstance(value, float) else str(value)
        line = f"{code:>3}\r\n{said}\r\n".encode("ascii")
        spend("bytes", len(line))
        yield line


def _file(
    blocks: Sequence[Block], words: Sequence[Words], layers: Sequence[int]
) -> Iterator[Pair]:
    yield from _section("HEADER", _header([block.box for block in blocks]))
    yield from _section("TABLES", _tables(layers))
    yield from _section("BLOCKS", (p for block in blocks for p in _block(block)))
    yield from _section("ENTITIES", _entities(blocks, words))
    yield 0, "EOF"


def _section(name: str, pairs: Iterable[Pair]) -> Iterator[Pair]:
    yield 0, "SECTION"
    yield 2, name
    yield from pairs
    yield 0, "ENDSEC"


def _header(boxes: Sequence[Box]) -> Iterator[Pair]:
    low, _, high, _ = box_of(p for box in boxes for p in box.corners).corners
    yield 9, "$ACADVER"
    yield 1, "AC1009"
    for name, corner in (("$EXTMIN", low), ("$EXTMAX", high)):
        yield 9, name
        yield from _place_pairs(corner)


def _tables(layers: Sequence[int]) -> Iterator[Pair]:
    unbroken: list[Pair] = [
        (2, "CONTINUOUS"),
        (70, 0),
        (3, ""),
        (72, 65),
        (73, 0),
        (40, 0.0),
    ]
    yield from _table("LTYPE", [unbroken])
    rest: list[Pair] = [(70, 0), (62, 7), (6, "CONTINUOUS")]
    yield from _table("LAYER", [[(2, str(number)), *rest] for number in layers])


def _table(kind: str, entries: Sequence[Iterable[Pair]]) -> Iterator[Pair]:
    yield 0, "TABLE"
    yield 2, kind
    yield 70, len(entries)
    for entry in entries:
        yield 0, kind
        yield from entry
    yield 0, "ENDTAB"


def _block(block: Block) -> Iterator[Pair]:
    yield from ((0, "BLOCK"), (8, "0"), (2, block.name), (70, 0))
    yield from _place_pairs(Point(0, 0))
    yield 3, block.name
    for entity in block.entities:
        yield from _entity(entity)
    yield from ((0, "ENDBLK"), (8, "0"))


def _entities(blocks: Sequence[Block], words: Sequence[Words]) -> Iterator[Pair]:
    for text in words:
        yield from _entity(text)
    for block in blocks:
        yield from ((0, "INSERT"), (8, "1"), (2, block.name))
        yield from _place_pairs(block.at)


def _entity(entity: Entity) -> Iterator[Pair]:
    layer = (8, str(entity.layer))
    if isinstance(entity, Dot):
        yield from ((0, "POINT"), layer)
        yield from _place_pairs(entity.at)
    elif isinstance(entity, Words):
        yield from ((0, "TEXT"), layer)
        yield from _place_pairs(entity.at)
        yield 40, entity.height
        yield 1, ascii_of(entity.text)
    elif len(entity.points) == 2:
        yield from ((0, "LINE"), layer)
        yield from _place_pairs(entity.points[0])
        yield from _place_pairs(entity.points[1], 1)
    else:
        yield from ((0, "POLYLINE"), layer, (66, 1))
        yield from _place_pairs(Point(0, 0))
        yield 70, int(entity.closed)
        for point in entity.points:
            yield from ((0, "VERTEX"), layer)
            yield from _place_pairs(point)
        yield from ((0, "SEQEND"), layer)


def _place_pairs(point: Point, number: int = 0) -> Iterator[Pair]:
    yield 10 + number, float(point.x)
    yield 20 + number, float(point.y)
    yield 30 + number, 0.0
