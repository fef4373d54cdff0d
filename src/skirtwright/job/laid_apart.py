"""Pieces laid in a process of their own: an order in, lays out, as text both ways.

`python -m skirtwright.job.laid_apart TRIES...` reads an order and writes a line of JSON
for each count of tries: for each lay what it leans on and where each copy lies. Whoever
has the same order makes the lays of it again without searching.
"""

from __future__ import annotations

import json
import sys
from dataclasses import replace
from typing import Any

from skirtwright.geometry import Motion
from skirtwright.job import file
from skirtwright.job.worktable import Look, Worktable, laid
from skirtwright.lay.all_cloths import Lays
from skirtwright.lay.cloth_to_cut import Cloth
from skirtwright.lay.copies import Copy, Way, copies_of
from skirtwright.lay.lay import Lay, Placed
from skirtwright.problems import SkirtwrightError


def main() -> int:
    """Lay the order on stdin."""
    look = Worktable().look(file.read(sys.stdin.buffer.read(), "stdin"))
    for tries in map(int, sys.argv[1:]):
        found = laid(look, tries).report.lays
        sys.stdout.write(json.dumps([_record(one, look) for one in found]) + "\n")
        sys.stdout.flush()
    return 0


def _record(one: Lay, look: Look) -> dict[str, Any]:
    known = [(copy.piece.name, copy.ways) for copy in _copies(one.cloth, look)]
    placed = []
    for each in one.placed:
        key = (each.copy.piece.name, each.copy.ways)
        number = known.index(key)
        known[number] = ("", ())
        m = each.motion
        way = each.way
        motion = (m.a, m.b, m.c, m.d, m.e, m.f)
        placed.append((number, way.mirrored, way.rotation_deg, motion))
    return {"material": one.cloth.material, "fold": one.cloth.fold, "placed": placed}


def _copies(cloth: Cloth, look: Look) -> list[Copy]:
    shown = look.report.cut.shown
    return copies_of([p for p in shown if p.spec.material == cloth.material], cloth)


def laid_again(look: Look, line: bytes) -> Look:
    """The look with the lays of a line that the same order gave.

    Raises:
        ValueError: the line is none of ours, or of another order.
    """
    lays = []
    try:
        for record in json.loads(line):
            asked = look.job.cloth(record["material"])
            on = replace(asked, fold=record["fold"])
            copies = _copies(on, look)
            placed = tuple(
                Placed(copies[number], Way(mirrored, rotation), Motion(*motion))
                for number, mirrored, rotation, motion in record["placed"]
            )
            lays.append(Lay(on, placed, asked))
    except (KeyError, IndexError, TypeError, SkirtwrightError) as fault:
        message = "no lays of this order"
        raise ValueError(message) from fault
    return replace(look, report=look.report.with_lays(Lays(tuple(lays))))


if __name__ == "__main__":
    sys.exit(main())
