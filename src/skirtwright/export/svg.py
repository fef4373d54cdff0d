"""The SVG writer: plain SVG 1.1 in mm, true cubics, one group per kind of line.

One user unit is one mm. y is turned over in the numbers, so nothing needs a transform;
only words that do not read level have one, because SVG 1.1 knows no other way.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from xml.sax.saxutils import escape, quoteattr

from skirtwright.budget import spend
from skirtwright.export.facts import CoverFacts
from skirtwright.export.head import head, with_head
from skirtwright.export.labelling import Field, Room
from skirtwright.export.print_media import Look, looks
from skirtwright.export.printed_letters import CAPITAL, composed
from skirtwright.export.sheet import (
    LAYERS,
    Fill,
    Layer,
    Mark,
    Path,
    Sheet,
    Text,
    number_text,
)
from skirtwright.geometry import Cubic, Point
from skirtwright.geometry.box import Box
from skirtwright.problems import Refused
from skirtwright.words import Manner

_BORDER = 5.0


def write_svg(
    sheet: Sheet, facts: CoverFacts | None = None, manner: Manner = Manner()
) -> str:
    """The sheet as SVG text.

    Args:
        facts: with these, the test squares, scale, unit and client stand below.

    Raises:
        Refused: `print.nothing`.
    """
    if not sheet.groups:
        raise Refused("print.nothing")
    if facts is not None:
        width = max(sheet.box.width, 300.0)
        sheet = with_head(sheet, head(sheet, facts, manner, width))
    sheet = Room(sheet, [Field(sheet.box, sheet.box)]).sheet
    box = sheet.box.grown(_BORDER)
    return "\n".join(_lines(sheet, box, looks()["paper"])) + "\n"


def _lines(sheet: Sheet, box: Box, look: Look) -> Iterator[str]:
    width, height = number_text(box.width), number_text(box.height)
    yield '<?xml version="1.0" encoding="UTF-8"?>'
    yield (
        '<svg xmlns="http://www.w3.org/2000/svg" version="1.1" '
        f'width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}">'
    )
    yield f"<title>{escape(composed(sheet.title))}</title>"
    names = _ids(sheet)
    for layer in LAYERS:
        held = [
            (group.name, ident, [m for m in group.marks if m.layer == layer])
            for group, ident in zip(sheet.groups, names, strict=True)
        ]
        if any(marks for _, _, marks in held):
            yield f'<g id="{layer}" {_style(look, layer)}>'
            for name, ident, marks in held:
                if marks:
                    yield f'<g id="{layer}-{ident}">'
                    yield f"<title>{escape(composed(name))}</title>"
                    for mark in marks:
                        yield from _mark(mark, box, look)
                    yield "</g>"
            yield "</g>"
    yield "</svg>"


def _ids(sheet: Sheet) -> list[str]:
    """A plain ASCII name for each piece, none twice."""
    names: list[str] = []
    for number, group in enumerate(sheet.groups, 1):
        plain = unicodedata.normalize("NFKD", group.name).encode("ascii", "ignore")
        name = re.sub(r"[^a-z0-9]+", "-", plain.decode().casefold()).strip("-")
        name = name or "piece"
        names.append(name if name not in names else f"{name}-{number}")
    return names


def _style(look: Look, layer: Layer) -> str:
    style = look.styles[layer]
    colour = "#" + "".join(f"{round(part * 255):02x}" for part in style.ink)
    dash = f' stroke-dasharray="{_dashes(style.dash)}"' if style.dash else ""
    return (
        f'fill="none" stroke="{colour}" stroke-width="{number_text(style.weight)}"'
        f'{dash} stroke-linejoin="round"'
    )


def _dashes(dash: tuple[float, ...]) -> str:
    return ",".join(number_text(part) for part in dash) or "none"


def _mark(mark: Mark, box: Box, look: Look) -> Iterator[str]:
    colour = "#" + "".join(f"{round(p * 255):02x}" for p in look.styles[mark.layer].ink)
    if isinstance(mark, Text):
        yield from _text(mark, box, colour)
    elif isinstance(mark, Fill):
        path = _path(mark.path, box, closed=True)
        yield f'<path fill="{colour}" stroke="none" d="{path}"/>'
    else:
        own = ""
        if mark.weight is not None:
            own += f' stroke-width="{number_text(mark.weight)}"'
        if mark.dash is not None:
            own += f' stroke-dasharray="{_dashes(mark.dash)}"'
        yield f'<path{own} d="{_path(mark.path, box, closed=mark.closed)}"/>'


def _path(path: Path, box: Box, *, closed: bool) -> str:
    parts = [f"M{_coordinates(path[0].start, box)}"]
    for segment in path:
        if isinstance(segment, Cubic):
            points = (segment.control1, segment.control2, segment.end)
            parts.append("C" + " ".join(_coordinates(p, box) for p in points))
        else:
            parts.append("L" + _coordinates(segment.end, box))
    drawn = " ".join([*parts, "Z"] if closed else parts)
    spend("bytes", len(drawn))
    return drawn


def _coordinates(point: Point, box: Box) -> str:
    return f"{number_text(point.x - box.left)},{number_text(box.top - point.y)}"


def _text(text: Text, box: Box, colour: str) -> Iterator[str]:
    weight = ' font-weight="bold"' if text.bold else ""
    size = number_text(text.height_mm / CAPITAL)
    for words, motion, _ in text.lines():
        if not words.strip():
            continue
        at = motion(Point(0, 0))
        x, y = number_text(at.x - box.left), number_text(box.top - at.y)
        turned = ""
        if text.angle_deg:
            turned = f' transform="rotate({number_text(-text.angle_deg)} {x} {y})"'
        yield (
            f'<text x="{x}" y="{y}" font-family={quoteattr("Noto Sans, sans-serif")} '
            f'font-size="{size}"{weight} fill="{colour}" stroke="none"{turned}>'
            f"{escape(composed(words))}</text>"
        )
