"""The trees a working, a condition or a place is read into. Frozen values only."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, Self, TypeAlias

Sign = Literal["+", "-"]
HowPlaced = Literal["start", "end", "middle", "distance", "share", "mark"]
Comparison = Literal["<", "<=", ">", ">=", "=="]


@dataclass(frozen=True)
class Index:
    """What stands in square brackets: `2`, `last`, `i - 1`.

    Attributes:
        terms: each with its sign: a whole number, or `i` or `last`.
    """

    terms: tuple[tuple[Sign, int | str], ...]


@dataclass(frozen=True)
class Name:
    """A name with dots and indexes: `front.dart[1].left`."""

    parts: tuple[tuple[str, Index | None], ...]


@dataclass(frozen=True)
class Number:
    """A number as read, with its unit (`mm`, `cm`, `in`, `deg`) or None."""

    value: float
    unit: str | None = None


@dataclass(frozen=True)
class Negative:
    """`-of`."""

    of: Tree


@dataclass(frozen=True)
class Binary:
    """`left + right` and its three sisters."""

    operator: Literal["+", "-", "*", "/"]
    left: Tree
    right: Tree


@dataclass(frozen=True)
class Place:
    """Where on an edge, or a named point when `how` is None.

    Attributes:
        object: the edge, or `panel.mark`, or a point.
        argument: the distance or the share; for a mark, its name.
    """

    object: Name
    how: HowPlaced | None = None
    argument: Tree | None = None


@dataclass(frozen=True)
class Call:
    """A function with its arguments."""

    function: str
    arguments: tuple[Tree, ...]


@dataclass(frozen=True)
class IfElse:
    """`then if condition else otherwise`."""

    then: Tree
    condition: Tree
    otherwise: Tree


@dataclass(frozen=True)
class Is:
    """`choice is option`."""

    choice: Name
    option: str


@dataclass(frozen=True)
class Compare:
    """`left < right` and its sisters."""

    operator: Comparison
    left: Tree
    right: Tree


@dataclass(frozen=True)
class And:
    """Both."""

    left: Tree
    right: Tree


@dataclass(frozen=True)
class Or:
    """Either, or both."""

    left: Tree
    right: Tree


@dataclass(frozen=True)
class Not:
    """The contrary."""

    of: Tree


Tree: TypeAlias = (
    Name
    | Number
    | Negative
    | Binary
    | Place
    | Call
    | IfElse
    | Is
    | Compare
    | And
    | Or
    | Not
)


class Written(str):
    """Text that keeps the tree it was written from, so that it need not be read.

    Attributes:
        kept: the tree; None where it is not made before it is asked for.
    """

    __slots__ = ("kept",)

    kept: Tree | None

    def __new__(cls, text: str, kept: Tree | None = None) -> Self:
        """The text of a tree."""
        made = super().__new__(cls, text)
        made.kept = kept
        return made

    @property
    def tree(self) -> Tree:
        """What it was written from."""
        if self.kept is None:
            self.kept = self.made()
        return self.kept

    def made(self) -> Tree:
        """The tree, where it was not made before."""
        raise NotImplementedError
