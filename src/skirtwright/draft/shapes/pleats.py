"""Pleats let into a panel: paper slashed through, parted, and folded along an edge."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Final

from skirtwright.draft.shapes.panel import Dart, Mark, Panel
from skirtwright.draft.shapes.slashing import MovingPart, Piece, edges_from, slash
from skirtwright.draft.shapes.spot import Spot
from skirtwright.geometry.chain import Chain, straight
from skirtwright.geometry.meeting import nearest_of, ray_meets
from skirtwright.geometry.point import Motion, Point, reflect, shift, turn
from skirtwright.geometry.ring import crossing, without_repeats
from skirtwright.geometry.segment import Segment
from skirtwright.geometry.tolerance import OUTLINE, SAME
from skirtwright.problems import Refused

_NEAR: Final = 100 * SAME


@dataclass(frozen=True)
class Pleat:
    """A pleat to be let in.

    Attributes:
        name: such as `pleat[1]`.
        mouth, foot: its places on `edge`, where it is folded, and on `to`.
        top: what it takes up at the mouth, mm.
        bottom: what it adds at the foot, mm; nothing makes the foot a hinge.
        lap: how far the visible fold stands beyond its line, mm.
        to_start: the fold shows on the side of the edge's start.
        far: the far leg end of a dart that is folded away with it, if there is one;
            its near leg ends at the mouth.
    """

    name: str
    edge: str
    to: str
    mouth: Point
    foot: Point
    top: float
    bottom: float
    lap: float
    to_start: bool
    far: Point | None = None


def with_dart_taken_in(panel: Panel, dart: Dart, pleat: Pleat) -> tuple[Panel, Pleat]:
    """A pleat that begins at a dart's near leg, and the panel with the dart in it."""
    near, far = panel.legs(dart)
    segments = panel.edge(pleat.edge).chain.segments
    index = next(i for i, s in enumerate(segments) if s.fold == dart.name)
    rest = [s for s in segments[index:] if s.fold != dart.name]
    # Plain for now: a place on what is taken up could be either end of it.
    chain = Chain((*segments[:index], *straight(near, far).segments, *rest))
    kept = tuple(other for other in panel.darts if other is not dart)
    drawn = replace(panel.with_chain(pleat.edge, chain), darts=kept)
    return drawn, replace(pleat, mouth=near, far=far)


def let_in(panel: Panel, pleat: Pleat, stays: str) -> Panel:
    """The panel with one pleat let in; the part that holds `stays` lies still.

    Raises:
        Refused: the slash does not part the panel, or the paper would fold over.
    """
    cut = slash(panel, (Spot(pleat.mouth, pleat.edge), Spot(pleat.foot, pleat.to)))
    mouth_stays = any(piece.edge == stays for piece in cut.from_mouth)
    hinge_stays = any(piece.edge == stays for piece in cut.from_hinge)
    if mouth_stays == hinge_stays:
        raise Refused("draft.pleat_does_not_part", "", edge=stays)
    moving = cut.from_hinge if mouth_stays else cut.from_mouth
    still = cut.from_mouth if mouth_stays else cut.from_hinge
    down = (pleat.foot - pleat.mouth).unit()
    # Anticlockwise from the mouth lies right of the slash as it is cut.
    out = down.left() if mouth_stays else down.right()
    motion = _apart(pleat, down, out)
    top = straight(pleat.mouth, motion(pleat.mouth)).taken_up(pleat.name)
    gap = [Piece(pleat.edge, top if not mouth_stays else top.reversed())]
    if not pleat.foot.is_at(motion(pleat.foot)):
        base = straight(pleat.foot, motion(pleat.foot))
        gap.append(Piece(pleat.to, base if mouth_stays else base.reversed()))
    moved = tuple(Piece(p.edge, p.chain.moved(motion)) for p in moving)
    top_gap, foot_gap = gap[0], tuple(gap[1:])
    # The outline runs mouth, still part, foot, moved part, or the other way about.
    if mouth_stays:
        pieces = (*still, *foot_gap, *moved, top_gap)
    else:
        pieces = (*still, top_gap, *moved, *foot_gap)
    ring = without_repeats([p for m in moving for p in m.chain.flattened(OUTLINE)])
    outline = tuple(piece.chain for piece in moving)
    path = (pleat.mouth, pleat.foot)
    shape = MovingPart(motion, tuple(ring), path, outline)
    drawn = Panel(
        edges_from(panel, pieces),
        tuple(shape.dart(dart) for dart in panel.darts),
        tuple(_taken_up(shape.mark(m), pleat, motion) for m in panel.marks),
    )
    return _folded(drawn, pleat, motion)


def _taken_up(mark: Mark, pleat: Pleat, motion: Motion) -> Mark:
    """A mark whose stretch across the pleat is folded away with it."""
    if isinstance(mark.shape, Point):
        return mark
    line = straight(pleat.mouth, pleat.foot)
    sides = (line, line.moved(motion))

    def crosses(segment: Segment) -> bool:
        ends = ((segment.start, segment.end), (segment.end, segment.start))
        return segment.length > SAME and any(
            sides[0].nearest(first)[1] <= _NEAR and sides[1].nearest(last)[1] <= _NEAR
            for first, last in ends
        )

    segments = tuple(
        s.taken_up(pleat.name) if not s.fold and crosses(s) else s
        for s in mark.shape.segments
    )
    return replace(mark, shape=Chain(segments))


def _apart(pleat: Pleat, down: Point, out: Point) -> Motion:
    """The motion that opens the slash by `top` at its mouth and `bottom` at its foot.

    Unlike openings are a turn about the place on the slash, drawn on, where there
    would be none.
    """
    length = pleat.mouth.to(pleat.foot)
    if abs(pleat.top - pleat.bottom) <= SAME:
        return shift(out * pleat.top)
    beyond = length * pleat.bottom / (pleat.top - pleat.bottom)
    centre = pleat.foot + down * beyond
    reach = pleat.mouth.to(centre) if pleat.top else pleat.foot.to(centre)
    wide = pleat.top or pleat.bottom
    if wide >= 1.4 * reach:
        raise Refused("draft.turns_too_far", "", opening=wide, largest=1.4 * reach)
    angle = math.degrees(2 * math.asin(wide / (2 * reach)))
    tried = turn(centre, angle)
    opens = (
        (tried(pleat.mouth) - pleat.mouth).dot(out)
        if pleat.top
        else (tried(pleat.foot) - pleat.foot).dot(out)
    )
    return tried if opens > 0 else turn(centre, -angle)


def _folded(panel: Panel, pleat: Pleat, motion: Motion) -> Panel:
    """The panel with the pleat's cap on its edge, its foot, and its fold lines."""
    lines = [
        (pleat.mouth, pleat.foot),
        (motion(pleat.far or pleat.mouth), motion(pleat.foot)),
    ]
    chain = panel.edge(pleat.edge).chain
    places = _folded_away(chain, pleat, lines[1][0])
    head = Chain(chain.segments[: places[0]]) if places[0] else None
    rest = chain.segments[places[-1] + 1 :]
    after = Chain(rest) if rest else None
    cap_ends = (chain.segments[places[0]].start, chain.segments[places[-1]].end)
    if not cap_ends[0].is_at(lines[0][0]):
        lines.reverse()
    cap, folds = _cap(head, after, lines, cap_ends, pleat)
    drawn = panel.with_chain(pleat.edge, cap)
    for name, line in folds.items():
        drawn = replace(drawn, marks=(*drawn.marks, Mark(f"{pleat.name}.{name}", line)))
    return drawn


def _folded_away(chain: Chain, pleat: Pleat, far: Point) -> list[int]:
    """The numbers of the segments a pleat folds away: its own, and its dart's mouth."""
    own = next(i for i, s in enumerate(chain.segments) if s.fold == pleat.name)
    if pleat.far is None:
        return [own]
    beside = (i for i in (own - 1, own + 1) if 0 <= i < len(chain.segments))
    mouth = next(
        i
        for i in beside
        if chain.segments[i].start.is_at(far) or chain.segments[i].end.is_at(far)
    )
    return sorted((own, mouth))


def _cap(
    head: Chain | None,
    after: Chain | None,
    lines: list[tuple[Point, Point]],
    ends: tuple[Point, Point],
    pleat: Pleat,
) -> tuple[Chain, dict[str, Chain]]:
    """The edge with its pleat opened, and the pleat's fold lines.

    The edge beside the visible fold is folded over it, out to the pleat's middle, and
    from there over the middle back to where it meets the other side.
    """
    shown, hidden = (0, 1) if pleat.to_start else (1, 0)
    beside = _plain(head.reversed() if pleat.to_start and head else after)
    visible, meets = lines[shown], lines[hidden]
    middle = (
        visible[0].between(meets[0], 0.5),
        visible[1].between(meets[1], 0.5),
    )
    if visible[1].is_at(meets[1]):
        middle = (middle[0], visible[1])
    towards = (meets[0] - visible[0]).unit()
    fold = (visible[0] + towards * pleat.lap, visible[1] + towards * pleat.lap)
    lapped = straight(visible[0], fold[0]) if pleat.lap > SAME else None
    run = lapped.reversed() if lapped else None
    under = (run.and_then(beside) if run else beside) if beside else run
    half = _to_middle(under, lapped, fold, middle)
    whole = half.and_then(half.moved(reflect(*middle)).reversed())
    ring = whole if pleat.to_start else whole.reversed()
    ring = ring.with_ends(*ends).taken_up(pleat.name)
    drawn = head.and_then(ring, after) if head else ring.and_then(after)
    if crossing([*whole.flattened(1.0), middle[1]]):
        raise Refused("draft.pleat_folds_over", "", pleat=pleat.name)
    return drawn, {
        "fold": straight(*fold),
        "middle": straight(half.end, middle[1]),
        "meets": straight(*meets),
    }


def _plain(chain: Chain | None) -> Chain | None:
    """What of a line comes before the next dart or pleat."""
    segments: list[Segment] = []
    for segment in chain.segments if chain else ():
        if segment.fold:
            break
        segments.append(segment)
    return Chain(tuple(segments)) if segments else None


def _to_middle(
    under: Chain | None,
    lapped: Chain | None,
    fold: tuple[Point, Point],
    middle: tuple[Point, Point],
) -> Chain:
    """From the visible fold to the middle: what lies beside it, folded over."""
    start = fold[0]
    if under is None:
        return straight(start, middle[0])
    folded = under.moved(reflect(*fold))
    reach = start.to(middle[0]) * 2
    longer = folded.and_then(
        straight(folded.end, folded.end + folded.end_direction * reach)
    )
    up = middle[0] - middle[1]
    place = nearest_of(
        [*ray_meets(middle[1], up, longer), *ray_meets(middle[1], -up, longer)],
        middle[0],
    )
    if place is None:
        half = straight(start, middle[0])
    else:
        half = longer.split(longer.nearest(place)[0])[0] or straight(start, place)
    return lapped.and_then(half) if lapped else half
