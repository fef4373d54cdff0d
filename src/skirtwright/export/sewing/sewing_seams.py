"""The seams of a skirt by what is sewn with them, for the rows that sew them.

What a seam is, is read off its pieces and the roles of their edges; each belongs to
one group, and each group is sewn by one row of the order.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from skirtwright.checks.measured_outline import HEM, WAIST_JOIN, Paper
from skirtwright.checks.unsewn import times_sewn
from skirtwright.draft.draft import CLOTHS
from skirtwright.draft.runs import Run
from skirtwright.measures.measurements import SIDES
from skirtwright.pieces.walked_seams import WalkedSeam

LEFT, RIGHT = SIDES
_POCKET, _SIDE, _CENTRE, _GODET = "pocket", "side", "centre", "godet"


@dataclass(frozen=True)
class Sewn:
    """A seam, or one half's of two that are alike.

    Attributes:
        half: `left` or `right` where its two are sewn at different times; else empty.
    """

    walked: WalkedSeam
    half: str = ""


Groups = Mapping[str, tuple[Sewn, ...]]
"""By group: joined (parts of one piece), pocket_side, pocket, overlay, overlay_waist,
lining, lining_waist,
waist, hem, opening, opposite,
vent, vented, across, pair, side, long."""


class Grouping:
    """Tells to which group the seams of one skirt belong.

    Args:
        opening: the edge that opens, `piece.edge`; empty where none does.
        vent: the edge of its vent, kick pleat or slit; empty without.
    """

    def __init__(self, papers: Sequence[Paper], opening: str, vent: str) -> None:
        self._papers = {paper.name: paper for paper in papers}
        self._opening, self._vent = opening, vent
        self._vented = vent.partition(".")[0]
        self._hem_facings: frozenset[str] = frozenset()

    def groups(self, seams: Sequence[WalkedSeam], *, at_left: bool) -> Groups:
        """Every seam in its group, and in the other half's where it opens on one side.

        Args:
            at_left: whether it opens in its left side.
        """
        self._hem_facings = frozenset(
            name for walked in seams for name in self._faces_hem(walked)
        )
        found: dict[str, list[Sewn]] = {}
        for walked in seams:
            group = self._group(walked)
            if (
                group == "opening"
                and at_left
                and times_sewn(walked.seam, self._papers) > 1
            ):
                found.setdefault("opening", []).append(Sewn(walked, LEFT))
                found.setdefault("opposite", []).append(Sewn(walked, RIGHT))
            else:
                found.setdefault(group, []).append(Sewn(walked))
        return {group: tuple(sewn) for group, sewn in found.items()}

    def _group(self, walked: WalkedSeam) -> str:
        papers = [self._papers[name] for name in pieces_of(walked)]
        edges = _edges(walked)
        roles = {self._papers[run.piece].role(run.edge) for run in _runs(walked)}
        cloths = {paper.piece.spec.material for paper in papers}
        over = cloths.difference(CLOTHS)
        same = walked.seam.sides[0] == walked.seam.sides[1]
        kinds = (
            ("pocket", _POCKET in roles),
            ("pocket_side", self._sews_pocket_bag(walked)),
            ("overlay", cloths == over),
            ("overlay_waist", bool(over)),
            ("lining", cloths == {"lining"}),
            ("lining_waist", "lining" in cloths),
            ("waist", any(paper.of_role(WAIST_JOIN) for paper in papers)),
            ("hem", any(paper.name in self._hem_facings for paper in papers)),
            ("godet", _GODET in roles),
            ("opening", self._opening in edges),
            ("vent", self._vent in edges),
            ("across", roles != {_CENTRE} and not self._reaches_hem(walked)),
            ("vented", roles == {_CENTRE} and self._vented in pieces_of(walked)),
            ("pair", same or roles == {_CENTRE}),
            ("side", _SIDE in roles),
        )
        return next((group for group, holds in kinds if holds), "long")

    def _sews_pocket_bag(self, walked: WalkedSeam) -> bool:
        """Whether a pocket bag is sewn on here by an edge that is nothing else."""
        papers = [(self._papers[run.piece], run.edge) for run in _runs(walked)]
        return any(p.of_role(_POCKET) and p.role(edge) == "seam" for p, edge in papers)

    def _faces_hem(self, walked: WalkedSeam) -> Iterator[str]:
        """The pieces that a seam joins to the skirt's hem."""
        first, second = walked.seam.sides
        for side, other in ((first, second), (second, first)):
            if any(self._papers[run.piece].role(run.edge) == HEM for run in side):
                yield from (run.piece for run in other)

    def _reaches_hem(self, walked: WalkedSeam) -> bool:
        """True where an end meets the hem, or what goes on down to it: vent, godet."""
        for side in walked.seam.sides:
            for run in (*side[:1], *side[-1:]):
                paper = self._papers[run.piece]
                met = {paper.neighbours[run.edge, at] for at in (True, False)}
                if {HEM, _GODET} & set(map(paper.role, met)):
                    return True
                if self._vent in {f"{run.piece}.{other}" for other in met}:
                    return True
        return False


def pieces_of(walked: WalkedSeam) -> set[str]:
    """The names of the pieces a seam joins."""
    return {run.piece for run in _runs(walked)}


def _runs(walked: WalkedSeam) -> list[Run]:
    return [run for side in walked.seam.sides for run in side]


def _edges(walked: WalkedSeam) -> set[str]:
    """The edges of a seam, each as `piece.edge`."""
    return {run.named for run in _runs(walked)}
