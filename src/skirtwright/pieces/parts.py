"""Pieces cut apart where no cloth is wide enough, and sewn together again.

A piece is joined along its straight grain, so that both its parts hang alike; a strip,
such as a band, across its length. Joined on its fold it is cut as a pair with a seam
in the middle. Each part keeps the edges it has; the join is sewn before any seam that
runs over it, and is an edge like any other. Plain geometry; the allowance is common
practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Any

from skirtwright.draft.draft import AllowanceRun, PieceOf
from skirtwright.draft.draft import Seam as SeamOf
from skirtwright.draft.halves.repeating import JOINED_ALLOWANCE
from skirtwright.draft.runs import Run, Side
from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.shapes.parting import cut_apart
from skirtwright.draft.step import Reads
from skirtwright.draft.working.recompute import Worked
from skirtwright.geometry import Chain, Line, Point, heading
from skirtwright.geometry.meeting import line_meets
from skirtwright.geometry.tolerance import SAME
from skirtwright.measures.inch_column import with_inches
from skirtwright.measures.units import Unit, read_length
from skirtwright.pieces.spec import NotchSpec
from skirtwright.pieces.walked_seams import Seam
from skirtwright.problems import Problem, Refused, SkirtwrightError
from skirtwright.words import Composed

JOIN = "join"
"""The name of the edge, and of the seam behind that of its piece."""

MOST_JOINS = 12
"""No piece is put together of more parts but one (common practice, no source)."""

STRIP = 4.0
"""From so many times as long as wide a piece is a strip, joined across its length."""

NARROWEST = 30.0
"""A part is no narrower than this, mm: it could hardly be sewn on."""

_PART = "_part_"
_CLEAR = 2.0
"""A join keeps so far from what is folded, mm."""

_ALONG = 0.9999
"""Cosine from which a fold runs along the grain."""

Marks = dict[str, list[NotchSpec]]
"""Balance marks by the names of the pieces."""

Told = Callable[[Problem], None]


@dataclass(frozen=True)
class Uncut:
    """What is to be cut and sewn, before any piece is finished for cutting.

    Attributes:
        written: the same and others, as the style writes them.
        marks: balance marks by the names of the pieces.
    """

    pieces: tuple[PieceOf, ...]
    panels: Mapping[str, Panel]
    seams: tuple[Seam, ...]
    written: tuple[SeamOf, ...]
    marks: Marks


def part_name(piece: str, number: int) -> str:
    """What a part of a piece is called; the first is 1."""
    return f"{piece}{_PART}{number}"


def piece_of_part(name: str) -> str:
    """The piece that a name is of a part of; empty where it is of none."""
    piece, part, number = name.rpartition(_PART)
    return piece if part and number.isdigit() else ""


@dataclass(frozen=True)
class Ruler:
    """Along which way a piece is measured for its joins, and from where.

    Attributes:
        way: the direction, of length 1.
        begins: where 0 is: at the fold, else at the lower end of the outline.
        long: how far the panel reaches from there, mm.
        fold: the edge that lies there on the fold; empty for none.
        is_along: True along the grain, as a strip is measured.
    """

    way: Point
    begins: float
    long: float
    fold: str = ""
    is_along: bool = False

    @property
    def told_from(self) -> str:
        """The message that tells where 0 is."""
        begins = "lower_end" if self.is_along else "left"
        return f"join.from.{'fold' if self.fold else begins}"

    def at(self, place: Point) -> float:
        """How far along a place lies, mm."""
        return place.dot(self.way) - self.begins


def ruler(panel: Panel, grain_deg: float, folds: Sequence[str]) -> Ruler:
    """How joins of a panel are measured: across its grain, of a strip along it.

    From its fold, where that lies across the way; else from the left as it lies with
    its grain upright, or from its lower end.
    """
    ring, along = panel.ring(), heading(grain_deg)
    (low, top), (left, right) = (_ends(ring, way) for way in (along, along.right()))
    is_along = top - low > STRIP * (right - left)
    if is_along:
        way = along
    else:
        way, low, top = along.right(), left, right
    for name in folds:
        chain = panel.edge(name).chain
        if abs((chain.end - chain.start).unit().dot(way.left())) > _ALONG:
            at = chain.start.dot(way)
            if at - low > top - at:
                return Ruler(-way, -at, at - low, name)
            return Ruler(way, at, top - at, name)
    return Ruler(way, low, top - low, is_along=is_along)


def _ends(ring: Sequence[Point], way: Point) -> tuple[float, float]:
    found = [place.dot(way) for place in ring]
    return min(found), max(found)


# Joining


@dataclass(frozen=True)
class Joins:
    """Where pieces are joined: how each is measured, and at which distances, mm."""

    rulers: Mapping[str, Ruler]
    at: Mapping[str, tuple[float, ...]]

    def on_fold(self, piece: str) -> str:
        """The fold on which a piece is joined; empty for none."""
        known = self.rulers.get(piece)
        on_it = known and any(abs(at) <= SAME for at in self.at[piece])
        return known.fold if known and on_it else ""

    def within(self, piece: str) -> tuple[float, ...]:
        """The others of its joins, from the first on."""
        fold = self.on_fold(piece)
        return tuple(sorted(at for at in self.at[piece] if not (fold and at <= SAME)))


def joins_of(uncut: Uncut, at: Mapping[str, Sequence[float]], worked: Worked) -> Joins:
    """Where the pieces that are cut are joined.

    Args:
        at: distances by the names of pieces, mm.
    """
    rulers = {}
    for data in uncut.pieces:
        if data.name in at:
            panel = uncut.panels[data.name]
            try:
                grain = grain_of(worked, data, panel)
            except SkirtwrightError:
                continue  # Said where the piece is made.
            rulers[data.name] = ruler(panel, grain, data.folds)
    return Joins(rulers, {name: tuple(at[name]) for name in rulers})


def joined_on_folds(uncut: Uncut, joins: Joins, worked: Worked) -> Uncut:
    """Pieces that are joined on their fold cut as a pair, with a seam there."""
    pieces: list[PieceOf] = []
    seams: list[Seam] = []
    written: list[SeamOf] = []
    for data in uncut.pieces:
        fold = joins.on_fold(data.name)
        if not fold:
            pieces.append(data)
            continue
        run = Run(data.name, fold)
        name = f"{data.name}_{JOIN}"
        title = Composed("join.centre_seam", {"piece": data.title})
        seams.append(Seam(name, ((run,), (run,)), half=data.half or ""))
        written.append(SeamOf(name=name, title=title, sides=((run,), (run,))))
        changes = {
            "folds": tuple(edge for edge in data.folds if edge != fold),
            "count": f"2 * ({data.count})",
            "allowances": {**data.allowances, fold: _allowance(worked)},
        }
        pieces.append(data.replace(**changes))
    if not seams:
        return uncut
    return replace(
        uncut,
        pieces=tuple(pieces),
        seams=(*seams, *uncut.seams),
        written=(*written, *uncut.written),
    )


def _allowance(worked: Worked) -> str:
    return _allowance_in(worked.inputs.unit)


def _allowance_in(unit: Unit) -> str:
    if unit == "in":
        return with_inches(JOINED_ALLOWANCE, is_length=True)
    return JOINED_ALLOWANCE


def join_allowance(unit: Unit) -> float:
    """The usual allowance of a join, mm."""
    return read_length(_allowance_in(unit), unit)


def grain_of(worked: Worked, data: PieceOf, panel: Panel) -> float:
    """Direction of the straight grain of a piece from the x axis, degrees.

    Raises:
        SkirtwrightError: it cannot be worked.
    """
    if data.grain is None:
        return 90.0
    if data.grain_edge:
        chain = panel.edge(data.grain_edge).chain
        return (chain.end - chain.start).heading_deg() % 180.0
    return float(worked.read(data.grain, Reads.DEGREES))


# Cut apart


@dataclass(frozen=True)
class _Stretch:
    """A part of an edge: the part of the piece it is on, and where it lies, mm."""

    piece: str
    begins: float
    ends: float


Stretches = dict[tuple[str, str], Sequence[_Stretch]]
"""The parts that an edge of a piece lies on, in its own direction."""


def taken_apart(uncut: Uncut, joins: Joins, worked: Worked, told: Told) -> Uncut:
    """The skirt with pieces cut apart at their joins, and these as seams.

    Args:
        joins: of its pieces; one that misses its piece, or would leave a part too
            narrow, is told and not made.
    """
    pieces: list[PieceOf] = []
    panels = dict(uncut.panels)
    stretches: Stretches = {}
    seams: list[Seam] = []
    written: list[SeamOf] = []
    for data in uncut.pieces:
        if not joins.at.get(data.name):
            pieces.append(data)
            continue
        whole = panels[data.name]
        parts = _parts(whole, data, joins, told)
        own = {e.name: [*_stretches(whole, e.name, parts)] for e in whole.edges}
        asked = _asked(data, own, worked, parts)
        pieces += asked
        if len(asked) < 2:
            continue
        del panels[data.name]
        panels |= parts
        stretches |= {(data.name, edge): found for edge, found in own.items()}
        for number, (one, two) in enumerate(pairwise(parts), 1):
            name, edge = f"{data.name}_{JOIN}_{number}", _edge(number)
            sides = ((Run(one, edge),), (Run(two, edge),))
            seams.append(Seam(name, sides, half=data.half or ""))
            title = Composed("join.of", {"piece": data.title})
            written.append(SeamOf(name=name, title=title, sides=sides))
    if not seams:
        return uncut
    return Uncut(
        tuple(pieces),
        panels,
        (*seams, *(_sewn_on(seam, stretches) for seam in uncut.seams)),
        (*written, *uncut.written),
        _marks_on(uncut.marks, stretches),
    )


def _edge(number: int) -> str:
    return JOIN if number == 1 else f"{JOIN}_{number}"


def _parts(panel: Panel, data: PieceOf, joins: Joins, told: Told) -> dict[str, Panel]:
    """The parts of a panel by their names, from 0 on; itself where it has no join."""
    if data.name not in joins.rulers:
        return {data.name: panel}
    measured, parts, last = joins.rulers[data.name], [panel], 0.0
    for at in joins.within(data.name):
        try:
            room = (last + NARROWEST, measured.long - NARROWEST)
            parts[-1:] = _cut(parts[-1], measured, at, _edge(len(parts)), room)
            last = at
        except Refused as error:
            begins = {"from": measured.told_from}
            values = {**error.problem.values, **begins, "piece": data.title}
            problem = replace(error.problem, where=data.name, values=values)
            told(replace(problem, severity="caution", stops=False))
    return {part_name(data.name, n): part for n, part in enumerate(parts, 1)}


def _cut(
    panel: Panel, measured: Ruler, at: float, name: str, room: tuple[float, float]
) -> tuple[Panel, Panel]:
    """The part before a join and the part beyond it.

    Raises:
        Refused: the join leaves a part too narrow, meets the outline more than twice,
            or begins in a dart or a pleat.
    """
    if not room[0] <= at <= room[1]:
        raise Refused("join.misses", name, at=at, long=measured.long)
    way, box = measured.way, panel.box
    far = box.width + box.height
    on = way * (measured.begins + at)
    on = on + way.left() * (box.middle - on).dot(way.left())
    ends = line_meets(on - way.left() * far, on + way.left() * far, panel.outline)
    if len(ends) != 2:
        raise Refused("join.meets_often", name, at=at)
    if any(_in_fold(panel, end) for end in ends):
        raise Refused("join.in_fold", name, at=at)
    # Left of the line is where the ruler runs back.
    return cut_apart(panel, Chain((Line(ends[0], ends[1]),)), name)


def _in_fold(panel: Panel, place: Point) -> bool:
    """Whether a place of the outline is taken up by a dart, tuck or pleat."""
    folded = (s for s in panel.outline.segments if s.fold)
    return any(Chain((s,)).nearest(place)[1] <= _CLEAR for s in folded)


def _stretches(
    whole: Panel, edge: str, parts: Mapping[str, Panel]
) -> Iterator[_Stretch]:
    """The parts that an edge lies on, in its own direction."""
    chain, there = whole.edge(edge).chain, {}
    for name, panel in parts.items():
        for own in (e.chain for e in panel.edges if e.name == edge):
            there[name] = (chain.nearest(own.at(own.length / 2))[0], own.length)
    walked = 0.0
    for name in sorted(there, key=there.__getitem__):
        yield _Stretch(name, walked, walked + there[name][1])
        walked += there[name][1]


def _asked(
    data: PieceOf,
    stretches: Mapping[str, Sequence[_Stretch]],
    worked: Worked,
    parts: Mapping[str, Panel],
) -> list[PieceOf]:
    """What is asked of each part; of the piece whole where it has no join."""
    of_parts = _Asked(data, stretches, worked)
    if len(parts) < 2:
        return [data]
    try:
        return [of_parts.part(n, *part) for n, part in enumerate(parts.items(), 1)]
    except SkirtwrightError:
        return [data]  # Said where the piece is made.


@dataclass(frozen=True)
class _Asked:
    """What the style asks of a piece, as it is asked of its parts.

    Attributes:
        data: of the whole piece.
        stretches: of its edges.
    """

    data: PieceOf
    stretches: Mapping[str, Sequence[_Stretch]]
    worked: Worked

    def part(self, number: int, name: str, panel: Panel) -> PieceOf:
        """Of one part.

        Raises:
            SkirtwrightError: where a run of an allowance ends cannot be worked.
        """
        data, there = self.data, [edge.name for edge in panel.edges]
        folds = tuple(edge for edge in data.folds if edge in there)
        allowances: dict[str, str | tuple[AllowanceRun, ...]] = {
            edge: self._runs(data.allowances[edge], edge, name)
            if edge in data.allowances
            else _allowance(self.worked)
            for edge in there
            if edge in data.allowances or edge not in self.stretches
        }
        marks = {mark.name for mark in panel.marks}
        along = data.grain_edge
        changes = {
            "name": name,
            "title": Composed("join.part", {"piece": data.title, "number": number}),
            "count": f"2 * ({data.count})" if data.folds and not folds else data.count,
            "folds": folds,
            "allowances": allowances,
            "turned_up": tuple(edge for edge in data.turned_up if edge in there),
            "corners": dict(self._corners(name)),
            "grain": self._grain() if along and along not in there else data.grain,
            "lines": tuple(m for m in data.lines if m.endswith("[]") or m in marks),
            "roles": {edge: role for edge, role in data.roles.items() if edge in there},
            "whole": data.whole and part_name(data.whole, number),
        }
        return data.replace(**changes)

    def _runs(
        self, widths: str | tuple[AllowanceRun, ...], edge: str, name: str
    ) -> str | tuple[AllowanceRun, ...]:
        """The runs of an edge on one part; one that ends before it has no length."""
        if isinstance(widths, str) or len(self.stretches[edge]) < 2:
            return widths
        here = next(one for one in self.stretches[edge] if one.piece == name)
        found = []
        for run in widths:
            until = None if run.to is None else self.worked.read(run.to, Reads.LENGTH)
            if until is None or until >= here.ends:
                found.append(run.replace(to=None))
                break
            to = f"{max(until - here.begins, 0.0):.4f} mm"
            found.append(run.replace(to=to))
        return tuple(found)

    def _corners(self, name: str) -> Iterator[tuple[str, Any]]:
        for place, how in self.data.corners.items():
            edge, _, which = place.rpartition(" ")
            found = self.stretches.get(edge)
            if found and found[0 if which == "start" else -1].piece == name:
                yield place, how

    def _grain(self) -> str:
        """The grain as an angle, where the edge it runs along is on another part."""
        panel = self.worked.values[self.data.panel]
        return f"{grain_of(self.worked, self.data, panel):.9f}"


def _sewn_on(seam: Seam, stretches: Stretches) -> Seam:
    """A seam over the parts its edges lie on."""
    first, second = (_side_cut_apart(side, stretches) for side in seam.sides)
    return replace(seam, sides=(first, second))


def _side_cut_apart(side: Side, stretches: Stretches) -> Side:
    found: list[Run] = []
    for run in side:
        on = [run.on(one.piece) for one in stretches.get(run.key, ())] or [run]
        found += on if run.forward else on[::-1]
    return tuple(found)


def _marks_on(marks: Marks, stretches: Stretches) -> Marks:
    found: dict[str, list[NotchSpec]] = {}
    for piece, specs in marks.items():
        for spec in specs:
            on = stretches.get((piece, spec.edge), [_Stretch(piece, 0.0, 0.0)])
            here = next((one for one in on if spec.distance <= one.ends + SAME), on[-1])
            moved = replace(spec, distance=spec.distance - here.begins)
            found.setdefault(here.piece, []).append(moved)
    return found
