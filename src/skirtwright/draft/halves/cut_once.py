"""What is drawn once for the whole skirt though its left and right differ.

A band, a channel, a piece cut once and not on a fold: it goes round both halves. Its
steps are written once more under their own names, below both halves; what they take
from a half, such as the length of its waist, they take as the mean of left and right,
so that twice the one half is the whole. What is unfolded is opened out from both.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from skirtwright.draft.draft import Draft, Group, PieceOf
from skirtwright.draft.halves.rewriting import (
    FIGURES,
    Rewrite,
    how_of,
    names_in,
    names_in_group,
    names_in_step,
    names_made,
    rewritten,
)
from skirtwright.draft.kinds.numbers import Check, Number
from skirtwright.draft.kinds.panels_from_panels import Unfold
from skirtwright.draft.runs import Run
from skirtwright.draft.step import Reads
from skirtwright.measures.measurements import SIDES


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
        self._bodies = {piece.panel: piece.body for piece in draft.pieces}
        self._units = list(_units(draft.steps, frozenset()))
        self.panels = frozenset(_panels(draft))
        drawn = self._reached(self.panels, lambda unit: unit.shapes)
        halves = {piece.panel for piece in draft.pieces} - self.panels
        of_halves = self._reached(halves, lambda unit: unit.leans_on)
        whole, only = drawn - of_halves, set[str]()
        for unit in self._units if self.panels else ():
            is_drawn = unit.makes & whole and not isinstance(unit.item, Number)
            if is_drawn or unit.leans_on & only:
                only |= unit.makes
        self.only = frozenset(only)
        self._only_items = {id(u.item) for u in self._units if u.makes & self.only}
        self._written = self._with_figures(drawn | only)

    def is_only(self, item: Any) -> bool:
        """Whether a step, or a found or repeated group, belongs to no half."""
        return id(item) in self._only_items

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
        made = [u.makes for u in self._units if isinstance(u.item, Number)]
        numbers = frozenset().union(*made)
        known = set(names)
        for unit in reversed(self._units):
            if unit.makes & known:
                known |= unit.makes | unit.figures & numbers
        return frozenset(known)

    def _item(self, item: Any, mean: Rewrite, one: Rewrite) -> Iterator[Any]:
        if isinstance(item, Group) and item.find is None and item.repeat is None:
            inner = [n for step in item.steps for n in self._item(step, mean, one)]
            if inner:
                changes = {"steps": tuple(inner), "from_": None}
                when = item.when and one(item.when, "condition")
                yield item.replace(**changes, when=when)
        elif not self._written.isdisjoint(names_made([item])):
            if isinstance(item, Unfold):
                item = self._of_both(item)
            yield item if isinstance(item, Group) else _meant(item, mean, one)

    def _of_both(self, step: Unfold) -> Unfold:
        """A panel opened out from both halves, as it is seen from outside.

        In front her left is drawn, behind her right: it lies to the right there.
        """
        sides = SIDES[::-1] if self._bodies.get(step.step) == "back" else SIDES
        drawn, mirrored = (f"{step.panel}_{side}" for side in sides)
        return step.replace(panel=drawn, other=mirrored)


def _meant(step: Any, mean: Rewrite, one: Rewrite) -> Any:
    """A step whose figures are taken from both halves."""
    changes = {}
    for name, reads in type(step).reading().items():
        if reads in FIGURES:
            rewrite = one if reads is Reads.WHETHER else mean
            changes[name] = rewritten(getattr(step, name), how_of(reads), rewrite)
    return step.replace(**changes)


def _panels(draft: Draft) -> set[str]:
    """Panels of which one piece is cut, not on a fold and not of one half alone."""
    single = {p.panel for p in draft.pieces if is_single(p) and p.half is None}
    return single - {p.panel for p in draft.pieces if not is_single(p)}


def unfolded(items: Iterable[Any]) -> Iterator[Run]:
    """The folds over which panels are opened out."""
    for item in items:
        if isinstance(item, Group):
            yield from unfolded(item.steps)
        elif isinstance(item, Unfold):
            yield Run(item.panel, item.fold)


def is_single(piece: PieceOf) -> bool:
    """Whether one piece is cut, and not on a fold."""
    return not piece.folds and piece.count.strip() == "1"


def has_own_pairs(piece: PieceOf) -> bool:
    """Whether each half has its own pairs of a piece, as of a pocket's bags."""
    return not piece.folds and piece.count.strip() not in ("1", "2")


def _units(items: Iterable[Any], conditions: frozenset[str]) -> Iterator[_Unit]:
    for item in items:
        if isinstance(item, Group) and item.find is None and item.repeat is None:
            above = names_in(item.when, "condition") if item.when else frozenset()
            yield from _units(item.steps, conditions | above)
        elif isinstance(item, Group):
            # What is sought or repeated is worked as one.
            makes = frozenset(names_made([item]))
            yield _Unit(item, makes, names_in_group(item) - makes, conditions)
        else:
            figures, shapes = names_in_step(item)
            if isinstance(item, Unfold):
                shapes = frozenset()
            makes = frozenset({item.step, *item.results()})
            yield _Unit(item, makes, shapes, figures | conditions)
