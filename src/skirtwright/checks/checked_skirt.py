"""What a check may lean on: the drafted, cut skirt, and what its style says of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from skirtwright.checks.limits import limits
from skirtwright.checks.measured_outline import WAIST, Paper
from skirtwright.draft.draft import Told
from skirtwright.draft.step import Reads
from skirtwright.draft.working.recompute import Worked
from skirtwright.figure.body import Body, body_of
from skirtwright.pieces.cutting import Cut
from skirtwright.problems import Problem, SkirtwrightError
from skirtwright.remembered import Remembered
from skirtwright.telling.names_in_words import edge_words as told_edge
from skirtwright.words import Phrase, Sayable

FoundByPiece = Remembered[tuple[Problem, ...], *tuple[Any, ...]]
"""What checks found before."""

Level = tuple[float, float]
"""How far below the waist a level lies, and the skirt's girth there, mm."""

_AT = " at "
_READS = {"length": Reads.LENGTH, "angle": Reads.DEGREES, "number": Reads.RATIO}


@dataclass(frozen=True)
class Skirt:
    """A worked and cut draft as the checks see it.

    Attributes:
        finished: the finished measures, mm; None where the style has none.
        papers: each piece as drawn, by name.
        found: what was found before.
        levels: those at which room to walk is looked at.
    """

    worked: Worked
    cut: Cut
    finished: Mapping[str, float | None]
    papers: Mapping[str, Paper]
    found: FoundByPiece
    levels: tuple[Level, ...] = ()

    def remembered(
        self, key: str, check: Callable[..., Iterator[Problem]], *leans: Any
    ) -> tuple[Problem, ...]:
        """What a check finds, which is asked again when what it leans on changed."""
        return self.found.of((check, key), check, *leans)

    def stated(self, measure: str) -> float | None:
        """What the style says of itself, mm, degrees or plain; None if nothing."""
        return next((value for _, value in self.stated_at(measure)), None)

    def stated_at(self, measure: str) -> tuple[tuple[str, float], ...]:
        """What the style says of a measure, with the edge it speaks of, if any."""
        if measure not in self._worked_out:
            self._worked_out[measure] = tuple(self._work_out(measure))
        return self._worked_out[measure]

    @cached_property
    def _worked_out(self) -> dict[str, tuple[tuple[str, float], ...]]:
        """What has been asked for, worked once."""
        return {}

    def _work_out(self, measure: str) -> Iterator[tuple[str, float]]:
        for place, told, how in self._said.get(measure, ()):
            try:
                if told.when is None or self.worked.read(told.when, Reads.WHETHER):
                    yield place, float(self.worked.read(told.value, how))
            except SkirtwrightError:
                # It leans on what could not be drawn, and that has been said.
                continue

    @cached_property
    def _said(self) -> dict[str, list[tuple[str, Told, Reads]]]:
        """Place, working and its kind of everything the style says, by measure."""
        known = limits()["stated"]
        found: dict[str, list[tuple[str, Told, Reads]]] = {}
        for key, said in self.worked.draft.checks.items():
            measure, _, place = key.partition(_AT)
            if measure in known:
                told = Told.of(said)
                how = _READS[known[measure]]
                found.setdefault(measure, []).append((place, told, how))
        return found

    def body(self, name: str) -> float | None:
        """A measurement, taken or estimated, mm."""
        return self.worked.stated.measurements.get(name)

    @cached_property
    def lower_body(self) -> Body | None:
        """Her lower body; None where too little is known of it."""
        return body_of(self.worked.stated.measurements)

    def depth_of(self, paper: Paper) -> float | None:
        """Hip depth on the half a piece is of, mm."""
        own = self.worked.values.get(f"waist_to_hip_{paper.piece.spec.half}")
        return own if isinstance(own, float) else self.body("waist_to_hip")

    def taken(self, name: str) -> float | None:
        """A measurement only if it was taken, mm."""
        return self.worked.inputs.measurements.get(name)

    @cached_property
    def shell(self) -> tuple[Paper, ...]:
        """The pieces of the main cloth."""
        return tuple(paper for paper in self.papers.values() if paper.is_shell)

    @cached_property
    def waist(self) -> float | None:
        """The whole waist along its curve, walked on the paper, darts shut, mm."""
        found = [
            paper.times * paper.edges[name].length
            for paper in self.shell
            for name in paper.of_role(WAIST)
        ]
        return sum(found) if found else None

    def walked(self, place: str) -> float | None:
        """Length of an edge (`piece.edge`) on the paper, mm; None if not there."""
        piece, _, edge = place.partition(".")
        paper = self.papers.get(piece)
        found = paper.edges.get(edge) if paper else None
        return found.length if found else None

    def girth_at(self, below_hip: float) -> float | None:
        """The whole girth at a level under the hip line, measured on the paper, mm."""
        found = [
            paper.times * paper.width_at(below_hip)
            for paper in self.shell
            if paper.hip is not None
        ]
        return sum(found) if found and min(found) > 0 else None


def of_edge(paper: Paper, edge: str, **values: Any) -> dict[str, Any]:
    """What a sentence names of an edge of a piece, and more values."""
    return {"piece": paper.title, "edge": edge_words(edge), **values}


def edge_words(name: str) -> Sayable:
    """An edge's or seam's name as it is read; a composed title stays one.

    Of one half it is said as of a hand: the left side, not the side left.
    """
    if isinstance(name, Sayable):
        return name
    for half in ("left", "right"):
        whole = name.removesuffix(f"_{half}")
        if whole not in (name, ""):
            return Phrase(f"edge.of_{half}", {"edge": told_edge(whole)})
    return told_edge(name)
