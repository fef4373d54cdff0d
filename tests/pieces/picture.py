"""A picture kept in tests/golden/pictures: SVG of straight strokes, y up within."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from dataclasses import dataclass
from pathlib import Path
from xml.sax.saxutils import escape

import shapely

from skirtwright.export.labelling import Field, Room
from skirtwright.export.pattern import pattern
from skirtwright.export.sheet import Text, box_of
from skirtwright.geometry import Chain, Motion, Point
from skirtwright.pieces.drawn_things import DrawnLine
from skirtwright.pieces.piece_drawing import drawn
from skirtwright.words import Manner

FOLDER = Path(__file__).parents[1] / "golden" / "pictures"
FLAT = 0.05
PENS = {
    "cutting": "stroke:#000;stroke-width:.6",
    "stitching": "stroke:#06c;stroke-width:.35;stroke-dasharray:3 1",
    "fold": "stroke:#06c;stroke-width:.5;stroke-dasharray:6 1 1 1",
    "dart": "stroke:#06c;stroke-width:.35",
    "inside": "stroke:#777;stroke-width:.3;stroke-dasharray:3 1 1 1",
    "lengthen": "stroke:#777;stroke-width:.3;stroke-dasharray:.6 1",
    "pleat": "stroke:#777;stroke-width:.4",
    "notch": "stroke:#c00;stroke-width:.7",
    "drill": "stroke:#c00;stroke-width:.4",
    "grain": "stroke:#999;stroke-width:.3",
    "folded": "stroke:#090;stroke-width:.4;stroke-dasharray:1 1",
}


@dataclass(frozen=True)
class Picture:
    """What is drawn, where it is looked at, and what is right about it.

    `folded` are lines as they lie when they are folded over, in green.
    """

    pieces: tuple
    box: tuple[float, float, float, float]
    right: str
    folded: tuple[tuple[Point, ...], ...] = ()
    labels: tuple[tuple[str, ...], ...] = ()


def strokes_of(picture):
    """(kind, points) of every stroke within the box, and the words there."""
    box = shapely.box(*picture.box)
    strokes, texts = [], []
    labels = picture.labels or ((),) * len(picture.pieces)
    for piece, label in zip(picture.pieces, labels, strict=True):
        if label:
            texts += _placed(piece, label)
        strokes += [
            (item.kind, _points(item.chain))
            for item in drawn(piece)
            if isinstance(item, DrawnLine) and (item.kind != "grain" or label)
        ]
    strokes += [("folded", line) for line in picture.folded if len(line) > 1]
    kept = []
    for kind, points in strokes:
        line = shapely.LineString([(p.x, p.y) for p in points]).intersection(box)
        kept.extend(
            (kind, [*part.coords])
            for part in getattr(line, "geoms", [line])
            if part.geom_type == "LineString" and not part.is_empty
        )
    return kept, texts


def _placed(piece, label):
    """The words of a piece where they are printed."""
    sheet = pattern("", [piece], lambda _: label, Manner())
    group = sheet.groups[0]
    # The pattern lies elsewhere: it is moved back to where the piece was drafted.
    xs, ys = [p.x for p in piece.cut], [p.y for p in piece.cut]
    cut = box_of(group.outlines)
    home = Motion(e=min(xs) - cut.left, f=min(ys) - cut.bottom)
    sheet = sheet.moved(home)
    made = Room(sheet, [Field(sheet.box, sheet.box)]).sheet
    return [mark for mark in made.marks if isinstance(mark, Text)]


def _points(chain: Chain):
    return [chain.start, *(p for s in chain.segments for p in s.flattened(FLAT))]


def svg_of(picture):
    """A picture as SVG; y up within, one line to a stroke."""
    strokes, texts = strokes_of(picture)
    left, bottom, right, top = picture.box
    wide, high = right - left, top - bottom
    size = f'width="{3 * wide:.0f}" height="{3 * high:.0f}"'
    view = f'viewBox="{left:.1f} {-top:.1f} {wide:.1f} {high:.1f}"'
    lines = [
        f"<!-- {escape(picture.right)} -->",
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} {view}>',
        '<g transform="scale(1,-1)" fill="none">',
    ]
    for kind, points in strokes:
        d = " ".join(f"{x:.2f},{y:.2f}" for x, y in points)
        lines.append(f'<polyline class="{kind}" style="{PENS[kind]}" points="{d}"/>')
    for text in texts:
        turn = f"translate({text.at.x:.1f} {text.at.y:.1f})"
        turn += f" rotate({text.angle_deg:.1f})"
        size = text.height_mm / 0.72
        lines.append(
            f'<text transform="{turn} scale(1,-1)" font-size="{size:.2f}" '
            f'fill="#000">{escape(text.text)}</text>'
        )
    return "\n".join([*lines, "</g>", "</svg>", ""])


def read(svg):
    """The strokes of a kept picture, by kind, as one shape each; and its words."""
    strokes, words = {}, []
    for element in ET.fromstring(svg.partition("\n")[2]).iter():
        name = element.tag.rpartition("}")[2]
        if name == "polyline":
            pairs = [pair.split(",") for pair in element.get("points").split()]
            line = [(float(x), float(y)) for x, y in pairs]
            strokes.setdefault(element.get("class"), []).append(line)
        elif name == "text":
            words.append(element.text)
    return {k: shapely.MultiLineString(v) for k, v in strokes.items()}, words
