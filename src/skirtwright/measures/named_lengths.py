"""Lengths of a skirt by name, from resources/lengths.json: knee, ankle, floor."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from functools import cache, cached_property

from skirtwright import shelf
from skirtwright.measures.measurements import body_working
from skirtwright.measures.working_kinds import Bound


@dataclass(frozen=True)
class NamedLength:
    """A length that is called by where the skirt ends.

    Attributes:
        label: as she reads it (British English; the catalogue translates).
        working: what it is worked from, as it is set for an amount.
    """

    name: str
    label: str
    working: str

    @cached_property
    def _bound(self) -> Bound:
        return body_working(self.working)

    def value(self, body: Mapping[str, float]) -> float:
        """How long it is on her, mm.

        Args:
            body: her measurements, taken or guessed, mm.
        """
        return float(self._bound.work(body))

    def is_guessed(self, guessed: Collection[str]) -> bool:
        """Whether one of the measurements it is worked from was not taken."""
        return any(name in guessed for name in self._bound.leans_on)


@cache
def named_lengths() -> tuple[NamedLength, ...]:
    """All of them, from the shortest."""
    known = shelf.read_json("lengths.json")["lengths"]
    return tuple(NamedLength(**entry) for entry in known)


@cache
def lengths_with_names() -> frozenset[str]:
    """The amounts of styles that may be set by such a name."""
    return frozenset(shelf.read_json("lengths.json")["amounts"])


def is_named(working: str) -> bool:
    """Whether a working is that of a name."""
    return any(named.working == working for named in named_lengths())
