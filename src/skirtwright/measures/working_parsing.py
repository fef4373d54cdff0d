"""Text into trees: workings, conditions and places.

The grammar is resources/workings.lark. Reading is bounded: 500 characters, 30 deep,
200 parts; no text is ever compiled or evaluated by Python.

A decimal comma (`waist/4 + 1,5`) is read where digits stand on both sides of it and
the brackets round it are not a function's: there a comma parts two arguments, and
decimals take a point (`least(2.5, waist/4)`).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Any, Final, Literal, cast

from skirtwright.budget import MOST, spend
from skirtwright.measures import working_trees as trees
from skirtwright.measures.units import read_number
from skirtwright.measures.working_ready import ready
from skirtwright.problems import BadInput, nearest

LONGEST = 500
DEEPEST = 30
MOST_PARTS = 200
MOST_DIGITS = 12
LARGEST_INDEX = 1000
_LETTERS_A_STEP = 8
"""To parse so many letters is as much work as a step of a draft."""

FUNCTIONS = {
    "walk": (1, 1),
    "apart": (2, 2),
    "girth": (1, 1),
    "least": (1, MOST_PARTS),
    "greatest": (1, MOST_PARTS),
    "root": (1, 1),
    "sin": (1, 1),
    "cos": (1, 1),
    "tan": (1, 1),
    "asin": (1, 1),
    "round_up": (2, 2),
    "round_down": (2, 2),
    "given": (1, 1),
}
"""Every function, with the fewest and the most arguments it takes."""

MEASURING: Final = frozenset({"walk", "apart", "girth"})
"""The functions that measure the drawing."""

How = Literal["working", "condition", "place"]
"""As what a text is read."""

_KEPT = MOST["steps"]
"""So many trees are kept, no fewer than a draft may have: each is read once."""

_KEYWORDS = frozenset({"if", "else", "and", "or", "not", "is", "at", "share"})
_HYPHENED = re.compile(r"(?<![\w.])[0-9]+-[0-9]+/[0-9]+(?![\w.])", re.ASCII)
_OPENING = re.compile(r"([A-Za-z_][A-Za-z0-9_]*)?[ \t]*\(|\)|(?<=[0-9]),(?=[0-9])")


def parse_working(text: str) -> trees.Tree:
    """The tree of a working, such as `waist/4 + 1 1/2 in`.

    Raises:
        BadInput: saying at which column it could not be read, and why.
    """
    if isinstance(text, trees.Written):
        return text.tree
    return _read("working", text)


def parse_condition(text: str) -> trees.Tree:
    """The tree of a condition, such as `waist_shape is darted and i > 1`.

    Raises:
        BadInput: as `parse_working`.
    """
    if isinstance(text, trees.Written):
        return text.tree
    return _read("condition", text)


def parse_place(text: str) -> trees.Place:
    """The tree of a place, such as `front.side at share 1/3` or `front.hip`.

    Raises:
        BadInput: as `parse_working`.
    """
    tree = text.tree if isinstance(text, trees.Written) else _read("place", text)
    return _as_place(tree)


def _as_place(tree: trees.Tree) -> trees.Place:
    """A name alone is a point of the drawing."""
    if isinstance(tree, trees.Place):
        return tree
    return trees.Place(cast(trees.Name, tree))


PARSERS: Final[Mapping[How, Callable[[str], trees.Tree]]] = {
    "working": parse_working,
    "condition": parse_condition,
    "place": parse_place,
}


@lru_cache(maxsize=_KEPT)
def _read(how: How, text: str) -> trees.Tree:
    """What was read beforehand, or else what is read now."""
    tree = ready(how, text)
    return read_now(how, text) if tree is None else tree


def read_now(how: How, text: str) -> trees.Tree:
    """A text read with the parser, whatever was read beforehand.

    Raises:
        BadInput: as `parse_working`.
    """
    spend("steps", 1 + len(text) // _LETTERS_A_STEP)
    part = _parse(text, "place" if how == "place" else "working")
    if how == "place":
        return _as_place(part.tree)
    if how == "working":
        _want_number(part)
    else:
        _want_truth(part)
    return part.tree


@dataclass(frozen=True)
class _Part:
    """A tree in the making, with what the limits and the refusals need."""

    tree: trees.Tree
    depth: int = 0
    size: int = 1
    truth: bool = False
    column: int = 1


def _parse(text: str, start: str) -> _Part:
    if len(text) > LONGEST:
        raise BadInput("workings.too_long", length=len(text), most=LONGEST)
    if not text.strip():
        raise BadInput("workings.empty")
    # `29-1/8` is an eighth more than 29 to one who sews, and an eighth less in sums.
    slip = _HYPHENED.search(text)
    if slip:
        raise _refusal("workings.hyphen_in_fraction", slip.start() + 1, part=slip[0])
    grammar, parser = _parser()
    try:
        part = parser.parse(_with_points(text), start=start)
    except grammar.UnexpectedInput as trouble:
        raise _parse_failure(text, trouble, grammar) from None
    return cast(_Part, part)


@cache
def _parser() -> tuple[Any, Any]:
    """The generated module and its parser, loaded when first needed (50 ms)."""
    from skirtwright.measures import _workings_parser

    grammar: Any = _workings_parser
    return grammar, grammar.Lark_StandAlone(transformer=_Builder())


def _with_points(text: str) -> str:
    """Decimal commas outside a function's brackets made points, columns kept."""
    inside: list[bool] = []
    made = list(text)
    for match in _OPENING.finditer(text):
        if match[0] == ")":
            if inside:
                inside.pop()
        elif match[0] == ",":
            if not (inside and inside[-1]):
                made[match.start()] = "."
        else:
            called = match[1] is not None and match[1] not in _KEYWORDS
            inside.append(called or bool(inside and inside[-1]))
    return "".join(made)


def _parse_failure(text: str, trouble: Any, grammar: Any) -> BadInput:
    token = getattr(trouble, "token", None)
    if isinstance(trouble, grammar.UnexpectedEOF) or (
        token is not None and token.type == "$END"
    ):
        return _refusal("workings.unfinished", len(text) + 1, text=text)
    column = max(int(trouble.column), 1)
    near = text[column - 1 : column + 11]
    return _refusal("workings.not_understood", column, text=text, near=near)


def _refusal(code: str, column: int, **values: Any) -> BadInput:
    return BadInput(code, column=column, **values)


def _want_number(part: _Part) -> None:
    if part.truth:
        raise _refusal("workings.condition_for_number", part.column)
    if isinstance(part.tree, trees.Place):
        raise _refusal("workings.place_for_number", part.column)


def _want_truth(part: _Part) -> None:
    if not part.truth:
        raise _refusal("workings.number_for_condition", part.column)


def _joined(
    tree: trees.Tree, first: _Part, *rest: _Part, truth: bool = False, deeper: int = 0
) -> _Part:
    """One part of several. A long sum is not deep: only what follows counts one."""
    depth = max(first.depth, *(part.depth + 1 for part in rest), 0) + deeper
    size = first.size + sum(part.size for part in rest) + 1
    if depth > DEEPEST:
        raise _refusal("workings.too_deep", first.column, most=DEEPEST)
    if size > MOST_PARTS:
        raise _refusal("workings.too_many_parts", first.column, most=MOST_PARTS)
    return _Part(tree, depth, size, truth, first.column)


class _Builder:
    """What the parser calls for each rule of the grammar, children in a list."""

    def number(self, children: Sequence[Any]) -> _Part:
        digits = children[0]
        if digits.isdigit() and len(digits) > MOST_DIGITS:
            raise _refusal("workings.number_too_large", digits.column)
        value = read_number(str(digits))
        unit = str(children[1]) if len(children) > 1 else None
        unit = {'"': "in", "°": "deg"}.get(unit or "", unit)
        return _Part(trees.Number(value, unit), column=digits.column)

    def part(self, children: Sequence[Any]) -> tuple[str, None, int]:
        return str(children[0]), None, children[0].column

    def indexed(self, children: Sequence[Any]) -> tuple[str, trees.Index, int]:
        return str(children[0]), children[1], children[0].column

    def index(self, children: Sequence[Any]) -> trees.Index:
        terms: list[tuple[trees.Sign, int | str]] = []
        for sign, term in zip(["+", *children[1::2]], children[::2], strict=True):
            value: int | str = str(term)
            if term.type == "WHOLE":
                value = int(term) if len(term) <= 4 else LARGEST_INDEX + 1
                if value > LARGEST_INDEX:
                    raise _refusal("workings.index_too_large", term.column)
            elif value not in ("i", "last"):
                raise _refusal("workings.index_name", term.column, name=value)
            terms.append(("-" if sign == "-" else "+", value))
        return trees.Index(tuple(terms))

    def path(self, children: Sequence[Any]) -> _Part:
        parts = tuple((name, index) for name, index, _ in children)
        return _Part(trees.Name(parts), size=len(parts), column=children[0][2])

    def bracket(self, children: Sequence[Any]) -> _Part:
        inside = children[0]
        return _joined(inside.tree, inside, truth=inside.truth, deeper=1)

    def sign(self, children: Sequence[Any]) -> _Part:
        sign, of = children
        _want_number(of)
        tree = trees.Negative(of.tree) if sign == "-" else of.tree
        return _joined(tree, of, deeper=1)

    def binary(self, children: Sequence[Any]) -> _Part:
        left, operator, right = children
        _want_number(left)
        _want_number(right)
        return _joined(trees.Binary(str(operator), left.tree, right.tree), left, right)  # type: ignore[arg-type]

    def compare(self, children: Sequence[Any]) -> _Part:
        left, operator, right = children
        _want_number(left)
        _want_number(right)
        tree = trees.Compare(str(operator), left.tree, right.tree)  # type: ignore[arg-type]
        return _joined(tree, left, right, truth=True)

    def is_option(self, children: Sequence[Any]) -> _Part:
        choice, option = children
        if not isinstance(choice.tree, trees.Name):
            raise _refusal("workings.is_needs_choice", choice.column)
        return _joined(trees.Is(choice.tree, str(option)), choice, truth=True)

    def is_not_option(self, children: Sequence[Any]) -> _Part:
        part = self.is_option(children)
        return _joined(trees.Not(part.tree), part, truth=True)

    def negation(self, children: Sequence[Any]) -> _Part:
        of = children[0]
        _want_truth(of)
        return _joined(trees.Not(of.tree), of, truth=True, deeper=1)

    def both_of(self, children: Sequence[Any], of: Any = trees.And) -> _Part:
        left, right = children
        _want_truth(left)
        _want_truth(right)
        return _joined(of(left.tree, right.tree), left, right, truth=True)

    def either_of(self, children: Sequence[Any]) -> _Part:
        return self.both_of(children, trees.Or)

    def if_else(self, children: Sequence[Any]) -> _Part:
        then, condition, otherwise = children
        _want_truth(condition)
        for arm in (then, otherwise):
            _want_number(arm)
        tree = trees.IfElse(then.tree, condition.tree, otherwise.tree)
        return _joined(tree, then, condition, otherwise)

    def call(self, children: Sequence[Any]) -> _Part:
        name, *arguments = children
        function = str(name)
        if function not in FUNCTIONS:
            code = "workings.unknown_function"
            near = nearest(function, FUNCTIONS, 0.6) or ", ".join(FUNCTIONS)
            raise _refusal(code, name.column, name=function, nearest=near)
        least, most = FUNCTIONS[function]
        if not least <= len(arguments) <= most:
            code = "workings.wrong_count"
            raise _refusal(code, name.column, name=function, wanted=least)
        given = tuple(self._argument(function, part) for part in arguments)
        size = sum(part.size for part in arguments)
        head = _Part(given[0], max(part.depth for part in arguments), size)
        made = _joined(trees.Call(function, given), head, deeper=1)
        return _Part(made.tree, made.depth, made.size, function == "given", name.column)

    def _argument(self, function: str, part: _Part) -> trees.Tree:
        """A number, or for what measures the drawing a place, or for `given` a name."""
        tree = part.tree
        if function in ("given", "girth"):
            if not isinstance(tree, trees.Name):
                raise _refusal("workings.wants_name", part.column, name=function)
            return tree
        if function in MEASURING:
            if isinstance(tree, trees.Name):
                return trees.Place(tree)
            if not isinstance(tree, trees.Place):
                raise _refusal("workings.wants_place", part.column, name=function)
            return tree
        _want_number(part)
        return tree

    def place_start(self, children: Sequence[Any]) -> _Part:
        return self._place("start", *children)

    def place_end(self, children: Sequence[Any]) -> _Part:
        return self._place("end", *children)

    def place_middle(self, children: Sequence[Any]) -> _Part:
        return self._place("middle", *children)

    def place_distance(self, children: Sequence[Any]) -> _Part:
        _want_number(children[1])
        return self._place("distance", *children)

    def place_share(self, children: Sequence[Any]) -> _Part:
        _want_number(children[1])
        return self._place("share", *children)

    def place_mark(self, children: Sequence[Any]) -> _Part:
        return self._place("mark", *children)

    def _place(self, how: trees.HowPlaced, edge: _Part, *by: _Part) -> _Part:
        made = trees.Place(cast(trees.Name, edge.tree), how, *(b.tree for b in by))
        return _joined(made, edge, *by)
