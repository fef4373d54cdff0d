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
from skirtwright.export import printing
from skirtwright.export.printing import Printing
from skirtwright.job.job import new_job
from skirtwright.job.worktable import Worktable
from skirtwright.words import Manner

PAPERS = ("a4", "a3", "letter", "a0", "914mm", "projector")
MANNER = Manner()


def printed(report, paper):
    """The style on a paper, as PDF."""
    if paper == "projector":
        return printing.projector_pdf(report, "Orla", "3 May", Printing(), MANNER)
    if paper in ("a0", "914mm"):
        how = Printing()
        return printing.full_size_pdf(report, "Orla", "3 May", how, paper, MANNER)
    return printing.tiled_pdf(report, "Orla", "3 May", Printing(paper), MANNER)


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
