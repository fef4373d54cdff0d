"""The pieces a working is bound from: each a closure that knows its kind."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Final

from skirtwright.measures.units import MM_PER
from skirtwright.measures.working_kinds import (
    ANGLE,
    LENGTH,
    NUMBER,
    TRUTH,
    Kind,
    Scope,
    Work,
)
from skirtwright.problems import BadInput, Refused


@dataclass(init=False, slots=True, eq=False)
class Piece:
    """A branch bound so far.

    Attributes:
        bare: made of numbers without units only.
        constant: its value when nothing can change it.
    """

    kind: Final[Kind]
    work: Final[Work]
    leans_on: Final[tuple[str, ...]]
    bare: Final[bool]
    constant: Final[float | bool | None]

    def __init__(
        self,
        kind: Kind,
        work: Work,
        leans_on: tuple[str, ...] = (),
        bare: bool = False,
        constant: float | bool | None = None,
    ) -> None:
        self.kind = kind
        self.work = work
        self.leans_on = leans_on
        self.bare = bare
        self.constant = constant


def fixed(value: float | bool, kind: Kind = NUMBER, *, bare: bool = False) -> Piece:
    """A piece that never changes."""
    return Piece(kind, lambda _: value, bare=bare, constant=value)


def made(
    kind: Kind, make: Callable[..., Any], *pieces: Piece, bare: bool = False
) -> Piece:
    """A piece of others: worked at once if none can change, else a closure."""
    leans_on = tuple(name for piece in pieces for name in piece.leans_on)
    works = [piece.work for piece in pieces]
    if len(works) == 1:
        (only,) = works
        work: Work = lambda values: make(only(values))  # noqa: E731
    elif len(works) == 2:
        work = _pair(make, *pieces)
    else:
        work = lambda values: make(*[each(values) for each in works])  # noqa: E731
    if all(piece.constant is not None for piece in pieces):
        try:
            return fixed(work({}), kind, bare=bare)
        except (ArithmeticError, Refused):
            # Left as it is: said when worked, so that the step keeps its settings.
            pass
    return Piece(kind, work, leans_on, bare)


def _pair(make: Callable[[Any, Any], Any], left: Piece, right: Piece) -> Work:
    """Two operands; one that never changes is not asked for again."""
    first, second = left.work, right.work
    if right.constant is not None and left.constant is None:
        kept = right.constant
        return lambda values: make(first(values), kept)
    if left.constant is not None and right.constant is None:
        kept = left.constant
        return lambda values: make(kept, second(values))
    return lambda values: make(first(values), second(values))


def kind_word(kind: Kind) -> str:
    """The message id of a kind's name, for sentences."""
    names = {
        NUMBER: "kind.number",
        LENGTH: "kind.length",
        ANGLE: "kind.angle",
        TRUTH: "kind.truth",
        Kind(2.0): "kind.area",
    }
    return names.get(kind, "kind.other")


def fitted(piece: Piece, kind: Kind, scope: Scope) -> Piece:
    """The piece as this kind: bare numbers take the unit, nought fits anything.

    Raises:
        BadInput: it is of another kind.
    """
    if piece.kind == kind:
        return piece
    if piece.bare and kind == LENGTH:
        factor = MM_PER[scope.unit]
        return made(LENGTH, lambda value: value * factor, piece)
    if piece.bare and (kind == ANGLE or (piece.constant == 0 and not kind.truth)):
        return made(kind, lambda value: value, piece)
    wrong = {"wanted": kind_word(kind), "found": kind_word(piece.kind)}
    raise BadInput("workings.wrong_kind", **wrong)


def alike(pieces: list[Piece], scope: Scope) -> tuple[list[Piece], Kind, bool]:
    """The pieces in one kind: that of the first that is not bare.

    Raises:
        BadInput: they are of several.
    """
    firm = [piece for piece in pieces if not piece.bare]
    if not firm:
        return pieces, NUMBER, True
    kind = firm[0].kind
    for piece in firm:
        if piece.kind != kind:
            wrong = {"first": kind_word(kind), "second": kind_word(piece.kind)}
            raise BadInput("workings.kinds_differ", **wrong)
    return [fitted(piece, kind, scope) for piece in pieces], kind, False
