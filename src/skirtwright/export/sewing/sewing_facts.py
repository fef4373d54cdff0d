"""Facts of a skirt that the order of sewing leans on, each by name.

What a style or finishing tells of itself, what is seen on its cut pieces, and what is
reckoned from these. The names and their kinds are data, in resources/sewing.json; the
conditions and values of its rules are workings over them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from skirtwright import shelf
from skirtwright.draft.draft import Told
from skirtwright.draft.step import Reads
from skirtwright.draft.working.recompute import Worked
from skirtwright.export.sewing.sewing_pieces import PieceGroups, piece_groups
from skirtwright.export.sewing.sewing_seams import Groups
from skirtwright.export.sewing.sewing_seen import ToldFacts, seam_groups, seen_facts
from skirtwright.export.sewing.sewing_words import Listed
from skirtwright.measures.units import Unit
from skirtwright.measures.working_binding import bind
from skirtwright.measures.working_kinds import (
    ANGLE,
    LENGTH,
    NUMBER,
    Bound,
    BoundPlace,
    Kind,
    Values,
)
from skirtwright.measures.working_parsing import parse_condition, parse_working
from skirtwright.problems import BadInput, NotFound, SkirtwrightError, nearest
from skirtwright.report import Report

_AT = " at "
_KINDS: dict[str, Kind] = {"number": NUMBER, "length": LENGTH, "angle": ANGLE}
_READS = {"number": Reads.RATIO, "length": Reads.LENGTH, "angle": Reads.DEGREES}

Fact = float | str | Listed
"""Millimetres, degrees or a plain number; a word of a list; or several sayings."""


@cache
def table() -> Mapping[str, Any]:
    """The facts and rules as they are kept."""
    found: Mapping[str, Any] = shelf.read_json("sewing.json")
    return found


@cache
def kinds() -> Mapping[str, str | tuple[str, ...]]:
    """Each fact with its kind, or with the words it may have; `list` is of sayings."""
    known: dict[str, str | tuple[str, ...]] = {}
    for group in ("told", "seen", "reckoned"):
        for name, entry in table()[group].items():
            if name != "source":
                kind = entry["kind"]
                known[name] = kind if isinstance(kind, str) else tuple(kind)
    return known


@dataclass(frozen=True)
class Facts:
    """Every fact of one skirt.

    Attributes:
        values: each by name; what is not told is nought, or the first of its words.
        seams: its seams by what is sewn with them.
        pieces: its pieces by what is done with them.
        inches: whether it is made in inches.
    """

    values: Mapping[str, Fact]
    seams: Groups
    pieces: PieceGroups
    inches: bool

    def holds(self, condition: str) -> bool:
        """Whether a condition over the facts holds."""
        return bool(_condition(condition).work(self.values))

    def worked(self, text: str | Sequence[str]) -> Any:
        """A working over the facts, or what a fact told in words says.

        Of two workings the first is in centimetres, the second in inches.
        """
        text = of_unit(text, inches=self.inches)
        kind = kinds().get(text)
        if kind == "list":
            return self.values[text]
        if isinstance(kind, tuple):
            return f"sew.{text}.{self.values[text]}"
        return _working(text).work(self.values)


def facts_of(report: Report) -> Facts:
    """The facts of a worked and cut skirt."""
    told = told_facts(report.worked)
    values: dict[str, Fact] = {name: _untold(kind) for name, kind in kinds().items()}
    values.update({name: found[0][1] for name, found in told.items()})
    seams = seam_groups(report, told)
    strips = [float(length) for _, length in told.get("zip_strip", ())]
    patches = {place for place, _ in told.get("patch_pockets", ())}
    pieces = piece_groups(list(report.skirt.papers.values()), strips, patches)
    values.update(seen_facts(report, told, seams, pieces))
    inches = report.worked.inputs.unit == "in"
    add_reckoned(values, inches=inches)
    return Facts(values, seams, pieces, inches)


def add_reckoned(values: dict[str, Fact], *, inches: bool) -> None:
    """Add to facts what is reckoned from them."""
    for name, entry in table()["reckoned"].items():
        text = of_unit(entry["working"], inches=inches)
        values[name] = float(_working(text).work(values))


def of_unit(text: str | Sequence[str], *, inches: bool) -> str:
    """A working; of two the first is in centimetres, the second in inches."""
    return text if isinstance(text, str) else text[inches]


def _untold(kind: str | tuple[str, ...]) -> Fact:
    if isinstance(kind, tuple):
        return kind[0]
    return () if kind == "list" else 0.0


# What is told


def told_facts(worked: Worked) -> ToldFacts:
    """What a draft tells of itself, as far as it applies."""
    known = table()["told"]
    found: dict[str, list[tuple[str, float | str]]] = {}
    for key, said in worked.draft.sewing.items():
        name, _, place = key.partition(_AT)
        if name in kinds() and name in known:
            told = said if isinstance(said, Told) else Told(value=said)
            value = _told(worked, told, known[name]["kind"])
            if value is not None:
                found.setdefault(name, []).append((place, value))
    return found


def _told(worked: Worked, told: Told, kind: str | list[str]) -> float | str | None:
    """The value of what is told; None where it does not apply."""
    try:
        if told.when is not None and not worked.read(told.when, Reads.WHETHER):
            return None
        if isinstance(kind, str):
            return float(worked.read(told.value, _READS[kind]))
    except SkirtwrightError:
        # It leans on what could not be drawn, and that has been said.
        return None
    word = worked.stated.choices.get(told.value, told.value)
    return word if word in kind else None


# Workings over the facts


class _FactScope:
    """What a working over the facts may see: the facts, and nothing drawn."""

    @property
    def unit(self) -> Unit:
        return "cm"

    def index(self, name: str) -> int:
        raise BadInput("draft.no_turn", name, name=name)

    def last(self, prefix: str) -> int:
        raise NotFound("draft.not_repeated", prefix, name=prefix)

    def called(self, word: str) -> str:
        return word

    def find(self, path: str) -> tuple[str, str]:
        if path not in kinds():
            near = nearest(path, kinds(), 0.5)
            raise NotFound("draft.no_name", path, name=path, nearest=near)
        return path, ""

    def kind_of(self, base: str) -> Kind:
        kind = kinds()[base]
        if isinstance(kind, tuple) or kind not in _KINDS:
            raise BadInput("draft.not_a_number", base, name=base)
        return _KINDS[kind]

    def options_of(self, choice: str) -> tuple[str, ...]:
        kind = kinds()[choice]
        if isinstance(kind, str):
            raise BadInput("draft.not_a_choice", choice, name=choice)
        return kind

    def drawn(self) -> tuple[str, ...]:
        return ()

    def measure(
        self, function: str, _: tuple[BoundPlace, ...]
    ) -> Callable[[Values], float]:
        raise BadInput("draft.not_a_number", function, name=function)

    def given(self, name: str) -> str:
        raise BadInput("draft.not_a_number", name, name=name)


@cache
def _condition(text: str) -> Bound:
    return bind(parse_condition(text), _FactScope())


@cache
def _working(text: str) -> Bound:
    return bind(parse_working(text), _FactScope())
