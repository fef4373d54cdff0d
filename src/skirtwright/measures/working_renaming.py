"""Trees with other names in them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Final

from skirtwright.measures.working_trees import (
    And,
    Binary,
    Call,
    Compare,
    IfElse,
    Is,
    Name,
    Negative,
    Not,
    Number,
    Or,
    Place,
    Tree,
)


def renamed(tree: Tree, names: Mapping[str, str | Tree]) -> Tree:
    """A tree with other names, or with trees for names; it itself where it has none.

    Only what a name begins with is looked up: of `front.side` it is `front`. A choice
    and its option, what `given` asks of, and marks keep their names.
    """
    new: Tree = _RENAMED[type(tree)](tree, names)
    return new


def names_of(tree: Tree) -> frozenset[str]:
    """The names that `renamed` looks up."""
    met = _Met()
    renamed(tree, met)
    return frozenset(met)


class _Met(dict[str, "str | Tree"]):
    """Names as they are looked up, none of which has another."""

    def get(self, name: str, _: Any = None) -> None:  # type: ignore[override]
        self[name] = name


def _name(tree: Name, names: Mapping[str, str | Tree]) -> Name:
    first, index = tree.parts[0]
    other = names.get(first)
    if not isinstance(other, str):
        return tree
    return Name(((other, index), *tree.parts[1:]))


def _named(tree: Name, names: Mapping[str, str | Tree]) -> Tree:
    """A name alone may stand for a whole tree."""
    other = names.get(tree.parts[0][0])
    if other is None or isinstance(other, str) or len(tree.parts) > 1:
        return _name(tree, names)
    return other


def _place(tree: Place, names: Mapping[str, str | Tree]) -> Place:
    named = _name(tree.object, names)
    argument = tree.argument
    if argument is not None and tree.how != "mark":
        argument = renamed(argument, names)
    if named is tree.object and argument is tree.argument:
        return tree
    return Place(named, tree.how, argument)


def _call(tree: Call, names: Mapping[str, str | Tree]) -> Call:
    if tree.function == "given":
        return tree
    if tree.function == "girth" and _is_mark(tree.arguments[0]):
        return tree
    arguments = tuple(renamed(part, names) for part in tree.arguments)
    same = all(old is new for old, new in zip(tree.arguments, arguments, strict=True))
    return tree if same else Call(tree.function, arguments)


def _is_mark(tree: Tree) -> bool:
    """Whether a name is a mark's alone, to be looked for on all panels."""
    return isinstance(tree, Name) and len(tree.parts) == 1


def _unchanged(tree: Any, _: Mapping[str, str | Tree]) -> Any:
    return tree


def _renamed_part(
    tree: Negative | Not, names: Mapping[str, str | Tree]
) -> Negative | Not:
    of = renamed(tree.of, names)
    return tree if of is tree.of else type(tree)(of)


def _pair(tree: And | Or, names: Mapping[str, str | Tree]) -> And | Or:
    left, right = renamed(tree.left, names), renamed(tree.right, names)
    same = left is tree.left and right is tree.right
    return tree if same else type(tree)(left, right)


def _operation(tree: Any, names: Mapping[str, str | Tree]) -> Any:
    left, right = renamed(tree.left, names), renamed(tree.right, names)
    same = left is tree.left and right is tree.right
    return tree if same else type(tree)(tree.operator, left, right)


def _if_else(tree: IfElse, names: Mapping[str, str | Tree]) -> IfElse:
    arms = tree.then, tree.condition, tree.otherwise
    other = tuple(renamed(arm, names) for arm in arms)
    same = all(old is new for old, new in zip(arms, other, strict=True))
    return tree if same else IfElse(*other)


_RENAMED: Final[dict[type, Callable[[Any, Mapping[str, str | Tree]], Any]]] = {
    Name: _named,
    Number: _unchanged,
    Negative: _renamed_part,
    Binary: _operation,
    Place: _place,
    Call: _call,
    IfElse: _if_else,
    Is: _unchanged,
    Compare: _operation,
    And: _pair,
    Or: _pair,
    Not: _renamed_part,
}
