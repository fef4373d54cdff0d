"""A draft with what was altered at a fitting written into it.

What ends above the hip is altered as soon as the panels have their waist, before
anything grows from them; what reaches further down once they have their whole shape.
So what is drawn from them, facing, band, lining or vent, follows. An edge keeps its
length, so that it still meets what it is sewn to; the checks expect waist and hip as
they become.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from skirtwright.draft.alterations import (
    MIDDLE,
    PLACES,
    Alterable,
    Alteration,
    SeamOf,
    alterable,
)
from skirtwright.draft.draft import Draft, Group, Told
from skirtwright.draft.halves.rewriting import names_in
from skirtwright.draft.kinds import ALL
from skirtwright.draft.kinds.numbers import Check
from skirtwright.draft.shaping import Shapes, Shaping
from skirtwright.draft.step import Step
from skirtwright.measures.records import take
from skirtwright.measures.units import Unit, read_length, show_number
from skirtwright.problems import BadInput, Problem, told_of
from skirtwright.words import Composed, Phrase

_MOST_FOUND = 100.0
"""A seam is moved by no more than this beside what is asked, mm, to fit the waist."""

Sides = Mapping[str, tuple[float, float]]
"""Numbers that differ left and right, mm."""


LeftOut = tuple[Alteration, Problem]

_NO_PLACE = frozenset(
    f"fitting.{name}"
    for name in ("no_seam", "cut_once", "in_parts", "shaped_on", "drawn_in", "no_hip")
)
"""What a style says of an alteration that another has a place for."""


@dataclass(frozen=True)
class Altered:
    """A draft with its alterations.

    Attributes:
        draft: the draft.
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
        waist: the edge at the waist.
        hip: the line at the hip.
        count: so many edges of the skirt are cut from it.
        parted: whether the edge ends above the hem, where something is let in.
    """

    panel: str
    edge: str
    waist: str | None
    hip: str | None
    count: int
    parted: bool

    @property
    def named(self) -> str:
        return f"{self.panel}.{self.edge}"


def altered(
    draft: Draft, alterations: Iterable[Alteration], unit: Unit, hip_depth: float
) -> Altered:
    """The draft as it is to be worked after a fitting.

    Args:
        draft: of the order.
        alterations: those of them that are written into a draft.
        unit: of lengths typed without one.
        hip_depth: from her waist to her hip, mm.

    Raises:
        BadInput: a figure cannot be read.
        NotFound: nothing of that name can be altered.
    """
    writing, left = _Writing(draft, unit, hip_depth), []
    for alteration in alterations:
        try:
            writing.add(alteration)
        except BadInput as refused:
            if refused.problem.code not in _NO_PLACE:
                raise
            left.append((alteration, refused.problem))
    return replace(writing.altered(), left_out=tuple(left))


_MOST_EDGES = 2
"""A seam lies between a front and a back; of many gores only some are cut."""


class _Writing:
    """Writes alterations into one draft."""

    def __init__(self, draft: Draft, unit: Unit, hip_depth: float) -> None:
        self._draft, self._unit, self._hip_depth = draft, unit, hip_depth
        self._shaping = Shaping(draft)
        self._added: dict[int, list[Any]] = {}
        self._said: list[Step] = []
        self._sides: dict[str, tuple[float, float]] = {}
        self._more: dict[str, list[str]] = {"waist_asked": [], "hip_asked": []}
        self._count = 0
        self._levelled = False

    def altered(self) -> Altered:
        """The draft with all that was written."""
        steps: list[Any] = []
        for at, item in enumerate((*self._shaping.steps, None)):
            steps += self._added.get(at, ())
            if item is not None:
                steps.append(item)
        steps += self._said
        checks = {name: self._told(name, t) for name, t in self._draft.checks.items()}
        if self._levelled:
            checks["hem_levelled"] = "1"
        changes = {"steps": tuple(steps), "checks": checks}
        return Altered(self._draft.model_copy(update=changes), dict(self._sides))

    def _told(self, name: str, told: str | Told) -> str | Told:
        more = "".join(f" + {number}" for number in self._more.get(name, ()))
        if not more:
            return told
        if isinstance(told, str):
            return f"({told}){more}"
        return told.model_copy(update={"value": f"({told.value}){more}"})

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
        """A seam let out or taken in.

        Raises:
            BadInput: the style has no such seam, or a figure cannot be read.
        """
        known = alterable(alteration.what)
        # Band and lining are drawn from the waist: it is altered before they are.
        low = alteration.first != "waist" and self._ends_low(alteration.last)
        shapes = self._shaping.shapes(low=low)
        targets = _targets(shapes, known.seam)
        self._refuse(known, alteration, low, targets)
        name = self._begin(known, alteration, shapes, targets)
        steps = _Steps(name)
        self._number(steps, name, alteration.sides(self._unit))
        at = shapes.ends_at(target.panel for target in targets)
        hip = self._draft.finished.get("hip", "")
        hip_known = bool(hip) and shapes.knows(names_in(hip, "working"), at)
        if not hip_known:
            girths = [f"{t.count} * girth({t.panel}.{t.hip})" for t in targets if t.hip]
            hip = " + ".join(girths) or "0 cm"
        steps.number(f"{name}_hip_before", hip)
        for target in targets:
            self._let_out(steps, target, alteration)
        steps.number(f"{name}_hip_change", f"({hip}) - {name}_hip_before")
        self._more["hip_asked"].append(f"{name}_hip_change")
        self._put(steps, shapes, at)
        self._say_folds(name, known, shapes)

    def _let_out(self, steps: _Steps, target: _Target, alteration: Alteration) -> None:
        """One edge; at the waist by what makes the waist as much longer as asked."""
        by, edge = steps.name, target.named
        first, last = (
            self._place(target, text) for text in (alteration.first, alteration.last)
        )
        out = {"kind": "let_out_between", "panel": target.panel, "edge": target.edge}
        out |= {"first": first, "last": last}
        name = f"{by}_{target.panel}"
        waist = target.waist and f"walk({target.panel}.{target.waist})"
        if waist:
            steps.number(f"{name}_waist_before", waist)
        if waist and first == f"{edge} start":
            steps.found(f"{name}_waist", by, waist, out, target)
        else:
            steps.step(f"{name}_out", {**out, "by": by})
        if waist:
            change = f"{name}_waist_change"
            steps.number(change, f"{waist} - {name}_waist_before")
            self._more["waist_asked"].append(f"{target.count} * {change}")

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
        steps = _Steps(name)
        for place, both in alteration.cut_off(self._unit).items():
            self._number(steps, f"{name}_{place}", both)
        for body, found in bodies.items():
            places = [f"{name}_{body}", f"{name}_{body}_middle", f"{name}_side"]
            if len(found) != 1:
                raise BadInput("fitting.no_seam", known.id, alteration=known.label)
            hem = {"panel": found[0].panel, "edge": found[0].edge, "cuts": places}
            steps.step(f"{name}_{body}_cut", {"kind": "shorten_along", **hem})
        self._levelled = True
        self._put(steps, shapes, shapes.ends_at(t.panel for t in targets))

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
        if not 1 <= len(targets) <= _MOST_EDGES:
            raise BadInput("fitting.no_seam", known.id, alteration=known.label)
        differs = alteration.side or len(alteration.readings) > MIDDLE
        if differs and any(shapes.is_whole(target.panel) for target in targets):
            raise BadInput("fitting.cut_once", known.id, alteration=known.label)
        self._count += 1
        return f"alteration_{self._count}"

    def _put(self, steps: _Steps, shapes: Shapes, at: int) -> None:
        """Writes steps in where the panels they alter have their shape."""
        self._added.setdefault(at, []).extend(steps.written)
        for when in self._shaping.linings_before(at) if shapes.low else ():
            says = Composed("fitting.lining_stays", {})
            name = f"{steps.name}_lining_stays"
            self._said.append(_check(name, when, "note", says))

    def _refuse(
        self,
        known: Alterable,
        alteration: Alteration,
        low: bool,
        targets: list[_Target],
    ) -> None:
        """Refuse a seam in parts, and a waist that is drawn in to its length.

        Raises:
            BadInput: it is one of these.
        """
        code = ""
        if not low and self._ends_low(alteration.last) and self._goes_on(targets):
            code = "fitting.shaped_on"
        if low and any(target.waist is None or target.parted for target in targets):
            code = "fitting.in_parts"
        if alteration.first == "waist" and "walk(" not in self._draft.finished.get(
            "waist", "walk("
        ):
            code = "fitting.drawn_in"
        if code:
            raise BadInput(code, known.id, alteration=known.label)

    def _goes_on(self, targets: list[_Target]) -> bool:
        """Whether panels are shaped further after finishings are drawn from them."""
        panels = [target.panel for target in targets]
        early, late = (self._shaping.shapes(low=low) for low in (False, True))
        return bool(panels) and late.ends_at(panels) > early.ends_at(panels)

    def _say_folds(self, name: str, known: Alterable, shapes: Shapes) -> None:
        """Stops the draft where the seam that was altered turns out to be a fold."""
        for number, when in enumerate(_on_fold(shapes, known.seam), 1):
            says = Composed("fitting.on_fold", {"alteration": known.label})
            at = f"{name}_on_fold_{number}"
            self._said.append(_check(at, when, "refuse", says))

    def _ends_low(self, last: str) -> bool:
        if last in PLACES:
            return last == "hem"
        return self._depth(last) > self._hip_depth

    def _depth(self, text: str) -> float:
        try:
            return max(read_length(text, self._unit), 0.0)
        except BadInput as error:
            raise told_of(error, Phrase("fitting.place")) from error

    def _place(self, target: _Target, text: str) -> str:
        """A place on an edge, as a step names it."""
        edge = target.named
        if text == "hip":
            if target.hip is None:
                raise BadInput("fitting.no_hip", target.panel)
            return f"{edge} at mark {target.hip}"
        if text == "hem":
            return f"{edge} end"
        depth = 0.0 if text == "waist" else self._depth(text)
        if depth <= 0:
            return f"{edge} start"
        return f"{edge} at least({_mm(depth)}, walk({edge}))"

    def _number(self, steps: _Steps, name: str, both: tuple[float, float]) -> None:
        """A number of the alteration, with what it is on each side."""
        steps.number(name, _mm((both[0] + both[1]) / 2))
        if both[0] != both[1]:
            self._sides[name] = both


class _Steps:
    """The steps of one alteration, as they are written."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.written: list[Any] = []

    def number(self, name: str, value: str) -> None:
        """A number worked there."""
        self.step(name, {"kind": "number", "value": value})

    def step(self, name: str, fields: Mapping[str, Any]) -> None:
        """Any step."""
        self.written.append(_step(name, fields))

    def found(
        self, name: str, by: str, walked: str, out: Mapping[str, Any], target: _Target
    ) -> None:
        """An edge let out by what makes the edge at its start so much longer."""
        find = {
            "unknown": f"{name}_by",
            "least": f"{by} - {_MOST_FOUND} mm",
            "most": f"{by} + {_MOST_FOUND} mm",
            "match": walked,
            "to": f"{name}_before + {by}",
        }
        drawn = {"kind": "redraw", "panel": target.panel, "edge": target.waist}
        steps = [
            _raw(f"{name}_out", {**out, "by": f"{name}_by"}),
            _raw(f"{name}_drawn", drawn),
        ]
        found = {"group": f"{name}_found", "find": find, "steps": steps}
        # A half that is not altered keeps the line it has.
        is_altered = {"when": f"{by} > 0 or {by} < 0", "steps": [found]}
        self.written.append(take(Group, {"group": f"{name}_altered", **is_altered}))


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
    """The edges of a seam, each once."""
    if seam is None:
        return []
    found: dict[tuple[str, str], _Target] = {}
    for piece, panel, edge in shapes.edges(seam.role, seam.body):
        if edge in piece.folds or (panel, edge) in found:
            continue
        waist = shapes.meeting(panel, "waist")
        count = 2 * len(shapes.bodies(panel))
        parted = shapes.meeting(panel, "godet") is not None
        target = _Target(panel, edge, waist, shapes.hip(panel), count, parted)
        found[panel, edge] = target
    return list(found.values())


def _on_fold(shapes: Shapes, seam: SeamOf | None) -> tuple[str | None, ...]:
    """When an edge of a seam is on a fold."""
    if seam is None:
        return ()
    edges = shapes.edges(seam.role, seam.body)
    folds = [piece.when for piece, _, edge in edges if edge in piece.folds]
    return tuple(dict.fromkeys(folds))
