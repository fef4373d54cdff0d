"""Rolls: never longer when wider, and how near the packing library's own lay.

    python tests/bench/bench_roll.py [STYLE]...

Targets: a wider roll never takes more paper, from 600 to 1,600 mm in steps of 10; and
within 5 % of what the packing library spyrrow finds in ten seconds with the same turns
(`pip install spyrrow`; without it only the first is printed).
"""

from __future__ import annotations

import sys
import time
from itertools import pairwise

from skirtwright.draft import styles
from skirtwright.export import roll_packing
from skirtwright.export.packing import CLEAR, QUARTERS
from skirtwright.export.print_job import PrintJob
from skirtwright.export.printing import Printing
from skirtwright.export.roll_packing import on_a_roll
from skirtwright.export.sheet import Sheet, Stroke
from skirtwright.geometry import Motion
from skirtwright.job.opening import open_source
from skirtwright.job.worktable import Worktable
from skirtwright.lay.placing import Laid
from skirtwright.words import Manner

ROOM = 888.0
"""Across a roll of 914 mm, inside its margins and the check line, mm."""

WITHIN = 1.05
SECONDS = 10


def lengths(sheet: Sheet) -> list[float]:
    """Of roll that a sheet takes, at every width that it goes on, mm.

    A run of widths is searched alike on every roll, and a lay slid alike: what was
    found on one is kept, so that all rolls together take hardly longer than the widest.
    """
    searched, slid = roll_packing._searched, roll_packing._slid
    runs: dict[float, list[Laid]] = {}
    motions: dict[object, tuple[Motion, ...]] = {}

    def kept_run(floor, rooms):
        if rooms[0] not in runs:
            end = rooms[0] // 100 * 100 + 100
            whole = [rooms[0] + 10 * n for n in range(10) if rooms[0] + 10 * n < end]
            runs[rooms[0]] = list(
                searched(floor, whole if rooms[0] % 10 == 0 else rooms)
            )
        return [lay for lay in runs[rooms[0]] if lay.room <= rooms[-1]]

    def kept_lay(lay, rings):
        if lay.lying not in motions:
            motions[lay.lying] = slid(lay, rings)
        return motions[lay.lying]

    roll_packing._searched, roll_packing._slid = kept_run, kept_lay
    laid = [on_a_roll(sheet, float(room), QUARTERS) for room in range(600, 1601, 10)]
    roll_packing._searched, roll_packing._slid = searched, slid
    return [one.box.height for one in laid if one is not None]


def library_length(sheet: Sheet) -> float | None:
    """Length of the library's lay in ten seconds, mm; None without the library."""
    try:
        import spyrrow
    except ImportError:
        return None
    from shapely import Polygon

    items = []
    for number, group in enumerate(sheet.groups):
        outline = next(
            m
            for m in group.marks
            if isinstance(m, Stroke) and m.closed and m.layer == "cutting"
        )
        ring = Polygon([(p.x, p.y) for p in outline.points(0.2)])
        wide = ring.buffer(CLEAR, join_style="mitre").simplify(0.3)
        corners = list(wide.exterior.coords)
        items.append(spyrrow.Item(str(number), corners, 1, list(QUARTERS)))
    task = spyrrow.StripPackingInstance("roll", ROOM, items)
    how = spyrrow.StripPackingConfig(
        early_termination=False, total_computation_time=SECONDS, num_workers=1, seed=1
    )
    return float(task.solve(how).width)


def main(names: list[str]) -> int:
    """Print the lengths of each style."""
    table = Worktable()
    for name in names or styles.names():
        look = table.look(open_source(name))
        sheet = PrintJob(look.report, "", "", Printing(), Manner()).sheet()
        began = time.process_time()
        ours = on_a_roll(sheet, ROOM, QUARTERS)
        took = time.process_time() - began
        theirs = library_length(sheet)
        found = lengths(sheet)
        longer = sum(b > a for a, b in pairwise(found))
        most = max(b - a for a, b in pairwise(found))
        print(
            f"{name}: longer when wider at {longer} of {len(found)} widths (0),"
            f" by {max(most, 0):.1f} mm at the most",
            flush=True,
        )
        if ours is None or theirs is None:
            continue
        print(
            f"    {ours.box.height:.0f} mm in {took:.1f} s, library {theirs:.0f}:"
            f" {ours.box.height / theirs:.3f} x (target {WITHIN})",
            flush=True,
        )
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
