"""The PDF writer: reportlab draws, pikepdf adds layers and metadata.

The drawing is written once, each layer as one form, and placed on every page; that
keeps forty pages as small as one. Lengths in the content streams are millimetres under
one scaling matrix. The same document always gives the same bytes.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Callable, Iterable
from io import BytesIO
from typing import TYPE_CHECKING, Any

from skirtwright import shelf
from skirtwright.budget import spend
from skirtwright.export.pages import Document, Page, language_tag
from skirtwright.export.print_media import Look
from skirtwright.export.printed_letters import CAPITAL, FONT_FILES, composed
from skirtwright.export.sheet import (
    LAYERS,
    Fill,
    Layer,
    Mark,
    Path,
    Stroke,
    Text,
    number_text,
)
from skirtwright.geometry import Cubic
from skirtwright.geometry.box import Box

if TYPE_CHECKING:
    from pikepdf import Pdf
    from reportlab.pdfgen.canvas import Canvas

POINT = 72 / 25.4
"""Points in a millimetre."""

_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")

REGULAR, BOLD = "NotoSans-Regular", "NotoSans-Bold"
_FONTS = {False: REGULAR, True: BOLD}


def write(document: Document) -> bytes:
    """The document as a PDF file."""
    from reportlab.pdfgen.canvas import Canvas

    make_ready()
    buffer = BytesIO()
    canvas = Canvas(
        buffer,
        pagesize=(1, 1),
        pageCompression=1,
        invariant=1,
        initialFontName=_FONTS[False],
        lang=language_tag(document.manner),
    )
    describe(canvas, document.title, document.subject, document.client)
    layers = _draw_forms(canvas, document)
    for number, page in enumerate(document.pages):
        _draw_page(canvas, document, page, layers, number)
    canvas.save()
    return _finished(buffer, document, layers)


def make_ready() -> None:
    """Have reportlab know the two weights of our letters.

    And leave its streams in bytes: spelt in letters first, pikepdf would undo it.
    """
    from reportlab import rl_config
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    for bold, name in _FONTS.items():
        if name not in pdfmetrics.getRegisteredFontNames():
            path = str(shelf.path(FONT_FILES[bold]))
            pdfmetrics.registerFont(TTFont(name, path, shapable=True))
    rl_config.useA85 = 0


def describe(canvas: Canvas, title: str, subject: str, client: str) -> None:
    """Say in the file what it is, and that it is not to be shrunk to fit."""
    canvas.setTitle(title)
    canvas.setSubject(subject)
    canvas.setAuthor(client or "Skirtwright")
    canvas.setCreator("Skirtwright")
    canvas.setProducer("Skirtwright")
    canvas.setKeywords("")
    canvas.setViewerPreference("PrintScaling", "None")
    canvas.setViewerPreference("Duplex", "Simplex")
    canvas.setViewerPreference("DisplayDocTitle", "true")


def _draw_forms(canvas: Canvas, document: Document) -> list[Layer]:
    """Write each layer and stencil once; the layers that have anything in them."""
    layers: list[Layer] = []
    for layer in LAYERS:
        marks = [m for m in document.drawing.marks if m.layer == layer]
        if marks:
            layers.append(layer)
            room = document.drawing.box.grown(50.0)
            _form(canvas, f"layer-{layer}", room, marks, document.look)
    for name, marks_shared in document.stencils.items():
        wide = max(page.width for page in document.pages)
        whole = Box(0, 0, wide, max(page.height for page in document.pages))
        _form(canvas, f"stencil-{name}", whole, marks_shared, document.look)
    return layers


def _form(
    canvas: Canvas, name: str, room: Box, marks: Iterable[Mark], look: Look
) -> None:
    canvas.beginForm(name, room.left, room.bottom, room.right, room.top)
    _draw_marks(canvas, marks, look)
    canvas.endForm()


def _draw_page(
    canvas: Canvas, document: Document, page: Page, layers: list[Layer], number: int
) -> None:
    scale = (page.enlarge[0] * POINT, page.enlarge[1] * POINT)
    canvas.setPageSize((page.width * scale[0], page.height * scale[1]))
    key = f"page-{number}"
    canvas.bookmarkPage(key)
    canvas.addOutlineEntry(page.name, key, level=0)
    canvas.addLiteral(f"{scale[0]:.10f} 0 0 {scale[1]:.10f} 0 0 cm")
    if document.grounded:
        whole = _rectangle(Box(0, 0, page.width, page.height))
        canvas.addLiteral(f"{_ink(document.look.paper, 'rg')} {whole} f")
    for name in page.stencils:
        canvas.doForm(f"stencil-{name}")
    if page.view is not None:
        origin = page.view.origin
        canvas.addLiteral(f"q {_rectangle(page.view.window)} W n")
        canvas.addLiteral(f"1 0 0 1 {number_text(origin.x)} {number_text(origin.y)} cm")
        for layer in layers:
            _place_layer(canvas, layer, optional=layer in document.layer_names)
        canvas.addLiteral("Q")
    _draw_marks(canvas, page.marks, document.look)
    canvas.showPage()


def _place_layer(canvas: Canvas, layer: Layer, *, optional: bool) -> None:
    # The mark stands round the form, not on it: some readers honour only this.
    if optional:
        canvas.addLiteral(f"/OC /oc-{layer} BDC")
    canvas.doForm(f"layer-{layer}")
    if optional:
        canvas.addLiteral("EMC")


def _draw_marks(canvas: Canvas, marks: Iterable[Mark], look: Look) -> None:
    """Strokes and fills as plain path operators, words through reportlab's fonts."""
    pen = ""
    for mark in marks:
        if isinstance(mark, Text):
            _draw_text(canvas, mark, look)
            pen = ""
            continue
        wanted = _pen(mark, look)
        if wanted != pen:
            canvas.addLiteral(wanted)
            pen = wanted
        closed = isinstance(mark, Fill) or mark.closed
        ending = "f" if isinstance(mark, Fill) else "S"
        canvas.addLiteral(_path(mark.path, closed=closed, ending=ending))


def _pen(mark: Stroke | Fill, look: Look) -> str:
    style = look.styles[mark.layer]
    if isinstance(mark, Fill):
        return _ink((mark.grey,) * 3 if mark.grey else style.ink, "rg")
    weight = style.weight if mark.weight is None else mark.weight
    dash = style.dash if mark.dash is None else mark.dash
    pattern = " ".join(number_text(part) for part in dash)
    return f"{_ink(style.ink, 'RG')} {number_text(weight)} w [{pattern}] 0 d 1 j"


def _ink(ink: tuple[float, float, float], operator: str) -> str:
    return " ".join((*map(number_text, ink), operator))


def _path(path: Path, *, closed: bool, ending: str) -> str:
    start = path[0].start
    parts = [f"{number_text(start.x)} {number_text(start.y)} m"]
    for segment in path:
        points: tuple[Any, ...] = (segment.end,)
        if isinstance(segment, Cubic):
            points = (segment.control1, segment.control2, segment.end)
        numbers = " ".join(f"{number_text(p.x)} {number_text(p.y)}" for p in points)
        parts.append(f"{numbers} {'c' if len(points) == 3 else 'l'}")
    if closed:
        parts.append("h")
    parts.append(ending)
    drawn = " ".join(parts)
    spend("bytes", len(drawn))
    return drawn


def _rectangle(box: Box) -> str:
    sides = (box.left, box.bottom, box.width, box.height)
    return " ".join((*map(number_text, sides), "re"))


def _draw_text(canvas: Canvas, text: Text, look: Look) -> None:
    font, size = _FONTS[text.bold], text.height_mm / CAPITAL
    for words, motion, _ in text.lines():
        if not words.strip():
            continue
        written = canvas.beginText()
        written.setFont(font, size)
        written.setFillColorRGB(*look.styles[text.layer].ink)
        written.setTextTransform(
            motion.a, motion.b, motion.c, motion.d, motion.e, motion.f
        )
        written.textOut(_shaped(composed(words), font, size))
        canvas.drawText(written)


def _shaped(words: str, font: str, size: float) -> str:
    """Words whose accents have no letter of their own, with the accents in place.

    Only those: shaped words are harder to search and copy out of the page.
    """
    if not any(unicodedata.combining(letter) for letter in words):
        return words
    from reportlab.pdfbase.ttfonts import shapeStr

    shaped: str = shapeStr(words, font, size)
    return shaped


def _finished(buffer: BytesIO, document: Document, layers: list[Layer]) -> bytes:
    """Layers, trim boxes and metadata added; the file packed small."""
    import pikepdf

    def add(pdf: Pdf) -> None:
        if document.layer_names:
            _add_layers(pdf, document, layers)
        for written, page in zip(pdf.pages, document.pages, strict=True):
            written.trimbox = pikepdf.Array(_trim(page))

    words = (document.title, document.subject, document.client)
    return with_metadata(
        buffer, *words, language_tag(document.manner), document.date, add
    )


def with_metadata(
    buffer: BytesIO,
    title: str,
    subject: str,
    client: str,
    language: str,
    date: str,
    add: Callable[[Pdf], None] = lambda _pdf: None,
) -> bytes:
    """A written PDF with its metadata, and what is to be added, packed small."""
    import pikepdf

    buffer.seek(0)
    with pikepdf.open(buffer) as pdf:
        add(pdf)
        # The writer's own day is no true one: fixed, so that the same is the same.
        day = _DAY.fullmatch(date)
        for key in ("/CreationDate", "/ModDate"):
            if day:
                pdf.docinfo[key] = f"D:{date.replace('-', '')}"
            elif key in pdf.docinfo:
                del pdf.docinfo[key]
        with pdf.open_metadata(
            set_pikepdf_as_editor=False, update_docinfo=False
        ) as metadata:
            metadata["dc:title"] = title
            metadata["dc:description"] = subject
            metadata["dc:creator"] = [client or "Skirtwright"]
            metadata["dc:language"] = [language]
            metadata["xmp:CreatorTool"] = "Skirtwright"
            if day:
                metadata["xmp:CreateDate"] = date
        packed = BytesIO()
        pdf.save(
            packed,
            deterministic_id=True,
            object_stream_mode=pikepdf.ObjectStreamMode.generate,
        )
    return packed.getvalue()


def set_marks(marks: Iterable[Mark], width: float, height: float) -> Any:
    """Marks as one block that reportlab can set among words: black, sizes in mm."""
    from reportlab.graphics.shapes import Drawing

    # Named, or a font that is not embedded would be.
    block = Drawing(width * POINT, height * POINT, initialFontName=REGULAR)
    for mark in marks:
        block.add(_shape_of_text(mark) if isinstance(mark, Text) else _shape(mark))
    return block


def _shape_of_text(text: Text) -> Any:
    from reportlab.graphics.shapes import String

    return String(
        text.at.x * POINT,
        text.at.y * POINT,
        composed(text.text),
        fontName=_FONTS[text.bold],
        fontSize=text.height_mm / CAPITAL * POINT,
    )


def _shape(mark: Stroke | Fill) -> Any:
    from reportlab.graphics.shapes import Path as Shape
    from reportlab.lib.colors import Color, black

    if isinstance(mark, Fill):
        made = Shape(strokeColor=None, fillColor=Color(mark.grey, mark.grey, mark.grey))
    else:
        dash = [part * POINT for part in mark.dash or ()]
        made = Shape(
            strokeColor=black,
            fillColor=None,
            strokeWidth=(mark.weight or 0.0) * POINT,
            strokeDashArray=dash or None,
            strokeLineJoin=1,
        )
    start = mark.path[0].start
    made.moveTo(start.x * POINT, start.y * POINT)
    for segment in mark.path:
        if isinstance(segment, Cubic):
            places = (segment.control1, segment.control2, segment.end)
            made.curveTo(*(n * POINT for p in places for n in (p.x, p.y)))
        else:
            made.lineTo(segment.end.x * POINT, segment.end.y * POINT)
    if isinstance(mark, Fill) or mark.closed:
        made.closePath()
    return made


def _trim(page: Page) -> list[float]:
    box = page.view.window if page.view else Box(0, 0, page.width, page.height)
    across, up = page.enlarge[0] * POINT, page.enlarge[1] * POINT
    sides = (box.left * across, box.bottom * up, box.right * across, box.top * up)
    return [math.floor(side * 10_000 + 0.5) / 10_000 for side in sides]


def _add_layers(pdf: Pdf, document: Document, layers: list[Layer]) -> None:
    """Optional content, without a Usage dictionary (which some readers put first)."""
    from pikepdf import Array, Dictionary, Name

    groups = {
        layer: pdf.make_indirect(
            Dictionary(Type=Name.OCG, Name=document.layer_names[layer])
        )
        for layer in layers
    }
    everything = Array(list(groups.values()))
    pdf.Root.OCProperties = Dictionary(
        OCGs=everything,
        D=Dictionary(Order=everything, ON=everything, OFF=Array([]), BaseState=Name.ON),
    )
    properties = pdf.make_indirect(
        Dictionary({f"/oc-{layer}": group for layer, group in groups.items()})
    )
    for page, made in zip(pdf.pages, document.pages, strict=True):
        if made.view is not None:
            page.Resources.Properties = properties
