"""Names looked up in what a draft has, and kept account of as used."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, NoReturn

from skirtwright.budget import spend
from skirtwright.draft.draft import Draft
from skirtwright.draft.kinds.numbers import Check
from skirtwright.draft.kinds.panels import Outline
from skirtwright.draft.known_names import SEVERAL, TURN, KnownNames, plain_path
from skirtwright.draft.names import Names, StandingScope
from skirtwright.draft.shapes.folds import DART_PARTS
from skirtwright.draft.step import Reads, Step
from skirtwright.draft.step_fields import read_text
from skirtwright.measures.working_parsing import (
    parse_condition,
    parse_place,
    parse_working,
)
from skirtwright.measures.working_trees import Call, Is, Name, Place
from skirtwright.problems import BadInput, SkirtwrightError, nearest, told_of

COMPARED = 4
"""So many names held against another are as much work as to find a point."""

_DART = frozenset(f"dart[].{part}" for part in DART_PARTS)
_MADE_FOR_ALL = frozenset({"pi", "i"})


class NameLookup:
    """What a draft has, and what of it was asked for.

    Args:
        draft: with the drafts it grows from copied in.
        what: the file it is from, told where a name is refused.

    Attributes:
        used: measurements, choices, amounts and what is drawn, as far as asked for.
        parts_used: edges and marks, likewise.
        outlines: of each outline its place, its panel and its edges.
        made: each step that makes something new: its place, and the full names.
    """

    def __init__(self, draft: Draft, what: str) -> None:
        self.draft = draft
        self.what = what
        self.choices = {choice.name: choice.options for choice in draft.choices}
        self.amounts = [amount.name for amount in draft.amounts]
        self.known = KnownNames(draft)
        self.names, self.parts = self.known.names, self.known.parts
        self.used: set[str] = set()
        self.parts_used: set[str] = set()
        self.outlines: list[tuple[str, str, Mapping[str, str]]] = []
        self.made: list[tuple[str, Step, tuple[str, ...]]] = []

    def make(self, step: Step, within: tuple[str, ...], at: str) -> None:
        """Take note of what a step makes."""
        names = step.results()[1 if step.rewrites else 0 :]
        if not isinstance(step, Check):
            before = within[0] if within else ""
            self.made.append((at, step, tuple(before + name for name in names)))
        if isinstance(step, Outline):
            panel = self.known.find(plain_path(step.step), within)[0]
            self.outlines.append((at, panel, step.edges))

    def any(self, at: str, text: str, within: tuple[str, ...]) -> None:
        """A text that is the name of something drawn, or else a working."""
        try:
            self.text(at, text, Reads.SHAPE, within)
        except SkirtwrightError:
            self.text(at, text, Reads.FIGURE, within)

    def text(
        self, at: str, text: str | None, how: Reads, within: tuple[str, ...] = ()
    ) -> None:
        """Look up each name of a working, a condition or a place.

        Args:
            at: where it stands, told where a name is not there.
            text: None for none.
            how: it is read.
            within: the prefixes of the groups it stands in, the innermost first.

        Raises:
            BadInput: a name is not there, or it cannot be read.
        """
        if text is None:
            return
        try:
            self._tree(at, _parsed(text, how), within)
        except SkirtwrightError as error:
            raise told_of(error, f"{self.what}, {at}") from None

    def _tree(self, at: str, tree: Any, within: tuple[str, ...]) -> None:
        if isinstance(tree, Name):
            self.name(at, _flat(tree), within)
        elif isinstance(tree, Is):
            choice = _flat(tree.choice)
            self.each(at, [choice], self.choices)
            self.used.add(choice)
            self.each(at, [tree.option], self.choices[choice])
        elif isinstance(tree, Place):
            self._place(at, tree, within)
        elif isinstance(tree, Call) and tree.function == "girth":
            path = ".".join(
                _flat(name) for name in _inner(tree) if isinstance(name, Name)
            )
            if "." in path:
                self.name(at, path, within)
            else:
                spend("points", 1 + self.known.size() // COMPARED)
                marks = {part for parts in self.parts.values() for part in parts}
                self.each(at, [path], marks)
        else:
            for inner in _inner(tree):
                self._tree(at, inner, within)

    def _place(self, at: str, place: Place, within: tuple[str, ...]) -> None:
        base = self.name(at, _flat(place.object), within)
        if place.how == "mark" and isinstance(place.argument, Name):
            self.part(at, base, _flat(place.argument))
        elif place.argument is not None:
            self._tree(at, place.argument, within)

    def name(self, at: str, path: str, within: tuple[str, ...]) -> str:
        """The base of a path that is there; what is named on it is there too."""
        base, rest = self.known.find(path, within)
        if base:
            self.used.add(base)
            if rest:
                self.part(at, base, rest)
        elif path not in _MADE_FOR_ALL:
            self.lost(at, path, self.names)
        return base

    def panel(self, at: str, name: str, known: Iterable[str] | None = None) -> str:
        """The panel of a name; of `known`, those that are cut."""
        plain = plain_path(name)
        if plain not in self.parts or (known is not None and plain not in known):
            self.lost(at, name, self.parts if known is None else known)
        return plain

    def part(self, at: str, panel: str, part: str) -> None:
        """An edge or a mark of a panel; `tuck[]` is what begins so."""
        plain = TURN.sub(SEVERAL, part)
        self.parts_used.add(plain)
        known = self.parts.get(panel, {})
        begins = part.endswith(SEVERAL) and any(p.startswith(plain) for p in known)
        if plain not in known and not begins and plain not in _DART:
            self.lost(at, part, known)

    def each(self, at: str, named: Iterable[str], known: Iterable[str]) -> None:
        """Each of what is named is one of what is known."""
        there = list(known)
        for name in named:
            if name not in there:
                self.lost(at, name, there)

    def lost(self, at: str, name: str, known: Iterable[str]) -> NoReturn:
        """Say that a name is none of what is known, and which is nearest."""
        raise nothing_called(self.what, at, name, known)

    def refuse(self, code: str, at: str, name: str, near: str) -> NoReturn:
        """Say that a name is not as it should be, and which is nearest if one is."""
        values = {"what": self.what, "place": at, "name": name, "nearest": near}
        raise BadInput(code, at, **values)

    def plain_figure(self, text: str, how: Reads) -> float | None:
        """What a working of plain figures comes to; None where it names anything."""
        if names_anything(parse_working(text)):
            return None
        scope = StandingScope(Names({}), self.draft.unit)
        return float(read_text(text, how, scope)[0].work({}))


def nothing_called(what: str, at: str, name: str, known: Iterable[str]) -> BadInput:
    """That a name is none of what is known, and which is nearest.

    Args:
        what: the draft or file, as it is told.
        at: the place in it.
        name: that is not there.
        known: what is.
    """
    near = nearest(name, known)
    code = "draft.nothing_called_near" if near else "draft.nothing_called"
    return BadInput(code, at, what=what, place=at, name=name, nearest=near)


def listed_twice(what: str, at: str, name: str) -> BadInput:
    """That something stands in a draft or file twice, where one of it would do."""
    code = "draft.listed_twice"
    return BadInput(code, at, what=what, place=at, name=name, nearest="")


def _flat(name: Name) -> str:
    words = (word + (SEVERAL if index else "") for word, index in name.parts)
    return ".".join(words)


def _inner(tree: Any) -> Iterator[Any]:
    for field in dataclasses.fields(tree):
        value = getattr(tree, field.name)
        for item in value if isinstance(value, tuple) else (value,):
            if dataclasses.is_dataclass(item):
                yield item


def _parsed(text: str, how: Reads) -> Any:
    if how is Reads.WHETHER:
        return parse_condition(text)
    if how in (Reads.LENGTH, Reads.RATIO, Reads.DEGREES, Reads.FIGURE):
        return parse_working(text)
    return parse_place(text)


def names_anything(tree: Any) -> bool:
    """Whether a working or a condition names anything."""
    return isinstance(tree, Name | Is) or any(map(names_anything, _inner(tree)))
