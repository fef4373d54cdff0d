"""A draft whose left and right differ: the half repeated for each.

A style drafts one half. Where the card has a measurement for the left or the right,
the draft is written out twice, `front` becoming `front_left` and `front_right`, and
everything below works on it as on any other draft: a piece on a fold becomes two that
meet in a joined centre, a mirrored pair a left and a right one; what is cut once, such
as a band, stays one.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from functools import partial
from itertools import chain, groupby
from typing import Any, Final

from skirtwright.draft.draft import (
    AllowanceRun,
    Amount,
    Draft,
    Group,
    Level,
    PieceOf,
    PullOf,
    Told,
)
from skirtwright.draft.halves.centres_met import (
    Centre,
    Meetings,
    conditions_of,
    meetings,
)
from skirtwright.draft.halves.cut_once import CutOnce, has_own_pairs, unfolded
from skirtwright.draft.halves.rewriting import (
    Half,
    Mean,
    Rewrite,
    all_of,
    amount_or,
    any_of,
    divided,
    fields_rewritten,
    group_rewritten,
    is_cut,
    less,
    names_in,
    names_made,
    of_kind,
    pairs_of_half,
    results_named,
)
from skirtwright.draft.halves.seams_of_halves import (
    Sewing,
    columns,
    faced,
    joined,
    of_both,
)
from skirtwright.draft.kinds.numbers import Check, Number
from skirtwright.draft.runs import Run
from skirtwright.draft.step import LaterStep, Step
from skirtwright.measures.inch_column import with_inches
from skirtwright.measures.measurements import SIDES
from skirtwright.measures.records import take
from skirtwright.measures.units import Unit
from skirtwright.words import Composed

OF_SIDES: Final = ("length_left", "length_right")
"""The finished lengths where left and right are drawn apart."""

JOINED_ALLOWANCE: Final = "1.5 cm"
"""Of a centre that was a fold: home sewing's seam allowance."""


def written(draft: Draft, differing: tuple[str, ...], unit: Unit) -> Draft:
    """A draft with both halves, for what differs left and right, named above it.

    What is cut once for each turn of a group is not written out: that stops the draft.
    """
    for piece in draft.pieces:
        if piece.repeat is not None or "[" in piece.panel:
            stop = _repeated(piece)
            return draft.replace(steps=(stop, *draft.steps))
    return _Writing(draft, differing, unit).draft()


def _repeated(piece: PieceOf) -> Step:
    says = Composed("half.repeated", {"piece": piece.title.replace("{i}", "").strip()})
    fields = {"grade": "refuse", "says": says, "remedy": Composed("half.alike", {})}
    return take(
        Check, {"step": "left_and_right", "kind": "check", "when": "1 > 0", **fields}
    )


class _Writing:
    """Writes one draft out for left and right."""

    def __init__(self, draft: Draft, differing: tuple[str, ...], unit: Unit) -> None:
        self._whole = draft
        self._joined = JOINED_ALLOWANCE
        if unit == "in":
            self._joined = with_inches(JOINED_ALLOWANCE, is_length=True)
        self._measured = differing
        self._amounts = _varying(draft.amounts, set(differing))
        # An amount's default sees no step, even one named as a measurement is.
        self._above = {*differing, *(a.name for a in self._amounts)}
        self._once = CutOnce(draft)
        made = set(names_made(draft.steps)) - self._once.only
        self._names = {*self._above, *made}
        self._grouped: Counter[str] = Counter()
        self._conditions: dict[str, list[tuple[str, ...]]] = {}
        for name, above in conditions_of(draft.steps, ()):
            self._conditions.setdefault(name, []).append(above)
        self._on_side = _on_sides(self._names)
        self._of_left, of_right = self._on_side.values()
        both = self._of_left.own.values(), of_right.own.values()
        self._right_of = dict(zip(*both, strict=True))
        self._first: dict[int, LaterStep] = {}
        self._mean = Mean(*self._on_side.values())
        of_halves = self._names - self._above - self._once.plain()
        for_once = _on_sides(of_halves)
        self._mean_for_once = Mean(*for_once.values())
        self._one_for_once = for_once[SIDES[0]]
        self._cut_of = {p.panel: p.name for p in reversed(draft.pieces)}
        paired = {p.panel for p in draft.pieces if has_own_pairs(p)}
        halves = {p.panel: (p.half, p.whole or p.panel) for p in draft.pieces if p.half}
        self._sewing = Sewing(
            self._once.panels, paired, halves, self._on_side, self._mean
        )
        self._seams = [list(self._sewing.seams(seam)) for seam in draft.seams]

    def draft(self) -> Draft:
        """The draft with both halves, and below them what is cut once."""
        whole = self._whole
        pieces = [piece for old in whole.pieces for piece in self._pieces(old)]
        seams = [seam for halves in self._seams for seam in halves]
        folds: dict[Run, list[PieceOf]] = {}
        for piece in whole.pieces:
            for edge in piece.folds:
                folds.setdefault(Run(piece.panel, edge), []).append(piece)
        centres = []
        joins: Counter[str] = Counter()
        whens = {fold: tuple(p.when for p in cut) for fold, cut in folds.items()}
        for column in columns(whens, whole.seams):
            cut = folds[column[0]]
            when = self._either_condition([piece.when for piece in cut])
            seams.append(joined(column, cut[0], joins[cut[0].material], when))
            joins[cut[0].material] += 1
            centres.append(Centre(column, of_both(column)))
        for seam in whole.seams:
            sides = self._sewing.centre(seam)
            if sides is not None:
                centres.append(Centre(seam.sides[0], sides, seam.when))
        folds_out = unfolded(whole.steps)
        centres += [Centre((fold,), of_both((fold,))) for fold in folds_out]
        items = list(_one_by_one(whole.steps))
        steps = self._steps(items, meetings(items, centres))
        panels = dict.fromkeys(piece.panel for piece in whole.pieces)
        halved = [panel for panel in panels if panel not in self._once.panels]
        for step in faced(halved, whole.seams, self._conditions):
            steps += self._where_drawn(step.panel.rpartition("_")[0], [step])
        steps += self._once.steps(self._mean_for_once, self._one_for_once)
        return whole.replace(
            steps=tuple(steps),
            seams=tuple(seams),
            pieces=tuple(pieces),
            finished=dict(self._finished()),
            stride=tuple(map(self._level, whole.stride)),
            pulls=tuple(
                dict.fromkeys(
                    self._pull(pull, side) for side in SIDES for pull in whole.pulls
                )
            ),
            checks=dict(self._told(whole.checks, SIDES)),
            sewing=dict(self._told(whole.sewing, SIDES[:1])),
        )

    def _steps(self, items: list[Any], meet: Meetings) -> list[Any]:
        """The steps of both halves, their centres met where they are drawn."""
        steps = [step for side in SIDES for step in self._numbers(side)]
        for at, item in enumerate(items):
            for part in _parts(item):
                for side in SIDES:
                    steps += self._items(part, side, inside=False)
            for centre, moves in meet.get(at, ()):
                steps += self._where_drawn(centre.panel, moves, centre.when)
        return steps

    def _finished(self) -> Iterator[tuple[str, str]]:
        """The finished measures, the mean of both halves; of each side its length."""
        for name, text in self._whole.finished.items():
            yield name, self._mean(text)
            own = [rewrite(text, "working") for rewrite in self._on_side.values()]
            if name == "length" and own[0] != own[1]:
                yield from zip(OF_SIDES, own, strict=True)

    def _level(self, level: Level) -> Level:
        texts = {name: self._mean(text) for name, text in level}
        return level.replace(**texts)

    def _either_condition(self, conditions: list[str | None]) -> str | None:
        """One condition for several, or None where one of them always holds."""
        told = [self._of_left(when, "condition") for when in conditions if when]
        return any_of(told) if len(told) == len(conditions) else None

    def _where_drawn(
        self, panel: str, steps: Iterable[Step], when: str | None = None
    ) -> list[Any]:
        """Steps on a panel, under the conditions on which it is drawn and sewn."""
        found = tuple(steps)
        ways = self._conditions.get(panel, [()])
        above = [] if () in ways else [any_of(map(all_of, ways))]
        if when:
            above.append(when)
        if not above:
            return list(found)
        name = f"{found[0].step}_where_drawn"
        self._grouped[name] += 1
        if self._grouped[name] > 1:
            # An edge may be met as a seam and, on the fold, once more.
            name = f"{name}_{self._grouped[name]}"
        holds = self._of_left(all_of(above), "condition")
        return [Group.model_construct(group=name, when=holds, steps=found)]

    def _told(
        self, said: Mapping[str, str | Told], sides: tuple[str, ...]
    ) -> Iterator[tuple[str, str | Told]]:
        """What the draft says of itself: of its edges, or the mean of both halves."""
        once = self._once.panels
        halved = {p.name for p in self._whole.pieces if p.panel not in once}
        sewn = {
            seam.name
            for seam, halves in zip(self._whole.seams, self._seams, strict=True)
            if any(new.name != seam.name for new in halves)
        }
        for key, told in said.items():
            measure, at, place = key.partition(" at ")
            piece, dot, edge = place.partition(".")
            if piece not in (halved if dot else sewn):
                yield key, self._retold(told, self._mean, SIDES[0])
                continue
            for side in sides:
                new = f"{measure}{at}{piece}_{side}{dot}{edge}"
                yield new, self._retold(told, self._on_side[side], side)

    def _retold(self, told: str | Told, value: Rewrite, side: str) -> str | Told:
        """What is told, as a half has it; a word that is a panel's name too stays."""
        text = told if isinstance(told, str) else told.value
        new = text if text in self._cut_of else value(text, "working")
        if isinstance(told, str):
            return new
        holds = told.when and self._on_side[side](told.when, "condition")
        return told.replace(value=new, when=holds)

    def _numbers(self, side: str) -> Iterator[Step]:
        """Amounts by rule of one side."""
        names = {name: f"{name}_{side}" for name in self._above}
        for amount in self._amounts:
            name, own = f"{amount.name}_{side}", f"{amount.name}_{side}_by_rule"
            rule = results_named(amount.working("default"), names)
            yield number(own, of_kind(rule, amount.kind))
            yield number(name, amount_or(amount.name, own))

    def _items(self, item: Any, side: str, *, inside: bool) -> list[Any]:
        """A step or group for one side; `inside` a repeated group names stay."""
        if self._once.is_only(item):
            return []
        if not isinstance(item, Group):
            # What differs is a number of each half already.
            found = [] if item.step in self._measured else [item]
            return [self._step(step, side, inside=inside) for step in found]
        within = inside or item.repeat is not None
        steps = [
            new
            for inner in item.steps
            for new in self._items(inner, side, inside=within)
        ]
        if item.steps and not steps:
            return []
        changes = group_rewritten(item, self._on_side[side])
        name = item.group if inside else f"{item.group}_{side}"
        return [item.replace(**changes, group=name, from_=None, steps=tuple(steps))]

    def _step(self, item: Step, side: str, *, inside: bool) -> Step | LaterStep:
        """A step for one side; most are never asked for as they would be written."""
        ending = "" if inside else f"_{side}"
        if _is_of_both(item):
            return self._step_written(item, side, ending)
        rewrite, panel = self._on_side[side], int(bool(item.rewrites))
        results = tuple(
            name + ending if n >= panel else rewrite(name, "place")
            for n, name in enumerate(item.results())
        )
        first = self._first.get(id(item)) if side != SIDES[0] else None
        write = partial(self._step_written, item, side, ending)
        name, right_of = item.step + ending, self._right_of
        step = LaterStep(item, name, results, rewrite.own, first, right_of, write)
        self._first.setdefault(id(item), step)
        return step

    def _step_written(self, item: Step, side: str, ending: str) -> Step:
        rewrite = self._mean if _is_of_both(item) else self._on_side[side]
        changes = fields_rewritten(item, rewrite)
        changes["step"] = item.step + ending
        if isinstance(item, Check):
            changes["says"] = Composed(f"half.says_{side}", {"says": item.says})
        for name in item.makes if ending else ():
            changes[name] = f"{getattr(item, name)}{ending}"
        return item.replace(**changes)

    def _pieces(self, piece: PieceOf) -> Iterator[PieceOf]:
        if piece.panel in self._once.panels:
            widths = _allowances(piece, self._mean_for_once)
            yield piece.replace(allowances=widths)
            return
        own = piece.half or ""
        for side in [own] if own else SIDES:
            yield self._piece(piece, side, own=bool(own))

    def _piece(self, piece: PieceOf, side: str, *, own: bool) -> PieceOf:
        """A piece of one half; its `own` where the style has none for the other."""
        rewrite = self._on_side[side]
        when, count = piece.when, piece.count
        if has_own_pairs(piece):
            # An odd pair is the right half's: side openings are in the left.
            left = pairs_of_half(count)
            count = left if side == SIDES[0] else less(count, left)
            held = [when] if when else []
            when = all_of([*held, is_cut(count)])
        elif not (piece.folds or own):
            count = divided(count, 2.0)
        title = Composed(f"half.{side}", {"title": piece.title})
        changes: dict[str, Any] = {
            "name": piece.name if own else f"{piece.name}_{side}",
            "title": piece.title if own else title,
            "panel": f"{piece.panel}_{side}",
            "worn": piece.worn and f"{piece.worn}_{side}",
            "half": side,
            "whole": piece.whole if own else piece.name,
            "folds": (),
            "count": rewrite(count, "working"),
            "allowances": self._widths(piece, rewrite),
            "when": when and rewrite(when, "condition"),
            "grain": piece.grain and rewrite(piece.grain, "working"),
        }
        return piece.replace(**changes)

    def _widths(self, piece: PieceOf, rewrite: Rewrite) -> dict[str, Any]:
        """Allowances of a half; what was a fold has one where it is joined."""
        widths = _allowances(piece, rewrite)
        for edge in piece.folds:
            joins = self._cut_of[piece.panel] == piece.name
            widths[edge] = self._joined if joins else "0"
        return widths

    def _pull(self, pull: PullOf, side: str) -> PullOf:
        rewrite = self._on_side[side]
        return pull.replace(
            place=rewrite(pull.place, "place"),
            when=pull.when and rewrite(pull.when, "condition"),
        )


def _is_of_both(item: Any) -> bool:
    return isinstance(item, Number) and item.of_both


def _one_by_one(items: Iterable[Any]) -> Iterator[Any]:
    """Steps and groups; a whole draft this one grew from has what it begins with too.

    What is drawn on from its centres is so drawn from where they have met.
    """
    for item in items:
        if _is_plain(item) and any(map(_is_plain, item.steps)):
            for inner in item.steps:
                yield item.replace(steps=(inner,))
        else:
            yield item


def _is_plain(item: Any) -> bool:
    """Whether it is a group of steps that are worked once and always."""
    return isinstance(item, Group) and not (item.when or item.find or item.repeat)


def _parts(item: Any) -> Iterator[Any]:
    """A step, or a group in parts: a number of both halves needs both drawn so far."""
    if not (isinstance(item, Group) and _shares(item)) or item.find or item.repeat:
        yield item
        return
    for shared, steps in groupby(chain.from_iterable(map(_parts, item.steps)), _shares):
        for part in [[step] for step in steps] if shared else [list(steps)]:
            yield item.replace(steps=tuple(part))


def _shares(item: Any) -> bool:
    """Whether a number of both halves is in it."""
    if isinstance(item, Group):
        return any(map(_shares, item.steps))
    return _is_of_both(item)


def _on_sides(names: Iterable[str]) -> dict[str, Half]:
    """For each side what gives names the side they are of."""
    return {side: Half(side, names) for side in SIDES}


def _allowances(piece: PieceOf, rewrite: Rewrite) -> dict[str, Any]:
    return {
        edge: rewrite(width, "working")
        if isinstance(width, str)
        else tuple(_run(run, rewrite) for run in width)
        for edge, width in piece.allowances.items()
    }


def _run(run: AllowanceRun, rewrite: Rewrite) -> AllowanceRun:
    to = run.to and rewrite(run.to, "working")
    return run.replace(to=to, width=rewrite(run.width, "working"))


def _varying(amounts: Iterable[Amount], sides: set[str]) -> list[Amount]:
    """The amounts whose defaults hang on what differs.

    A length or a finish is of the whole skirt: one hem, one zip.
    """
    known, found = set(sides), []
    for amount in amounts:
        if amount.group in ("length", "finishing"):
            continue
        if known & names_in(amount.working("default"), "working"):
            known.add(amount.name)
            found.append(amount)
    return found


def number(name: str, value: str) -> Step:
    """A step that gives a number a name."""
    return take(Number, {"step": name, "kind": "number", "value": value})
