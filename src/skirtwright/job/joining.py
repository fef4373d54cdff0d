"""What would do where a piece is wider than its cloth, each one change of the order.

A join where it shows least, a seam at the centre, or a lining cut across; where less
cloth does, that it lies open. Each is tried before it is offered.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

from skirtwright.job.cloth_edits import set_cloth
from skirtwright.job.edits import Edited
from skirtwright.job.job import Job
from skirtwright.job.piece_edits import set_across, set_joins
from skirtwright.job.worktable import Look, Worktable
from skirtwright.lay.cloth_to_cut import Cloth, opened, sold
from skirtwright.lay.copies import copies_of
from skirtwright.lay.where_to_join import (
    Joins,
    across_for,
    centre_seams_for,
    joins_for,
    too_wide,
)
from skirtwright.measures.units import Unit, show_length
from skirtwright.problems import SkirtwrightError
from skirtwright.words import Phrase, Several

_TIMES = 10
"""How often a join is moved until all parts go on the cloth."""

_ASIDE = 15.0
"""By so much a join is moved out of the way of a dart or a pleat, mm."""

_EASY = 0.5
"""A join is moved by so much more than a part was too wide, mm."""

Kind = Literal["joined", "centre", "across", "opened"]


@dataclass(frozen=True)
class Offer:
    """Something that would make the pieces of a cloth go on it.

    Attributes:
        kind: a join where it shows least, a centre seam, cut across, or laid open.
        joins: of pieces, as typed.
        begins: by their names, the message that tells from where they are measured.
        length: of the cloth that is to be bought then, mm, where that is known.
    """

    material: str
    kind: Kind
    joins: Mapping[str, Sequence[str]]
    pieces: Sequence[str] = ()
    length: float = 0.0
    begins: Mapping[str, str] = field(default_factory=dict)

    def edited(self, job: Job) -> Edited:
        """The order with it.

        Raises:
            BadInput: a join cannot be read.
        """
        if self.kind == "opened":
            return set_cloth(job, self.material, fold="single")
        if self.kind == "across":
            return set_across(job, self.pieces, on=True)
        return set_joins(job, self.joins)

    def says(self, job: Job, unit: Unit) -> Phrase:
        """What is offered, in words.

        Args:
            unit: hers, for the length of cloth.
        """
        titles = {data.name: data.title for data in job.draft.pieces}
        named = {n: str(job.piece(n).title or titles.get(n, n)) for n in self.joins}
        at = (
            Phrase(
                "join.place",
                {"piece": named[n], "at": ", ".join(at), "from": self.begins[n]},
            )
            for n, at in self.joins.items()
        )
        values = {
            "piece": ", ".join(named.values()),
            "places": Several(tuple(at)),
            "length": sold(self.length, unit),
        }
        return Phrase(f"join.offer_{self.kind}", values)


def offers(look: Look, cloth: Cloth, table: Worktable | None = None) -> list[Offer]:
    """What would make the pieces of a cloth go on it; nothing where they do."""
    if not any(too_wide(look.report.to_cut, cloth, look.job.unit)):
        return []
    return list(_offers(look, cloth, table or Worktable()))


def _offers(look: Look, cloth: Cloth, table: Worktable) -> Iterator[Offer]:
    cut, unit, material = look.report.to_cut, look.job.unit, cloth.material
    wide = list(too_wide(cut, cloth, unit))
    begins = {one.piece.name: one.ruler.told_from for one in wide}
    beyond = 0.0
    for _ in range(_TIMES):
        joins = joins_for(cut, cloth, unit, beyond)
        offer = Offer(material, "joined", _typed(joins, unit), begins=begins)
        over = _excess_width(offer, look.job, cloth, table) if joins else None
        if over is None:
            break
        if over <= 0:
            yield offer
            break
        beyond += over + _EASY
    at_centre = _typed(centre_seams_for(cut, cloth, unit), unit)
    centre = Offer(material, "centre", at_centre, begins=begins)
    if (
        centre.joins
        and centre.joins != offer.joins
        and _fits_when_joined(centre, look, cloth, table)
    ):
        yield centre
    across = Offer(material, "across", {}, across_for(cut, cloth, unit))
    if across.pieces and _fits_when_joined(across, look, cloth, table):
        yield across


def _typed(joins: Joins, unit: Unit) -> dict[str, tuple[str, ...]]:
    return {
        name: tuple(show_length(place, unit, digits=1, with_unit=True) for place in at)
        for name, at in joins.items()
    }


def _fits_when_joined(offer: Offer, look: Look, cloth: Cloth, table: Worktable) -> bool:
    over = _excess_width(offer, look.job, cloth, table)
    return over is not None and over <= 0


def _excess_width(
    offer: Offer, job: Job, cloth: Cloth, table: Worktable
) -> float | None:
    """By how much the widest piece is too wide then, mm; None where it cannot be."""
    try:
        look = table.look(offer.edited(job).job)
    except SkirtwrightError:
        return None
    if any(problem.code.startswith("join.") for problem in look.problems):
        return _ASIDE
    single, shown = opened(cloth), look.report.to_cut.shown
    pieces = [piece for piece in shown if piece.spec.material == cloth.material]
    return max(copy.across - single.room for copy in copies_of(pieces, single))


def joins_made(job: Job) -> tuple[str, ...]:
    """The pieces that are joined, or cut across the grain."""
    return tuple(own.piece for own in job.pieces if own.joins or own.across)


def without_joins(job: Job, pieces: Sequence[str]) -> Edited:
    """The order with pieces cut in one again, with the grain along them."""
    plain = set_across(job, pieces, on=False).job
    return set_joins(plain, dict.fromkeys(pieces, ()))


def from_record(record: Mapping[str, Any]) -> Offer:
    """The offer whose fields a line of JSON tells.

    Raises:
        KeyError, TypeError: it tells none.
    """
    joins = {name: tuple(at) for name, at in record["joins"].items()}
    pieces = tuple(record["pieces"])
    return Offer(**{**record, "joins": joins, "pieces": pieces})
