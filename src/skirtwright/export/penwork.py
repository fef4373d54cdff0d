"""Lines made ready for a pen or a knife: dashed, cut to a frame, put in order.

Everything is a polyline in mm here. Dashes are drawn as strokes of their own, because
machines and readers disagree on line types; words are strokes too.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from skirtwright.export.pen_order import pen_order
from skirtwright.export.print_media import Look
from skirtwright.export.printed_letters import written
from skirtwright.export.sheet import Fill, Layer, Mark, Stroke, Text
from skirtwright.export.tiles import clipped
from skirtwright.geometry import Motion, Point
from skirtwright.geometry.box import Box
from skirtwright.geometry.ring import area_of_points, holds
from skirtwright.geometry.tolerance import SAME

Run = list[Point]
"""A polyline, mm."""


@dataclass(frozen=True)
class Drawn:
    """A polyline, the kind of line it is, and whether it is an unbroken outline."""

    points: tuple[Point, ...]
    layer: Layer
    closed: bool = False


Bundle = list[Drawn]
"""The polylines of one mark: the dashes of a line, the strokes of some words."""


def drawn(
    marks: Iterable[Mark], look: Look, *, solid: bool = False
) -> Iterator[Bundle]:
    """Every mark as polylines; a fill becomes its outline; `solid` leaves no dashes."""
    for mark in marks:
        if isinstance(mark, Text):
            yield [Drawn(tuple(run), mark.layer) for run in strokes_of(mark)]
            continue
        points = mark.points()
        dash: Sequence[float] = ()
        if isinstance(mark, Stroke) and not solid:
            dash = look.styles[mark.layer].dash if mark.dash is None else mark.dash
        if dash:
            yield [Drawn(tuple(run), mark.layer) for run in dashed(points, dash)]
        else:
            closed = isinstance(mark, Fill) or mark.closed
            yield [Drawn(tuple(points), mark.layer, closed)]


def strokes_of(text: Text) -> list[Run]:
    """The words as polylines, mm, in the order they are written."""
    strokes: list[Run] = []
    for words, home, width in text.lines():
        runs, reach = written(words, text.height_mm, bold=text.bold)
        spare = {"start": 0.0, "middle": (width - reach) / 2, "end": width - reach}
        motion = Motion(e=spare[text.anchor]).then(home)
        strokes.extend([motion(p) for p in run] for run in runs)
    return strokes


def dashed(points: Sequence[Point], dash: Sequence[float]) -> list[Run]:
    """A polyline broken into dashes of the given lengths and gaps, mm."""
    runs: list[Run] = []
    part, left, down = 0, dash[0], True
    run: Run = [points[0]]
    for p, q in pairwise(points):
        length, along = p.to(q), 0.0
        while length - along > left:
            along += left
            here = p.between(q, along / length)
            if down:
                runs.append([*run, here])
            part, down = (part + 1) % len(dash), not down
            left, run = dash[part], [here]
        left -= length - along
        if down:
            run.append(q)
        else:
            run = [q]
    if down and len(run) > 1:
        runs.append(run)
    return runs


def within(line: Drawn, box: Box) -> list[Drawn]:
    """The parts of a polyline inside a box; itself, when all of it is."""
    if all(map(box.holds, line.points)):
        return [line]
    runs: list[Run] = []
    for p, q in pairwise(line.points):
        part = clipped(p, q, box)
        if part is None or part[0].to(part[1]) <= SAME:
            continue
        if runs and runs[-1][-1].is_at(part[0]):
            runs[-1].append(part[1])
        else:
            runs.append(list(part))
    if line.closed and len(runs) > 1 and runs[-1][-1].is_at(runs[0][0]):
        runs[0] = runs.pop() + runs[0][1:]
    return [Drawn(tuple(run), line.layer) for run in runs]


def in_order(bundles: Sequence[Bundle], start: Point) -> list[Drawn]:
    """Lines in the order of drawing: cuts last, holes before what holds them.

    Within each kind the pen goes little lifted; the dashes of a line and the strokes of
    a word need not follow one another.
    """
    held = [bundle for bundle in bundles if bundle]
    cuts = [bundle for bundle in held if bundle[0].layer == "cutting"]
    inner = _inside_another(cuts)
    outer = [cut for cut in cuts if not any(cut is other for other in inner)]
    plain = [bundle for bundle in held if bundle[0].layer != "cutting"]
    ordered: list[Drawn] = []
    here = start
    for kind in (plain, inner, outer):
        lines = [line for bundle in kind for line in bundle]
        for number, points in pen_order([line.points for line in lines], here):
            ordered.append(replace(lines[number], points=points))
            here = points[-1]
    return ordered


def _inside_another(cuts: list[Bundle]) -> list[Bundle]:
    """Cuts that lie inside a larger outline."""
    rings = [line for cut in cuts for line in cut if line.closed]
    return [
        cut
        for cut in cuts
        if any(
            ring is not cut[0]
            and _size(ring) > _size(cut[0])
            and holds(ring.points, cut[0].points[0])
            for ring in rings
        )
    ]


def _size(line: Drawn) -> float:
    return abs(area_of_points(line.points)) if line.closed else 0.0
