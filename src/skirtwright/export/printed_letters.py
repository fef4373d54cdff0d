"""Letters: how wide words are, and words as strokes for a pen or a knife.

Two sources. The Hershey single strokes (plain ASCII only) are what a plotter draws
fastest. Everything else takes the outlines of the printed font, flattened, because
the Hershey set drops an accent without a word. fontTools is needed while the program
runs for this: it reads the widths of letters and their outlines out of the font files
that the PDF embeds, so that both are measured alike. It and Hershey-Fonts are loaded
only when words are first measured.

The Hershey Fonts were originally created by Dr. A. V. Hershey while working at the
U. S. National Bureau of Standards. The format of the Font data in this distribution was
originally created by James Hurt, Cognition, Inc., 900 Technology Park Drive, Billerica,
MA 01821 (mit-eddie!ci-dandelion!hurt). These acknowledgements are a condition of their
use; LICENSES/Hershey.txt has it in full.
"""

from __future__ import annotations

import unicodedata
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from skirtwright import shelf
from skirtwright.geometry import Cubic, Point

if TYPE_CHECKING:
    from fontTools.ttLib import TTFont

FONT_FILES = {False: "fonts/NotoSans-Regular.ttf", True: "fonts/NotoSans-Bold.ttf"}

CAPITAL = 0.714
"""Height of a capital in parts of the font's size (sCapHeight of Noto Sans)."""

DESCENT = 0.3
"""Depth of a g below the line, in parts of the capital's height."""

_FLAT = 0.02
"""How far a flattened letter may lie from its outline, in parts of a capital."""

_NO_LETTER = ("Cc", "Cs", "Cn")

_PLAIN = str.maketrans(
    {"·": "-", "–": "-", "—": "-", "×": "x", "“": '"', "”": '"', "‘": "'", "’": "'"}
    | {"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "\u00a0": " ", "…": "...", "−": "-"}
)
"""Signs that a typewriter had another way of writing: still single strokes."""

_HERSHEY_CAPITAL = 21.0
_HERSHEY_FOOT = 9.0


@lru_cache(maxsize=2)
def _font(bold: bool) -> TTFont:
    from fontTools.ttLib import TTFont

    return TTFont(shelf.path(FONT_FILES[bold]), lazy=True)


@lru_cache(maxsize=2)
def _advances(bold: bool) -> dict[int, float]:
    """Width of each letter in parts of the font's size."""
    font = _font(bold)
    widths = font["hmtx"].metrics
    units = font["head"].unitsPerEm
    return {code: widths[name][0] / units for code, name in font.getBestCmap().items()}


def composed(text: str) -> str:
    """The text with accents joined to their letters wherever one letter exists.

    What is no letter at all (control codes, halves of pairs, non-characters) is left
    out: an SVG holding one could not be read.
    """
    letters = unicodedata.normalize("NFC", text)
    return "".join(c for c in letters if unicodedata.category(c) not in _NO_LETTER)


def width_of(text: str, height_mm: float, *, bold: bool = False) -> float:
    """Width of one line in mm, its capitals `height_mm` high, in the printed font."""
    widths = _advances(bold)
    missing = widths[0xFFFD]
    parts = sum(widths.get(ord(letter), missing) for letter in composed(text))
    return parts * height_mm / CAPITAL


def written(
    words: str, height: float, *, bold: bool = False
) -> tuple[list[list[Point]], float]:
    """One line of words as strokes from the origin along x, and where it ends, mm.

    Word by word: single strokes where there are any, else outlines.
    """
    strokes: list[list[Point]] = []
    x = 0.0
    for word in words.translate(_PLAIN).split(" "):
        if word.isascii():
            runs, reach = _hershey(word, height), _hershey_width(word, height)
        else:
            runs = _outlines(word, height, bold)
            reach = width_of(word, height, bold=bold)
        strokes.extend([Point(p.x + x, p.y) for p in run] for run in runs)
        x += reach + _hershey_width(" ", height)
    return strokes, x - _hershey_width(" ", height)


@lru_cache(maxsize=1)
def _hershey_font() -> Any:
    from HersheyFonts import HersheyFonts

    font = HersheyFonts()
    font.load_default_font("futural")
    return font


def _hershey(words: str, height_mm: float) -> list[list[Point]]:
    """Single strokes of ASCII words from the origin along x."""
    size = height_mm / _HERSHEY_CAPITAL
    return [
        [Point(x * size, (_HERSHEY_FOOT - y) * size) for x, y in stroke]
        for stroke in _hershey_font().strokes_for_text(words)
    ]


def _hershey_width(words: str, height_mm: float) -> float:
    glyphs = _hershey_font().glyphs_for_text(words)
    units = sum(glyph.char_width for glyph in glyphs)
    return float(units) * height_mm / _HERSHEY_CAPITAL


def _outlines(words: str, height_mm: float, bold: bool) -> list[list[Point]]:
    """Outlines of the printed font's letters, flattened, from the origin along x."""
    from fontTools.pens.qu2cuPen import Qu2CuPen
    from fontTools.pens.recordingPen import DecomposingRecordingPen, RecordingPen

    font = _font(bold)
    glyphs, names = font.getGlyphSet(), font.getBestCmap()
    size = height_mm / CAPITAL / font["head"].unitsPerEm
    strokes: list[list[Point]] = []
    pen_x = 0.0
    for letter in composed(words):
        glyph = glyphs[names.get(ord(letter), names[0xFFFD])]
        # Taken apart first: an accented letter is a letter and an accent.
        parts, cubics = DecomposingRecordingPen(glyphs), RecordingPen()
        glyph.draw(parts)
        parts.replay(Qu2CuPen(cubics, 1.0, all_cubic=True))
        strokes.extend(
            [Point((p.x + pen_x) * size, p.y * size) for p in contour]
            for contour in _contours(cubics.value, _FLAT * 714)
        )
        pen_x += glyph.width
    return strokes


def _contours(record: list[tuple[str, Any]], tolerance: float) -> list[list[Point]]:
    """Recorded pen calls as closed polylines, font units."""
    contours: list[list[Point]] = []
    for call, given in record:
        points = [Point(float(x), float(y)) for x, y in given]
        if call == "moveTo":
            contours.append(points)
        elif call == "lineTo":
            contours[-1].append(points[0])
        elif call == "curveTo":
            control1, control2, end = points
            bend = Cubic(contours[-1][-1], control1, control2, end)
            contours[-1].extend(bend.flattened(tolerance))
        elif call == "closePath" and contours[-1][0] != contours[-1][-1]:
            contours[-1].append(contours[-1][0])
    return contours
