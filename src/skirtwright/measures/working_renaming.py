"""Trees with other names in them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Final

from skirtwright.measures import working_trees as trees

Names = Mapping[str, str | trees.Tree]
"""Names with others, or with the trees they stand for."""


def renamed(tree: trees.Tree, names: Names) -> trees.Tree:
    """A tree with other names, or with trees for names; it itself where it has none.

    Only what a name begins with is looked up: of `front.side` it is `front`. A choice
    and its option, what `given` asks of, and marks keep their names.
    """
    new: trees.Tree = _RENAMED[type(tree)](tree, names)
    return new


def names_of(tree: trees.Tree) -> frozenset[str]:
    """The names that `renamed` looks up."""
    met = _Met()
    renamed(tree, met)
    return frozenset(met)


class _Met(dict[str, "str | trees.Tree"]):
    """Names as they are looked up, none of which has another."""

    def get(self, name: str, _: Any = None) -> None:  # type: ignore[override]
        self[name] = name


def _name(tree: trees.Name, names: Names) -> trees.Name:
    first, index = tree.parts[0]
    other = names.get(first)
    if not isinstance(other, str):
        return tree
    return trees.Name(((other, index), *tree.parts[1:]))


def _named(tree: trees.Name, names: Names) -> trees.Tree:
    """A name alone may stand for a whole tree."""
    other = names.get(tree.parts[0][0])
    if other is None or isinstance(other, str) or len(tree.parts) > 1:
        return _name(tree, names)
    return other


def _place(tree: trees.Place, names: Names) -> trees.Place:
    named = _name(tree.object, names)
    argument = tree.argument
    if argument is not None and tree.how != "mark":
        argument = renamed(argument, names)
    if named is tree.object and argument is tree.argument:
        return tree
    return trees.Place(named, tree.how, argument)


def _call(tree: trees.Call, names: Names) -> trees.Call:
    if tree.function == "given":
        return tree
    first = tree.arguments[0]
    alone = isinstance(first, trees.Name) and len(first.parts) == 1
    if tree.function == "girth" and alone:  # A mark is looked for on all panels.
        return tree
    arguments = tuple(renamed(part, names) for part in tree.arguments)
    same = all(old is new for old, new in zip(tree.arguments, arguments, strict=True))
    return tree if same else trees.Call(tree.function, arguments)


def _unchanged(tree: Any, _: Names) -> Any:
    return tree


def _renamed_part(
    tree: trees.Negative | trees.Not, names: Names
) -> trees.Negative | trees.Not:
    of = renamed(tree.of, names)
    return tree if of is tree.of else type(tree)(of)


def _pair(tree: trees.And | trees.Or, names: Names) -> trees.And | trees.Or:
    left, right = renamed(tree.left, names), renamed(tree.right, names)
    same = left is tree.left and right is tree.right
    return tree if same else type(tree)(left, right)


def _operation(tree: Any, names: Names) -> Any:
    left, right = renamed(tree.left, names), renamed(tree.right, names)
    same = left is tree.left and right is tree.right
    return tree if same else type(tree)(tree.operator, left, right)


def _if_else(tree: trees.IfElse, names: Names) -> trees.IfElse:
    arms = tree.then, tree.condition, tree.otherwise
    other = tuple(renamed(arm, names) for arm in arms)
    same = all(old is new for old, new in zip(arms, other, strict=True))
    return tree if same else trees.IfElse(*other)


_RENAMED: Final[dict[type, Callable[[Any, Names], Any]]] = {
    trees.Name: _named,
    trees.Number: _unchanged,
    trees.Negative: _renamed_part,
    trees.Binary: _operation,
    trees.Place: _place,
    trees.Call: _call,
    trees.IfElse: _if_else,
    trees.Is: _unchanged,
    trees.Compare: _operation,
    trees.And: _pair,
    trees.Or: _pair,
    trees.Not: _renamed_part,
}
