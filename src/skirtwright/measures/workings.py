"""Workings: the sums a draft is written in. The one door to reading and binding them.

`parse_working`, `parse_condition` and `parse_place` turn text into a frozen tree;
`bind` and `bind_place` turn a tree, where it stands in a draft, into a closure.
"""

from __future__ import annotations

from skirtwright.measures.working_binding import (
    bind,
    bind_place,
    flat_name,
)
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
)
from skirtwright.measures.working_parsing import (
    FUNCTIONS,
    parse_condition,
    parse_place,
    parse_working,
)
from skirtwright.measures.working_pieces import kind_word
from skirtwright.measures.working_trees import (
    And,
    Binary,
    Call,
    Compare,
    IfElse,
    Index,
    Is,
    Name,
    Negative,
    Not,
    Number,
    Or,
    Place,
    Tree,
)

__all__ = [
    "ANGLE",
    "FUNCTIONS",
    "LENGTH",
    "NUMBER",
    "TRUTH",
    "And",
    "Binary",
    "Bound",
    "BoundPlace",
    "Call",
    "Compare",
    "IfElse",
    "Index",
    "Is",
    "Kind",
    "Name",
    "Negative",
    "Not",
    "Number",
    "Or",
    "Place",
    "Scope",
    "Tree",
    "Values",
    "bind",
    "bind_place",
    "flat_name",
    "kind_word",
    "parse_condition",
    "parse_place",
    "parse_working",
]
