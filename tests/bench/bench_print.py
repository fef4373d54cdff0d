"""The print figure: a tiled print of 40 A4 sheets against bare reportlab.

    python tests/bench/bench_print.py

Target: 1.5 x in time, 0.3 x in bytes. The denominator draws the same
lines, the drawing's and the page's own, on each page with plain reportlab calls; it
sets no words, embeds no fonts, writes no layers. Both are run in turn, the median of
several runs. Counting sheets (with the packing) is reported beside it, because the
window does that before anything is printed.
"""

from __future__ import annotations

import io
import statistics
import time
from itertools import pairwise

from skirtwright.export.facts import CoverFacts
from skirtwright.export.pdf import write
from skirtwright.export.print_media import paper_named
from skirtwright.export.sheet import Group, Mark, Sheet, Stroke, Text, line
from skirtwright.export.tiled import tiled_document
from skirtwright.export.tiles import Blocks, TileOptions, Tiling, tile
from skirtwright.geometry import Cubic, Line, Motion, Point, turn

RUNS = 9
TIME_TARGET = 1.5
BYTES_TARGET = 0.3
POINT = 72 / 25.4


def gore(number: int) -> Group:
    """A gore of a made-up skirt: stitching and cutting lines of 16 cubics each."""
    marks: list[Mark] = []
    for layer, out in (("stitching", 0.0), ("cutting", 15.0)):
        sides = []
        for way in (-1, 1):
            at = [Point(way * (90 + out + 4 * k * k), 700 - 108 * k) for k in range(8)]
            for p, q in pairwise(at):
                bend = Point(way * 4.0, -36.0)
                sides.append(Cubic(p, p + bend, q - bend, q))
        waist = Cubic(
            Point(-90 - out, 700),
            Point(-30, 690 + out),
            Point(30, 690 + out),
            Point(90 + out, 700),
        )
        hem_left, hem_right = sides[6].end, sides[13].end
        hem = Cubic(
            hem_right, hem_right - Point(60, 20), hem_left + Point(60, -20), hem_left
        )
        right = sides[7:]
        left = [s.reversed() for s in reversed(sides[:7])]
        marks.append(Stroke((waist, *right, hem, *left), layer, closed=True))
    marks.append(Stroke(line(Point(0, 100), Point(0, 500)), "grain"))
    marks.append(Stroke((Line(Point(-100, 500), Point(100, 500)),), "inside"))
    marks.append(Text(f"Gore {number}\nmain cloth: cut 1", Point(-60, 300), 5))
    return Group.of(f"Gore {number}", marks)


def forty_sheets() -> Tiling:
    """The least number of gores side by side that fills 40 sheets of A4."""
    paper = paper_named("a4")
    groups: list[Group] = []
    while True:
        number = len(groups)
        # Each a little turned: the numbers of a real draft are not round.
        stand = turn(Point(0, 350), 1.3 * number + 0.7)
        placed = stand.then(Motion(e=300.0 * number))
        groups.append(gore(number + 1).moved(placed))
        sheet = Sheet("Gores", tuple(groups))
        tiling = tile(sheet, paper, TileOptions(pack=False))
        if tiling.sheets >= 40:
            return tiling


def bare(tiling: Tiling, facts: CoverFacts) -> bytes:
    """The same lines on each page with plain reportlab."""
    from reportlab.pdfgen.canvas import Canvas

    document = tiled_document(Blocks((tiling,)), facts)
    look = document.look
    buffer = io.BytesIO()
    canvas = Canvas(buffer, pageCompression=1)

    def draw(marks) -> None:
        for mark in marks:
            if not isinstance(mark, Stroke):
                continue
            style = look.styles[mark.layer]
            canvas.setLineWidth(style.weight if mark.weight is None else mark.weight)
            dash = style.dash if mark.dash is None else mark.dash
            canvas.setDash(list(dash))
            path = canvas.beginPath()
            path.moveTo(mark.path[0].start.x, mark.path[0].start.y)
            for s in mark.path:
                if isinstance(s, Cubic):
                    one, two = s.control1, s.control2
                    path.curveTo(one.x, one.y, two.x, two.y, s.end.x, s.end.y)
                else:
                    path.lineTo(s.end.x, s.end.y)
            if mark.closed:
                path.close()
            canvas.drawPath(path)

    for page in document.pages:
        canvas.setPageSize((page.width * POINT, page.height * POINT))
        canvas.scale(POINT, POINT)
        for name in page.stencils:
            draw(document.stencils[name])
        if page.view:
            canvas.saveState()
            window = canvas.beginPath()
            box = page.view.window
            window.rect(box.left, box.bottom, box.width, box.height)
            canvas.clipPath(window, stroke=0)
            canvas.translate(page.view.origin.x, page.view.origin.y)
            draw(document.drawing.marks)
            canvas.restoreState()
        draw(page.marks)
        canvas.showPage()
    canvas.save()
    return buffer.getvalue()


def timed(call) -> tuple[float, bytes]:
    start = time.perf_counter()
    made = call()
    return time.perf_counter() - start, made


def figures() -> dict[str, float]:
    """Ratios of time and bytes, with what they were made from."""
    facts = CoverFacts(client="A client", style="Gores", date="today")
    tiling = forty_sheets()
    write(tiled_document(Blocks((tiling,)), facts))
    bare(tiling, facts)
    ours, theirs, document = [], [], []
    for _ in range(RUNS):
        took, made = timed(lambda: write(tiled_document(Blocks((tiling,)), facts)))
        ours.append(took)
        took, plain = timed(lambda: bare(tiling, facts))
        theirs.append(took)
        document.append(timed(lambda: tiled_document(Blocks((tiling,)), facts))[0])
    # The bare drawing is handed pages that are composed already: not its work.
    base = statistics.median(theirs) - statistics.median(document)
    counting = [
        timed(lambda: tile(tiling.sheet, paper_named("a4")))[0] for _ in range(3)
    ]
    return {
        "sheets": tiling.sheets,
        "cubics": sum(
            isinstance(s, Cubic)
            for m in tiling.sheet.marks
            if isinstance(m, Stroke)
            for s in m.path
        ),
        "seconds": statistics.median(ours),
        "bare seconds": base,
        "time": statistics.median(ours) / base,
        "size": len(made),
        "bare size": len(plain),
        "bytes": len(made) / len(plain),
        "counting with packing, seconds": statistics.median(counting),
    }


def main() -> None:
    """Print the figures beside their targets."""
    found = figures()
    for name, value in found.items():
        print(f"{name:32} {value:12.3f}")
    for name, target in (("time", TIME_TARGET), ("bytes", BYTES_TARGET)):
        met = "met" if found[name] <= target else "MISSED"
        print(f"tiled print, {name}: {found[name]:.2f} x, target {target} x: {met}")


if __name__ == "__main__":
    main()
