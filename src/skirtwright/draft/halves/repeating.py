"""A draft whose left and right differ: the half repeated for each.

A style drafts one half. Where the card has a measurement for the left or the right,
the draft is written out twice, `front` becoming `front_left` and `front_right`, and
everything below works on it as on any other draft: a piece on a fold becomes two that
meet in a joined centre, a mirrored pair a left and a right one; what is cut once, such
as a band, stays one.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from typing import Any

from skirtwright.draft.draft import (
    Amount,
    Draft,
    Group,
    HandleOf,
    Level,
    PieceOf,
    Told,
)
from skirtwright.draft.halves.centres_met import (
    Centre,
    Meetings,
    conditions_of,
    meetings,
)
from skirtwright.draft.halves.cut_once import (
    NAME,
    CutOnce,
    Rewrite,
    has_own_pairs,
    is_single,
    names_made,
    texts_rewritten,
)
from skirtwright.draft.halves.seams_of_halves import (
    Sewing,
    columns,
    faced,
    joined,
    of_both,
    split,
)
from skirtwright.draft.inputs import Inputs
from skirtwright.draft.kinds.numbers import Check, Number
from skirtwright.draft.step import Step
from skirtwright.measures.measurements import SIDES, half_of, measurements, of_side

JOINED_ALLOWANCE = "1.5 cm"
"""Of a centre that was a fold: home sewing's seam allowance."""


class Halving:
    """Writes drafts out one after another; one that stays the same is kept."""

    def __init__(self) -> None:
        self._from: tuple[Draft, Mapping[str, tuple[float, float]]] | None = None
        self._made: Draft | None = None

    def of(self, draft: Draft, inputs: Inputs) -> tuple[Draft, Inputs]:
        """The draft and inputs with both halves written out, where they differ.

        Returns:
            The draft as it was when left and right are alike; and inputs without
            sides, each measurement taken by sides being the mean of the two.
        """
        sides = _sides(inputs.measurements)
        if not sides:
            return draft, inputs
        plain = {n: v for n, v in inputs.measurements.items() if not of_side(n)}
        for name, (left, right) in sides.items():
            plain[name] = (left + right) / 2
        whole = replace(inputs, measurements=plain)
        differing = {name: both for name, both in sides.items() if both[0] != both[1]}
        if not differing:
            return draft, whole
        kept = self._from
        if self._made is None or kept is None or kept != (draft, differing):
            self._made = _Writing(draft, differing).draft()
            self._from = (draft, differing)
        return self._made, whole


def _sides(given: Mapping[str, float]) -> dict[str, tuple[float, float]]:
    """Left and right of what was taken by sides, a half girth counted double."""
    found: dict[str, tuple[float, float]] = {}
    for name, known in measurements().items():
        left, right = (given.get(f"{name}_{side}") for side in SIDES)
        if known.sides == "half":
            found |= _half_girths(name, left, right, given.get(name))
        elif left is not None or right is not None:
            whole = given.get(name)
            found[name] = (_first(left, whole, right), _first(right, whole, left))
    return found


def _half_girths(
    name: str, left: float | None, right: float | None, whole: float | None
) -> dict[str, tuple[float, float]]:
    """A side that was not taken is what the whole leaves, or like the other."""
    if left is None and right is None:
        return {}
    rest = None if whole is None else whole - _first(left, right)
    return {name: (2 * _first(left, rest, right), 2 * _first(right, rest, left))}


def _first(*values: float | None) -> float:
    return next(value for value in values if value is not None)


class _Writing:
    """Writes one draft out for left and right."""

    def __init__(self, draft: Draft, sides: Mapping[str, tuple[float, float]]) -> None:
        self._whole = draft
        self._measured = sides
        self._amounts = _varying(draft.amounts, set(sides))
        # An amount's default sees no step, even one named as a measurement is.
        self._above = {*sides, *(a.name for a in self._amounts)}
        self._once = CutOnce(draft)
        made = set(names_made(draft.steps)) - self._once.only
        self._names = {*self._above, *made}
        self._conditions: dict[str, list[tuple[str, ...]]] = {}
        for name, above in conditions_of(draft.steps, ()):
            self._conditions.setdefault(name, []).append(above)
        on_side = {side: self._rewriting(side) for side in SIDES}
        paired = {p.panel for p in draft.pieces if has_own_pairs(p)}
        self._sewing = Sewing(self._once.panels, paired, on_side, self._mean)

    def draft(self) -> Draft:
        """The draft with both halves, and below them what is cut once."""
        whole = self._whole
        pieces = [piece for old in whole.pieces for piece in self._pieces(old)]
        seams = [seam for old in whole.seams for seam in self._sewing.seams(old)]
        folds: dict[tuple[str, str], list[str | None]] = {}
        for piece in whole.pieces:
            for edge in piece.folds:
                folds.setdefault((piece.panel, edge), []).append(piece.when)
        centres = []
        cloth = {piece.panel: piece.material for piece in reversed(whole.pieces)}
        joins: Counter[str] = Counter()
        for run in columns(folds, whole.seams):
            of_cloth = cloth[run[0][0]]
            seams.append(joined(run, joins[of_cloth], self._any_of(folds[run[0]])))
            joins[of_cloth] += 1
            centres.append(Centre(run, of_both(run)))
        for seam in whole.seams:
            sides = self._sewing.centre(seam)
            if sides is not None:
                run = [split(part) for part in seam.sides[0]]
                centres.append(Centre(run, sides, seam.when))
        steps = self._steps(meetings(whole.steps, centres))
        for step in faced(self._halved(), whole.seams):
            steps += self._where_drawn(step.panel.rpartition("_")[0], [step])
        steps += self._once.steps(self._mean_for_once, self._one_for_once)
        return whole.model_copy(
            update={
                "steps": tuple(steps),
                "seams": tuple(seams),
                "pieces": tuple(pieces),
                "finished": {n: self._mean(t) for n, t in whole.finished.items()},
                "stride": tuple(
                    Level(
                        girth=self._mean(at.girth),
                        below_waist=self._mean(at.below_waist),
                    )
                    for at in whole.stride
                ),
                "handles": tuple(
                    dict.fromkeys(
                        self._handle(handle, side)
                        for side in SIDES
                        for handle in whole.handles
                    )
                ),
                "checks": dict(self._told(whole.checks, SIDES)),
                # A sheet tells of a place once.
                "sewing": dict(self._told(whole.sewing, SIDES[:1])),
            }
        )

    def _steps(self, meet: Meetings) -> list[Any]:
        """The steps of both halves, their centres met where they are drawn."""
        steps = [step for side in SIDES for step in self._numbers(side)]
        for at, item in enumerate(self._whole.steps):
            for side in SIDES:
                steps += self._items(item, side, inside=False)
            for centre, moves in meet.get(at, ()):
                steps += self._where_drawn(centre.panel, moves, centre.when)
        return steps

    def _any_of(self, conditions: list[str | None]) -> str | None:
        """One condition for several, or None where one of them always holds."""
        one = self._rewriting(SIDES[0])
        told = [f"({one(when)})" for when in conditions if when]
        return " or ".join(told) if len(told) == len(conditions) else None

    def _where_drawn(
        self, panel: str, steps: Iterable[Step], when: str | None = None
    ) -> list[Any]:
        """Steps on a panel, under the conditions on which it is drawn and sewn."""
        found = list(steps)
        one = self._rewriting(SIDES[0])
        ways = self._conditions.get(panel, [()])
        drawn = () if () in ways else (" or ".join(map(_all_of, ways)),)
        above = (*drawn, *([when] if when else ()))
        if not above:
            return found
        name = f"{found[0].step}_where_drawn"
        return [Group(group=name, when=one(_all_of(above)), steps=tuple(found))]

    def _halved(self) -> list[str]:
        """The panels that are drawn for each half."""
        panels = dict.fromkeys(piece.panel for piece in self._whole.pieces)
        return [panel for panel in panels if panel not in self._once.panels]

    def _told(
        self, said: Mapping[str, str | Told], sides: tuple[str, ...]
    ) -> Iterator[tuple[str, str | Told]]:
        """What the draft says of itself: of its edges, or the mean of both halves."""
        halved = {p.name for p in self._whole.pieces if p.panel in self._halved()}
        sewn = {
            seam.name
            for seam in self._whole.seams
            if any(new.name != seam.name for new in self._sewing.seams(seam))
        }
        for key, told in said.items():
            measure, at, place = key.partition(" at ")
            piece, dot, edge = place.partition(".")
            if piece not in (halved if dot else sewn):
                yield key, _retold(told, self._mean, self._rewriting(SIDES[0]))
                continue
            for side in sides:
                rewrite = self._rewriting(side)
                new = f"{measure}{at}{piece}_{side}{dot}{edge}"
                yield new, _retold(told, rewrite, rewrite)

    def _rewriting(self, side: str, names: set[str] | None = None) -> Rewrite:
        known = self._names if names is None else names

        def one(match: re.Match[str]) -> str:
            name = match[1]
            return f"{name}_{side}" if name in known else match[0]

        return lambda text: NAME.sub(one, text)

    def _mean(self, text: str) -> str:
        return _mean_of(*(self._rewriting(side)(text) for side in SIDES))

    def _mean_for_once(self, text: str) -> str:
        """A working for what is cut once: its own names stay, a half's are meant."""
        return _mean_of(*(self._for_once(side)(text) for side in SIDES))

    def _one_for_once(self, text: str) -> str:
        return self._for_once(SIDES[0])(text)

    def _for_once(self, side: str) -> Rewrite:
        return self._rewriting(side, self._names - self._above - self._once.plain())

    def _numbers(self, side: str) -> list[Any]:
        """Measurements and amounts by rule of one side."""
        above = self._rewriting(side, self._above)
        steps: list[Any] = [
            _number(f"{name}_{side}", f"{both[SIDES.index(side)]} mm")
            for name, both in self._measured.items()
        ]
        for amount in self._amounts:
            zero = {"length": " + 0 cm", "angle": " + 0 deg"}.get(amount.kind, "")
            name, own = f"{amount.name}_{side}", f"{amount.name}_{side}_by_rule"
            steps.append(_number(own, f"({above(amount.default)}){zero}"))
            worked = f"{amount.name} if given({amount.name}) else {own}"
            steps.append(_number(name, worked))
        return steps

    def _items(self, item: Any, side: str, *, inside: bool) -> Iterator[Any]:
        """A step or group for one side; `inside` a repeated group names stay."""
        if not isinstance(item, Group):
            if not self._once.is_only(item):
                yield self._step(item, side, inside=inside)
            return
        rewrite = self._rewriting(side)
        within = inside or item.repeat is not None
        steps = [
            new
            for inner in item.steps
            for new in self._items(inner, side, inside=within)
        ]
        if steps or not item.steps:
            changes: dict[str, Any] = {
                "group": item.group if inside else f"{item.group}_{side}",
                "when": item.when and rewrite(item.when),
                "repeat": item.repeat and rewrite(item.repeat),
                "from_": None,
                "start": {n: rewrite(text) for n, text in item.start.items()},
                "steps": tuple(steps),
            }
            if item.find is not None:
                texts = item.find.model_dump(exclude_none=True, exclude={"kind"})
                find = {name: rewrite(text) for name, text in texts.items()}
                changes["find"] = item.find.model_copy(update=find)
            yield item.model_copy(update=changes)

    def _step(self, item: Any, side: str, *, inside: bool) -> Any:
        rewrite = self._rewriting(side)
        changes = {"step": item.step if inside else f"{item.step}_{side}"}
        for name in type(item).reading():
            changes[name] = texts_rewritten(getattr(item, name), rewrite)
        if isinstance(item, Check):
            changes["says"] = f"{side.capitalize()} half: {item.says}"
        for name in () if inside else item.makes:
            changes[name] = f"{getattr(item, name)}_{side}"
        return item.model_copy(update=changes)

    def _pieces(self, piece: PieceOf) -> Iterable[PieceOf]:
        if piece.panel in self._once.panels:
            whole = piece.model_dump(exclude_unset=True)
            own = whole.get("allowances", {})
            whole["allowances"] = texts_rewritten(own, self._mean_for_once)
            yield PieceOf.model_validate(whole)
            return
        own = half_of(piece.panel) if is_single(piece) else ""
        for side in [own] if own else SIDES:
            rewrite = self._rewriting(side)
            dumped = piece.model_dump(exclude_unset=True)
            widths = texts_rewritten(dumped.get("allowances", {}), rewrite)
            widths.update(dict.fromkeys(piece.folds, JOINED_ALLOWANCE))
            count = piece.count if piece.folds or own else f"({piece.count}) / 2"
            if has_own_pairs(piece):
                # An odd pair is the right half's: side openings are in the left.
                left = f"2 * round_down(({piece.count}) / 4, 1)"
                count = left if side == SIDES[0] else f"({piece.count}) - {left}"
                held = f"({piece.when}) and " if piece.when else ""
                dumped["when"] = f"{held}{count} > 0"
            texts = {
                key: rewrite(dumped[key])
                for key in ("when", "grain")
                if dumped.get(key) is not None
            }
            yield PieceOf.model_validate(
                {
                    **dumped,
                    **texts,
                    "name": piece.name if own else f"{piece.name}_{side}",
                    "title": piece.title if own else f"{piece.title}, {side}",
                    "panel": f"{piece.panel}_{side}",
                    "folds": (),
                    "count": rewrite(count),
                    "allowances": widths,
                }
            )

    def _handle(self, handle: HandleOf, side: str) -> HandleOf:
        rewrite = self._rewriting(side)
        return handle.model_copy(
            update={
                "place": rewrite(handle.place),
                "when": handle.when and rewrite(handle.when),
            }
        )


def _varying(amounts: Iterable[Amount], sides: set[str]) -> list[Amount]:
    """The amounts whose defaults hang on what differs.

    A length or a finish is of the whole skirt: one hem, one zip.
    """
    known, found = set(sides), []
    for amount in amounts:
        if amount.group in ("length", "finishing"):
            continue
        if known & {match[1] for match in NAME.finditer(amount.default)}:
            known.add(amount.name)
            found.append(amount)
    return found


def _all_of(conditions: Iterable[str]) -> str:
    return " and ".join(f"({condition})" for condition in conditions)


def _mean_of(left: str, right: str) -> str:
    return left if left == right else f"(({left}) + ({right})) / 2"


def _retold(told: str | Told, value: Rewrite, when: Rewrite) -> str | Told:
    if isinstance(told, str):
        return value(told)
    holds = told.when and when(told.when)
    return told.model_copy(update={"value": value(told.value), "when": holds})


def _number(name: str, value: str) -> Step:
    return Number(step=name, kind="number", value=value)
