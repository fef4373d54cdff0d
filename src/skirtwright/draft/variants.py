"""Ready ways of sharing: amounts and choices that lay a block off as a school does.

A variant is no style: it sets amounts and choices of whatever draft grows from the
block, and each can then be changed like any other.
"""

from __future__ import annotations

from functools import cache

from skirtwright import shelf
from skirtwright.measures.records import Record, take
from skirtwright.problems import NotFound, nearest

_FOLDER = "variants"


class Variant(Record):
    """A way of sharing.

    Attributes:
        choices: the option of each choice it makes.
        amounts: each amount it sets, a working with its unit.
    """

    id: str
    title: str
    source: str
    help: str
    choices: dict[str, str]
    amounts: dict[str, str]


@cache
def variants() -> tuple[Variant, ...]:
    """Every variant on the shelf, in alphabetical order of their ids."""
    return tuple(
        take(Variant, shelf.read_json(f"{_FOLDER}/{name}.json"))
        for name in shelf.names(_FOLDER, ".json")
    )


def variant(name: str) -> Variant:
    """The variant of that id.

    Raises:
        NotFound: there is none; the nearest and all are named.
    """
    known = {one.id: one for one in variants()}
    if name not in known:
        raise NotFound(
            "draft.no_variant",
            name,
            name=name,
            nearest=nearest(name, known) or next(iter(known)),
            known=", ".join(known),
        )
    return known[name]
