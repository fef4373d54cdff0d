"""A draft whose left and right differ: the half repeated for each.

A style drafts one half. Where the card has a measurement for the left or the right,
the draft is written out twice, `front` becoming `front_left` and `front_right`, and
everything below works on it as on any other draft: a piece on a fold becomes two that
meet in a joined centre, a mirrored pair becomes a left and a right one, every seam is
sewn on both sides.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import Any

from skirtwright.draft.draft import (
    Amount,
    Draft,
    Group,
    HandleOf,
    Level,
    PieceOf,
    Seam,
)
from skirtwright.draft.inputs import Inputs
from skirtwright.draft.kinds.halving import MoveStart, TurnOver
from skirtwright.draft.kinds.numbers import Check, Number
from skirtwright.draft.step import Step
from skirtwright.measures.measurements import SIDES, measurements, of_side

JOINED_ALLOWANCE = "1.5 cm"
"""Of a centre that was a fold: home sewing's seam allowance."""

_NAME = re.compile(r"given\(\w+\)|mark \w+|is \w+|(?<![\w.])([A-Za-z_]\w*)")
_Rewrite = Callable[[str], str]


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
        self._names = {*self._above, *_made(draft.steps)}

    def draft(self) -> Draft:
        """The draft with both halves."""
        whole = self._whole
        steps = [step for side in SIDES for step in self._half(side)]
        pieces = [piece for old in whole.pieces for piece in self._pieces(old)]
        folds = [(p.panel, edge) for p in whole.pieces for edge in p.folds]
        seams = [seam for old in whole.seams for seam in self._seams(old)]
        seams += [_joined(panel, edge) for panel, edge in folds]
        meeting = [((panel, edge),) for panel, edge in folds] + [
            tuple(_split(part) for part in seam.sides[0])
            for seam in whole.seams
            if seam.sides[0] == seam.sides[1]
        ]
        steps += [step for run in meeting for step in _meeting(run)]
        steps += self._faced()
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
                    self._handle(handle, side)
                    for side in SIDES
                    for handle in whole.handles
                ),
            }
        )

    def _rewriting(self, side: str, names: set[str] | None = None) -> _Rewrite:
        known = self._names if names is None else names

        def one(match: re.Match[str]) -> str:
            name = match[1]
            return f"{name}_{side}" if name in known else match[0]

        return lambda text: _NAME.sub(one, text)

    def _mean(self, text: str) -> str:
        left, right = (self._rewriting(side)(text) for side in SIDES)
        return f"(({left}) + ({right})) / 2"

    def _half(self, side: str) -> list[Any]:
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
        steps += [self._item(item, side, inside=False) for item in self._whole.steps]
        return steps

    def _item(self, item: Any, side: str, *, inside: bool) -> Any:
        """A step or group for one side; `inside` a repeated group names stay."""
        rewrite = self._rewriting(side)
        if isinstance(item, Group):
            within = inside or item.repeat is not None
            changes: dict[str, Any] = {
                "group": item.group if inside else f"{item.group}_{side}",
                "when": item.when and rewrite(item.when),
                "repeat": item.repeat and rewrite(item.repeat),
                "from_": None,
                "start": {n: rewrite(text) for n, text in item.start.items()},
                "steps": tuple(
                    self._item(inner, side, inside=within) for inner in item.steps
                ),
            }
            if item.find is not None:
                texts = item.find.model_dump(exclude_none=True, exclude={"kind"})
                find = {name: rewrite(text) for name, text in texts.items()}
                changes["find"] = item.find.model_copy(update=find)
            return item.model_copy(update=changes)
        changes = {"step": item.step if inside else f"{item.step}_{side}"}
        for name in type(item).reading():
            changes[name] = _all_texts(getattr(item, name), rewrite)
        if isinstance(item, Check):
            changes["says"] = f"{side.capitalize()} half: {item.says}"
        for name in item.makes:
            if not inside:
                changes[name] = f"{getattr(item, name)}_{side}"
        return item.model_copy(update=changes)

    def _faced(self) -> list[Any]:
        """Steps that turn panels over, so that all lie with the same side up.

        The first panel is drawn as the left one lies; each further one lies beside
        one that is known, along their seam.
        """
        panels = list(dict.fromkeys(piece.panel for piece in self._whole.pieces))
        if not panels:
            return []
        steps = [_turned(panels[0], SIDES[1])]
        known, seams = {panels[0]}, list(self._whole.seams)
        for _ in panels:
            for seam in seams:
                ends = [_split(run[0]) for run in seam.sides]
                for (panel, edge), (beside, its_edge) in (ends, ends[::-1]):
                    if panel in known or beside not in known or panel not in panels:
                        continue
                    known.add(panel)
                    steps += [
                        _turned(
                            panel,
                            side,
                            edge=edge,
                            beside=f"{beside}_{side}",
                            beside_edge=its_edge,
                        )
                        for side in SIDES
                    ]
        return steps

    def _pieces(self, piece: PieceOf) -> Iterable[PieceOf]:
        for side in SIDES:
            rewrite = self._rewriting(side)
            dumped = piece.model_dump(exclude_unset=True)
            widths = _all_texts(dumped.get("allowances", {}), rewrite)
            widths.update(dict.fromkeys(piece.folds, JOINED_ALLOWANCE))
            count = piece.count if piece.folds else f"({piece.count}) / 2"
            texts = {
                key: rewrite(dumped[key])
                for key in ("when", "grain")
                if dumped.get(key) is not None
            }
            yield PieceOf.model_validate(
                {
                    **dumped,
                    **texts,
                    "name": f"{piece.name}_{side}",
                    "title": f"{piece.title}, {side}",
                    "panel": f"{piece.panel}_{side}",
                    "folds": (),
                    "count": rewrite(count),
                    "allowances": widths,
                }
            )

    def _seams(self, seam: Seam) -> Iterable[Seam]:
        if seam.sides[0] == seam.sides[1]:
            yield self._seam(seam, seam.name, SIDES)
            return
        for side in SIDES:
            yield self._seam(seam, f"{seam.name}_{side}", (side, side))

    def _seam(self, seam: Seam, name: str, on: tuple[str, ...]) -> Seam:
        rewrite = self._rewriting(on[0])
        runs = tuple(
            tuple(_of_side(part, side) for part in run)
            for run, side in zip(seam.sides, on, strict=True)
        )
        notches = tuple(
            mark.model_copy(
                update={
                    "at": rewrite(mark.at),
                    "beyond": rewrite(mark.beyond),
                    "when": mark.when and rewrite(mark.when),
                }
            )
            for mark in seam.notches
        )
        title = f"{seam.title}, {on[0]}" if on[0] == on[1] else seam.title
        return seam.model_copy(
            update={
                "name": name,
                "title": title,
                "sides": runs,
                "ease": rewrite(seam.ease),
                "notches": notches,
                "when": seam.when and rewrite(seam.when),
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
        if known & {match[1] for match in _NAME.finditer(amount.default)}:
            known.add(amount.name)
            found.append(amount)
    return found


def _made(items: Iterable[Any]) -> Iterable[str]:
    """Every name that steps and groups make, outside repeated groups."""
    for item in items:
        if not isinstance(item, Group):
            yield item.step
            yield from item.results()
            continue
        yield item.group
        if item.find is not None:
            yield item.find.unknown
        if item.repeat is None:
            yield from _made(item.steps)


def _all_texts(value: Any, rewrite: _Rewrite) -> Any:
    if isinstance(value, str):
        return rewrite(value)
    if isinstance(value, Mapping):
        return {key: _all_texts(item, rewrite) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_all_texts(item, rewrite) for item in value]
    return value


def _split(part: str) -> tuple[str, str]:
    """`-panel.edge` as the panel and the signed edge."""
    sign = "-" if part.startswith("-") else ""
    panel, _, edge = part.removeprefix("-").partition(".")
    return panel, sign + edge


def _of_side(part: str, side: str) -> str:
    panel, edge = _split(part)
    sign = "-" if edge.startswith("-") else ""
    return f"{sign}{panel}_{side}.{edge.removeprefix('-')}"


def _number(name: str, value: str) -> Step:
    return Number(step=name, kind="number", value=value)


def _turned(panel: str, side: str, **fields: str) -> Step:
    name = f"{panel}_{side}"
    return TurnOver(step=f"{name}_turned", kind="turn_over", panel=name, **fields)


def _joined(panel: str, edge: str) -> Seam:
    """The seam that a fold becomes."""
    sides = tuple((f"{panel}_{side}.{edge}",) for side in SIDES)
    return Seam.model_validate(
        {"name": f"{panel}_{edge}_joined", "title": f"{panel} {edge}", "sides": sides}
    )


def _meeting(run: tuple[tuple[str, str], ...]) -> list[Step]:
    """Makes two centres equally long at their start, each by half the difference."""
    left, right = (
        " + ".join(
            f"walk({panel}_{side}.{edge.removeprefix('-')})" for panel, edge in run
        )
        for side in SIDES
    )
    panel, edge = run[0]
    ways = (f"({right} - ({left})) / 2", f"{left} - ({right})")
    return [
        MoveStart(
            step=f"{panel}_{side}_{edge}_met",
            kind="move_start",
            panel=f"{panel}_{side}",
            edge=edge.removeprefix("-"),
            by=by,
        )
        for side, by in zip(SIDES, ways, strict=True)
    ]
