"""Trees into closures: names found, kinds checked, units settled, constants folded.

A bare number, and what is made of bare numbers only (`2`, `3 * 2`, `least(1, 2)`), has
no kind of its own until it meets one: beside a length, or alone in a length field, it
is in the draft's unit; beside an angle it is degrees; as a factor it is a number.
Angles are degrees everywhere. `==` is exact equality. `i` and `pi` are reserved names.
"""

from __future__ import annotations

import math
import operator
from collections.abc import Callable
from typing import Any, Final

from skirtwright.measures import working_trees as trees
from skirtwright.measures.units import MM_PER
from skirtwright.measures.working_kinds import (
    ANGLE,
    LENGTH,
    NUMBER,
    TRUTH,
    Bound,
    BoundPlace,
    Kind,
    Scope,
    Values,
    Work,
)
from skirtwright.measures.working_parsing import MEASURING
from skirtwright.measures.working_pieces import (
    Piece,
    alike,
    fitted,
    fixed,
    made,
)
from skirtwright.problems import BadInput, NotFound, Refused, nearest

_COMPARE: Final = {
    "<": operator.lt,
    "<=": operator.le,
    ">": operator.gt,
    ">=": operator.ge,
    "==": operator.eq,
}
_COMBINE: Final = {
    "+": operator.add,
    "-": operator.sub,
    "*": operator.mul,
    "/": operator.truediv,
}


def bind(tree: trees.Tree, scope: Scope, wanted: Kind | None = None) -> Bound:
    """A tree made ready for work where it stands in a draft.

    Args:
        tree: from `parse_working` or `parse_condition`.
        wanted: the kind that must come of it; None takes what comes.

    Raises:
        BadInput: kinds that do not go together, an unknown option.
        NotFound: a name that nothing above bears.
    """
    piece = _bind(tree, scope)
    if wanted is not None:
        piece = fitted(piece, wanted, scope)
    leans_on = tuple(dict.fromkeys(piece.leans_on))
    return Bound(piece.kind, leans_on, _guarded(piece.work))


def bind_place(tree: trees.Place, scope: Scope) -> BoundPlace:
    """A place made ready; a distance is a length, a share a number.

    Raises:
        BadInput, NotFound: as `bind`.
    """
    base, rest = scope.find(flat_name(tree.object, scope))
    argument, mark = None, ""
    if isinstance(tree.argument, trees.Name) and tree.how == "mark":
        mark = flat_name(tree.argument, scope, as_written=True)
    elif tree.argument is not None:
        wanted = LENGTH if tree.how == "distance" else NUMBER
        argument = bind(tree.argument, scope, wanted)
    leans_on = (base, *(argument.leans_on if argument else ()))
    return BoundPlace(
        base, rest, tree.how, argument, mark, tuple(dict.fromkeys(leans_on))
    )


def flat_name(name: trees.Name, scope: Scope, *, as_written: bool = False) -> str:
    """The name with its indexes worked: `tier[i - 1].x` becomes `tier[1].x`.

    Choices, what `given` asks of, and marks are called as they are written.
    """
    flat = ""
    for word, index in name.parts:
        first = word if as_written else scope.called(word)
        flat = f"{flat}.{word}" if flat else first
        if index is not None:
            flat = f"{flat}[{_index(index, flat, scope)}]"
    return flat


def _index(index: trees.Index, prefix: str, scope: Scope) -> int:
    total = 0
    for sign, term in index.terms:
        if term == "last":
            value = scope.last(prefix)
        else:
            value = term if isinstance(term, int) else scope.index(term)
        total += -value if sign == "-" else value
    if total < 0:
        raise BadInput("workings.index_below_zero", name=prefix, index=total)
    return total


def _guarded(work: Work) -> Work:
    """The same work with arithmetic's own failures turned into problems."""

    def guarded(values: Values) -> Any:
        try:
            result = work(values)
        except ZeroDivisionError:
            raise Refused("workings.divided_by_zero") from None
        except OverflowError:
            raise Refused("workings.not_finite") from None
        if not math.isfinite(result):
            raise Refused("workings.not_finite")
        return result

    return guarded


# --- Branches ----------------------------------------------------------------------


def _bind(tree: trees.Tree, scope: Scope) -> Piece:
    return _BRANCHES[type(tree)](tree, scope)


def _bind_number(tree: trees.Number, _: Scope) -> Piece:
    if tree.unit is None:
        return fixed(tree.value, bare=True)
    if tree.unit == "deg":
        return fixed(tree.value, ANGLE)
    return fixed(tree.value * MM_PER[tree.unit], LENGTH)


def _bind_name(tree: trees.Name, scope: Scope) -> Piece:
    if tree.parts == (("pi", None),):
        return fixed(math.pi)
    if tree.parts == (("i", None),):
        return fixed(float(scope.index("i")))
    base = _base_only(tree, scope)

    def look_up(values: Values) -> Any:
        try:
            return values[base]
        except KeyError:
            raise NotFound("workings.no_value", name=base) from None

    return Piece(scope.kind_of(base), look_up, (base,))


def _base_only(tree: trees.Name, scope: Scope, *, as_written: bool = False) -> str:
    path = flat_name(tree, scope, as_written=as_written)
    base, rest = scope.find(path)
    if rest:
        raise BadInput("workings.not_a_number", name=path)
    return base


def _bind_negative(tree: trees.Negative, scope: Scope) -> Piece:
    of = _bind(tree.of, scope)
    return made(of.kind, operator.neg, of, bare=of.bare)


def _bind_binary(tree: trees.Binary, scope: Scope) -> Piece:
    left, right = _bind(tree.left, scope), _bind(tree.right, scope)
    combine = _COMBINE[tree.operator]
    if tree.operator in "+-":
        (left, right), kind, bare = alike([left, right], scope)
        return made(kind, combine, left, right, bare=bare)
    sign = 1 if tree.operator == "*" else -1
    kind = Kind(
        left.kind.length + sign * right.kind.length,
        left.kind.angle + sign * right.kind.angle,
    )
    return made(kind, combine, left, right, bare=left.bare and right.bare)


def _bind_compare(tree: trees.Compare, scope: Scope) -> Piece:
    pieces = [_bind(tree.left, scope), _bind(tree.right, scope)]
    pieces, _, _ = alike(pieces, scope)
    return made(TRUTH, _COMPARE[tree.operator], *pieces)


def _bind_is(tree: trees.Is, scope: Scope) -> Piece:
    choice = _base_only(tree.choice, scope, as_written=True)
    options = scope.options_of(choice)
    if tree.option not in options:
        near = nearest(tree.option, options, 0.6) or ", ".join(options)
        known = {"name": tree.option, "choice": choice, "nearest": near}
        raise NotFound("workings.unknown_option", **known)
    option = tree.option

    def chosen(values: Values) -> bool:
        try:
            return bool(values[choice] == option)
        except KeyError:
            raise NotFound("workings.no_value", name=choice) from None

    return Piece(TRUTH, chosen, (choice,))


def _bind_and(tree: trees.And, scope: Scope) -> Piece:
    left, right = _bind(tree.left, scope), _bind(tree.right, scope)
    first, second = left.work, right.work
    leans_on = left.leans_on + right.leans_on
    return Piece(TRUTH, lambda values: first(values) and second(values), leans_on)


def _bind_or(tree: trees.Or, scope: Scope) -> Piece:
    left, right = _bind(tree.left, scope), _bind(tree.right, scope)
    first, second = left.work, right.work
    leans_on = left.leans_on + right.leans_on
    return Piece(TRUTH, lambda values: first(values) or second(values), leans_on)


def _bind_if_else(tree: trees.IfElse, scope: Scope) -> Piece:
    condition = _bind(tree.condition, scope)
    arms = [_bind(tree.then, scope), _bind(tree.otherwise, scope)]
    (then, otherwise), kind, bare = alike(arms, scope)
    if condition.constant is not None:
        taken = then if condition.constant else otherwise
        return Piece(kind, taken.work, taken.leans_on, bare, taken.constant)
    asked, yes, no = condition.work, then.work, otherwise.work
    leans_on = condition.leans_on + then.leans_on + otherwise.leans_on
    return Piece(
        kind,
        lambda values: yes(values) if asked(values) else no(values),
        leans_on,
        bare,
    )


def _bind_place_alone(tree: trees.Place, scope: Scope) -> Piece:
    raise BadInput("workings.not_a_number", name=flat_name(tree.object, scope))


# --- Functions ---------------------------------------------------------------------


def _bind_call(tree: trees.Call, scope: Scope) -> Piece:
    if tree.function in MEASURING:
        return _bind_measure(tree, scope)
    if tree.function == "given":
        (argument,) = tree.arguments
        assert isinstance(argument, trees.Name)  # noqa: S101  the parser lets nothing else by
        given = scope.given(_base_only(argument, scope, as_written=True))
        return Piece(TRUTH, lambda values: bool(values.get(given, False)), (given,))
    pieces = [_bind(argument, scope) for argument in tree.arguments]
    if tree.function in _ALIKE:
        pieces, kind, bare = alike(pieces, scope)
        return made(kind, _ALIKE[tree.function], *pieces, bare=bare)
    (piece,) = pieces
    if tree.function == "root":
        kind = Kind(piece.kind.length / 2, piece.kind.angle / 2)
        return made(kind, _root, piece)
    if tree.function == "asin":
        return made(ANGLE, _asin, fitted(piece, NUMBER, scope))
    # A plain number is degrees too: sin(360 / n) needs no unit.
    if piece.kind != NUMBER:
        piece = fitted(piece, ANGLE, scope)
    return made(NUMBER, _TURNS[tree.function], piece)


def _bind_measure(tree: trees.Call, scope: Scope) -> Piece:
    places = tuple(_measured_place(argument, scope) for argument in tree.arguments)
    leans_on = tuple(name for place in places for name in place.leans_on)
    return Piece(LENGTH, scope.measure(tree.function, places), leans_on)


def _measured_place(argument: trees.Tree, scope: Scope) -> BoundPlace:
    if isinstance(argument, trees.Place):
        return bind_place(argument, scope)
    assert isinstance(argument, trees.Name)  # noqa: S101  girth, the one that takes a name
    path = flat_name(argument, scope, as_written=len(argument.parts) == 1)
    if "." not in path:
        return BoundPlace("", path, leans_on=scope.drawn())
    base, rest = scope.find(path)
    return BoundPlace(base, rest, leans_on=(base,))


def _root(value: float) -> float:
    if value < 0:
        raise Refused("workings.root_of_negative")
    return math.sqrt(value)


def _asin(value: float) -> float:
    if not -1 <= value <= 1:
        raise Refused("workings.asin_out_of_range", number=value)
    return math.degrees(math.asin(value))


def _steps(value: float, step: float) -> float:
    """How many steps; 1.1 / 0.1 is 11 and not a hair more."""
    if step <= 0:
        raise Refused("workings.step_not_positive")
    return round(value / step, 9)


_ALIKE: Final[dict[str, Callable[..., float]]] = {
    "least": lambda *values: min(values),
    "greatest": lambda *values: max(values),
    "round_up": lambda value, step: math.ceil(_steps(value, step)) * step,
    "round_down": lambda value, step: math.floor(_steps(value, step)) * step,
}
_TURNS: Final[dict[str, Callable[[float], float]]] = {
    "sin": lambda turn: math.sin(math.radians(turn)),
    "cos": lambda turn: math.cos(math.radians(turn)),
    "tan": lambda turn: math.tan(math.radians(turn)),
}
_BRANCHES: Final[dict[type, Callable[[Any, Scope], Piece]]] = {
    trees.Number: _bind_number,
    trees.Name: _bind_name,
    trees.Negative: _bind_negative,
    trees.Binary: _bind_binary,
    trees.Compare: _bind_compare,
    trees.Is: _bind_is,
    trees.And: _bind_and,
    trees.Or: _bind_or,
    trees.Not: lambda tree, scope: made(TRUTH, operator.not_, _bind(tree.of, scope)),
    trees.IfElse: _bind_if_else,
    trees.Call: _bind_call,
    trees.Place: _bind_place_alone,
}
