"""How fair the edges of every style are, for all 260 women of bdims.

`python tests/bench/bench_fair.py [WOMEN] [STYLE ...]`. Each woman is drafted at the
defaults and with two amounts at an end of their range, drawn by seed. Prints for each
style its tightest bends beside what they may be, the sharpest corners, and what is
unfair; lines are measured as sewn, darts shut.
"""

from __future__ import annotations

import random
import sys
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

import conftest
from fairness import (
    CORNER_DEG,
    TIGHTEST,
    at_ends,
    drawn_edges,
    fairness,
    meant_at,
    unfair,
)
from skirtwright.draft import styles
from skirtwright.draft.inputs import Inputs
from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.working.recompute import Reworking, Worked

SEED = 11
SHOWN = 3


def measure(style: str, women: list[conftest.Woman]) -> None:
    """Drafts a style for all women and prints its worst edges."""
    chance = random.Random(f"{SEED} {style}")
    draft, reworking = styles.style(style), Reworking()
    tightest: dict[str, dict[str, float]] = {"defaults": {}, "ends": {}}
    found: Counter[str] = Counter()
    stopped = 0
    for woman in women:
        body = {
            "waist": woman.waist,
            "hip": woman.hip,
            "waist_to_hip": 0.122 * woman.height,
            "waist_to_knee": 0.35 * woman.height,
        }
        worked = reworking.work(draft, Inputs(body))
        ends = reworking.work(draft, at_ends(worked.stated, worked.inputs, chance, 2))
        for which, one in (("defaults", worked), ("ends", ends)):
            stopped += one.stopped
            if not one.stopped:
                look_at(one, tightest[which])
                found.update(
                    f"{which}: {' '.join(said.split()[:2])}" for said in unfair(one)
                )
    print(f"{style}: {len(women)} women twice, {stopped} refused")
    for which, edges in tightest.items():
        worst = sorted(edges.items(), key=lambda item: item[1])[:SHOWN]
        told = ", ".join(
            f"{where} {radius:.0f} ({meant_at(draft, where) or TIGHTEST:.0f})"
            for where, radius in worst
        )
        print(f"    {which}: tightest, mm (target): {told}")
    for said, often in found.most_common(6):
        print(f"    unfair {often} x {said}")


def look_at(worked: Worked, tightest: dict[str, float]) -> None:
    """Keep the tightest bend of each edge."""
    for name in {piece.panel for piece in worked.draft.pieces}:
        panel = worked.values.get(name)
        for edge, chain in drawn_edges(panel) if isinstance(panel, Panel) else ():
            where = f"{name}.{edge}"
            radius = fairness(chain).radius
            tightest[where] = min(tightest.get(where, radius), radius)


def main() -> None:
    """Every style, or those named."""
    asked = sys.argv[1:]
    women = list(conftest.real_women.__wrapped__())
    if asked and asked[0].isdigit():
        women = random.Random(SEED).sample(women, int(asked.pop(0)))
    print(f"targets: bends {TIGHTEST:.0f} mm, corners {CORNER_DEG} degrees")
    for style in asked or styles.names():
        measure(style, women)


if __name__ == "__main__":
    main()
