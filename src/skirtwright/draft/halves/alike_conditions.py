"""Whether some conditions together come to the same as others."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from itertools import product
from typing import Final

from skirtwright.draft.halves.rewriting import tree_of
from skirtwright.measures.working_trees import And, Not, Or, Tree

Conditions = tuple[str | None, ...]
"""Of which one holds at least; None always does."""

_MOST_ATOMS: Final = 8
"""What is compared or chosen in them: of more, the table of all cases is too long."""


def alike(one: Conditions, other: Conditions) -> bool:
    """Whether one of the first holds wherever one of the second does, and only there.

    A piece with and without what is added to it is always cut, in one way or another.
    What is compared or chosen may hold or not, each by itself.
    """
    if one == other:
        return True
    trees = {when: tree_of(when, "condition") for when in one + other if when}
    atoms = {atom for tree in trees.values() if tree for atom in _atoms(tree)}
    if None in trees.values() or len(atoms) > _MOST_ATOMS:
        return False

    def any_of(conditions: Conditions, case: Mapping[Tree, bool]) -> bool:
        found = [trees[when] for when in conditions if when]
        return None in conditions or any(_holds(t, case) for t in found if t)

    return all(any_of(one, case) == any_of(other, case) for case in _cases(atoms))


def _cases(atoms: Collection[Tree]) -> Iterator[Mapping[Tree, bool]]:
    for values in product((False, True), repeat=len(atoms)):
        yield dict(zip(atoms, values, strict=True))


def _atoms(tree: Tree) -> Iterator[Tree]:
    if isinstance(tree, And | Or):
        yield from _atoms(tree.left)
        yield from _atoms(tree.right)
    elif isinstance(tree, Not):
        yield from _atoms(tree.of)
    else:
        yield tree


def _holds(tree: Tree, case: Mapping[Tree, bool]) -> bool:
    match tree:
        case And():
            return _holds(tree.left, case) and _holds(tree.right, case)
        case Or():
            return _holds(tree.left, case) or _holds(tree.right, case)
        case Not():
            return not _holds(tree.of, case)
        case _:
            return case[tree]
