"""All 507 people of the data set bdims dressed by `batch`: people a second.

Run it: `python tests/bench/bench_batch.py [people]`; one worker, then two. The men are
dressed too: what is measured is the work. Lengths bdims lacks are shares of height
(common practice, no source).
"""

from __future__ import annotations

import contextlib
import csv
import io
import sys
import tempfile
import time
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE.parent)]


def table(count: int) -> str:
    """The first so many people of bdims as a table of people."""
    from conftest import _read_columns

    columns = _read_columns("openintro", "bdims")
    written = io.StringIO()
    rows = csv.writer(written)
    rows.writerow(["name", "waist", "hip", "waist to hip", "waist to knee"])
    named = zip(columns["wai_gi"], columns["hip_gi"], columns["hgt"], strict=True)
    for number, (waist, hip, height) in enumerate(named, 1):
        if number <= count:
            tall = float(height)
            lengths = [f"{0.122 * tall:.1f}", f"{0.35 * tall:.1f}"]
            rows.writerow([f"Body {number}", waist, hip, *lengths])
    return written.getvalue()


def main(count: int) -> None:
    """Print people a second with one worker and with two, and their ratio."""
    from skirtwright.cli import main as run

    taken = {}
    for workers in (1, 2):
        with tempfile.TemporaryDirectory() as folder:
            people = Path(folder, "people.csv")
            people.write_text(table(count), encoding="utf-8")
            out = Path(folder, "all")
            asked = ["batch", str(people), "straight", "-o", str(out)]
            begun = time.perf_counter()
            aside = io.StringIO()
            with contextlib.redirect_stdout(aside), contextlib.redirect_stderr(aside):
                code = run([*asked, "--workers", str(workers)])
            taken[workers] = time.perf_counter() - begun
            made = len(list(out.glob("*/pattern.pdf")))
        each = f"{made} of {count} in {taken[workers]:.1f} s"
        print(f"{workers} workers: {each}, ended {code}")
    print(f"two workers are {taken[1] / taken[2]:.2f} x as quick as one (target 1.8)")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 507)
