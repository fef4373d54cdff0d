"""HP-GL for pen plotters and cutters: pen up, pen down, and nothing that is in doubt.

x runs along the roll, y across it; where a machine cuts cloth pieces lie with their
grain along the roll, on paper as they save most of it. The drawing is cut into frames,
each with its own size (`PS`), no frame shorter than the roll is wide (readers take the
larger number as the length, and would turn the drawing round). Curves are flattened,
dashes and words are strokes. Pens go from the lowest number to the highest, cuts come
last, holes before the outline round them. `IN` stands once, at the start; `PG` ends a
frame; nothing depends on line types, arcs or labels.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from skirtwright.budget import spend
from skirtwright.export.facts import CoverFacts, one_line
from skirtwright.export.full_size import check_room, needs_more, too_narrow
from skirtwright.export.furniture import cross
from skirtwright.export.head import head
from skirtwright.export.labelling import Field, Room
from skirtwright.export.packing import HALVES, QUARTERS
from skirtwright.export.penwork import Bundle, Drawn, drawn, in_order, within
from skirtwright.export.print_media import Plotter, looks
from skirtwright.export.roll_packing import on_a_roll
from skirtwright.export.sheet import Group, Mark, Sheet, Stroke, Text
from skirtwright.geometry import Motion, Point, turn
from skirtwright.geometry.box import Box
from skirtwright.problems import Refused
from skirtwright.words import Manner, say

OVERLAP = 10.0
"""What two frames share, mm; cuts change frame in its middle and are made once."""

MARGIN = 10.0
"""Left free along both edges of the roll and at its start, mm."""

_GAP = 10.0
_MOST_PAIRS = 64
"""Coordinate pairs in one command: older machines have short memories."""


@dataclass(frozen=True)
class Plot:
    """A sheet laid out for a plotter.

    Attributes:
        sheet: the pieces and the squares, x along the roll, y across it, mm.
        roll: width of the roll, mm.
        frames: what each frame shows.
        solid: no line is dashed; kinds of line are told by their pens.
    """

    sheet: Sheet
    plotter: Plotter
    roll: float
    frames: tuple[Box, ...]
    solid: bool = False

    @property
    def length(self) -> float:
        """Length of roll used, mm."""
        return self.frames[-1].right


def plot(
    sheet: Sheet,
    plotter: Plotter,
    facts: CoverFacts,
    manner: Manner = Manner(),
    *,
    roll: float | None = None,
    grain_along: bool | None = None,
    solid: bool = False,
) -> Plot:
    """Lay a sheet on a plotter's roll.

    Args:
        sheet: the pieces; where one has a grain line it is turned by it.
        roll: width of the roll, mm; None takes the machine's own.
        grain_along: pieces keep their grain along the roll, as a cutter of cloth
            needs; False lets them lie across, for patterns of paper; None as the
            machine is used.
        solid: no dashes, other pens in their place.

    Raises:
        Refused: `print.nothing`; `print.roll_too_narrow`; `plot.too_far` when the
            machine's numbers do not reach.
    """
    width = plotter.roll if roll is None else roll
    if grain_along is None:
        grain_along = plotter.grain_along
    if not sheet.groups:
        raise Refused("print.nothing")
    _check_reach(plotter, width)
    room = width - 2 * MARGIN
    if not grain_along:
        check_room(sheet, width, room)
    if grain_along:
        sheet = replace(sheet, groups=tuple(map(_grain_up, sheet.groups)))
    packed = on_a_roll(sheet, room, HALVES if grain_along else QUARTERS)
    if packed is None:
        raise _too_wide(sheet, width, room)
    top = head(sheet, facts, manner, room)
    above = Motion(e=MARGIN, f=MARGIN + top.outline_box.top + _GAP)
    groups = [group.moved(above) for group in packed.groups]
    corner = Motion(e=MARGIN, f=MARGIN)
    laid = replace(sheet, groups=(*groups, top.moved(corner)))
    # A quarter turn clockwise: up the sheet becomes along the roll.
    along = laid.moved(Motion(0, -1, 1, 0, 0, width))
    frames = _frames(along.box.right, width, plotter)
    return Plot(along, plotter, width, frames, solid)


def _grain_up(group: Group) -> Group:
    """The piece turned so that its longest grain line points up the sheet."""
    lines = [
        (mark.path[0].start, mark.path[-1].end)
        for mark in group.marks
        if isinstance(mark, Stroke) and mark.layer == "grain"
    ]
    if not lines:
        return group
    foot, tip = max(lines, key=lambda ends: ends[0].to(ends[1]))
    turned = 90.0 - (tip - foot).heading_deg()
    return group.moved(turn(Point(0, 0), turned)) if turned else group


def _too_wide(sheet: Sheet, width: float, room: float) -> Refused:
    """Grain along the roll: a piece's own width counts, not its least."""
    worst = max(sheet.groups, key=lambda group: group.outline_box.width)
    needed = worst.outline_box.width
    if needed <= room:
        return too_narrow(sheet, width, room)
    return needs_more(worst.name, needed, width, room, 3)


def _check_reach(plotter: Plotter, width: float) -> None:
    if not plotter.most:
        return
    share = 0.5 if plotter.origin == "centre" else 1.0
    needed = max(width, plotter.longest_frame) * share
    most = plotter.most * plotter.step
    if needed > most:
        raise Refused(
            "plot.too_far",
            plotter.key,
            plotter=plotter.name,
            needed=needed,
            most=most,
        )


def _frames(end: float, width: float, plotter: Plotter) -> tuple[Box, ...]:
    most = max(plotter.longest_frame, width)
    frames: list[Box] = []
    left = 0.0
    while not frames or frames[-1].right < end:
        if frames:
            left = frames[-1].right - OVERLAP
        right = left + min(most, max(end + MARGIN - left, width))
        frames.append(Box(left, 0.0, right, width))
    return tuple(frames)


def write_plotter(plotted: Plot, facts: CoverFacts, manner: Manner = Manner()) -> bytes:
    """The HP-GL file."""
    plotted = replace(plotted, sheet=Room(plotted.sheet, _fields(plotted)).sheet)
    machine = plotted.plotter
    lines = [f"{machine.prefix}IN;"]
    if machine.speed:
        lines.append(f"VS{machine.speed};")
    for number in range(len(plotted.frames)):
        lines.extend(_frame(plotted, number, facts, manner))
    return ("\n".join(lines) + "\n").encode("ascii")


def _fields(plotted: Plot) -> list[Field]:
    """The frames, and where in each there may be words: clear of what two share."""
    frames = plotted.frames
    return [
        Field(
            frame,
            Box(
                frame.left + (OVERLAP + 2 if number else 2.0),
                frame.bottom + 2,
                frame.right - (OVERLAP + 2 if number + 1 < len(frames) else 2.0),
                # In several frames each says at its upper edge which one it is.
                frame.top - (MARGIN if len(frames) > 1 else 2.0),
            ),
        )
        for number, frame in enumerate(frames)
    ]


def _frame(
    plotted: Plot, number: int, facts: CoverFacts, manner: Manner
) -> Iterator[str]:
    machine = plotted.plotter
    frame = plotted.frames[number]
    yield f"PS{_steps(frame.width, machine)},{_steps(frame.height, machine)};"
    bundles = frame_lines(plotted, number, facts, manner)
    pens = machine.pens_for(solid=plotted.solid)
    for pen in sorted(set(pens.values())):
        mine = [b for b in bundles if pens.get(b[0].layer) == pen]
        if not mine:
            continue
        yield f"SP{pen};"
        for line in in_order(mine, Point(frame.left, frame.bottom)):
            yield from _polyline(line, frame, machine)
    yield "PU;"
    if number + 1 == len(plotted.frames):
        yield "SP0;"
    yield "PG;"


def frame_lines(
    plotted: Plot, number: int, facts: CoverFacts, manner: Manner
) -> list[Bundle]:
    """Everything one frame draws, in the roll's own mm, in no order yet."""
    frame = plotted.frames[number]
    before = number > 0
    after = number + 1 < len(plotted.frames)
    own_part = Box(
        frame.left + (OVERLAP / 2 if before else 0.0),
        frame.bottom,
        frame.right - (OVERLAP / 2 if after else 0.0),
        frame.top,
    )
    look = looks()["paper"]
    bundles: list[Bundle] = []
    for bundle in drawn(plotted.sheet.marks, look, solid=plotted.solid):
        cut = bool(bundle) and bundle[0].layer == "cutting"
        seen = own_part if cut else frame
        bundles.append([part for line in bundle for part in within(line, seen)])
    joins = [own_part.left] * before + [own_part.right] * after
    own: list[Mark] = []
    for x in joins:
        for y in (frame.bottom + 20, frame.top - 20):
            own.extend(cross(Point(x, y)))
    if len(plotted.frames) > 1:
        values = {"number": number + 1, "of": len(plotted.frames)}
        words = say("print.frame_of", values, manner)
        words = f"{words} · {one_line(plotted.sheet, facts, manner)}"
        at = Point(frame.left + OVERLAP + 5, frame.top - 6)
        own.append(Text(words, at, 3.0, layer="frame"))
    bundles.extend(drawn(own, look))
    inked = ([line for line in b if len(line.points) > 1] for b in bundles)
    return [bundle for bundle in inked if bundle]


def _polyline(line: Drawn, frame: Box, machine: Plotter) -> Iterator[str]:
    shift = Point(frame.left, frame.bottom)
    if machine.origin == "centre":
        shift = frame.corners[0].between(frame.corners[2], 0.5)
    pairs: list[str] = []
    for point in line.points:
        pair = (
            f"{_steps(point.x - shift.x, machine)},{_steps(point.y - shift.y, machine)}"
        )
        if not pairs or pairs[-1] != pair:
            pairs.append(pair)
    spend("bytes", sum(map(len, pairs)))
    yield f"PU{pairs[0]};"
    rest = pairs[1:] or pairs
    for start in range(0, len(rest), _MOST_PAIRS):
        yield f"PD{','.join(rest[start : start + _MOST_PAIRS])};"


def _steps(length: float, machine: Plotter) -> int:
    return math.floor(length / machine.step + 0.5)
