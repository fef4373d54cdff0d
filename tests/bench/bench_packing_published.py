"""Published cutting instances of the garment trade: our lays beside the records.

Their source and that of the records stand in `published_packing.json`. Heads either
way, a tenth of the tries of a lay that is cut from. The records are the shortest that a
packing library's own makers have kept; it works for twenty minutes where we take
seconds, and the pieces are many times those of a skirt.
"""

from __future__ import annotations

import json
import random
import time
from pathlib import Path
from typing import Any

from skirtwright.geometry import Motion, Point, shift
from skirtwright.geometry.box import box_of
from skirtwright.lay.cells import Cells, Shape, rows_of
from skirtwright.lay.lay import TRIES
from skirtwright.lay.placing import Floor, Laid
from skirtwright.lay.settling import settled

CELLS, SHARE = 320, 10
"""Cells across a strip; by how much fewer tries than for the few pieces of a skirt."""

TURNS = Motion(), Motion(a=-1.0, d=-1.0)


def rings(pieces: list[tuple[int, list[float]]]) -> list[list[Point]]:
    """The outline of each piece as often as it is laid, the strip's length upwards."""
    found = []
    for count, flat in pieces:
        ring = [Point(y, x) for x, y in zip(flat[::2], flat[1::2], strict=True)]
        found += [ring] * count
    return found


def shapes(ring: list[Point], cells: Cells) -> list[Shape]:
    """The outline either way up; once where that is the same."""
    found: dict[tuple[int, ...], Shape] = {}
    for turn in TURNS:
        box = box_of(map(turn, ring))
        home = turn.then(shift(Point(-box.left, -box.bottom)))
        rows = rows_of([(list(map(home, ring)), True)], cells, 0.0)
        found.setdefault(rows, Shape(home, box.width, box.height, rows))
    return list(found.values())


def length(laid: Laid, outlines: list[list[Point]], cells: Cells) -> float:
    """Of the strip, when all is slid down and aside as far as it is free to."""
    lying = [
        [*map(laid.places[number].motion(cells), ring)]
        for number, ring in enumerate(outlines)
    ]
    boxes = [box_of(ring) for ring in lying]
    steps = settled(
        lying, [(True, True)] * len(lying), [(b.left, b.bottom) for b in boxes]
    )
    return max(b.top + step.y for b, step in zip(boxes, steps, strict=True))


def lay(instance: dict[str, Any], tries: int) -> float:
    """The length of the best lay found."""
    height = instance["height"]
    cells = Cells(height / CELLS, height / CELLS)
    outlines = rings(instance["pieces"])
    floor = Floor([shapes(ring, cells) for ring in outlines], cells)
    chance = random.Random(1)
    found = floor.shortest(height, tries, chance)
    return min(length(laid, outlines, cells) for laid in found)


def main() -> None:
    """Print a line for each instance."""
    path = Path(__file__).with_name("published_packing.json")
    for name, instance in json.loads(path.read_text(encoding="utf-8")).items():
        if name == "source":
            continue
        begun = time.process_time()
        ours, record = lay(instance, TRIES // SHARE), instance["record"]
        spent = time.process_time() - begun
        print(
            f"{name}, {len(rings(instance['pieces']))} pieces: ours {ours:.2f} in"
            f" {spent:.0f} s of the processor, the record {record:.2f}:"
            f" {100 * (ours / record - 1):+.1f} %",
            flush=True,
        )


if __name__ == "__main__":
    main()
