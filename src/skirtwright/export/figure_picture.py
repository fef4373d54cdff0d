"""The figure with the skirt on as a picture: SVG, or PNG (Pillow's only home).

The inks stand in resources/figure_inks.json, weights and dashes in mm of the body.
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from typing import TYPE_CHECKING, Any
from xml.sax.saxutils import escape

from skirtwright import shelf
from skirtwright.budget import spend
from skirtwright.export.penwork import dashed
from skirtwright.figure.drawn_figure import FILLED, Picture, Place
from skirtwright.geometry.box import Box, box_of
from skirtwright.geometry.point import Point

if TYPE_CHECKING:
    from PIL.ImageDraw import ImageDraw

_BORDER = 40.0

_SCALE = 5
"""The SVG is drawn at one fifth of her size."""

_FINER = 3
"""The PNG is drawn so many times finer and made smaller, for smooth edges."""


@cache
def inks() -> Mapping[str, Any]:
    """How each kind of line is drawn, and the paper's colour."""
    found: Mapping[str, Any] = shelf.read_json("figure_inks.json")
    return found


def figure_svg(picture: Picture, title: str) -> str:
    """The picture as SVG text, one user unit a mm of hers."""
    box = _box(picture)
    return "\n".join(_svg_lines(picture, title, box)) + "\n"


def _svg_lines(picture: Picture, title: str, box: Box) -> Iterator[str]:
    wide, high = round(box.width), round(box.height)
    yield '<?xml version="1.0" encoding="UTF-8"?>'
    yield (
        '<svg xmlns="http://www.w3.org/2000/svg" version="1.1" '
        f'width="{wide / _SCALE:g}mm" height="{high / _SCALE:g}mm" '
        f'viewBox="0 0 {wide} {high}">'
    )
    yield f"<title>{escape(title)}</title>"
    yield f'<rect width="{wide}" height="{high}" fill="{inks()["paper"]}"/>'
    for line in picture:
        places = " ".join(
            f"{x - box.left:.1f},{box.top - y:.1f}" for x, y in line.points
        )
        spend("bytes", len(places))
        shape = "polygon" if line.kind in FILLED else "polyline"
        yield f'<{shape} class="{line.kind}" points="{places}" {_svg_ink(line.kind)}/>'
    yield "</svg>"


def _svg_ink(kind: str) -> str:
    ink = inks()[kind]
    if "fill" in ink:
        return f'fill="{ink["fill"]}"'
    dash = " ".join(map(str, ink.get("dash", ())))
    return (
        f'fill="none" stroke="{ink["stroke"]}" stroke-width="{ink["weight"]}" '
        'stroke-linejoin="round" stroke-linecap="round"'
        + (f' stroke-dasharray="{dash}"' if dash else "")
    )


def figure_png(picture: Picture) -> bytes:
    """The picture as PNG, one pixel a mm of hers."""
    from PIL import Image, ImageDraw

    box = _box(picture)
    size = round(box.width) * _FINER, round(box.height) * _FINER
    spend("bytes", size[0] * size[1])
    image = Image.new("RGB", size, inks()["paper"])
    drawing = ImageDraw.Draw(image)
    for line in picture:
        places = [
            ((x - box.left) * _FINER, (box.top - y) * _FINER) for x, y in line.points
        ]
        ink = inks()[line.kind]
        if line.kind in FILLED:
            drawing.polygon(places, fill=ink["fill"])
        else:
            _stroke(drawing, places, ink)
    kept = io.BytesIO()
    image.reduce(_FINER).save(kept, "PNG")
    return kept.getvalue()


def _stroke(
    drawing: ImageDraw, places: Sequence[Place], ink: Mapping[str, Any]
) -> None:
    """A line with round ends, dashed where its ink is."""
    wide = float(ink["weight"]) * _FINER
    half = wide / 2
    dash = [part * _FINER for part in ink.get("dash", ())]
    points = [Point(x, y) for x, y in places]
    for run in dashed(points, dash) if dash else [points]:
        drawn = [(p.x, p.y) for p in run]
        drawing.line(drawn, fill=ink["stroke"], width=round(wide), joint="curve")
        for x, y in (drawn[0], drawn[-1]):
            drawing.ellipse((x - half, y - half, x + half, y + half), ink["stroke"])


def _box(picture: Picture) -> Box:
    return box_of(Point(x, y) for line in picture for x, y in line.points).grown(
        _BORDER
    )
