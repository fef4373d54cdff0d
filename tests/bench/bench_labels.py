"""Words that meet a line or other words, over every style and paper: none are wanted.

python tests/bench/bench_labels.py [STYLE ...] [--paper a4]
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "export"))

from overlaps import overlaps

from skirtwright.draft.styles import names, style
from skirtwright.export.lay_page import lays_pdf
from skirtwright.export.print_job import PrintJob
from skirtwright.export.print_media import paper_named
from skirtwright.export.printing import Printing
from skirtwright.export.sewing.worksheet import worksheet_pdf
from skirtwright.job.job import new_job
from skirtwright.job.worktable import Worktable
from skirtwright.lay.all_cloths import lay_all
from skirtwright.lay.cloth_to_cut import usual
from skirtwright.words import Manner

PAPERS = ("a4", "a3", "letter", "a0", "914mm", "projector", "lay", "worksheet")
MANNER = Manner()
TRIES = 20
"""Lays tried: where the pieces lie is not what is measured."""


def printed(report, paper):
    """The style on a paper, as PDF."""
    if paper == "worksheet":
        return worksheet_pdf(report, "Orla", "3 May", paper_named("a4"), MANNER)
    if paper == "lay":
        cloths = [usual(p.spec.material, "cm") for p in report.cut.pieces]
        laid = lay_all(report.cut, list(dict.fromkeys(cloths)), TRIES)
        return lays_pdf(report.with_lays(laid), "Orla", "3 May", MANNER)
    if paper == "projector":
        return PrintJob(report, "Orla", "3 May", Printing(), MANNER).projector_pdf()
    if paper in ("a0", "914mm"):
        job = PrintJob(report, "Orla", "3 May", Printing(), MANNER)
        return job.roll_pdf(job.on_roll(paper))
    return PrintJob(report, "Orla", "3 May", Printing(paper), MANNER).pdf()


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("styles", nargs="*")
    parser.add_argument("--paper", choices=PAPERS, action="append")
    asked = parser.parse_args()
    total = 0
    for name in asked.styles or names():
        report = Worktable().look(new_job(style(name))).report
        for paper in asked.paper or PAPERS:
            found = overlaps(printed(report, paper))
            total += len(found)
            for page, words in found:
                print(f"{name} on {paper}, page {page}: {words}")
    print(f"words that meet a line or other words: {total}, target 0")


if __name__ == "__main__":
    main()
