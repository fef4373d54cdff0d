"""Darts shut for good: wholly or in part, the paper beyond them turned."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from skirtwright.draft.shapes.darts import (
    ShutDart,
    darts_on,
    shut_darts,
    with_line_opened,
)
from skirtwright.draft.shapes.panel import Dart, Mark, Panel
from skirtwright.draft.shapes.slashing import (
    MovingPart,
    Piece,
    edges_from,
    largest_opening,
    slash,
    turn_for,
)
from skirtwright.draft.shapes.spot import Spot
from skirtwright.geometry.chain import Chain, join, straight
from skirtwright.geometry.meeting import nearest_of, ray_meets
from skirtwright.geometry.point import Motion, Point, bend_deg, turn
from skirtwright.geometry.ring import without_repeats
from skirtwright.geometry.segment import Cubic, Segment
from skirtwright.geometry.tolerance import OUTLINE, SAME
from skirtwright.problems import Refused

_NEAR: Final = 100 * SAME

_SLIVER: Final = 1.0
"""Within so much of all it gives, mm, a dart is shut wholly: no sliver is left."""


@dataclass(frozen=True)
class OutermostDart:
    """The last dart of an edge, and the slash from its tip down to another edge.

    Attributes:
        shut: the dart, with the motions that shut it.
        foot: where the straight from its tip meets the other edge.
        angle_deg: the turn that shuts it wholly; its sign is the way it turns.
    """

    shut: ShutDart
    foot: Point
    angle_deg: float

    @property
    def reach(self) -> float:
        """From the tip to the foot, mm."""
        return self.shut.dart.tip.to(self.foot)

    @property
    def gives(self) -> float:
        """How far the other edge opens when the dart is shut wholly, mm."""
        return opening_of(abs(self.angle_deg), self.reach)


def opening_of(angle_deg: float, reach: float) -> float:
    """The straight gap that a turn opens at a distance from its hinge, mm."""
    away = Point(reach, 0.0)
    return away.to(turn(Point(0.0, 0.0), angle_deg)(away))


def outermost(
    panel: Panel, edge: str, across: str, along: Point
) -> OutermostDart | None:
    """The last dart of an edge, seen towards another edge; None when it has none.

    Raises:
        Refused: the straight from its tip does not meet that edge.
    """
    darts = shut_darts(panel, edge)
    if not darts:
        return None
    last = darts[-1]
    tip = last.dart.tip
    foot = nearest_of(ray_meets(tip, along, panel.edge(across).chain), tip)
    if foot is None:
        raise Refused("draft.dart_misses_edge", last.dart.name, edge=across)
    return OutermostDart(last, foot, bend_deg(last.far - tip, last.near - tip))


def shut_outermost(
    panel: Panel,
    edge: str,
    across: str,
    along: Point,
    opening: float,
    eased: float = 0.0,
) -> Panel:
    """Shut the last dart of an edge until another edge opens by so much.

    The paper is slashed from the dart's tip to the other edge; what lies beyond the
    dart is turned about the tip. What is left of the dart stays one, with a new cap;
    narrower than `eased` it is none, and the edge is that much longer.

    Raises:
        Refused: a negative opening, or more than the dart gives.
    """
    last = outermost(panel, edge, across, along)
    if last is None or opening == 0:
        return panel
    most = last.gives
    if opening < 0 or opening > most + _NEAR:
        raise Refused("draft.dart_gives_less", "", opening=opening, largest=most)
    if opening >= largest_opening(last.reach):
        raise Refused("draft.turns_too_far", "", opening=opening, largest=most)
    whole = opening >= most - _SLIVER
    turned = abs(last.angle_deg) if whole else turn_for(opening, last.reach)
    motion = turn(last.shut.dart.tip, turned if last.angle_deg > 0 else -turned)
    smooth = shut_line(panel, edge)
    drawn = _turned_beyond(panel, edge, across, last, motion)
    if whole:
        kept = tuple(d for d in drawn.darts if d.name != last.shut.dart.name)
        drawn = replace(drawn, darts=kept)
    opened = with_line_opened(drawn, edge, smooth)
    rest = next((d for d in opened.darts if d.name == last.shut.dart.name), None)
    return _levelled(opened, rest) if rest and _width(opened, rest) < eased else opened


def _width(panel: Panel, dart: Dart) -> float:
    left, right = panel.legs(dart)
    return left.to(right)


def _levelled(panel: Panel, dart: Dart) -> Panel:
    """A panel without a dart, whose mouth is bridged."""
    chain = panel.edge(dart.edge).chain
    left, right = panel.legs(dart)
    head, tail = _between_darts(chain, [dart.name])
    bridged = panel.with_chain(dart.edge, join([head, straight(left, right), tail]))
    kept = tuple(other for other in panel.darts if other.name != dart.name)
    return replace(bridged, darts=kept)


def shut_line(panel: Panel, edge: str) -> Chain:
    """An edge as it runs with its darts shut."""
    motions = [Motion(), *(shut.beyond for shut in shut_darts(panel, edge))]
    runs = _between_darts(
        panel.edge(edge).chain, [d.name for d in darts_on(panel, edge)]
    )
    shut = [run.moved(motion) for run, motion in zip(runs, motions, strict=True)]
    return join(met_half_way(shut))


def met_half_way(runs: Sequence[Chain]) -> list[Chain]:
    """Runs end to end: where legs are unlike, each is led to half way between them."""
    met = [runs[0]]
    for run in runs[1:]:
        here = met[-1].end.between(run.start, 0.5)
        met[-1] = _moved_start(met[-1].reversed(), here).reversed()
        met.append(_moved_start(run, here))
    return met


def _moved_start(run: Chain, start: Point) -> Chain:
    """A run that starts elsewhere and leaves in the same direction."""
    first = run.segments[0]
    by = start - first.start
    led = replace(first, start=start)
    if isinstance(led, Cubic):
        led = replace(led, control1=led.control1 + by)
    return Chain((led, *run.segments[1:]))


def _between_darts(chain: Chain, names: Sequence[str]) -> list[Chain]:
    runs: list[list[Segment]] = [[]]
    for segment in chain.segments:
        if segment.fold not in names:
            runs[-1].append(segment)
        elif runs[-1]:
            runs.append([])
    return [Chain(tuple(run)) for run in runs if run]


def _closed_up(runs: Sequence[Chain]) -> Chain:
    """Runs end to end; a step between two is bridged by a straight."""
    drawn = [runs[0]]
    for run in runs[1:]:
        gap = drawn[-1].end.to(run.start)
        if SAME < gap <= _NEAR:
            first = replace(run.segments[0], start=drawn[-1].end)
            run = Chain((first, *run.segments[1:]))  # noqa: PLW2901
        elif gap > _NEAR:
            drawn.append(straight(drawn[-1].end, run.start))
        drawn.append(run)
    return join(drawn)


def _turned_beyond(
    panel: Panel, edge: str, across: str, last: OutermostDart, motion: Motion
) -> Panel:
    """The panel with all beyond its last dart turned; the dart's cap straight."""
    name = last.shut.dart.name
    path = (last.foot, last.shut.dart.tip, last.shut.far)
    spots = [Spot(path[0], across), Spot(path[1], ""), Spot(path[2], edge)]
    cut = slash(panel, spots)
    end = panel.edge(edge).chain.end
    holds_end = any(
        piece.edge == edge
        and (piece.chain.start.is_at(end) or piece.chain.end.is_at(end))
        for piece in cut.from_hinge
    )
    moving, still = cut.from_mouth, cut.from_hinge
    if holds_end:
        moving, still = still, moving
    moving, still = _uncapped(moving, name), _uncapped(still, name)
    foot, shifted = last.foot, motion(last.foot)
    gap = Piece(across, straight(*((shifted, foot) if holds_end else (foot, shifted))))
    near, far = last.shut.near, motion(last.shut.far)
    caps: tuple[Piece, ...] = ()
    if not near.is_at(far):
        ends = (near, far) if holds_end else (far, near)
        caps = (Piece(edge, straight(*ends).taken_up(name)),)
    moved = tuple(Piece(p.edge, p.chain.moved(motion)) for p in moving)
    pieces = (*still, *caps, *moved, gap)
    if not holds_end:
        pieces = (gap, *moved, *caps, *still)
    ring = [p for piece in moving for p in piece.chain.flattened(OUTLINE)]
    inner = [last.shut.dart.tip]
    outline = tuple(piece.chain for piece in moving)
    whole = tuple(without_repeats(ring + inner))
    shape = MovingPart(motion, whole, path, outline)
    return Panel(
        edges_from(panel, _joined_up(pieces)),
        tuple(d if d.name == name else shape.dart(d) for d in panel.darts),
        tuple(shape.mark(mark) for mark in panel.marks),
    )


def _uncapped(pieces: Sequence[Piece], name: str) -> tuple[Piece, ...]:
    """Pieces of an outline without the cap of a dart."""
    kept = []
    for piece in pieces:
        segments = tuple(s for s in piece.chain.segments if s.fold != name)
        if segments:
            kept.append(Piece(piece.edge, Chain(segments)))
    return tuple(kept)


def _joined_up(pieces: Sequence[Piece]) -> tuple[Piece, ...]:
    """Pieces whose ends are a hair apart put exactly end to end."""
    placed: list[Piece] = []
    for piece in pieces:
        if placed and not placed[-1].chain.end.is_at(piece.chain.start):
            chain = placed[-1].chain
            last = replace(chain.segments[-1], end=piece.chain.start)
            placed[-1] = Piece(placed[-1].edge, Chain((*chain.segments[:-1], last)))
        placed.append(piece)
    return tuple(placed)


def shut_across(panel: Panel, edge: str, across: str) -> Panel:
    """Shut every dart of an edge in a panel they run right across, such as a yoke.

    What lies beyond each dart is turned about its tip; where a dart ends beyond the
    edge across, what it takes there is gone too.

    Raises:
        Refused: a dart does not reach the edge across.
    """
    darts = shut_darts(panel, edge)
    if not darts:
        return panel
    motions = [Motion(), *(shut.beyond for shut in darts)]
    top = _between_darts(panel.edge(edge).chain, [s.dart.name for s in darts])
    other = panel.edge(across)
    # Round the outline two edges that face each other run opposite ways.
    runs_along = other.forward != panel.edge(edge).forward
    bottom = _split_by_darts(
        other.chain if runs_along else other.chain.reversed(), darts
    )
    upper, lower = (
        _closed_up([run.moved(m) for run, m in zip(runs, motions, strict=True)])
        for runs in (top, bottom)
    )
    last = motions[-1]
    turned = _beyond(panel, edge, across)
    edges = []
    for one in panel.edges:
        if one.name == edge:
            edges.append(replace(one, chain=upper))
        elif one.name == across:
            edges.append(replace(one, chain=lower if runs_along else lower.reversed()))
        elif one.name in turned:
            edges.append(replace(one, chain=one.chain.moved(last)))
        else:
            edges.append(one)
    marks = tuple(_carried(mark, darts, motions) for mark in panel.marks)
    return Panel(tuple(edges), (), marks)


def _split_by_darts(chain: Chain, darts: Sequence[ShutDart]) -> list[Chain]:
    """The runs of the edge across, between the places where the darts cross it."""
    runs: list[Chain] = []
    plain = Chain(tuple(s.taken_up("") for s in chain.segments))
    rest: Chain | None = plain
    done = 0.0
    for shut in darts:
        low, high = (_crossing(plain, shut, leg) for leg in (shut.near, shut.far))
        if rest is None or low <= done or high < low - _NEAR:
            raise Refused("draft.dart_misses_edge", shut.dart.name, edge="")
        head, rest = rest.split(low - done)
        if rest and high - low > _NEAR:
            rest = rest.split(high - low)[1]
        done = max(low, high)
        if head:
            runs.append(head)
    if rest is None or len(runs) < len(darts):
        raise Refused("draft.dart_misses_edge", darts[-1].dart.name, edge="")
    return [*runs, rest]


def _crossing(chain: Chain, shut: ShutDart, leg: Point) -> float:
    """Walked distance at which a dart's leg crosses the edge across."""
    tip = shut.dart.tip
    walked, gap = chain.nearest(tip)
    if gap <= _NEAR:
        return walked
    place = nearest_of(ray_meets(leg, tip - leg, chain), leg)
    if place is None or leg.to(place) > leg.to(tip):
        raise Refused("draft.dart_misses_edge", shut.dart.name, edge="")
    return chain.nearest(place)[0]


def _beyond(panel: Panel, edge: str, across: str) -> set[str]:
    """The edges between the end of one edge and the edge across."""
    names = [one.name for one in panel.edges]
    step = 1 if panel.edge(edge).forward else -1
    found: set[str] = set()
    index = (names.index(edge) + step) % len(names)
    while names[index] != across:
        found.add(names[index])
        index = (index + step) % len(names)
    return found


def _carried(mark: Mark, darts: Sequence[ShutDart], motions: Sequence[Motion]) -> Mark:
    """A mark moved with the part its middle lies on."""
    shape = mark.shape
    middle = shape if isinstance(shape, Point) else shape.at(shape.length / 2)
    passed = 0
    for number, shut in enumerate(darts, 1):
        axis = shut.near.between(shut.far, 0.5) - shut.dart.tip
        side = axis.cross(middle - shut.dart.tip)
        if side * axis.cross(shut.far - shut.dart.tip) > 0:
            passed = number
    motion = motions[passed]
    moved = motion(shape) if isinstance(shape, Point) else shape.moved(motion)
    return replace(mark, shape=moved)


def tips_on_line(panel: Panel, edge: str, line: Chain, within: float) -> Panel:
    """Bring the tips of an edge's darts onto a line along their own middles.

    A dart that ends short of the line is lengthened to it; one that ends up to
    `within` beyond it is shortened. What reaches further is shortened by less and less,
    and by nothing from twice as far on, so that no tip jumps. The waist keeps its
    parts; caps are drawn anew.
    """
    moved = []
    for dart in panel.darts:
        if dart.edge != edge:
            moved.append(dart)
            continue
        near, far = panel.legs(dart)
        tip = _tip_on(line, near.between(far, 0.5), dart.tip, within)
        moved.append(replace(dart, tip=tip))
    drawn = replace(panel, darts=tuple(moved))
    if not darts_on(drawn, edge):
        return drawn
    return with_line_opened(drawn, edge, shut_line(drawn, edge))


def _tip_on(line: Chain, mouth: Point, tip: Point, within: float) -> Point:
    place = nearest_of(ray_meets(mouth, tip - mouth, line), tip)
    if place is None:
        return tip
    beyond = mouth.to(tip) - mouth.to(place)
    stays = max(min(2 * (beyond - within), beyond), 0.0)
    return tip if stays == beyond else place + (tip - mouth).unit() * stays
