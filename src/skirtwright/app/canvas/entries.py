"""The figures on the drawing, entries of a ledger: what each says and what sets it.

What goes all round her (waist, hip, knee, hem) and the length come from the report;
the flare at each seam is the amount of the point there. An entry is set through the
amounts of the points that lie on its level. Pure: no Qt.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final, Literal

from skirtwright.app.canvas.laying import SKIRT, Laid
from skirtwright.app.canvas.scene import Scene
from skirtwright.draft.draft import Told
from skirtwright.draft.inputs import AmountState
from skirtwright.draft.pulls import Handle
from skirtwright.draft.step import Reads
from skirtwright.draft.working.recompute import Worked
from skirtwright.geometry.box import box_of
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.point import Point, reflect
from skirtwright.problems import BadInput, SkirtwrightError

Where = Literal["level", "hem", "length", "corner", "edge"]

GIRTHS: Final = ("waist", "hip", "knee", "sweep")
"""What goes all round her, from the waist down."""

_ON: Final = 1.0
"""A point so near a level lies on it, mm."""

_ANSWERS: Final = 0.2
"""mm an entry must change for a mm of an amount that sets it."""

_ELASTIC: Final = frozenset(("elastic_length", "elastic_side", "elastic_cut"))
"""What a style with elastic at the waist says of itself."""

_DRAWN_UP: Final = 20.0
"""mm of waist edge beyond the finished waist that no easing takes up."""

_ROUND: Final = 0.4
"""A line that rises by more than so much of its width is an arc, and no level."""

_ROW: Final = 200.0
"""mm; what lies lower than this below a level is another row of pieces."""

_ROUND_SHARES: Final = (0.5, 0.0, 1.0, 0.25, 0.75)
"""Where along an arc its figure may stand, the best first."""

_UPRIGHT: Final = 0.6
"""An edge that rises by less than so much of its length does not show the length."""

_TRIES: Final = 8
_NEAR: Final = 0.05


@dataclass(frozen=True)
class Entry:
    """An entry on the drawing.

    Attributes:
        name: of the finished measure, or of the amount.
        label: of the amount, as the style has it; empty for a finished measure.
        value: mm; degrees or plain for some amounts.
        kind: of the amount; `length` for a finished measure.
        amounts: it is set through these, the first that answer.
        given: she set one of them herself.
        where: over a level line, beside the hem, along a length, at a corner, outside
            an edge.
        place: on the table, mm; the middle of a length.
        ends: of a length, on the table, mm.
        aside: the piece lies to the left (-1) or to the right (1) of a corner.
        drawn_up: the paper is wider there than this: elastic draws it up.
        spots: of what stands outside an edge: places along it, and the way out of the
            piece.
        keys: of an allowance: each piece and what it is kept under; set through these.
        turned: whether it stood along its line at the press, while something is pulled.
    """

    name: str
    label: str
    value: float
    kind: str
    amounts: tuple[str, ...]
    given: bool
    where: Where
    place: Point
    ends: tuple[Point, Point] | None = None
    aside: int = 0
    drawn_up: bool = False
    spots: tuple[tuple[Point, Point], ...] = ()
    keys: tuple[tuple[str, str], ...] = ()
    turned: bool | None = None


@dataclass(frozen=True)
class Level:
    """A level line across front and back.

    Attributes:
        height: on the table, mm.
        spans: from where to where pieces lie on it, from left to right, mm.
    """

    name: str
    height: float
    spans: tuple[tuple[float, float], ...]


Setters = Mapping[str, tuple[tuple[str, ...], tuple[str, ...]]]
"""For each finished measure, the amounts that may set it: its own, and then all."""


def setters(scene: Scene) -> Setters:
    """Which amounts may set which entry: those of the points on its level.

    Its own are those of the points where the level meets the side seam, for the length
    those of the hem but its corners.
    """
    if scene.good is None or not _shown(scene):
        return {}
    found: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {}
    for name in GIRTHS:
        lines = _lines(scene, name)
        own = [h for h in scene.handles if any(_at_end(h, *each) for each in lines)]
        rest = [h for h in scene.handles if any(_lies_on(h, *each) for each in lines)]
        found[name] = _named(own, () if name == "sweep" else rest)
    hem = [h for h in scene.handles if _is_on_hem(scene, h)]
    found["length"] = _named([h for h in hem if not _is_corner(scene, h)], hem)
    return found


def _named(
    own: Iterable[Handle], rest: Iterable[Handle]
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    first = dict.fromkeys(h.amount for h in own)
    return tuple(first), tuple({**first, **dict.fromkeys(h.amount for h in rest)})


def entries(scene: Scene, known: Setters) -> tuple[Entry, ...]:
    """Those that stand on the drawing at rest, in the order of drafting.

    Args:
        known: which amounts may set them.
    """
    if scene.good is None or not _shown(scene):
        return ()
    found = [*_girths(scene, known), *_length(scene, known), *_corners(scene)]
    return tuple(found[:8])


def levels(scene: Scene) -> tuple[Level, ...]:
    """The level lines at waist, hip and knee."""
    if scene.good is None or not _shown(scene):
        return ()
    found = []
    for name in GIRTHS[:-1]:
        lines = _lines(scene, name)
        if lines and not _is_round(lines[0][1]):
            for height, row in _rows(lines).items():
                spans = sorted(_span(laid, line) for laid, line in row)
                found.append(Level(name, height, tuple(spans)))
    return tuple(found)


def _rows(lines: Iterable[tuple[Laid, Chain]]) -> dict[float, list[tuple[Laid, Chain]]]:
    """A level on the pieces beside one another, by how high on the table it lies."""
    rows: dict[float, list[tuple[Laid, Chain]]] = {}
    for laid, line in lines:
        own = laid.at(line.start).y
        height = next((each for each in rows if abs(each - own) < _ROW), own)
        rows.setdefault(height, []).append((laid, line))
    return rows


def _shown(scene: Scene) -> bool:
    return scene.brought == SKIRT and not scene.on_paper


def _line(scene: Scene, laid: Laid, name: str) -> Chain | None:
    """A level on a piece: the waist is an edge, the others are marked."""
    if name in ("waist", "sweep"):
        return _edge(scene, laid, "waist" if name == "waist" else "hem")
    return scene.panel_of(laid).level(name)


def _lines(scene: Scene, name: str) -> list[tuple[Laid, Chain]]:
    """A level on each piece that has it."""
    found = ((laid, _line(scene, laid, name)) for laid in scene.layout.laid)
    return [(laid, line) for laid, line in found if line is not None]


def _edge(scene: Scene, laid: Laid, role: str) -> Chain | None:
    piece = scene.piece_of(laid)
    names = [edge.name for edge in piece.edges if edge.role == role] if piece else []
    return scene.panel_of(laid).edge(names[0]).chain if names else None


def _span(laid: Laid, line: Chain) -> tuple[float, float]:
    """From where to where a piece lies on a level, with its faint other half."""
    ends = [line.start, line.end]
    if laid.fold:
        over = reflect(*laid.fold)
        ends += [over(end) for end in ends]
    across = [laid.at(end).x for end in ends]
    return min(across), max(across)


def _girths(scene: Scene, known: Setters) -> Iterator[Entry]:
    finished = scene.good.report.declared if scene.good else {}
    for name in GIRTHS:
        value, lines = finished.get(name), _lines(scene, name)
        if value is None or not lines:
            continue
        laid, line = lines[0]
        hem = name == "sweep"
        place = laid.at(line.end if hem else line.start)
        entry = _entry(scene, known, name, value, "hem" if hem else "level", place)
        if _is_round(line):
            spots = tuple(spots_along(laid, line, _ROUND_SHARES))
            entry = replace(entry, where="edge", spots=spots)
        drawn_up = name == "waist" and _has_elastic(scene)
        drawn_up = drawn_up and _waist_on_paper(scene) > value + _DRAWN_UP
        yield replace(entry, drawn_up=drawn_up)


def _is_round(line: Chain) -> bool:
    """Whether a line is too curved to be told on a level, as the arc of a circle is."""
    box = box_of(line.flattened(1.0))
    return box.height > _ROUND * box.width


def spots_along(
    laid: Laid, chain: Chain, shares: Iterable[float]
) -> Iterator[tuple[Point, Point]]:
    """Places along an edge on the table, and the way out of the piece there.

    Args:
        shares: where along the edge, each from 0 to 1.
    """
    middle = laid.seen.middle
    for share in shares:
        at = chain.length * share
        place = laid.at(chain.at(at))
        out = laid.way(chain.direction_at(at)).left()
        yield place, out if out.dot(place - middle) > 0 else -out


def _has_elastic(scene: Scene) -> bool:
    """Whether the style says of itself that elastic draws its waist up."""
    worked = scene.good.worked if scene.good else None
    if worked is None:
        return False
    said = {**worked.draft.checks, **worked.draft.sewing}
    return any(
        key.partition(" ")[0] in _ELASTIC and _is_told(worked, Told.of(each))
        for key, each in said.items()
    )


def _is_told(worked: Worked, told: Told) -> bool:
    try:
        return told.when is None or bool(worked.read(told.when, Reads.WHETHER))
    except SkirtwrightError:
        # It leans on a finishing that is not chosen.
        return False


def _waist_on_paper(scene: Scene) -> float:
    """All round the waist edges of the main cloth, darts and pleats shut, mm."""
    found = 0.0
    for piece in scene.pieces:
        if piece.spec.material == "shell" and piece.spec.body:
            times = piece.spec.count * (2 if piece.spec.folds else 1)
            waist = sum(edge.length for edge in piece.edges if edge.role == "waist")
            found += times * waist
    return found


def _lies_on(handle: Handle, laid: Laid, line: Chain) -> bool:
    """Whether a point lies on a level."""
    return handle.panel == laid.panel and line.nearest(handle.point)[1] <= _ON


def _at_end(handle: Handle, laid: Laid, line: Chain) -> bool:
    """Whether a point lies where a level meets the side seam."""
    return handle.panel == laid.panel and handle.point.to(line.end) <= _ON


def _entry(
    scene: Scene, known: Setters, name: str, value: float, where: Where, place: Point
) -> Entry:
    own, amounts = known.get(name, ((), ()))
    given = _given(scene, own)
    return Entry(name, "", value, "length", amounts, given, where, place)


def _given(scene: Scene, amounts: Sequence[str]) -> bool:
    states = [scene.state(name) for name in amounts]
    return any(state.given for state in states if state)


def _length(scene: Scene, known: Setters) -> Iterator[Entry]:
    """The side seam of the back, from waist to hem; its centre where that lies flat.

    Between a yoke or a flounce and the rest lies bare table: a dimension across that
    would be longer than it says, so that there the length is text beside the hem.
    """
    good = scene.good
    value = good.report.declared.get("length") if good else None
    if value is None:
        return
    spans = _heights(scene, "side")
    if not spans or spans[-1][1] - spans[0][0] < _UPRIGHT * value:
        spans = _heights(scene, "centre") or spans
    if not spans:
        return
    entry = _entry(scene, known, "length", value, "length", Point(0.0, 0.0))
    if any(under[1] < over[0] - _ON for under, over in pairwise(spans)):
        laid, hem = _lines(scene, "sweep")[0]
        yield replace(entry, where="hem", place=laid.at(hem.end))
        return
    low, high = spans[0][0], spans[-1][1]
    if high - low < _UPRIGHT * value:
        # Below a godet's point neither goes on: the piece itself does.
        low = min(low, _foot(scene))
    right = max(laid.seen.right for laid in scene.layout.laid)
    line = (Point(right, high), Point(right, low))
    yield replace(entry, place=line[0].between(line[1], 0.5), ends=line)


def _last_body(scene: Scene) -> str:
    """The side of the body that lies at the right."""
    return max(scene.layout.laid, key=lambda laid: laid.seen.right).body


def _foot(scene: Scene) -> float:
    """How low on the table what has the waist reaches, of the side at the right."""
    body = _last_body(scene)
    laid = [one for one in scene.layout.laid if one.body == body]
    hung = [one.seen.bottom for one in laid if _edge(scene, one, "waist")]
    return min(hung, default=math.inf)


def _heights(scene: Scene, role: str) -> list[tuple[float, float]]:
    """From where to where on the table edges of the right side go, from below."""
    body = _last_body(scene)
    laid = [one for one in scene.layout.laid if one.body == body]
    edges = [(one, chain) for one in laid if (chain := _edge(scene, one, role))]
    ends = [(one.at(chain.start).y, one.at(chain.end).y) for one, chain in edges]
    return sorted((min(each), max(each)) for each in ends)


def _is_on_hem(scene: Scene, handle: Handle) -> bool:
    laid = scene.layout.of_panel(handle.panel)
    hem = _edge(scene, laid, "hem") if laid else None
    return hem is not None and hem.nearest(handle.point)[1] <= _ON


def _is_corner(scene: Scene, handle: Handle) -> bool:
    laid = scene.layout.of_panel(handle.panel)
    hem = _edge(scene, laid, "hem") if laid else None
    return hem is not None and handle.point.to(hem.end) <= _ON


def _corners(scene: Scene) -> Iterator[Entry]:
    """What is set where side seam and hem meet."""
    told: set[str] = set()
    for handle in scene.points:
        state = scene.state(handle.amount)
        if state is None or handle.amount in told or not _is_corner(scene, handle):
            continue
        told.add(handle.amount)
        name, label = handle.amount, state.amount.label
        kind, value = state.amount.kind, state.value
        laid = scene.layout.of_panel(handle.panel)
        place = scene.at(handle)
        aside = -1 if laid is None or laid.seen.middle.x < place.x else 1
        given = state.given
        yield Entry(
            name, label, value, kind, (name,), given, "corner", place, None, aside
        )


def alike(scene: Scene, handle: Handle) -> dict[str, AmountState]:
    """The amounts that go with a point's own: unlike leans would twist the seam.

    Those of the other points where a side seam meets the hem: lengths like its own, and
    no number of pleats or share of their depth.
    """
    own = scene.state(handle.amount)
    if handle.second is not None or not _is_corner(scene, handle):
        return {}
    if own is None or own.amount.kind != "length":
        return {}
    found = {}
    for other in scene.points:
        same = other.amount == handle.amount or other.second is not None
        state = scene.state(other.amount)
        if same or state is None or state.amount.kind != "length":
            continue
        if _is_corner(scene, other):
            found[other.amount] = state
    return found


# Setting one


def amounts_for(scene: Scene, entry: Entry, value: float) -> dict[str, float]:
    """The amounts at which an entry has a value.

    Raises:
        BadInput: none within the ranges of its amounts does.
        SkirtwrightError: it cannot be worked.
    """
    if entry.label:
        state = scene.state(entry.name)
        if state is not None and not state.least <= value <= state.most:
            raise _beyond(entry, value, state.least, state.most)
        return {entry.name: value}
    groups = [entry.amounts] if entry.name == "sweep" else []
    groups += [(name,) for name in entry.amounts]
    refused: SkirtwrightError | None = None
    for names in groups:
        try:
            found = _solved(scene, entry, names, value)
        except SkirtwrightError as error:
            refused = refused or error
            continue
        if found:
            return found
    raise refused or BadInput("field.not_here", entry.name)


def _beyond(entry: Entry, value: float, least: float, most: float) -> BadInput:
    kinds = {"length": "length", "angle": "angle"}
    code = f"field.beyond_{kinds.get(entry.kind, 'number')}"
    label = entry.label or f"finished.{entry.name}"
    values = {"label": label, "value": value, "least": least, "most": most}
    return BadInput(code, entry.name, **values)


def _solved(
    scene: Scene, entry: Entry, names: Sequence[str], value: float
) -> dict[str, float] | None:
    """Amounts changed alike until the entry is as wished; None where none answers."""
    states = [state for name in names if (state := scene.state(name))]
    low = max((s.least - s.value for s in states), default=0.0)
    high = min((s.most - s.value for s in states), default=0.0)
    turned = 1.0 if high > 0 else -1.0
    reached = _measured(scene, entry, states, turned)
    slope = (reached - entry.value) / turned
    if abs(slope) < _ANSWERS:
        return None
    for _ in range(_TRIES):
        turned = min(max(turned + (value - reached) / slope, low), high)
        reached = _measured(scene, entry, states, turned)
        if abs(reached - value) < _NEAR:
            break
        slope = (reached - entry.value) / turned if turned else slope
    if turned in (low, high) and abs(reached - value) >= _NEAR:
        ends = sorted(_measured(scene, entry, states, end) for end in (low, high))
        raise _beyond(entry, value, *ends)
    return {s.amount.name: _within(s, s.value + turned) for s in states}


def _within(state: AmountState, value: float) -> float:
    return round(min(max(value, state.least), state.most), 6)


def _measured(
    scene: Scene, entry: Entry, states: Sequence[AmountState], more: float
) -> float:
    """The entry with its amounts so much more."""
    good = scene.good
    if good is None:
        return entry.value
    worked = good.worked
    amounts = {
        **worked.inputs.amounts,
        **{s.amount.name: s.value + more for s in states},
    }
    inputs = replace(worked.inputs, amounts=amounts)
    text = worked.draft.finished[entry.name]
    value: float = worked.worked_by.read(worked.draft, inputs, text, Reads.LENGTH)
    return value
