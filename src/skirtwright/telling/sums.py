"""Sums as she would write them down: what weighs cases shows the case that holds."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from skirtwright.draft.step import Reads
from skirtwright.draft.working.recompute import Worked
from skirtwright.draft.working.replay import Moment, Replay
from skirtwright.measures import working_trees as trees
from skirtwright.measures.measurements import measurements
from skirtwright.measures.units import MM_PER
from skirtwright.measures.working_kinds import ANGLE, LENGTH, NUMBER, Kind
from skirtwright.measures.working_parsing import parse_working
from skirtwright.measures.working_writing import written
from skirtwright.problems import SkirtwrightError
from skirtwright.telling.names_in_words import line_words, place_words, plain
from skirtwright.words import Manner, Phrase, Sayable, Several, say, translate

_NOTHING = 0.005
"""What is smaller, mm or plain, adds nothing to a sum."""

_MOST_DEEP = 30
"""A name stands for a name that stands for a name, at most so often."""


class Summing:
    """Reads the sums of one draft."""

    def __init__(self, worked: Worked, moments: Replay) -> None:
        self._worked = worked
        self._moments = moments
        self._handed: dict[str, trees.Tree] = {}

    def short(self, text: str, moment: Moment) -> trees.Tree:
        """A working without what does not count at the numbers of a step."""
        known = self._handed.get(moment.path)
        own = getattr(moment.step, "value", None) == text
        if own and known is not None:
            return known
        return self._short(parse_working(text), moment, 0)

    def named(self, name: str) -> Sayable:
        """What a number is called in a sum."""
        return _Named(self, name)

    def said(self, tree: trees.Tree, moment: Moment) -> Sayable:
        """Such a sum in words."""
        return _Written(self, tree, moment)

    def names(self, tree: trees.Tree) -> tuple[str, ...]:
        """The numbers a sum adds up, by name."""
        if isinstance(tree, trees.Name):
            return (written(tree),)
        if isinstance(tree, trees.Negative):
            return self.names(tree.of)
        if isinstance(tree, trees.Binary):
            return (*self.names(tree.left), *self.names(tree.right))
        if isinstance(tree, trees.Call):
            return tuple(n for part in tree.arguments for n in self.names(part))
        return ()

    # Shortened

    def _short(self, tree: trees.Tree, moment: Moment, depth: int) -> trees.Tree:
        if isinstance(tree, trees.IfElse):
            holds = self._value(tree.condition, moment, Reads.WHETHER)
            if holds is None:
                return tree
            return self._short(tree.then if holds else tree.otherwise, moment, depth)
        if isinstance(tree, trees.Name):
            return self._unaliased(tree, moment, depth)
        if isinstance(tree, trees.Negative):
            return trees.Negative(self._short(tree.of, moment, depth))
        if isinstance(tree, trees.Call):
            return self._short_call(tree, moment, depth)
        if isinstance(tree, trees.Binary):
            return self._short_sum(tree, moment, depth)
        return tree

    def _unaliased(self, tree: trees.Name, moment: Moment, depth: int) -> trees.Tree:
        """What only hands a number on is called by the number's own name."""
        path = moment.reads.get(written(tree))
        made = self._moments.get(path) if path else None
        if made is None or made.step.kind != "number" or depth > _MOST_DEEP:
            return tree
        if made.path not in self._handed:
            text = made.step.value  # type: ignore[attr-defined]
            short = self._short(parse_working(text), made, depth + 1)
            self._handed[made.path] = short
        inner = self._handed[made.path]
        return inner if isinstance(inner, trees.Name | trees.Number) else tree

    def _short_call(self, tree: trees.Call, moment: Moment, depth: int) -> trees.Tree:
        if tree.function in ("greatest", "least"):
            length = any(self.kind(part) == LENGTH for part in tree.arguments)
            worth = [self._worth(part, moment, length) for part in tree.arguments]
            if all(value is not None for value in worth):
                choose = max if tree.function == "greatest" else min
                best = worth.index(choose(worth))
                return self._short(tree.arguments[best], moment, depth)
        if tree.function in ("walk", "apart", "girth", "given"):
            return tree
        parts = (self._short(part, moment, depth) for part in tree.arguments)
        return trees.Call(tree.function, tuple(parts))

    def _short_sum(self, tree: trees.Binary, moment: Moment, depth: int) -> trees.Tree:
        left = self._short(tree.left, moment, depth)
        right = self._short(tree.right, moment, depth)
        nothing = [
            value is not None and abs(value) < _NOTHING
            for value in (
                self._value(tree.left, moment),
                self._value(tree.right, moment),
            )
        ]
        if tree.operator in "+-":
            if nothing[1]:
                return left
            if nothing[0]:
                return right if tree.operator == "+" else trees.Negative(right)
        elif any(nothing):
            return trees.Number(0.0)
        elif right == trees.Number(1.0):
            return left
        elif left == trees.Number(1.0) and tree.operator == "*":
            return right
        return _folded(tree.operator, left, right)

    def _worth(self, tree: trees.Tree, moment: Moment, length: bool) -> Any:
        """As `_value`, a bare number among lengths being one in the draft's unit."""
        if isinstance(tree, trees.Number) and tree.unit in MM_PER:
            return tree.value * MM_PER[tree.unit]
        if isinstance(tree, trees.Number) and length and tree.unit is None:
            return tree.value * self.length_unit()
        return self._value(tree, moment)

    def _value(
        self, tree: trees.Tree, moment: Moment, how: Reads = Reads.FIGURE
    ) -> Any:
        """What part of a sum comes to; None where it cannot be told by itself."""
        if isinstance(tree, trees.Number) and how is Reads.FIGURE:
            return tree.value
        seen: Mapping[str, Any] = {**self._worked.stated.values, **moment.seen}
        try:
            read = self._worked.bind(written(tree), how)
            return read.work(seen)
        except (KeyError, SkirtwrightError):
            return None

    # Said

    def kind(self, tree: trees.Tree) -> Kind:
        """Whether a sum is a length, an angle or a plain number."""
        if isinstance(tree, trees.Number):
            return {None: NUMBER, "deg": ANGLE}.get(tree.unit, LENGTH)
        if isinstance(tree, trees.Name):
            return self._kind_of_name(written(tree))
        if isinstance(tree, trees.Negative):
            return self.kind(tree.of)
        if isinstance(tree, trees.Call):
            if tree.function in ("walk", "apart", "girth"):
                return LENGTH
            return ANGLE if tree.function == "asin" else self.kind(tree.arguments[0])
        if isinstance(tree, trees.Binary):
            kinds = (self.kind(tree.left), self.kind(tree.right))
            if tree.operator == "/" and kinds[0] == kinds[1]:
                return NUMBER
            return next((kind for kind in kinds if kind != NUMBER), NUMBER)
        return NUMBER

    def _kind_of_name(self, name: str) -> Kind:
        amount = self._worked.draft.amount(name)
        if amount is not None:
            return {"length": LENGTH, "angle": ANGLE}.get(amount.kind, NUMBER)
        if name in measurements():
            return LENGTH
        for path in self._worked.made_by.get(name, ()):
            bound = self._worked.step(path)
            if bound is not None and bound.kind is not None:
                return bound.kind
        return LENGTH

    def name_words(self, name: str, manner: Manner) -> str:
        """A number as she knows it: an amount and a measurement by their labels."""
        amount = self._worked.draft.amount(name)
        known = measurements().get(name)
        label = amount.label if amount else known.label if known else ""
        if not label:
            return plain(name)
        words = translate(label, manner)
        return words[:1].lower() + words[1:]

    def length_unit(self) -> float:
        """What a bare number of the draft is in mm where a length is meant."""
        return MM_PER[self._worked.draft.unit]


def _folded(operator: str, left: trees.Tree, right: trees.Tree) -> trees.Tree:
    """Two bare numbers are one: `2 * 2.5` is 5."""
    bare = isinstance(left, trees.Number) and isinstance(right, trees.Number)
    if bare and left.unit is None and right.unit is None and operator == "*":  # type: ignore[union-attr]
        return trees.Number(left.value * right.value)  # type: ignore[union-attr]
    return trees.Binary(operator, left, right)  # type: ignore[arg-type]


@dataclass(frozen=True)
class _Named(Sayable):
    summing: Summing
    name: str

    def said(self, manner: Manner) -> str:
        """As she knows it."""
        return self.summing.name_words(self.name, manner)


@dataclass(frozen=True)
class _Written(Sayable):
    """A sum with the names, lengths and measured lines in her words."""

    summing: Summing
    tree: trees.Tree
    moment: Moment

    def said(self, manner: Manner) -> str:
        """The sum, with × and ÷."""
        return self._write(self.tree, manner)

    def _write(self, tree: trees.Tree, manner: Manner) -> str:
        if isinstance(tree, trees.Name):
            return self._name(tree, manner)
        if isinstance(tree, trees.Number):
            return self._number(tree, manner, length=False)
        if isinstance(tree, trees.Negative):
            return f"-{self._inside(tree.of, manner)}"
        if isinstance(tree, trees.Binary):
            return self._binary(tree, manner)
        if isinstance(tree, trees.Call):
            return self._call(tree, manner)
        return plain(written(tree))

    def _name(self, tree: trees.Name, manner: Manner) -> str:
        """A length by its name; a count or a share worked on the way as it came out."""
        name = written(tree)
        value = self.moment.seen.get(name)
        if name in self.moment.reads and self.summing.kind(tree) == NUMBER:
            return say("sum.number", {"value": value}, manner)
        return self.summing.name_words(name, manner)

    def _inside(self, tree: trees.Tree, manner: Manner) -> str:
        """A part that is multiplied or taken away, in brackets where it is a sum."""
        words = self._write(tree, manner)
        return f"({words})" if isinstance(tree, trees.Binary | trees.IfElse) else words

    def _binary(self, tree: trees.Binary, manner: Manner) -> str:
        if tree.operator in "+-":
            length = LENGTH in (
                self.summing.kind(tree.left),
                self.summing.kind(tree.right),
            )
            left, right = (
                self._number(part, manner, length=length)
                if isinstance(part, trees.Number)
                else self._write(part, manner)
                for part in (tree.left, tree.right)
            )
            sums = isinstance(tree.right, trees.Binary) and tree.right.operator in "+-"
            if tree.operator == "-" and sums:
                right = f"({right})"
            return f"{left} {'−' if tree.operator == '-' else '+'} {right}"
        sign = "×" if tree.operator == "*" else "÷"
        parts = []
        for part, last in ((tree.left, False), (tree.right, True)):
            sums = isinstance(part, trees.Binary) and (
                part.operator in "+-" or (last and tree.operator == "/")
            )
            write = self._inside if sums else self._write
            parts.append(write(part, manner))
        return f"{parts[0]} {sign} {parts[1]}"

    def _number(self, tree: trees.Number, manner: Manner, *, length: bool) -> str:
        unit = tree.unit
        if unit == "deg":
            return say("sum.angle", {"value": tree.value}, manner)
        if unit is not None or length:
            per = MM_PER[unit] if unit else self.summing.length_unit()
            return say("sum.length", {"value": tree.value * per}, manner)
        return say("sum.number", {"value": tree.value}, manner)

    def _call(self, tree: trees.Call, manner: Manner) -> str:
        seen = self.moment.seen
        if tree.function in ("walk", "apart", "girth"):
            places: list[Sayable] = []
            for part in tree.arguments:
                if isinstance(part, trees.Place) and part.how is not None:
                    places.append(place_words(written(part), seen))
                else:
                    places.append(line_words(written(part), seen))
            values = {"first": places[0], "last": places[-1]}
            return say(f"sum.{tree.function}", values, manner)
        parts = [
            Phrase("sum.as_it_is", {"said": self._write(part, manner)})
            for part in tree.arguments
        ]
        values = {"parts": Several(tuple(parts)), "first": parts[0], "last": parts[-1]}
        return say(f"sum.{tree.function}", values, manner)
