"""Folded cloth, at most four pieces: our lays against the proved best on a 20 mm grid.

Branch and bound: pieces one after another in every order and every way they may be
turned, at every 20 mm from the fold and as far as the selvedge, each dropped until it
rests on those before or on the cut end, which is worked exactly, on trapezoids of its
outline. A branch ends where it is no shorter than the best so far, which at first is
our own lay, or where what was laid has been laid so before. A case not gone through
within its minute is said to be not proved. No outline of the program's own placing is
used but those of the pieces. Pieces hooked into each other, so that none can be lifted
out, are not found; those of a skirt are not.
"""

from __future__ import annotations

import time
from dataclasses import replace
from functools import cache
from itertools import pairwise

import numpy as np
from shapely import Polygon

from skirtwright.draft import styles
from skirtwright.geometry.box import box_of
from skirtwright.job.job import new_job
from skirtwright.job.worktable import Worktable
from skirtwright.lay.cloth_to_cut import Cloth
from skirtwright.lay.copies import Copy
from skirtwright.lay.lay import copies_in_phase, lay
from skirtwright.pieces.cutting import Cut
from skirtwright.problems import Refused

GRID, MOST, SECONDS, WITHIN = 20.0, 4, 60.0, 2.0
"""mm; pieces of a case; of the processor, for one; per cent asked."""

WIDTHS = 900.0, 1150.0, 1400.0, 1500.0
EVEN = 0.05
"""mm: what is shorter by less is as long; outlines are simplified by no more."""


Lying = tuple[int, int, float, float]
"""The number of a copy, that of the way it is turned, and where its corner lies."""


class Turned:
    """A piece turned one way: its size and its trapezoids, each x, low and high."""

    def __init__(self, ring: list[tuple[float, float]]) -> None:
        area = Polygon(ring).simplify(EVEN)
        left, bottom, right, top = area.bounds
        self.width, self.height, self.area = right - left, top - bottom, area.area
        corners = [(x - left, y - bottom) for x, y in area.exterior.coords]
        sides = list(pairwise(corners))
        sides = [(p, q) if p[0] < q[0] else (q, p) for p, q in sides if p[0] != q[0]]
        cuts = sorted({x for x, _ in corners})
        rows = []
        for a, b in pairwise(cuts):
            met = sorted(
                (
                    [p[1] + (x - p[0]) * (q[1] - p[1]) / (q[0] - p[0]) for x in (a, b)]
                    for p, q in sides
                    if p[0] <= a and b <= q[0]
                ),
                key=sum,
            )
            for low, high in zip(met[::2], met[1::2], strict=True):
                rows.append((a, b, *low, *high))
        self.slabs = np.array(rows)


def barred(one: Turned, other: Turned, over: float) -> list[tuple[float, float]]:
    """Steps up by which another, so far to the right, would lie over the one."""
    a, b = one.slabs[:, None, :], other.slabs[None, :, :]
    left = np.maximum(a[..., 0], b[..., 0] + over)
    right = np.minimum(a[..., 1], b[..., 1] + over)
    i, j = np.nonzero(right - left > 1e-6)
    ends = np.stack([left[i, j], right[i, j]])

    def at(slabs: np.ndarray, n: np.ndarray, first: int, by: float) -> np.ndarray:
        s = slabs[n]
        share = (ends - by - s[:, 0]) / (s[:, 1] - s[:, 0])
        return s[:, first] + share * (s[:, first + 1] - s[:, first])

    low = (at(one.slabs, i, 2, 0) - at(other.slabs, j, 4, over)).min(axis=0)
    high = (at(one.slabs, i, 4, 0) - at(other.slabs, j, 2, over)).max(axis=0)
    found: list[tuple[float, float]] = []
    for down, up in sorted(zip(low.tolist(), high.tolist(), strict=True)):
        if found and down <= found[-1][1]:
            found[-1] = (found[-1][0], max(found[-1][1], up))
        else:
            found.append((down, up))
    return found


class Search:
    """The shortest way to lay copies, in no more than so much time.

    Args:
        copies: what is laid.
        cloth: on it.
        best: how far along the cloth a known lay reaches, mm.
    """

    def __init__(self, copies: list[Copy], cloth: Cloth, best: float) -> None:
        self.room, self.best, self.proved = cloth.room, best, True
        self.crosswise = cloth.fold == "crosswise"
        self.on_fold = [copy.on_fold for copy in copies]
        self.turned = [
            [
                Turned([(p.x, p.y) for p in map(way.motion, copy.outline)])
                for way in copy.ways
            ]
            for copy in copies
        ]
        self.barred = cache(
            lambda i, a, j, b, over: barred(self.turned[i][a], self.turned[j][b], over)
        )
        self.until = time.process_time() + SECONDS
        self.seen: set[frozenset[Lying]] = set()
        self.least = sum(t[0].area for t in self.turned) / self.room
        self.go_on([], frozenset(range(len(copies))))

    def columns(self, number: int, turn: Turned) -> list[float]:
        """Where it may lie across."""
        if self.on_fold[number] and not self.crosswise:
            return [0.0]
        last = self.room - turn.width
        steps = [n * GRID for n in range(int(last // GRID) + 1)] if last >= 0 else []
        return [*steps, last] if steps and last > steps[-1] else steps

    def rests(self, number: int, way: int, x: float, lying: list[Lying]) -> list[float]:
        """The heights at which it rests on what lies there, or on the cut end."""
        bars = sorted(
            (y + low, y + high)
            for other, its, at, y in lying
            for low, high in self.barred(other, its, number, way, round(x - at, 3))
        )
        found, floor = [], 0.0
        for low, high in bars:
            if low >= floor:
                found.append(floor)
            floor = max(floor, high)
        found.append(floor)
        return found[:1] if self.on_fold[number] and self.crosswise else found

    def go_on(self, lying: list[Lying], left: frozenset[int]) -> None:
        """Lay one more, in every way that may come to less than the best."""
        if self.best <= self.least or time.process_time() > self.until:
            self.proved = self.proved and self.best <= self.least
            return
        reach = max((y + self.turned[n][w].height for n, w, _, y in lying), default=0.0)
        for number in left:
            for way, turn in enumerate(self.turned[number]):
                for x in self.columns(number, turn):
                    for y in self.rests(number, way, x, lying):
                        top = max(reach, y + turn.height)
                        if top > self.best - EVEN or (
                            y and self.on_fold[number] and self.crosswise
                        ):
                            continue
                        now = [*lying, (number, way, x, round(y, 3))]
                        state = frozenset(now)
                        if len(left) == 1:
                            self.best = top
                        elif state not in self.seen:
                            self.seen.add(state)
                            self.go_on(now, left - {number})


def cases() -> list[tuple[str, Cut, Cloth]]:
    """Every style on every cloth on whose folds at most four pieces lie."""
    found, table = [], Worktable()
    for name in styles.names():
        job = new_job(styles.style(name))
        cut = table.look(job).report.to_cut
        for material in ("shell", "lining"):
            for width in WIDTHS:
                for fold in ("lengthwise", "crosswise"):
                    cloth = replace(job.cloth(material), width=width, fold=fold)
                    found.append((f"{name}, {material}", cut, cloth))
    return found


def main() -> None:
    """Print a line for each case, and how many were proved within what is asked."""
    worst, proved, count = 0.0, 0, 0
    seen: set[tuple[object, ...]] = set()
    for name, cut, cloth in cases():
        try:
            laid = lay(cut, cloth)
        except Refused:
            continue
        if laid is None or laid.cloth.fold == "single" or len(laid.placed) > MOST:
            continue
        copies = copies_in_phase(cut, cloth)
        boxes = [box_of(copy.outline) for copy in copies]
        like = (cloth.room, cloth.fold, *((b.width, b.height) for b in boxes))
        if like in seen:
            continue
        seen.add(like)
        begun = time.process_time()
        search = Search(copies, cloth, laid.reach)
        more = 100 * (laid.reach / search.best - 1)
        count, proved = count + 1, proved + search.proved
        worst = max(worst, more) if search.proved else worst
        print(
            f"{name}, {cloth.width / 10:.0f} cm {cloth.fold}, {len(copies)} pieces:"
            f" ours {laid.reach:.1f} mm, the best {search.best:.1f}: {more:+.2f} %"
            f"{'' if search.proved else ' (not proved)'},"
            f" {time.process_time() - begun:.1f} s",
            flush=True,
        )
    print(f"{count} cases, {proved} proved, at most {worst:.2f} % longer ({WITHIN:g})")


if __name__ == "__main__":
    main()
