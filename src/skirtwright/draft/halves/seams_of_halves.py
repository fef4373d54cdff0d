"""The seams of a draft whose left and right differ: which half each edge is of."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from fractions import Fraction
from itertools import pairwise
from typing import Any

from skirtwright.draft.draft import Seam, SeamNotch
from skirtwright.draft.halves.rewriting import Rewrite, at_share, named
from skirtwright.draft.kinds.halving import TurnOver
from skirtwright.measures.measurements import SIDES, half_of, without_half
from skirtwright.measures.trusted_json import take
from skirtwright.words import Composed

LEFT, RIGHT = SIDES

_SHARES = (Fraction(1, 2), Fraction(1, 5), Fraction(1, 3))
"""Where along a joined fold its mark lies, by which it is told from others."""

Run = list[tuple[str, str]]
"""Panels of one half with their edges, `-edge` walked backwards."""


class Sewing:
    """Writes the seams of a draft for both halves.

    Args:
        once: panels that are drawn once and belong to no half.
        paired: panels of which each half has its own pairs, such as pocket bags.
        on_side: rewrites a working for the left or the right half.
        mean: rewrites a working to the mean of both halves.
    """

    def __init__(
        self,
        once: Collection[str],
        paired: Collection[str],
        on_side: Mapping[str, Rewrite],
        mean: Rewrite,
    ) -> None:
        self._once = once
        self._paired = paired
        self._on_side = on_side
        self._mean = mean

    def seams(self, seam: Seam) -> Iterator[Seam]:
        """A seam for each half; one where it is sewn once, or goes all round."""
        if seam.sides[0] == seam.sides[1] and self._is_across(seam.sides[0][0]):
            on = [
                [side] * len(run) for side, run in zip(SIDES, seam.sides, strict=True)
            ]
            yield self._written(seam, seam.name, seam.title, on)
        elif self._is_whole(seam):
            yield self._written(seam, seam.name, seam.title, self._sides(seam))
        else:
            for side in SIDES:
                on = [[side] * len(run) for run in seam.sides]
                title = Composed(f"half.{side}", {"title": seam.title})
                yield self._written(
                    seam, f"{seam.name}_{side}", seam.title and title, on
                )

    def _is_once(self, part: str) -> bool:
        return split(part)[0] in self._once

    def _is_across(self, part: str) -> bool:
        """Whether a mirrored pair's own seam joins left to right."""
        return not self._is_once(part) and split(part)[0] not in self._paired

    def centre(self, seam: Seam) -> tuple[Run, Run] | None:
        """The two runs of a seam that joins left to right, or None."""
        return centre_runs(seam) if self._is_across(seam.sides[0][0]) else None

    def _is_whole(self, seam: Seam) -> bool:
        """Whether a seam is sewn once: over both halves, or to what is cut once."""
        parts = [part for run in seam.sides for part in run]
        return any(
            self._is_once(part) or half_of(split(part)[0]) for part in parts
        ) or any(_comes_back(run) for run in seam.sides)

    def _sides(self, seam: Seam) -> list[list[str]]:
        """The half each edge of a seam that is sewn once is of."""
        named = [half_of(split(part)[0]) for run in seam.sides for part in run]
        rest = next(filter(None, named), LEFT)
        return [
            sides_along(run)
            if _comes_back(run)
            else [half_of(split(part)[0]) or rest for part in run]
            for run in seam.sides
        ]

    def _written(self, seam: Seam, name: str, title: str, on: list[list[str]]) -> Seam:
        runs = tuple(
            tuple(
                self._of_side(part, side) for part, side in zip(run, its, strict=True)
            )
            for run, its in zip(seam.sides, on, strict=True)
        )
        return seam.model_copy(
            update={
                "name": name,
                "title": title,
                "sides": runs,
                "ease": self._figure(seam.ease, on),
                "notches": tuple(self._mark(seam, m, on) for m in seam.notches),
                "when": seam.when and self._on_side[on[0][0]](seam.when, "condition"),
            }
        )

    def _of_side(self, part: str, side: str) -> str:
        return part if self._is_once(part) else of_side(part, side)

    def _figure(self, text: str, on: list[list[str]]) -> str:
        """A working as one half has it, or of both where the seam goes over both."""
        rewrite = self._mean if len(set(on[0])) > 1 else self._on_side[on[0][0]]
        return rewrite(text, "working")

    def _mark(self, seam: Seam, mark: Any, on: list[list[str]]) -> Any:
        named = mark.at.partition(" ")[0]
        sides = {
            part.removeprefix("-"): side
            for part, side in reversed(list(zip(seam.sides[0], on[0], strict=True)))
        }
        rewrite = self._on_side[sides.get(named, on[0][0])]
        return mark.model_copy(
            update={
                "at": mark.at if self._is_once(named) else rewrite(mark.at, "place"),
                "beyond": self._figure(mark.beyond, on),
                "when": mark.when and rewrite(mark.when, "condition"),
            }
        )


def sides_along(run: tuple[str, ...]) -> list[str]:
    """The half each edge of a run is of.

    A run that begins at a centre goes over the right half first, one that begins at a
    side (and so walks its first edge backwards) begins at the left side, where side
    openings are. Where it turns back along the same edge it crosses to the other half.
    """
    side = LEFT if run[0].startswith("-") else RIGHT
    found = [side]
    for before, after in pairwise(run):
        if before.removeprefix("-") == after.removeprefix("-"):
            side = LEFT if side == RIGHT else RIGHT
        found.append(side)
    return found


def _comes_back(run: tuple[str, ...]) -> bool:
    edges = [part.removeprefix("-") for part in run]
    return len(set(edges)) < len(edges)


def split(part: str) -> tuple[str, str]:
    """`-panel.edge` as the panel and the signed edge."""
    sign = "-" if part.startswith("-") else ""
    panel, _, edge = part.removeprefix("-").partition(".")
    return panel, sign + edge


def of_side(part: str, side: str) -> str:
    """`-panel.edge` as that edge of the panel of one half."""
    panel, edge = split(part)
    sign = "-" if edge.startswith("-") else ""
    return f"{sign}{panel}_{side}.{edge.removeprefix('-')}"


def joined(folds: Run, piece: str, number: int, when: str | None) -> Seam:
    """The seam that a fold becomes, over the panels that hang below one another.

    Args:
        folds: what was on the fold, from the top.
        piece: the title of the uppermost piece.
        number: where among the other folds of its cloth it comes. By its three snips,
            and where they lie, it is told from other seams (common practice).
        when: on which condition it is sewn.
    """
    panel, edge = folds[0]
    left, right = (
        tuple(f"{panel}_{side}.{edge}" for panel, edge in folds) for side in SIDES
    )
    mark = take(SeamNotch, {"at": at_share(left[0], _SHARES[number % 3]), "count": 3})
    return Seam.model_construct(
        name=f"{panel}_{edge}_joined",
        title=Composed("half.centre_seam", {"piece": piece}),
        sides=(left, right),
        notches=(mark,),
        when=when,
    )


def columns(folds: Iterable[tuple[str, str]], seams: Iterable[Seam]) -> list[Run]:
    """Folds in runs, each fold in one: panels that hang one below another share one."""
    below = _hanging_below(seams)
    waiting = dict.fromkeys(folds)
    hung = {(below.get(panel), edge) for panel, edge in waiting}
    found = []
    for top in sorted(waiting, key=hung.__contains__):
        run, fold = [], top
        while fold in waiting:
            del waiting[fold]
            run.append(fold)
            fold = (below.get(fold[0], ""), fold[1])
        if run:
            found.append(run)
    return found


def _hanging_below(seams: Iterable[Seam]) -> dict[str, str]:
    """Panels, each with the one that hangs below it.

    A seam joins the two along one edge of each, as a yoke seam does, and a side of
    another runs down the one and on down the other.
    """
    runs = [run for seam in seams for run in seam.sides]
    across = {
        frozenset(split(run[0])[0] for run in seam.sides)
        for seam in seams
        if all(len(run) == 1 for run in seam.sides)
    }
    found: dict[str, str] = {}
    for run in runs:
        for upper, lower in pairwise(map(split, run)):
            panels = frozenset((upper[0], lower[0]))
            if upper[1] == lower[1] and len(panels) == 2 and panels in across:
                # A run that walks its edges backwards goes up.
                one, two = (
                    (lower, upper) if upper[1].startswith("-") else (upper, lower)
                )
                found[one[0]] = two[0]
    return found


def centre_runs(seam: Seam) -> tuple[Run, Run] | None:
    """The two runs of a centre seam, of the left and of the right half; else None."""
    left, right = ([split(part) for part in run] for run in seam.sides)
    if half_of(left[0][0]) == RIGHT:
        left, right = right, left
    if [without_half(panel) for panel, _ in left] != [
        without_half(panel) for panel, _ in right
    ]:
        return None
    if left != right and half_of(left[0][0]) != LEFT:
        return None
    return _of_half(left, LEFT), _of_half(right, RIGHT)


def of_both(run: Run) -> tuple[Run, Run]:
    """A run as the left and the right half have it."""
    return _of_half(run, LEFT), _of_half(run, RIGHT)


def _of_half(run: Run, side: str) -> Run:
    return [(f"{panel}_{side}", edge) for panel, edge in run]


def faced(panels: list[str], seams: Iterable[Seam]) -> list[TurnOver]:
    """Steps that turn panels over, so that all lie with the same side up.

    The first panel is drawn as the left one lies; each further one lies beside one
    that is known, along their seam.
    """
    if not panels:
        return []
    steps = [_turned(panels[0], RIGHT)]
    known, sewn = {panels[0]}, list(seams)
    for _ in panels:
        for seam in sewn:
            ends = [split(run[0]) for run in seam.sides]
            for (panel, edge), (beside, its_edge) in (ends, ends[::-1]):
                if panel in known or beside not in known or panel not in panels:
                    continue
                known.add(panel)
                more = {"edge": edge, "beside_edge": its_edge}
                steps += [
                    _turned(panel, side, beside=named(f"{beside}_{side}"), **more)
                    for side in SIDES
                ]
    return steps


def _turned(panel: str, side: str, **fields: str) -> TurnOver:
    name = f"{panel}_{side}"
    whole = {"step": f"{name}_turned", "kind": "turn_over", "panel": named(name)}
    return take(TurnOver, {**whole, **fields})
