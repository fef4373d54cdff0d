"""The allowance figure: one piece, in ms, against shapely's buffer.

Run: python tests/bench/bench_allowance.py
"""

from __future__ import annotations

import statistics
import sys
import time
from pathlib import Path

import shapely

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "pieces"))

from outlines import polygon, skirt_front
from referee import judge, xy

from skirtwright.geometry.tolerance import FLAT
from skirtwright.pieces.outline.allowance import cutting_line
from skirtwright.pieces.piece_making import make_piece
from skirtwright.pieces.spec import AllowanceRun, PieceSpec

TIMES = 200


def median_ms(work):
    took = []
    for _ in range(TIMES):
        start = time.perf_counter()
        work()
        took.append(1000 * (time.perf_counter() - start))
    return statistics.median(took)


def even(width):
    return (AllowanceRun(None, width),)


def main():
    panel = skirt_front()
    runs = {
        "waist": even(12),
        "side": (AllowanceRun(210, 20), AllowanceRun(None, 15)),
        "hem": even(25),
    }
    folds, corners = ("centre_front",), {("hem", "end"): "mirror"}
    ours = median_ms(lambda: cutting_line(panel, runs, folds, corners))
    outline = shapely.Polygon(xy(panel.ring(FLAT)))
    theirs = median_ms(lambda: outline.buffer(15, join_style="mitre", mitre_limit=2.5))
    spec = PieceSpec("front", "Front", "front", folds=folds, allowances=runs)
    whole = median_ms(lambda: make_piece(panel, spec))
    slot = polygon(
        (0, 0), (300, 0), (300, 400), (160, 400), (150, 90), (140, 400), (0, 400)
    )
    slow = median_ms(lambda: cutting_line(slot, {"d": even(15), "e": even(15)}))

    even_runs = {edge.name: even(15) for edge in panel.edges}
    line = cutting_line(panel, even_runs)
    off = judge(panel, dict.fromkeys(even_runs, 15.0), line)
    points = len(cutting_line(panel, runs, folds, corners).ring)
    print(f"cutting line of a skirt front: {ours:.2f} ms (target 2), {points} points")
    print(f"shapely buffer of the outline: {theirs:.2f} ms, one width, no corner rules")
    print(f"the whole piece: {whole:.2f} ms; a line that must be united: {slow:.2f} ms")
    print(f"places further than {FLAT} mm from the true line: {len(off)}")


if __name__ == "__main__":
    main()
