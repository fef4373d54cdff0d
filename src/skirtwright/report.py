"""The report: every length, seam, finished measure and finding.

Nothing else computes one; the window, the command line, tests and sheets read it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

from skirtwright.budget import REACH
from skirtwright.checks.all_checks import Checked, Checking
from skirtwright.checks.checked_skirt import Skirt
from skirtwright.draft.altering import said_of_a_fitting
from skirtwright.draft.draft import FINISHED, Told
from skirtwright.draft.halves.merged_problems import merged_problems
from skirtwright.draft.step import Reads
from skirtwright.draft.working.recompute import Worked
from skirtwright.figure.body import Body, body_of
from skirtwright.figure.wearing import Wearing
from skirtwright.figure.worn_skirt import Worn
from skirtwright.lay.all_cloths import NOT_LAID, Lays
from skirtwright.lay.lay import Lay
from skirtwright.measures.measurements import SIDES
from skirtwright.pieces.cutting import Cut
from skirtwright.pieces.larger import Shrinks, cut_larger
from skirtwright.problems import Problem, SkirtwrightError
from skirtwright.words import (
    Sayable,
    has_message,
    is_noticeable,
)

_WALKING = ("height", "waist_to_floor_side", "thigh", "knee", "calf")
"""The measurements room to walk is worked from, beside the style's own."""

_ABSENT = "draft.leans_on_absent"

_OF_THE_FIGURE = ("seat_behind_waist", "stomach_before_waist")
"""The measurements that shape the figure, whatever the style."""


@dataclass(frozen=True)
class Report:
    """A draft, worked and cut, as figures.

    Attributes:
        cut: its pieces and seams; what is cut apart, in parts.
        declared: the finished measures the style declares, mm.
        checked: the skirt, nothing cut apart, with what the checks find.
        taken: her measurements, mm, those of one side too.
        laid: its pieces on their cloths, where they were laid.
        shrinks: the cloths that pieces are cut larger for; every figure but those of
            paper and cloth is of the skirt when they have shrunk.
        altered: what was altered at fittings, a line each.
        more: what else there is to say, of order and cloths.
    """

    title: str
    worked: Worked
    cut: Cut
    declared: Mapping[str, float | None]
    checked: Checked
    taken: Mapping[str, float]
    laid: Lays = NOT_LAID
    shrinks: Shrinks = field(default_factory=dict)
    altered: tuple[Sayable, ...] = ()
    more: tuple[Problem, ...] = ()

    @property
    def skirt(self) -> Skirt:
        """The skirt as it is measured for the checks, nothing cut apart."""
        return self.checked.skirt

    @property
    def finished(self) -> Mapping[str, float | None]:
        """The closed skirt on the body, all round, and the step it allows, mm."""
        return self.skirt.finished

    def is_about(self, measure: str) -> bool:
        """Whether a finished measure is worked from her height, and that estimated.

        How far she steps depends on how high over the floor the skirt is narrowest.
        """
        known = self.worked.stated.estimated
        return measure == "step_allowed" and "waist_to_floor_side" in known

    @cached_property
    def problems(self) -> tuple[Problem, ...]:
        """Everything there is to say, the gravest first; checked when it is asked.

        Of a skirt that the style refuses and that is drawn in part, that alone.
        """
        if self._in_part:
            return self.refusals
        beyond = _beyond(self.worked, self.finished)
        found = self.checked.problems
        told = (*self._drafted, *self.cut.problems, *self.worked.bound.unread)
        return self._to_say((*told, *beyond, *found, *self.more))

    @property
    def lays(self) -> tuple[Lay, ...]:
        """Its pieces on their cloths, where they were laid."""
        return self.laid.lays

    @cached_property
    def to_cut(self) -> Cut:
        """What goes on paper and on cloth: larger where its cloth still shrinks."""
        return cut_larger(self.cut, self.shrinks)

    def with_problems(self, more: Sequence[Problem]) -> Report:
        """The same with more there is to say."""
        return replace(self, more=(*self.more, *more)) if more else self

    def with_lays(self, laid: Lays) -> Report:
        """The same with its pieces laid, and what there is to say of that."""
        return replace(self, laid=laid, more=(*self.more, *laid.problems))

    @property
    def has_wrong(self) -> bool:
        """True when something cannot be cut or sewn as drawn."""
        return any(problem.severity == "wrong" for problem in self.problems)

    @property
    def unused(self) -> tuple[str, ...]:
        """Measurements on the card that nothing is worked from."""
        used = {*_OF_THE_FIGURE, *(_WALKING if self.worked.draft.stride else ())}
        return tuple(n for n in self.worked.stated.unused if n not in used)

    def worn(self, wearing: Wearing | None = None, *, fine: bool = True) -> Worn | None:
        """The skirt on her; None where nothing of it can be drawn on her.

        Args:
            wearing: what put the last one on, to work nothing again that is the same.
            fine: to be looked at large; else quick enough to follow a hand.
        """
        stated = self.checked.measured.stated
        stretch = stated("stretch") or 0.0
        put = wearing or Wearing()
        front, back = (
            stated(f"waist_flat_{body}") or 0.0 for body in ("front", "back")
        )
        return put.of(
            self.taken,
            self.cut.whole,
            self.declared,
            stretch,
            fine=fine,
            flat=(front, back),
            left_on_top=self._left_on_top,
        )

    @property
    def _left_on_top(self) -> bool:
        """Whether the style says that her left front laps over the right one."""
        said = self.worked.draft.sewing.get("laps")
        choice = said and Told.of(said).value
        return self.worked.stated.choices.get(choice or "") == "left_over_right"

    @property
    def body(self) -> Body | None:
        """Her lower body; None where too little was taken."""
        return body_of(self.taken)

    @property
    def refusals(self) -> tuple[Problem, ...]:
        """What could not be worked at all: draft and pieces say so, no check does."""
        stops = [*self._stops, *(p for p in self.more if p.stops)]
        if self._in_part:
            stops = [p for p in stops if p.code != _ABSENT]
        return self._to_say(stops)

    @cached_property
    def _drafted(self) -> tuple[Problem, ...]:
        """What the draft has to say."""
        return tuple(map(said_of_a_fitting, self.worked.problems))

    @cached_property
    def _stops(self) -> tuple[Problem, ...]:
        """What stops it; nothing does that a piece itself tells."""
        return tuple(p for p in (*self._drafted, *self.cut.told) if p.stops)

    def _to_say(self, found: Iterable[Problem]) -> tuple[Problem, ...]:
        if any(piece.half for piece in self.worked.draft.pieces):
            found = merged_problems(found)
        return _gravest_first(found)

    @cached_property
    def _in_part(self) -> bool:
        """Whether the style refuses it, and steps lean on what is therefore absent."""
        codes = [problem.code for problem in self._stops]
        return _ABSENT in codes and any(code.startswith("style.") for code in codes)


def report(
    worked: Worked,
    cut: Cut,
    title: str,
    checking: Checking | None = None,
    taken: Mapping[str, float] | None = None,
    shrinks: Shrinks | None = None,
) -> Report:
    """The report of a worked and cut draft.

    Args:
        checking: what checked the last one, to ask nothing again that is the same.
        taken: her measurements with those of one side, mm; None: as the draft has them.
        shrinks: the cloths that pieces are cut larger for.
    """
    declared = finished_measures(worked)
    checked = (checking or Checking()).of(worked, cut.whole, declared)
    grown = tuple(_cut_larger(cut, shrinks or {}))
    body = dict(worked.inputs.measurements if taken is None else taken)
    return Report(
        title,
        worked,
        cut,
        declared,
        checked,
        body,
        shrinks=shrinks or {},
        more=grown,
    )


def _cut_larger(cut: Cut, shrinks: Shrinks) -> Iterator[Problem]:
    """That pieces are cut larger, of each cloth there is one of."""
    for material in dict.fromkeys(piece.spec.material for piece in cut.listed):
        along, across = shrinks.get(material, (0.0, 0.0))
        if along or across:
            known = f"label.material.{material}"
            cloth = known if has_message(known) else material
            values = {"cloth": cloth, "along": along, "across": across}
            yield Problem("cloth.cut_larger", "note", material, values)


def _gravest_first(found: Iterable[Problem]) -> tuple[Problem, ...]:
    """What is worth saying, each once, what stops first."""
    grave = {"wrong": 0, "caution": 1, "note": 2}
    ordered = sorted(
        dict.fromkeys(_Hashed(problem) for problem in found if is_noticeable(problem)),
        key=lambda item: (not item.problem.stops, grave[item.problem.severity]),
    )
    return tuple(item.problem for item in ordered)


class _Hashed:
    """A Problem compared by what it says, so that nothing is said twice."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self._key = (problem.code, problem.where, repr(sorted(problem.values.items())))

    def __hash__(self) -> int:
        return hash(self._key)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Hashed) and self._key == other._key


def finished_measures(worked: Worked) -> dict[str, float | None]:
    """The finished measures a style declares, mm; None where it has none."""
    found: dict[str, float | None] = {}
    for name in _stated(worked.draft.finished):
        text = worked.draft.finished.get(name)
        try:
            found[name] = None if text is None else worked.read(text, Reads.LENGTH)
        except SkirtwrightError:
            found[name] = None
    return found


def _stated(finished: Mapping[str, str]) -> Iterator[str]:
    """What every report has; behind a measure those of its sides, where they differ."""
    for name in FINISHED:
        yield name
        yield from (of for side in SIDES if (of := f"{name}_{side}") in finished)


def _beyond(worked: Worked, finished: Mapping[str, float | None]) -> Iterator[Problem]:
    """Finished measures, and levels to stride at, that no skirt has."""
    for name, value in finished.items():
        if value is not None and not 0 <= value <= REACH:
            values = {"measure": f"finished.{name}", "value": value}
            yield Problem("report.finished_beyond", "wrong", name, values)
    for level in worked.draft.stride:
        try:
            girth = worked.read(level.girth, Reads.LENGTH)
            depth = worked.read(level.below_waist, Reads.LENGTH)
        except SkirtwrightError:
            continue  # Nothing is told of a level that is not there.
        if not (0 < girth <= REACH and 0 <= depth <= REACH):
            values = {"girth": girth, "depth": depth}
            yield Problem("report.level_beyond", "wrong", "stride", values)
