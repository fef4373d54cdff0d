"""Readers that know nothing of how the program writes: lengths in true mm.

Three for PDF: PyMuPDF's drawings, a reading of the content streams with matrices of
our own over pikepdf's parser, and PDFium's raster; svgpathtools for SVG; ezhpgl and
hp2xx for plotter files.
"""

from __future__ import annotations

import io
import re
import shutil
import subprocess

import numpy as np
import pikepdf
import pymupdf
import pypdfium2

MM = 25.4 / 72


def mupdf_lines(data: bytes, page: int):
    """Straight lines as PyMuPDF sees them: ((x, y), (x, y)), mm, y up."""
    with pymupdf.open(stream=data) as document:
        sheet = document[page]
        high = sheet.rect.height
        items = [item for d in sheet.get_drawings() for item in d["items"]]
        sides = [item[1:3] for item in items if item[0] == "l"]
        # It takes four lines that close for one thing.
        for kind, shape, *_ in items:
            if kind in ("re", "qu"):
                quad = shape.quad if kind == "re" else shape
                ring = (quad.ul, quad.ur, quad.lr, quad.ll)
                sides += zip(ring, ring[1:] + ring[:1], strict=True)
        return [tuple((p.x * MM, (high - p.y) * MM) for p in side) for side in sides]


def _times(m, n):
    """Matrix m followed by n, as PDF writes them."""
    a, b, c, d, e, f = m
    g, h, i, j, k, z = n
    return (
        a * g + b * i,
        a * h + b * j,
        c * g + d * i,
        c * h + d * j,
        e * g + f * i + k,
        e * h + f * j + z,
    )


def content_lines(data: bytes, page: int):
    """Straight lines from the content stream, forms followed, own matrices."""
    with pikepdf.open(io.BytesIO(data)) as pdf:
        found = []
        _read(pdf.pages[page], pdf.pages[page].Resources, (1, 0, 0, 1, 0, 0), found)
        return [tuple((x * MM, y * MM) for x, y in line) for line in found]


def _read(stream, resources, matrix, found):
    saved, here, start = [], None, None

    def at(x, y):
        a, b, c, d, e, f = matrix
        return (a * float(x) + c * float(y) + e, b * float(x) + d * float(y) + f)

    for given, operator in pikepdf.parse_content_stream(stream):
        match str(operator):
            case "q":
                saved.append(matrix)
            case "Q":
                matrix = saved.pop()
            case "cm":
                matrix = _times([float(x) for x in given], matrix)
            case "m":
                here = start = at(*given)
            case "l":
                there = at(*given)
                found.append((here, there))
                here = there
            case "c":
                here = at(*given[4:6])
            case "h":
                if start is not None and np.hypot(*np.subtract(start, here)) > 1e-9:
                    found.append((here, start))
                here = start
            case "Do":
                form = resources.XObject[str(given[0])]
                own = [float(x) for x in form.get("/Matrix", [1, 0, 0, 1, 0, 0])]
                _read(
                    form, form.get("/Resources", resources), _times(own, matrix), found
                )


def length(line) -> float:
    (a, b), (c, d) = line
    return float(np.hypot(c - a, d - b))


def raster(data: bytes, page: int, per_mm: float):
    """A page in grey by PDFium, the first row at the top."""
    document = pypdfium2.PdfDocument(data)
    try:
        # A hair less, or a size of 1485.0003 pixels becomes 1486 and all is stretched.
        scale = per_mm * MM * (1 - 1e-6)
        image = document[page].render(scale=scale, grayscale=True)
        return image.to_numpy().reshape(image.height, image.width).copy()
    finally:
        document.close()


def poppler_raster(data: bytes, page: int, per_mm: float):
    """The same by poppler."""
    number = str(page + 1)
    made = subprocess.run(
        [
            "pdftoppm",
            "-gray",
            "-r",
            str(per_mm * 25.4),
            "-f",
            number,
            "-l",
            number,
            "-",
        ],
        input=data,
        capture_output=True,
        check=True,
    ).stdout
    _, wide, high, _, pixels = re.match(
        rb"(P5)\s+(\d+)\s+(\d+)\s+(\d+)\s(.*)", made, re.DOTALL
    ).groups()
    return np.frombuffer(pixels, np.uint8).reshape(int(high), int(wide))


def mupdf_raster(data: bytes, page: int, per_mm: float):
    """The same by MuPDF."""
    with pymupdf.open(stream=data) as document:
        scale = pymupdf.Matrix(per_mm * MM, per_mm * MM)
        pixels = document[page].get_pixmap(matrix=scale, colorspace=pymupdf.csGRAY)
        return np.frombuffer(pixels.samples, np.uint8).reshape(pixels.h, pixels.stride)[
            :, : pixels.w
        ]


def dark(picture):
    return picture < 128


def grown(mask, by=1):
    """Each true pixel with its neighbours."""
    out = mask.copy()
    for _ in range(by):
        wide = out.copy()
        wide[1:] |= out[:-1]
        wide[:-1] |= out[1:]
        wide[:, 1:] |= out[:, :-1]
        wide[:, :-1] |= out[:, 1:]
        out = wide
    return out


def hp2xx_size(path):
    """Width and height of the drawing as hp2xx reports them, mm."""
    told = subprocess.run(
        [shutil.which("hp2xx"), "-t", "-m", "svg", "-f", "-", str(path)],
        capture_output=True,
        check=True,
    )
    text = (told.stderr + told.stdout).decode(errors="replace")
    sizes = re.search(r"Width\s+x\s+height:\s+([\d.]+) x ([\d.]+) mm", text)
    return tuple(map(float, sizes.groups()))
