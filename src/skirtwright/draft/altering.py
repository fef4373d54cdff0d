"""A draft with what was altered at a fitting written into it.

A seam is altered where its panels have their shape, before anything grows from them:
so what is drawn from them, facing, band, lining or vent, follows. Where panels are
shaped further after that, as a flare is once the lining is cut, they are first put back
as they were and altered again in the end: what is not altered lies where it lay. An
edge keeps its length, so that it still meets what it is sewn to; the checks expect
waist and hip as they become.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from skirtwright.draft.alterations import (
    MIDDLE,
    Alterable,
    Alteration,
    SeamOf,
    alterable,
    depth_of,
)
from skirtwright.draft.draft import Draft, Group, Told
from skirtwright.draft.kinds import ALL
from skirtwright.draft.kinds.fitted_edges import least_stretch
from skirtwright.draft.kinds.numbers import Check
from skirtwright.draft.shaping import Shapes, Shaping
from skirtwright.draft.step import Step
from skirtwright.measures.records import take
from skirtwright.measures.units import Unit, show_number
from skirtwright.measures.working_parsing import parse_working
from skirtwright.measures.working_trees import Binary
from skirtwright.measures.working_writing import written
from skirtwright.problems import BadInput, Problem
from skirtwright.words import Composed

_MOST_FOUND = 100.0
"""A seam is moved by no more than this beside what is asked, mm, to fit the waist."""

Sides = Mapping[str, tuple[float, float]]
"""Numbers that differ left and right, mm."""


LeftOut = tuple[Alteration, Problem]

_NO_PLACE = frozenset(
    f"fitting.{name}"
    for name in (
        "no_seam",
        "cut_once",
        "in_parts",
        "hem_in_parts",
        "on_fold",
        "drawn_by_itself",
        "drawn_in",
        "no_hip",
    )
)
"""What a style says of an alteration that another has a place for."""


@dataclass(frozen=True)
class Altered:
    """A draft with its alterations.

    Attributes:
        sides: what of them differs left and right: numbers it speaks of and does not
            make itself.
        left_out: alterations the style has no place for, each with why.
    """

    draft: Draft
    sides: Sides = field(default_factory=dict)
    left_out: tuple[LeftOut, ...] = ()


@dataclass(frozen=True)
class _Target:
    """An edge that is altered, and how often it is in the skirt.

    Attributes:
        panel, edge: what is altered.
        waist, hip: the edge at the waist, and the line at the hip.
        count: so many edges of the skirt are cut from it.
        when: it is in the seam, where that is not always so.
    """

    panel: str
    edge: str
    waist: str | None
    hip: str | None
    count: int
    when: str | None = None

    @property
    def named(self) -> str:
        return f"{self.panel}.{self.edge}"

    @property
    def waist_walked(self) -> str | None:
        return self.waist and f"walk({self.panel}.{self.waist})"

    @property
    def hip_girth(self) -> str | None:
        return self.hip and f"girth({self.panel}.{self.hip})"


def altered(
    draft: Draft,
    alterations: Iterable[Alteration],
    unit: Unit,
    folds: frozenset[str] = frozenset(),
) -> Altered:
    """The draft as it is to be worked after a fitting.

    Args:
        alterations: those of them that are written into a draft.
        unit: of lengths typed without one.
        folds: of `fold_conditions` those that hold.

    Raises:
        BadInput: a figure cannot be read.
        NotFound: nothing of that name can be altered.
    """
    writing, left = _Writing(draft, unit, folds), []
    for alteration in alterations:
        try:
            writing.add(alteration)
        except BadInput as refused:
            if refused.problem.code not in _NO_PLACE:
                raise
            left.append((alteration, refused.problem))
    return replace(writing.altered(), left_out=tuple(left))


def fold_conditions(draft: Draft, alterations: Iterable[Alteration]) -> tuple[str, ...]:
    """Conditions under which a seam that is altered is cut on the fold."""
    shaping = Shaping(draft)
    both = [shaping.shapes(low=low) for low in (False, True)]
    seams = {alterable(one.what).seam for one in alterations}
    found = (when for s in both for seam in seams for when in _on_fold(s, seam))
    return tuple(dict.fromkeys(when for when in found if when is not None))


def said_of_a_fitting(problem: Problem) -> Problem:
    """What a draft says, in a fitting's words where an alteration is not found."""
    sought = re.search(r"alteration_(\d+)_\w*_found", problem.where)
    if problem.code != "draft.cannot_agree" or sought is None:
        return problem
    values = {"number": int(sought[1]), "miss": problem.values["miss"]}
    return replace(problem, code="fitting.cannot_agree", values=values)


_MOST_EDGES = 2
"""A seam lies between a front and a back."""


class _Writing:
    """Writes alterations into one draft."""

    def __init__(self, draft: Draft, unit: Unit, folds: frozenset[str]) -> None:
        self._draft, self._unit, self._folds = draft, unit, folds
        self._shaping = Shaping(draft)
        self._added: dict[int, list[Any]] = {}
        self._put_back: dict[int, dict[str, Step]] = {}
        self._said: list[Step] = []
        self._sides: dict[str, tuple[float, float]] = {}
        self._more: dict[str, list[str]] = {"waist_asked": [], "hip_asked": []}
        self._count = 0
        self._levelled = False

    def altered(self) -> Altered:
        """The draft with all that was written."""
        steps: list[Any] = []
        for at, item in enumerate((*self._shaping.steps, None)):
            steps += self._put_back.get(at, {}).values()
            steps += self._added.get(at, ())
            if item is not None:
                steps.append(item)
        steps += self._said
        checks = {name: self._told(name, t) for name, t in self._draft.checks.items()}
        if self._levelled:
            checks["hem_levelled"] = "1"
        changes = {"steps": tuple(steps), "checks": checks}
        return Altered(self._draft.replace(**changes), dict(self._sides))

    def _told(self, name: str, told: str | Told) -> str | Told:
        more = self._more.get(name)
        if not more:
            return told
        said = Told.of(told)
        tree = parse_working(said.value)
        for number in more:
            # As a tree: so many alterations make a longer text than may be typed.
            tree = Binary("+", tree, parse_working(number))
        return said.replace(value=written(tree))

    def add(self, alteration: Alteration) -> None:
        """An alteration; of one that is refused nothing is written.

        Raises:
            BadInput: the style has no place for it, or a figure cannot be read.
        """
        before = dict(self._sides)
        try:
            if alterable(alteration.what).reads:
                self.level(alteration)
            else:
                self.seam(alteration)
        except BadInput:
            self._sides = before
            raise

    def seam(self, alteration: Alteration) -> None:
        """A seam let out or taken in, between two places of it or all along.

        Raises:
            BadInput: the style has no such seam, or a figure cannot be read.
        """
        known = alterable(alteration.what)
        early, late = (self._shaping.shapes(low=low) for low in (False, True))
        # A seam that is drawn after something else has grown is altered in the end.
        grown = not _targets(early, known.seam)
        shapes = late if grown else early
        targets = _targets(shapes, known.seam)
        name = self._begin(known, alteration, shapes, targets)
        if not self._folds.isdisjoint(_on_fold(shapes, known.seam)):
            raise BadInput("fitting.on_fold", known.id, alteration=known.label)
        self._refuse_waist(known, alteration, grown=grown)
        for target in targets:
            self._places(target, alteration)
        panels = [target.panel for target in targets]
        places = [*self._shaping.altered_at(panels)]
        if grown:
            places = [(late.ends_at(panels), None)]
        asked = _Steps(name, name)
        self._number(asked, name, alteration.sides(self._unit))
        self._put(asked, places[0][0])
        for turn, (at, put_back) in enumerate(places, 1):
            lasts = put_back is None
            steps = _Steps(name if lasts else f"{name}_{turn}", name)
            if put_back is not None:
                self._keep(panels, at, put_back)
            for target in targets:
                self._let_out(steps, target, alteration, lasts=lasts)
            if not lasts:
                steps.only_when(self._reaches(targets, alteration))
                steps.number(f"{name}_{turn}_seam", f"walk({targets[0].named})")
            self._put(steps, at)
        if grown:
            self._say_linings(name, at, "lining_stays")
        elif len(places) > 1 and alteration.last == "hem":
            long = f"{name}_1_seam - walk({targets[0].named})"
            apart = f"greatest({long}, -({long})) > 1 cm"
            self._say_linings(name, at, "lining_ends_elsewhere", apart)
        self._say_folds(name, known, shapes)
        self._note_hung_pieces(name, targets, shapes)

    def _reaches(self, targets: list[_Target], alteration: Alteration) -> str:
        """When what a lining is cut from reaches down to where a seam is altered."""
        least = least_stretch(alteration.length(self._unit), False, True)
        depth = _mm((depth_of(alteration.first, self._unit) or 0.0) + least)
        return " and ".join(f"walk({target.named}) > {depth}" for target in targets)

    def _keep(self, panels: Iterable[str], at: int, put_back: int) -> None:
        """Panels put back, before they are shaped further, as they are at a place."""
        for panel in panels:
            kept = f"{panel}_before_{put_back}"
            if panel not in self._put_back.setdefault(put_back, {}):
                copied = _step(kept, {"kind": "copy", "panel": panel})
                self._added.setdefault(at, []).append(copied)
                fields = {"kind": "put_back", "panel": panel, "traced": kept}
                self._put_back[put_back][panel] = _step(f"{kept}_put_back", fields)

    def _let_out(
        self, steps: _Steps, target: _Target, alteration: Alteration, *, lasts: bool
    ) -> None:
        """One edge; at the waist by what makes the waist as much longer as asked."""
        name = f"{steps.name}_{target.panel}"
        told = {"waist": target.waist_walked, "hip": target.hip_girth}
        lengths = {what: length for what, length in told.items() if length and lasts}
        own = _Steps(name, steps.by)
        for what, length in lengths.items():
            own.number(f"{name}_{what}_before", length)
        self._draw(own, target, alteration)
        for what, length in lengths.items():
            change = f"{name}_{what}_change"
            own.number(change, f"{length} - {name}_{what}_before")
            self._more[f"{what}_asked"].append(f"{target.count} * {change}")
            if target.when:
                steps.number(change, "0 cm")
        if target.when:
            own.only_when(target.when)
        steps.written += own.written

    def _draw(self, steps: _Steps, target: _Target, alteration: Alteration) -> None:
        first, last = self._places(target, alteration)
        out = {"kind": "let_out_between", "panel": target.panel, "edge": target.edge}
        out |= {"first": first, "last": last}
        if not target.waist or first != f"{target.named} start":
            steps.step(f"{steps.name}_out", {**out, "by": steps.by})
        elif target.hip and last == f"{target.named} end":
            hip = {**out, "last": f"{target.named} at mark {target.hip}"}
            steps.found(target, hip, out)
        else:
            steps.found(target, out)

    def level(self, alteration: Alteration) -> None:
        """A hem cut off to one height over the floor.

        Raises:
            BadInput: the style has no hem to level, or a figure cannot be read.
        """
        known = alterable(alteration.what)
        shapes = self._shaping.shapes(low=True)
        bodies = {
            body: _targets(shapes, take(SeamOf, {"role": "hem", "body": body}))
            for body in ("front", "back")
        }
        targets = [target for found in bodies.values() for target in found]
        by_side = len(alteration.readings) > MIDDLE
        if by_side and any(shapes.is_unfolded(target.panel) for target in targets):
            raise BadInput("fitting.cut_once", known.id, alteration=known.label)
        name = self._begin(known, alteration, shapes, targets)
        steps = _Steps(name, name)
        for place, both in alteration.cut_off(self._unit).items():
            self._number(steps, f"{name}_{place}", both)
        for body, found in bodies.items():
            places = [f"{name}_{body}", f"{name}_{body}_middle", f"{name}_side"]
            if len(found) != 1:
                raise BadInput("fitting.hem_in_parts", known.id, alteration=known.label)
            hem = {"panel": found[0].panel, "edge": found[0].edge, "cuts": places}
            steps.step(f"{name}_{body}_cut", {"kind": "shorten_along", **hem})
        self._levelled = True
        at = shapes.ends_at(t.panel for t in targets)
        self._put(steps, at)
        self._say_linings(name, at, "lining_stays")

    def _begin(
        self,
        known: Alterable,
        alteration: Alteration,
        shapes: Shapes,
        targets: list[_Target],
    ) -> str:
        """A name for what is altered, once it is known to be there.

        Raises:
            BadInput: it is not, or is cut in one for both sides where one is meant.
        """
        always = [target for target in targets if target.when is None]
        in_parts = len(always) > _MOST_EDGES
        if known.reads and (in_parts or not targets):
            raise BadInput("fitting.hem_in_parts", known.id, alteration=known.label)
        if in_parts:
            raise BadInput("fitting.in_parts", known.id, alteration=known.label)
        if not targets:
            raise BadInput("fitting.no_seam", known.id, alteration=known.label)
        differs = alteration.side or len(alteration.readings) > MIDDLE
        if differs and any(shapes.is_whole(target.panel) for target in targets):
            raise BadInput("fitting.cut_once", known.id, alteration=known.label)
        self._count += 1
        return f"alteration_{self._count}"

    def _put(self, steps: _Steps, at: int) -> None:
        """Writes steps in behind so many of the draft's."""
        group = {"group": steps.name, "steps": steps.written}
        self._added.setdefault(at, []).extend(take(Group, group).steps)

    def _say_linings(self, name: str, at: int, how: str, where: str = "1 > 0") -> None:
        """Says how linings, cut before a step, do not follow."""
        for lined in self._shaping.linings_before(at):
            when = f"({lined or '1 > 0'}) and {where}"
            says = Composed(f"fitting.{how}", {})
            self._said.append(_check(f"{name}_{how}", when, "note", says))

    def _refuse_waist(
        self, known: Alterable, alteration: Alteration, *, grown: bool
    ) -> None:
        """Refuse a waist that is drawn in to its length, or does not follow the seam.

        Raises:
            BadInput: it is one of these.
        """
        if depth_of(alteration.first, self._unit) != 0:
            return
        walked = "walk(" in self._draft.finished.get("waist", "walk(")
        if grown or not walked:
            code = "fitting.drawn_by_itself" if walked else "fitting.drawn_in"
            raise BadInput(code, known.id, alteration=known.label)

    def _say_folds(self, name: str, known: Alterable, shapes: Shapes) -> None:
        """Stops the draft where the seam that was altered turns out to be a fold."""
        for number, when in enumerate(_on_fold(shapes, known.seam), 1):
            says = Composed("fitting.on_fold", {"alteration": known.label})
            at = f"{name}_on_fold_{number}"
            self._said.append(_check(at, when, "refuse", says))

    def _note_hung_pieces(
        self, name: str, targets: list[_Target], shapes: Shapes
    ) -> None:
        """Says that what hangs from a yoke, and reaches no hip line, follows it."""
        hung = not any(shapes.meeting(target.panel, "hem") for target in targets)
        if hung and "hip" not in self._draft.finished:
            says = Composed("fitting.hangs_from_yoke", {})
            self._said.append(_check(f"{name}_hangs_from_yoke", None, "note", says))

    def _places(self, target: _Target, alteration: Alteration) -> tuple[str, str]:
        """The places between which an edge is altered, as a step names them.

        Raises:
            BadInput: it has no such place.
        """
        first, last = alteration.first, alteration.last
        return self._place(target, first), self._place(target, last)

    def _place(self, target: _Target, text: str) -> str:
        """A place on an edge, as a step names it."""
        edge = target.named
        if text == "hip":
            if target.hip is None:
                raise BadInput("fitting.no_hip", target.panel)
            return f"{edge} at mark {target.hip}"
        if text == "hem":
            return f"{edge} end"
        if not (depth := depth_of(text, self._unit)):
            return f"{edge} start"
        return f"{edge} at least({_mm(depth)}, walk({edge}))"

    def _number(self, steps: _Steps, name: str, both: tuple[float, float]) -> None:
        """A number of the alteration, with what it is on each side."""
        steps.number(name, _mm((both[0] + both[1]) / 2))
        if both[0] != both[1]:
            self._sides[name] = both


class _Steps:
    """The steps of one alteration, as they are written.

    Attributes:
        name: what their names begin with.
        by: the number that says by how much.
    """

    def __init__(self, name: str, by: str) -> None:
        self.name, self.by = name, by
        self.written: list[dict[str, Any]] = []

    def number(self, name: str, value: str) -> None:
        """A number worked there."""
        self.step(name, {"kind": "number", "value": value})

    def step(self, name: str, fields: Mapping[str, Any]) -> None:
        """Any step."""
        self.written.append(_raw(name, fields))

    def only_when(self, reaches: str) -> None:
        """What was written is to be done only where a condition holds."""
        group = {"group": f"{self.name}_inside", "when": reaches}
        self.written = [{**group, "steps": self.written}]

    def found(
        self,
        target: _Target,
        out: Mapping[str, Any],
        all_along: Mapping[str, Any] | None = None,
    ) -> None:
        """An edge let out by what makes the edge at its start so much longer.

        Where it is let out all along, that comes first, and what is found is how much
        more it takes above the hip.
        """
        name, walked = self.name, str(target.waist_walked)
        self.number(f"{name}_waist_was", walked)
        about = "0 mm" if all_along else self.by
        find = {
            "unknown": f"{name}_by",
            "least": f"{about} - {_MOST_FOUND} mm",
            "most": f"{about} + {_MOST_FOUND} mm",
            "otherwise": about,
            "match": walked,
            "to": f"{name}_waist_was + {self.by}",
        }
        drawn = {"kind": "redraw", "panel": target.panel, "edge": target.waist}
        steps = [
            _raw(f"{name}_out", {**out, "by": f"{name}_by"}),
            _raw(f"{name}_drawn", drawn),
        ]
        found = {"group": f"{name}_found", "find": find, "steps": steps}
        whole = (
            [_raw(f"{name}_all_along", {**all_along, "by": self.by})]
            if all_along
            else []
        )
        # A half that is not altered keeps the line it has.
        is_altered = {
            "when": f"{self.by} > 0 or {self.by} < 0",
            "steps": [*whole, found],
        }
        self.written.append({"group": f"{name}_altered", **is_altered})


def _raw(name: str, fields: Mapping[str, Any]) -> dict[str, Any]:
    return {"step": name, **fields}


def _step(name: str, fields: Mapping[str, Any]) -> Step:
    return take(ALL[fields["kind"]], _raw(name, fields))


def _check(name: str, when: str | None, grade: str, says: Composed) -> Step:
    fields = {"when": when or "1 > 0", "grade": grade, "says": says}
    return take(Check, {"step": name, "kind": "check", **fields})


def _mm(length: float) -> str:
    return f"{show_number(length, 4)} mm"


def _targets(shapes: Shapes, seam: SeamOf | None) -> list[_Target]:
    """The edges of a seam, each once; of many gores only some, as many are cut."""
    if seam is None:
        return []
    found: dict[tuple[str, str], tuple[_Target, str | None]] = {}
    for piece, panel, edge in shapes.edges(seam.role, seam.body):
        if edge in piece.folds or (panel, edge) in found:
            continue
        waist = shapes.meeting(panel, "waist")
        count = 2 * len(shapes.bodies(panel))
        target = _Target(panel, edge, waist, shapes.hip(panel), count)
        found[panel, edge] = target, piece.when
    if len(found) > _MOST_EDGES and all(when for _, when in found.values()):
        return [replace(target, when=when) for target, when in found.values()]
    return [target for target, _ in found.values()]


def _on_fold(shapes: Shapes, seam: SeamOf | None) -> tuple[str | None, ...]:
    """When an edge of a seam is on a fold."""
    if seam is None:
        return ()
    edges = shapes.edges(seam.role, seam.body)
    folds = [piece.when for piece, _, edge in edges if edge in piece.folds]
    return tuple(dict.fromkeys(folds))
