"""Alterations of fittings on measured women: what moved, and whether seams still meet.

`python tests/bench/bench_fitting.py [WOMEN] [STYLE ...]`. Each woman's skirt is altered
in each way the style has; printed for each are how often it was drawn or refused, and
the furthest that waist, hip and length came from what was asked, and two edges of a
seam from each other (0.1 mm asked; edges eased apart before count by their change).
"""

from __future__ import annotations

import sys
from collections import Counter, defaultdict
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

import conftest
from skirtwright.draft import styles
from skirtwright.draft.alterations import Alteration
from skirtwright.job.job import Job, new_job
from skirtwright.job.worktable import Look, Worktable
from skirtwright.measures.card import Card
from skirtwright.problems import SkirtwrightError

TRIED = {
    "sides at the waist": (
        Alteration(what="side_seams", by="-6 mm", first="waist", last="hip"),
        {"waist": -24.0, "hip": 0.0, "length": 0.0},
    ),
    "left side at the waist": (
        Alteration(
            what="side_seams", by="5 mm", side="left", first="waist", last="12 cm"
        ),
        {"waist": 10.0, "hip": 0.0, "length": 0.0},
    ),
    "sides to the hem": (
        Alteration(what="side_seams", by="8 mm", first="30 cm", last="hem"),
        {"waist": 0.0, "length": 0.0},
    ),
    "centre back": (
        Alteration(what="centre_back_seam", by="-5 mm", first="waist", last="12 cm"),
        {"waist": -10.0, "hip": 0.0, "length": 0.0},
    ),
    "hem levelled": (
        Alteration(
            what="level_hem",
            readings=("30", "30.4", "30.2", "30", "29.8", "30.1", "30.3", "30.2"),
        ),
        {"waist": 0.0, "hip": 0.0},
    ),
}
"""Each with what it asks of the finished measures (plain geometry)."""


def order(style: str, woman: conftest.Woman, *fitting: Alteration) -> Job:
    """A style for a woman, altered."""
    body = {
        "waist": woman.waist,
        "hip": woman.hip,
        "waist_to_hip": 0.122 * woman.height,
        "waist_to_knee": 0.35 * woman.height,
    }
    card = Card(name="", measurements={n: f"{v:.2f} mm" for n, v in body.items()})
    job = new_job(styles.style(style), card)
    return job.replace(fitting=fitting)


def seams(look: Look) -> dict[str, float]:
    """How far two edges are apart, for each seam, the two of both halves as one."""
    found: dict[str, float] = {}
    for walked in look.report.cut.seams:
        name = walked.seam.name.removesuffix("_left").removesuffix("_right")
        found[name] = max(found.get(name, 0.0), abs(walked.difference))
    return found


def measure(style: str, women: list[conftest.Woman]) -> bool:
    """Alters a style for all women; whether all was as asked."""
    table, right = Worktable(), True
    drawn: Counter[str] = Counter()
    refused: Counter[str] = Counter()
    off: dict[str, dict[str, float]] = defaultdict(lambda: defaultdict(float))
    for woman in women:
        plain = table.look(order(style, woman))
        for name, (alteration, asked) in TRIED.items():
            try:
                look = table.look(order(style, woman, alteration))
                code = look.report.refusals[0].code if look.report.refusals else ""
            except SkirtwrightError as stop:
                code = stop.problem.code
            if code:
                refused[f"{name}: {code}"] += 1
                continue
            drawn[name] += 1
            for which, change in asked.items():
                was, now = (x.report.finished[which] for x in (plain, look))
                if was is not None and now is not None:
                    moved = abs(now - was - change)
                    off[name][which] = max(off[name][which], moved)
            before = seams(plain)
            for seam, apart in seams(look).items():
                worse = apart - before.get(seam, 0.0)
                off[name]["seam"] = max(off[name]["seam"], worse)
    print(f"{style}: {dict(drawn)}")
    for name, worst in off.items():
        told = ", ".join(f"{which} {value:.3f}" for which, value in worst.items())
        wrong = any(value > 0.1 for value in worst.values())
        right &= not wrong
        print(f"  {'WRONG ' if wrong else ''}{name}: {told}")
    for name, times in refused.items():
        print(f"  refused {times}: {name}")
    return right


def main(arguments: list[str]) -> int:
    """Measure; 1 where something was not as asked."""
    count = int(arguments[0]) if arguments else 12
    women = list(conftest.real_women.__wrapped__())
    women = women[:: max(len(women) // count, 1)][:count]
    named = arguments[1:] or styles.names()
    results = [measure(style, women) for style in named]
    return 0 if all(results) else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
