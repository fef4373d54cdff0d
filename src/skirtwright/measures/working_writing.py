"""Trees written out as a style would write them.

A text written here keeps its tree, so that it need not be read again.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final

from skirtwright.measures import working_trees as trees

_CHOOSING, _EITHER, _BOTH, _NEGATED, _COMPARED, _SUM, _PRODUCT, _SIGNED, _ATOM = range(
    9
)
"""The rungs of the grammar's ladder; a branch below the one asked for is bracketed."""


def written(tree: trees.Tree) -> trees.Written:
    """A tree as text that reads as the same tree, and has it with it."""
    tree = as_written(tree)
    return trees.Written(_text(tree, _CHOOSING), tree)


def as_written(tree: trees.Tree) -> trees.Tree:
    """The tree that its text reads as: a name alone may be a place or a number."""
    return tree.object if isinstance(tree, trees.Place) and tree.how is None else tree


def _text(tree: trees.Tree, least: int) -> str:
    rung, text = _WRITTEN[type(tree)](tree)
    return f"({text})" if rung < least else text


def _name_text(tree: trees.Name) -> tuple[int, str]:
    if len(tree.parts) == 1 and tree.parts[0][1] is None:
        return _ATOM, tree.parts[0][0]
    return _ATOM, ".".join(
        word if index is None else f"{word}[{_index_text(index)}]"
        for word, index in tree.parts
    )


def _index_text(index: trees.Index) -> str:
    terms = "".join(f" {sign} {term}" for sign, term in index.terms)
    return terms.removeprefix(" + ")


def _number_text(tree: trees.Number) -> tuple[int, str]:
    digits = repr(float(tree.value)).removesuffix(".0")
    return _ATOM, digits if tree.unit is None else f"{digits} {tree.unit}"


def _place_text(tree: trees.Place) -> tuple[int, str]:
    edge = _text(tree.object, _ATOM)
    if tree.how is None:
        return _ATOM, edge
    if tree.argument is None:
        return _ATOM, f"{edge} {tree.how}"
    how = "" if tree.how == "distance" else f"{tree.how} "
    return _ATOM, f"{edge} at {how}{_text(tree.argument, _SUM)}"


def _call_text(tree: trees.Call) -> tuple[int, str]:
    arguments = ", ".join(_text(part, _CHOOSING) for part in tree.arguments)
    return _ATOM, f"{tree.function}({arguments})"


def _binary_text(tree: trees.Binary) -> tuple[int, str]:
    rung = _SUM if tree.operator in "+-" else _PRODUCT
    left, right = _text(tree.left, rung), _text(tree.right, rung + 1)
    return rung, f"{left} {tree.operator} {right}"


def _pair_text(tree: trees.And | trees.Or, word: str, rung: int) -> tuple[int, str]:
    return rung, f"{_text(tree.left, rung)} {word} {_text(tree.right, rung + 1)}"


def _compare_text(tree: trees.Compare) -> tuple[int, str]:
    left, right = _text(tree.left, _SUM), _text(tree.right, _SUM)
    return _COMPARED, f"{left} {tree.operator} {right}"


def _is_text(tree: trees.Is, said: str = "is") -> tuple[int, str]:
    return _COMPARED, f"{_text(tree.choice, _ATOM)} {said} {tree.option}"


def _not_text(tree: trees.Not) -> tuple[int, str]:
    if isinstance(tree.of, trees.Is):
        return _is_text(tree.of, "is not")
    return _NEGATED, f"not {_text(tree.of, _NEGATED)}"


def _if_else_text(tree: trees.IfElse) -> tuple[int, str]:
    then, condition = _text(tree.then, _EITHER), _text(tree.condition, _EITHER)
    return _CHOOSING, f"{then} if {condition} else {_text(tree.otherwise, _CHOOSING)}"


_WRITTEN: Final[dict[type, Callable[[Any], tuple[int, str]]]] = {
    trees.Name: _name_text,
    trees.Number: _number_text,
    trees.Negative: lambda tree: (_SIGNED, f"-{_text(tree.of, _SIGNED)}"),
    trees.Binary: _binary_text,
    trees.Place: _place_text,
    trees.Call: _call_text,
    trees.IfElse: _if_else_text,
    trees.Is: _is_text,
    trees.Compare: _compare_text,
    trees.And: lambda tree: _pair_text(tree, "and", _BOTH),
    trees.Or: lambda tree: _pair_text(tree, "or", _EITHER),
    trees.Not: _not_text,
}
