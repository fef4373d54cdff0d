"""The seams of a draft whose left and right differ: which half each edge is of."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Any, Final

from skirtwright.draft.draft import PieceOf, Seam, SeamNotch
from skirtwright.draft.halves.alike_conditions import alike
from skirtwright.draft.halves.rewriting import Rewrite, at_share, named
from skirtwright.draft.kinds.panels_from_panels import TurnOver
from skirtwright.draft.runs import Run, Side
from skirtwright.measures.measurements import SIDES
from skirtwright.measures.records import take
from skirtwright.words import Composed

LEFT, RIGHT = SIDES

Drawn = Mapping[str, Sequence[tuple[str, ...]]]
"""Panels, each with the conditions under which it is drawn, for each way it is."""

_SHARES: Final = ((1.0, 2.0), (1.0, 5.0), (1.0, 3.0))
"""Where along a joined fold its mark lies, by which it is told from others."""


class Sewing:
    """Writes the seams of a draft for both halves.

    Args:
        single: panels that are drawn once and belong to no half.
        paired: panels of which each half has its own pairs, such as pocket bags.
        halves: panels of one half, each with that half and what it is called with the
            other's.
        on_side: rewrites a working for the left or the right half.
        mean: rewrites a working to the mean of both halves.
    """

    def __init__(
        self,
        single: Collection[str],
        paired: Collection[str],
        halves: Mapping[str, tuple[str, str]],
        on_side: Mapping[str, Rewrite],
        mean: Rewrite,
    ) -> None:
        self._single = single
        self._paired = paired
        self._halves = halves
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
        elif seam.half is not None:
            on = [[seam.half] * len(run) for run in seam.sides]
            yield self._written(seam, seam.name, seam.title, on)
        else:
            for side in SIDES:
                on = [[side] * len(run) for run in seam.sides]
                title = Composed(f"half.{side}", {"title": seam.title})
                yield self._written(
                    seam, f"{seam.name}_{side}", seam.title and title, on
                )

    def _is_single(self, run: Run) -> bool:
        return run.piece in self._single

    def _is_across(self, run: Run) -> bool:
        """Whether a mirrored pair's own seam joins left to right."""
        return not self._is_single(run) and run.piece not in self._paired

    def centre(self, seam: Seam) -> tuple[Side, Side] | None:
        """The two runs of a seam that joins left to right, or None."""
        return self._centre_runs(seam) if self._is_across(seam.sides[0][0]) else None

    def _half(self, run: Run) -> str:
        """The half a panel is of that the other half has unlike, or nothing."""
        return self._halves.get(run.piece, ("", ""))[0]

    def _centre_runs(self, seam: Seam) -> tuple[Side, Side] | None:
        """The two runs of a centre seam, of the left and of the right half."""
        left, right = seam.sides
        if self._half(left[0]) == RIGHT:
            left, right = right, left
        wholes = [
            [self._halves.get(run.piece, ("", run.piece))[1] for run in side]
            for side in (left, right)
        ]
        if wholes[0] != wholes[1]:
            return None
        if left != right and self._half(left[0]) != LEFT:
            return None
        return _of_half(left, LEFT), _of_half(right, RIGHT)

    def _is_whole(self, seam: Seam) -> bool:
        """Whether a seam is sewn once: over both halves, or to what is cut once."""
        runs = [run for side in seam.sides for run in side]
        return any(self._is_single(run) or self._half(run) for run in runs) or any(
            _comes_back(side) for side in seam.sides
        )

    def _sides(self, seam: Seam) -> list[list[str]]:
        """The half each edge of a seam that is sewn once is of."""
        named = [self._half(run) for side in seam.sides for run in side]
        rest = next(filter(None, named), LEFT)
        return [
            sides_along(side)
            if _comes_back(side)
            else [self._half(run) or rest for run in side]
            for side in seam.sides
        ]

    def _written(self, seam: Seam, name: str, title: str, on: list[list[str]]) -> Seam:
        runs = tuple(
            tuple(
                run if self._is_single(run) else of_side(run, half)
                for run, half in zip(side, halves, strict=True)
            )
            for side, halves in zip(seam.sides, on, strict=True)
        )
        half_of = {
            run.named: side
            for run, side in reversed(list(zip(seam.sides[0], on[0], strict=True)))
        }
        return seam.replace(
            name=name,
            title=title,
            sides=runs,
            ease=self._figure(seam, seam.ease, on),
            notches=tuple(self._mark(seam, m, on, half_of) for m in seam.notches),
            when=seam.when and self._on_side[on[0][0]](seam.when, "condition"),
        )

    def _figure(self, seam: Seam, text: str, on: list[list[str]]) -> str:
        """A working as one half has it, or of both where the seam is of both."""
        is_once = all(self._is_single(run) for side in seam.sides for run in side)
        of_both = is_once or len(set(on[0])) > 1
        rewrite = self._mean if of_both else self._on_side[on[0][0]]
        return rewrite(text, "working")

    def _mark(
        self, seam: Seam, mark: Any, on: list[list[str]], half_of: Mapping[str, str]
    ) -> Any:
        named = mark.at.partition(" ")[0]
        rewrite = self._on_side[half_of.get(named, on[0][0])]
        of_once = Run.of(named).piece in self._single
        return mark.replace(
            at=mark.at if of_once else rewrite(mark.at, "place"),
            beyond=self._figure(seam, mark.beyond, on),
            when=mark.when and rewrite(mark.when, "condition"),
        )


def sides_along(runs: Side) -> list[str]:
    """The half each edge of a side of a seam is of.

    A side that begins at a centre goes over the right half first, one that begins at a
    side (and so walks its first edge backwards) begins at the left side, where side
    openings are. Where it turns back along the same edge it crosses to the other half.
    """
    side = RIGHT if runs[0].forward else LEFT
    found = [side]
    for before, after in pairwise(runs):
        if before.key == after.key:
            side = LEFT if side == RIGHT else RIGHT
        found.append(side)
    return found


def _comes_back(side: Side) -> bool:
    return len({run.key for run in side}) < len(side)


def of_side(run: Run, side: str) -> Run:
    """The same edge of the panel of one half."""
    return run.on(f"{run.piece}_{side}")


def joined(folds: Side, piece: PieceOf, number: int, when: str | None) -> Seam:
    """The seam that a fold becomes, over the panels that hang below one another.

    Args:
        folds: what was on the fold, from the top.
        piece: the uppermost that is cut on the fold.
        number: where among the other folds of its cloth it comes. By its three snips,
            and where they lie, it is told from other seams (common practice).
    """
    top = folds[0]
    left, right = of_both(folds)
    at = at_share(left[0].named, _SHARES[number % 3])
    mark = take(SeamNotch, {"at": at, "count": 3})
    return Seam.model_construct(
        name=f"{top.piece}_{top.edge}_joined",
        title=_centre_title(piece),
        sides=(left, right),
        notches=(mark,),
        when=when,
    )


def _centre_title(piece: PieceOf) -> Composed:
    """What the seam down the middle of a piece is called.

    Of a facing, and of what is neither skirt nor lining, the piece is named.
    """
    cloth = {"shell": "", "lining": "lining_"}.get(piece.material)
    faces = {"waist_join", "facing_edge"} & set(piece.roles.values())
    if faces or not piece.body or cloth is None:
        return Composed("half.centre_seam", {"piece": piece.title})
    return Composed(f"half.{cloth}centre_{piece.body}", {})


def columns(
    folds: Mapping[Run, tuple[str | None, ...]], seams: Iterable[Seam]
) -> list[Side]:
    """Folds in runs, each fold in one: panels that hang one below another share one.

    Where the pieces below are cut on other conditions, such as the tiers of a number
    she chooses, each has its own.
    """
    below = _hanging_below(seams)
    waiting = dict.fromkeys(folds)
    hung = {fold.on(below.get(fold.piece, "")) for fold in waiting}
    found = []
    for top in sorted(waiting, key=hung.__contains__):
        column, fold = [], top
        while fold in waiting:
            del waiting[fold]
            column.append(fold)
            below_it = fold.on(below.get(fold.piece, ""))
            if below_it in folds and alike(folds[below_it], folds[fold]):
                fold = below_it
        if column:
            found.append(tuple(column))
    return found


def _hanging_below(seams: Iterable[Seam]) -> dict[str, str]:
    """Panels, each with the one that hangs below it.

    A seam joins the two along one edge of each, as a yoke seam does, and a side of
    another runs down the one and on down the other.
    """
    sides = [side for seam in seams for side in seam.sides]
    across = {
        frozenset(side[0].piece for side in seam.sides)
        for seam in seams
        if all(len(side) == 1 for side in seam.sides)
    }
    found: dict[str, str] = {}
    for side in sides:
        for upper, lower in pairwise(side):
            panels = frozenset((upper.piece, lower.piece))
            one_edge = upper.signed == lower.signed
            if one_edge and len(panels) == 2 and panels in across:
                # A side that walks its edges backwards goes up.
                one, two = (upper, lower) if upper.forward else (lower, upper)
                found[one.piece] = two.piece
    return found


def of_both(runs: Side) -> tuple[Side, Side]:
    """Runs as the left and the right half have them."""
    return _of_half(runs, LEFT), _of_half(runs, RIGHT)


def _of_half(runs: Side, side: str) -> Side:
    return tuple(of_side(run, side) for run in runs)


def faced(panels: list[str], seams: Iterable[Seam], drawn: Drawn) -> list[TurnOver]:
    """Steps that turn panels over, so that all lie with the same side up.

    The first panel is drawn as the left one lies; each further one lies beside one
    that is known, along their seam: one that is there whenever the first is, before one
    that is drawn for what is added to the skirt.
    """
    if not panels:
        return []
    steps = [_turned(panels[0], RIGHT)]
    pairs = [
        pair
        for seam in seams
        for ends in [[side[0] for side in seam.sides]]
        for pair in (ends, ends[::-1])
        if pair[0].piece in panels
    ]
    known = {panels[0]}
    always = [[()], drawn.get(panels[0])]
    while met := [
        pair for pair in pairs if pair[0].piece not in known and pair[1].piece in known
    ]:
        run, beside = min(
            met,
            key=lambda pair: (
                drawn.get(pair[1].piece, [()]) not in always
                and _may_lack(pair[0], pair[1], drawn)
            ),
        )
        known.add(run.piece)
        more = {"edge": run.signed, "beside_edge": beside.signed}
        steps += [
            _turned(run.piece, side, beside=named(f"{beside.piece}_{side}"), **more)
            for side in SIDES
        ]
    return steps


def _may_lack(run: Run, beside: Run, drawn: Drawn) -> bool:
    """Whether a panel may be drawn where the one beside it is not."""
    ways = drawn.get(beside.piece, [()])
    return not all(
        any(set(way) <= set(own) for way in ways) for own in drawn.get(run.piece, [()])
    )


def _turned(panel: str, side: str, **fields: str) -> TurnOver:
    name = f"{panel}_{side}"
    whole = {"step": f"{name}_turned", "kind": "turn_over", "panel": named(name)}
    return take(TurnOver, {**whole, **fields})
