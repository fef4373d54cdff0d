"""Workings of one half: what is drawn for each half is named with its side.

Texts are read once, rewritten as trees and keep the trees with them. One that cannot
be read stays as it is: where it stands it is refused as in any other draft.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import cache, lru_cache, partial, reduce
from typing import Any, Final

from skirtwright.draft.draft import Group
from skirtwright.draft.step import Reads, Step
from skirtwright.measures.working_halves import half_text
from skirtwright.measures.working_parsing import PARSERS, How
from skirtwright.measures.working_renaming import names_of, renamed
from skirtwright.measures.working_trees import (
    And,
    Binary,
    Call,
    Compare,
    IfElse,
    Name,
    Not,
    Number,
    Or,
    Place,
    Tree,
)
from skirtwright.measures.working_writing import written
from skirtwright.problems import SkirtwrightError

Rewrite = Callable[[str, How], str]
"""Gives a text, read as what it is, other names."""

FIGURES: Final = (Reads.LENGTH, Reads.RATIO, Reads.DEGREES, Reads.FIGURE, Reads.WHETHER)
"""What is read as a number or a condition and not as something drawn."""


def how_of(reads: Reads) -> How:
    """As what the texts of a field are read."""
    if reads is Reads.WHETHER:
        return "condition"
    return "working" if reads in FIGURES else "place"


@cache
def _fields(kind: type[Step]) -> tuple[tuple[str, How], ...]:
    """The fields of a kind that are read, and as what."""
    return tuple((name, how_of(reads)) for name, reads in kind.reading().items())


def tree_of(text: str, how: How) -> Tree | None:
    """The tree of a text; None where it cannot be read."""
    try:
        return PARSERS[how](text)
    except SkirtwrightError:
        return None


class Half:
    """Gives texts the names of one half; each is taken apart once."""

    def __init__(self, side: str, names: Iterable[str]) -> None:
        self.own = {name: f"{name}_{side}" for name in names}
        self._known: dict[tuple[str, How], str] = {}

    def __call__(self, text: str, how: How) -> str:
        """The text with those names; it itself where it has none or is unreadable."""
        found = self._known.get((text, how))
        if found is None:
            try:
                found = half_text(text, how, self.own)
            except SkirtwrightError:
                found = text
            self._known[text, how] = found
        return found


def results_named(text: str, names: Mapping[str, str]) -> str:
    """A working with other names in what comes of it, not in what that hangs on.

    So a threshold is judged once for both halves, and the result is of the half.
    """
    tree = tree_of(text, "working")
    return text if tree is None else written(_results_named(tree, names))


def _results_named(tree: Tree, names: Mapping[str, str]) -> Tree:
    if not isinstance(tree, IfElse):
        return renamed(tree, names)
    then, otherwise = (_results_named(t, names) for t in (tree.then, tree.otherwise))
    return IfElse(then, tree.condition, otherwise)


class Mean:
    """A rewriting to the mean of two others, where they differ.

    A threshold is judged by the mean, not by the one half and the other.
    """

    def __init__(self, left: Rewrite, right: Rewrite) -> None:
        self._both = left, right

    def __call__(self, text: str, how: How = "working") -> str:
        """The working of the mean."""
        left, right = (one(text, how) for one in self._both)
        if left == right:
            return left
        trees = tree_of(left, how), tree_of(right, how)
        if trees[0] is None or trees[1] is None:
            return left
        return written(_mean(trees[0], trees[1]))


def _mean(left: Tree, right: Tree) -> Tree:
    """The mean of two trees that differ in names alone."""
    if left == right:
        return left
    if isinstance(left, IfElse | Compare | And | Or | Not):
        parts: dict[str, Any] = {
            name: part if name == "operator" else _mean(part, getattr(right, name))
            for name, part in vars(left).items()
        }
        return type(left)(**parts)
    return Binary("/", Binary("+", left, right), Number(2.0))


def total(texts: Iterable[str]) -> str:
    """Workings added up."""
    return _combined(texts, "working", partial(Binary, "+"))


def less(text: str, other: str) -> str:
    """A working less another."""
    return _combined((text, other), "working", partial(Binary, "-"))


def divided(text: str, by: float) -> str:
    """A working divided by a number."""
    return _combined((text, written(Number(by))), "working", partial(Binary, "/"))


def millimetres(length: float) -> str:
    """A length as a working."""
    return written(Number(length, "mm"))


def of_kind(text: str, kind: str) -> str:
    """A working that is of an amount's kind even where it is a bare number."""
    unit = {"length": "cm", "angle": "deg"}.get(kind)
    return text if unit is None else total((text, written(Number(0.0, unit))))


def amount_or(amount: str, otherwise: str) -> str:
    """An amount where she set it, and another number where she did not."""
    name = _name(amount)
    return written(IfElse(name, Call("given", (name,)), _name(otherwise)))


def pairs_of_half(count: str) -> str:
    """Of so many pieces for both halves, those of the half with fewer whole pairs."""
    return _made_of(count, lambda tree: Binary("*", Number(2.0), _pairs(tree)))


def _pairs(count: Tree) -> Tree:
    quarter = Binary("/", count, Number(4.0))
    return Call("round_down", (quarter, Number(1.0)))


def is_cut(count: str) -> str:
    """Whether there are so many pieces at all."""
    return _made_of(count, lambda tree: Compare(">", tree, Number(0.0)))


def _made_of(text: str, make: Callable[[Tree], Tree]) -> str:
    tree = tree_of(text, "working")
    return text if tree is None else written(make(tree))


def all_of(conditions: Iterable[str]) -> str:
    """One condition that holds where all do."""
    return _combined(conditions, "condition", And)


def any_of(conditions: Iterable[str]) -> str:
    """One condition that holds where one of several does."""
    return _combined(conditions, "condition", Or)


def _combined(
    texts: Iterable[str], how: How, joined: Callable[[Tree, Tree], Tree]
) -> str:
    """One text of several, from the left; the first that cannot be read as it is."""
    trees: list[Tree] = []
    for text in texts:
        tree = tree_of(text, how)
        if tree is None:
            return text
        trees.append(tree)
    return written(reduce(joined, trees))


def named(name: str) -> str:
    """A text that is a name and nothing else."""
    return written(_name(name))


def walked(edge: str) -> str:
    """The walked length of an edge, `panel.edge`."""
    return written(Call("walk", (Place(_name(edge)),)))


def at_share(edge: str, share: tuple[float, float]) -> str:
    """The place at a share of an edge, a number divided by another."""
    parts = Binary("/", *map(Number, share))
    return written(Place(_name(edge), "share", parts))


def _name(name: str) -> Name:
    return Name(tuple((word, None) for word in name.split(".")))


# Fields and what they speak of


def rewritten(value: Any, how: How, rewrite: Rewrite) -> Any:
    """Every text within a field, rewritten."""
    if isinstance(value, str):
        return rewrite(value, how)
    if isinstance(value, Mapping):
        return {key: rewritten(item, how, rewrite) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return tuple(rewritten(item, how, rewrite) for item in value)
    return value


def fields_rewritten(step: Step, rewrite: Rewrite) -> dict[str, Any]:
    """Every field of a step that is read, rewritten."""
    return {
        name: rewrite(value, how)
        if isinstance(value := getattr(step, name), str)
        else rewritten(value, how, rewrite)
        for name, how in _fields(type(step))
    }


def group_rewritten(group: Group, rewrite: Rewrite) -> dict[str, Any]:
    """Every text of a group's own, rewritten; not those of its steps."""
    changes: dict[str, Any] = {
        "when": group.when and rewrite(group.when, "condition"),
        "repeat": group.repeat and rewrite(group.repeat, "working"),
        "start": {
            name: rewrite(
                text, "working" if tree_of(text, "place") is None else "place"
            )
            for name, text in group.start.items()
        },
    }
    if group.find is not None:
        texts = {
            name: rewrite(text, "condition" if name == "wanted" else "working")
            for name, text in group.find
            if name != "kind" and text is not None
        }
        changes["find"] = group.find.replace(**texts)
    return changes


@lru_cache(2048)
def names_in(text: str, how: How) -> frozenset[str]:
    """The names a text speaks of; of one that cannot be read, none."""
    tree = tree_of(text, how)
    return frozenset() if tree is None else names_of(tree)


def names_in_step(step: Step) -> tuple[frozenset[str], frozenset[str]]:
    """The names that a step's figures and conditions speak of, and its other fields."""
    figures, shapes = NameCollector(), NameCollector()
    for name, how in _fields(type(step)):
        value, found = getattr(step, name), shapes if how == "place" else figures
        if isinstance(value, str):
            found.names |= names_in(value, how)
        elif value is not None:
            rewritten(value, how, found)
    return frozenset(figures.names), frozenset(shapes.names)


def names_in_group(group: Group) -> frozenset[str]:
    """The names that a group and all within it speak of."""
    spoken = NameCollector()
    group_rewritten(group, spoken)
    for item in group.steps:
        if isinstance(item, Group):
            spoken.names |= names_in_group(item)
        else:
            fields_rewritten(item, spoken)
    return frozenset(spoken.names)


class NameCollector:
    """A rewriting that changes nothing and keeps the names it has met."""

    def __init__(self) -> None:
        self.names: set[str] = set()

    def __call__(self, text: str, how: How) -> str:
        """The text as it is."""
        self.names |= names_in(text, how)
        return text


def names_made(items: Iterable[Any]) -> list[str]:
    """Every name that steps and groups make, outside repeated groups.

    Of groups only a repeated one is spoken of by its name.
    """
    found: list[str] = []
    for item in items:
        if not isinstance(item, Group):
            found += (item.step, *item.results())
        elif item.repeat is not None:
            found.append(item.group)
        else:
            found += [] if item.find is None else [item.find.unknown]
            found += names_made(item.steps)
    return found
