"""Darts shut and opened again (plain geometry).

*Shut*: everything beyond a dart is turned about its tip until the far leg lies on
the near one. With several darts the outermost is shut first, so that what lies
beyond dart k is turned about tip k, then k - 1, down to 1.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from skirtwright.draft.shapes.panel import Dart, Panel
from skirtwright.geometry.chain import Chain, straight
from skirtwright.geometry.meeting import nearest_of, ray_meets
from skirtwright.geometry.point import Motion, Point, bend_deg, reflect, turn
from skirtwright.problems import Refused

_STILL: Final = Motion()


@dataclass(frozen=True)
class ShutDart:
    """A dart, its leg ends on paper, and the motions that shut and open beyond it."""

    dart: Dart
    near: Point
    far: Point
    before: Motion
    beyond: Motion
    open_before: Motion
    open_beyond: Motion


def darts_on(panel: Panel, edge: str) -> list[Dart]:
    """The darts of an edge, in order from its start."""
    order = [s.fold for s in panel.edge(edge).chain.segments if s.fold]
    found = [dart for dart in panel.darts if dart.edge == edge and dart.name in order]
    return sorted(found, key=lambda dart: order.index(dart.name))


def shut_darts(panel: Panel, edge: str) -> list[ShutDart]:
    """The darts of an edge with the motions that shut them, from its start."""
    shut: list[ShutDart] = []
    motion, opening = _STILL, _STILL
    for dart in darts_on(panel, edge):
        near, far = panel.legs(dart)
        angle = bend_deg(far - dart.tip, near - dart.tip)
        beyond = turn(dart.tip, angle).then(motion)
        open_beyond = opening.then(turn(dart.tip, -angle))
        shut.append(ShutDart(dart, near, far, motion, beyond, opening, open_beyond))
        motion, opening = beyond, open_beyond
    return shut


def opened(shut_line: Chain, darts: list[ShutDart], pressed_to_start: bool) -> Chain:
    """A line drawn with the darts shut, laid open again, with its caps.

    Args:
        shut_line: the line as drawn on the shut paper, in the edge's direction.
        darts: the shut darts, in order from its start.
        pressed_to_start: the darts are pressed towards the line's start.

    Raises:
        Refused: the line does not cross a dart.
    """
    parts: list[Chain] = []
    rest: Chain | None = shut_line
    for shut in darts:
        tip, near = shut.before(shut.dart.tip), shut.before(shut.near)
        place = nearest_of(ray_meets(tip, near - tip, rest), near) if rest else None
        if rest is None or place is None:
            raise Refused("draft.misses_dart", shut.dart.name, dart=shut.dart.name)
        head, rest = rest.split(rest.nearest(place)[0])
        if head is None or rest is None:
            raise Refused("draft.misses_dart", shut.dart.name, dart=shut.dart.name)
        head = head.moved(shut.open_before)
        after = rest.moved(shut.open_beyond)
        parts.append(head)
        parts.append(_cap(shut, head, after, pressed_to_start))
    if rest is None:
        raise Refused("draft.misses_dart", "")
    parts.append(rest.moved(darts[-1].open_beyond) if darts else rest)
    return parts[0].and_then(*parts[1:])


def with_line_opened(
    panel: Panel, edge: str, shut_line: Chain, pressed_to_start: bool = True
) -> Panel:
    """The panel with an edge as it was drawn with its darts shut, laid open again.

    Raises:
        Refused: the line does not cross a dart.
    """
    darts = shut_darts(panel, edge)
    line = opened(shut_line, darts, pressed_to_start) if darts else shut_line
    return panel.with_chain(edge, line)


def _cap(shut: ShutDart, head: Chain, after: Chain, pressed_to_start: bool) -> Chain:
    """The cap of a dart: the waist line folded over the leg it is pressed across."""
    tip, near, far = shut.dart.tip, head.end, after.start
    if not pressed_to_start:
        mirrored = _half_cap(tip, far, near, after.reversed())
        half = mirrored.reversed()
        whole = half.moved(reflect(tip, half.start)).reversed().and_then(half)
        return whole.with_ends(near, far).taken_up(shut.dart.name)
    half = _half_cap(tip, near, far, head)
    whole = half.and_then(half.moved(reflect(tip, half.end)).reversed())
    return whole.with_ends(near, far).taken_up(shut.dart.name)


def _half_cap(tip: Point, leg: Point, other: Point, line: Chain) -> Chain:
    """From a leg to the dart's middle: the line before the leg, folded over it."""
    folded = line.reversed().moved(reflect(tip, leg))
    axis = (leg - tip).unit() + (other - tip).unit()
    reach = leg.to(other)
    longer = folded.and_then(
        straight(folded.end, folded.end + folded.end_direction * reach)
    )
    place = nearest_of(ray_meets(tip, axis, longer), leg)
    if place is None:
        return straight(leg, tip + axis.unit() * tip.to(leg))
    half, _ = longer.split(longer.nearest(place)[0])
    return half or straight(leg, place)
