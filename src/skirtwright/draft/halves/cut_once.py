"""What is drawn once for the whole skirt though its left and right differ.

A band, a channel, a piece cut once and not on a fold: it goes round both halves. Its
steps are written once more under their own names, below both halves; what they take
from a half, such as the length of its waist, they take as the mean of left and right,
so that twice the one half is the whole.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from skirtwright.draft.draft import Draft, Group, PieceOf
from skirtwright.draft.kinds.numbers import Check, Number
from skirtwright.draft.step import Reads
from skirtwright.measures.measurements import half_of

NAME = re.compile(r"given\(\w+\)|mark \w+|is \w+|(?<![\w.])([A-Za-z_]\w*)")
"""A name within a working; what stands before it there and is none is passed over."""

Rewrite = Callable[[str], str]

_FIGURES = (Reads.LENGTH, Reads.RATIO, Reads.DEGREES, Reads.FIGURE, Reads.WHETHER)


def texts_rewritten(value: Any, rewrite: Rewrite) -> Any:
    """Every text within a field, rewritten."""
    if isinstance(value, str):
        return rewrite(value)
    if isinstance(value, Mapping):
        return {key: texts_rewritten(item, rewrite) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [texts_rewritten(item, rewrite) for item in value]
    return value


def names_made(items: Iterable[Any]) -> Iterator[str]:
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
            yield from names_made(item.steps)


@dataclass(frozen=True)
class _Unit:
    """A step, or a group worked as one, with what it makes and leans on by name."""

    item: Any
    makes: frozenset[str]
    shapes: frozenset[str]
    figures: frozenset[str]

    @property
    def leans_on(self) -> frozenset[str]:
        return self.shapes | self.figures


class CutOnce:
    """What of a draft is drawn once.

    Attributes:
        panels: of the pieces that are cut once.
        only: names that no half has: they are made below both halves.
    """

    def __init__(self, draft: Draft) -> None:
        self._steps = draft.steps
        self._units = list(_units(draft.steps, frozenset()))
        self.panels = frozenset(_panels(draft))
        drawn = self._reached(self.panels, lambda unit: unit.shapes)
        halves = {piece.panel for piece in draft.pieces} - self.panels
        of_halves = self._reached(halves, lambda unit: unit.leans_on)
        only: set[str] = set()
        for unit in self._units:
            whole = unit.makes & (drawn - of_halves) and not isinstance(
                unit.item, Number
            )
            if self.panels and (whole or unit.leans_on & only):
                only |= unit.makes
        self.only = frozenset(only)
        self._written = self._with_figures(drawn | only)

    def is_only(self, item: Any) -> bool:
        """Whether a step or a found or repeated group belongs to no half."""
        return not self.only.isdisjoint(names_made([item]))

    def steps(self, mean: Rewrite, one: Rewrite) -> list[Any]:
        """The steps under their own names.

        Args:
            mean: a working with what it takes from a half as the mean of both.
            one: a condition with what it takes from a half as the left has it.
        """
        return [
            new
            for item in self._steps
            for new in self._item(item, mean, one)
            if self.panels
        ]

    def plain(self) -> frozenset[str]:
        """The names that `steps` makes."""
        return self._written

    def _reached(
        self, panels: Iterable[str], leans: Callable[[_Unit], frozenset[str]]
    ) -> frozenset[str]:
        """Every name that panels are drawn with."""
        known = set(panels)
        for unit in reversed(self._units):
            if unit.makes & known and not isinstance(unit.item, Check):
                known |= unit.makes | leans(unit)
        return frozenset(known)

    def _with_figures(self, names: frozenset[str]) -> frozenset[str]:
        """Names with the numbers they are worked with."""
        known = set(names)
        for unit in reversed(self._units):
            if unit.makes & known:
                known |= unit.makes | {
                    name for name in unit.figures if name in self._numbers
                }
        return frozenset(known)

    @property
    def _numbers(self) -> frozenset[str]:
        made = [u.makes for u in self._units if isinstance(u.item, Number)]
        return frozenset().union(*made)

    def _item(self, item: Any, mean: Rewrite, one: Rewrite) -> Iterator[Any]:
        if isinstance(item, Group) and item.find is None and item.repeat is None:
            inner = [n for step in item.steps for n in self._item(step, mean, one)]
            if inner:
                changes = {"steps": tuple(inner), "from_": None}
                when = item.when and one(item.when)
                yield item.model_copy(update={**changes, "when": when})
        elif not self._written.isdisjoint(names_made([item])):
            yield item if isinstance(item, Group) else _meant(item, mean, one)


def _meant(step: Any, mean: Rewrite, one: Rewrite) -> Any:
    """A step whose figures are taken from both halves."""
    changes = {}
    for name, how in type(step).reading().items():
        if how in _FIGURES:
            rewrite = one if how is Reads.WHETHER else mean
            changes[name] = texts_rewritten(getattr(step, name), rewrite)
    return step.model_copy(update=changes)


def _panels(draft: Draft) -> set[str]:
    """Panels of which one piece is cut, not on a fold and not of one half alone."""
    once = {p.panel for p in draft.pieces if is_single(p) and not half_of(p.panel)}
    return once - {p.panel for p in draft.pieces if not is_single(p)}


def is_single(piece: PieceOf) -> bool:
    """Whether one piece is cut, and not on a fold."""
    return not piece.folds and piece.count.strip() == "1"


def has_own_pairs(piece: PieceOf) -> bool:
    """Whether each half has its own pairs of a piece, as of a pocket's bags."""
    return not piece.folds and piece.count.strip() not in ("1", "2")


def _units(items: Iterable[Any], conditions: frozenset[str]) -> Iterator[_Unit]:
    for item in items:
        if isinstance(item, Group) and item.find is None and item.repeat is None:
            yield from _units(item.steps, conditions | names_in(item.when or ""))
        elif isinstance(item, Group):
            # What is sought or repeated is worked as one.
            texts = str(item.model_dump(exclude={"group", "from_"}))
            makes = frozenset(names_made([item]))
            yield _Unit(item, makes, names_in(texts) - makes, conditions)
        else:
            yield _of_step(item, conditions)


def _of_step(step: Any, conditions: frozenset[str]) -> _Unit:
    figures: set[str] = set(conditions)
    shapes: set[str] = set()
    for name, how in type(step).reading().items():
        found = figures if how in _FIGURES else shapes
        texts_rewritten(getattr(step, name), _collecting(found))
    return _Unit(
        step,
        frozenset({step.step, *step.results()}),
        frozenset(shapes),
        frozenset(figures),
    )


def _collecting(found: set[str]) -> Rewrite:
    def collect(text: str) -> str:
        found.update(names_in(text))
        return text

    return collect


def names_in(text: str) -> frozenset[str]:
    """The names a working or a place speaks of."""
    return frozenset(match[1] for match in NAME.finditer(text) if match[1])
