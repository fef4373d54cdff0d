"""Where words on a printed page meet a line or other words: read back, not reckoned.

Each page is drawn twice by PDFium, once without its words and once with nothing else:
where both are dark, words and a line meet. Words that meet words are found from the
boxes in which PyMuPDF reads them.
"""

from __future__ import annotations

import io

import numpy as np
import pikepdf
import pymupdf
import pypdfium2

MM = 25.4 / 72
PER_MM = 4.0
_SHOWS = {"Tj", "TJ", "'", '"'}
_PAINTS = {"S", "s", "f", "F", "f*", "B", "B*", "b", "b*"}


def _without(data: bytes, dropped: set[str]) -> bytes:
    """The file without some operators, on its pages and in its forms."""
    with pikepdf.open(io.BytesIO(data)) as pdf:
        for page in pdf.pages:
            page.Contents = pdf.make_stream(_kept(page, dropped))
        for thing in pdf.objects:
            if isinstance(thing, pikepdf.Stream) and thing.get("/Subtype") == "/Form":
                thing.write(_kept(thing, dropped))
        made = io.BytesIO()
        pdf.save(made)
        return made.getvalue()


def _kept(stream, dropped) -> bytes:
    kept = []
    for given, operator in pikepdf.parse_content_stream(stream):
        name = str(operator)
        # A path that is not painted has still to be ended.
        if name in dropped and name in _PAINTS:
            kept.append(([], pikepdf.Operator("n")))
        elif name not in dropped:
            kept.append((given, operator))
    return pikepdf.unparse_content_stream(kept)


def _pictures(data: bytes):
    document = pypdfium2.PdfDocument(data)
    try:
        for page in document:
            image = page.render(scale=PER_MM * MM, grayscale=True)
            yield image.to_numpy().reshape(image.height, image.width) < 160
    finally:
        document.close()


def _spans(data: bytes):
    """For each page, each line of words with the box of its letters, points."""
    with pymupdf.open(stream=data) as document:
        for page in document:
            inside, outside = [], []
            trim = page.trimbox
            for block in page.get_text("dict")["blocks"]:
                for line in block.get("lines", ()):
                    for span in line["spans"]:
                        if span["text"].strip():
                            box = _tight(span, line["dir"])
                            held = trim.contains(box)
                            (inside if held else outside).append((span["text"], box))
            yield inside


def _tight(span, way):
    """The box of the letters: from a capital's top to a little under the line."""
    box, size = pymupdf.Rect(span["bbox"]), span["size"]
    x, y = span["origin"]
    if abs(way[0]) > 0.9:
        return pymupdf.Rect(box.x0, y - 0.72 * size, box.x1, y + 0.2 * size)
    if way[1] < 0:
        return pymupdf.Rect(x - 0.72 * size, box.y0, x + 0.2 * size, box.y1)
    return pymupdf.Rect(x - 0.2 * size, box.y0, x + 0.72 * size, box.y1)


def overlaps(data: bytes) -> list[tuple[int, str]]:
    """Page number and words, wherever words meet a line or other words."""
    found = []
    lines, words = _without(data, _SHOWS), _without(data, _PAINTS)
    pages = zip(_pictures(lines), _pictures(words), _spans(data), strict=True)
    for number, (drawn, said, spans) in enumerate(pages, 1):
        met = np.argwhere(drawn & said)
        if len(met):
            at = [(x / PER_MM / MM, y / PER_MM / MM) for y, x in met]
            told = {t for t, box in spans if any(box.contains(p) for p in at)}
            found.append((number, " + ".join(sorted(told)) or f"words at {at[0]}"))
        for index, (text, box) in enumerate(spans):
            for other, area in spans[index + 1 :]:
                if box.intersects(area) and not (box & area).is_empty:
                    found.append((number, f"{text} / {other}"))
    return found


def words_on_pages(data: bytes) -> list[list[str]]:
    """What can be read within the frame of each page."""
    return [[text for text, _ in spans] for spans in _spans(data)]
