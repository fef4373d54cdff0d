"""What changed since a print, laid as it lay: only sheets that show a difference.

Every piece is laid where it lay before, from the same place of its draft, so that
whatever did not move is where it was and its sheets stay good. A piece that has no
room there any more, or is new, is laid on sheets below the others, and so no sheet
gets another name. A sheet is printed again where a line, or what is said of it, is not
what it was, and all of a piece where its label is; words are given their places on the
sheets that are printed, and so none is lost. Grain and words that are the same stay
where they were while nothing comes in their way.
The line as it was is drawn beside the new one, dotted thin.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import astuple, dataclass, replace
from itertools import pairwise

from skirtwright.export.packing import on_sheets
from skirtwright.export.sheet import (
    Group,
    Label,
    Mark,
    Path,
    Pen,
    Sheet,
    Stroke,
    Text,
    flattened,
)
from skirtwright.export.tiles import (
    Tiling,
    check_count,
    columns_for,
    grid_from,
    tiles_of,
)
from skirtwright.export.windows import (
    Grid,
    Ink,
    Spot,
    windows_needed,
    windows_showing,
)
from skirtwright.geometry import Line, Motion, Point, bend_deg
from skirtwright.geometry.apart import Lines, Run
from skirtwright.geometry.area import shared_area
from skirtwright.geometry.ring import holds
from skirtwright.geometry.tolerance import SAME
from skirtwright.pieces.sheets_laid import PieceLaid, SheetsLaid

BEFORE: Pen = (0.18, (0.3, 1.5))
"""Of the line as it was."""

_SHOWN_BEFORE = ("cutting", "stitching", "fold", "notch")
"""Kinds of line that are drawn as they were."""

_TOUCH = 1.0
"""Pieces that share less than this, mm2, do not lie over each other."""

_ROUGH = 0.1


_BESIDE = 0.5
"""How much nearer or further a line may lie from words that are about it, mm."""

Placed = Sequence[tuple[Mark, ...]]
"""Where the words of each label of a piece stand."""


@dataclass(frozen=True)
class RelaidPiece:
    """A piece laid once more.

    Attributes:
        now: as it is; None for one that is no more.
        before: as it lay; None where it lies elsewhere now, or is new.
    """

    now: Group | None
    before: Group | None


def laid_as(tiling: Tiling) -> tuple[PieceLaid, ...]:
    """Where the pieces of a tiling lie."""
    return tuple(
        PieceLaid(
            piece=group.piece,
            turned=round(Point(group.motion.a, group.motion.b).heading_deg(), 6),
            right=round(group.motion.e, 3),
            up=round(group.motion.f, 3),
        )
        for group in tiling.sheet.groups
    )


def rows_of(tiling: Tiling) -> tuple[str, ...]:
    """The sheets there are, a row a text."""
    return tuple(
        "".join(
            "." if (tile := tiling.tile_at(row, column)) is None or tile.blank else "x"
            for column in range(tiling.columns)
        )
        for row in range(tiling.rows)
    )


def tiling_as_printed(sheet: Sheet, laid: SheetsLaid, bare: Tiling) -> Tiling:
    """The sheets as they were printed."""
    grid = _grid_of(laid, bare)
    places = {spot.piece: spot.motion for spot in laid.pieces}
    groups = [_moved_to(g, places[g.piece]) for g in sheet.groups if g.piece in places]
    return replace(
        bare,
        sheet=replace(sheet, groups=tuple(groups)),
        columns=grid.columns,
        rows=grid.rows,
        tiles=tiles_of(grid, _printed(laid, grid.rows)),
    )


def _grid_of(laid: SheetsLaid, bare: Tiling) -> Grid:
    """The grid by which sheets were printed."""
    corner, rows = Point(laid.right, laid.up), len(laid.sheets)
    return Grid(corner, bare.window, bare.overlap, laid.columns, rows)


def _printed(laid: SheetsLaid, rows: int) -> set[Spot]:
    """The windows of sheets that were printed, in a grid of so many rows."""
    return {
        (column, rows - 1 - row)
        for row in range(len(laid.sheets))
        for column in range(laid.columns)
        if laid.has_sheet(row, column)
    }


def words_staying(sheet: Sheet, before: Sheet, placed: Sequence[Placed]) -> Sheet:
    """The sheet with those labels held where they stood that say what they said.

    Args:
        sheet: the pieces as they are, laid as they were.
        before: the pieces as they were printed, where they lay.
        placed: of each, where the words of each label stood.
    """
    old = {g.piece: (g, words) for g, words in zip(before.groups, placed, strict=True)}
    groups = []
    for group in sheet.groups:
        was = old.get(group.piece)
        if was and _same_place(group.motion, was[0].motion):
            labels = tuple(_labels_staying(group.labels, was[0].labels, was[1]))
            groups.append(replace(group, labels=labels))
        else:
            groups.append(group)
    return replace(sheet, groups=tuple(groups))


def _same_place(one: Motion, other: Motion) -> bool:
    pairs = zip(astuple(one), astuple(other), strict=True)
    return all(abs(p - q) < SAME for p, q in pairs)


def _labels_staying(
    labels: Sequence[Label], before: Sequence[Label], placed: Placed
) -> Iterator[Label]:
    stood = list(zip(before, placed, strict=True))
    for label in labels:
        alike = (
            (was, words)
            for was, words in stood
            if was.versions == label.versions and _stands_by_line(label, was, words)
        )
        found = next(alike, None)
        if found:
            stood.remove(found)
        yield replace(label, stays=found[1]) if found else label


def _stands_by_line(label: Label, was: Label, words: Sequence[Mark]) -> bool:
    """Whether words that stood by a line stand by it still."""
    if not was.of:
        return not label.of
    texts = [mark for mark in words if isinstance(mark, Text)]
    if not texts or not label.of:
        return False
    near, then = (
        min(texts[0].at.to(p) for p in flattened(path, _ROUGH))
        for path in (label.of, was.of)
    )
    return abs(near - then) < _BESIDE


def tiled_again(
    sheet: Sheet,
    before: Sheet,
    laid: SheetsLaid,
    bare: Tiling,
    otherwise: Collection[str] = (),
) -> Tiling:
    """The sheets that are to be printed, with those that stay good.

    Args:
        sheet: the pieces as they are.
        before: the pieces as they were printed, with the same words where these mean
            the same, such as the date.
        otherwise: pieces that were drawn differently from `before` all the same.

    Raises:
        Refused: there are too many sheets.
    """
    places = {spot.piece: spot.motion for spot in laid.pieces}
    old = {
        group.piece: _moved_to(group, places[group.piece])
        for group in before.groups
        if group.piece in places
    }
    grid = _grid_of(laid, bare)
    check_count(grid.columns * grid.rows)
    staying, leaving = _parted(sheet, old, places, grid)
    grid = _grown(grid, staying)
    check_count(grid.columns * grid.rows)
    laid_anew: tuple[Group, ...] = ()
    if leaving:
        grid, laid_anew = _below(grid, Sheet(sheet.title, tuple(leaving)))
    check_count(grid.columns * grid.rows)
    pairs = [
        RelaidPiece(_with_grain_of(now, was), was)
        for now in staying
        for was in (old.pop(now.piece),)
    ]
    pairs += [RelaidPiece(now, None) for now in laid_anew]
    pairs += [RelaidPiece(None, gone) for gone in old.values()]
    changed = {
        spot for pair in pairs for spot in _windows_changed(pair, grid, otherwise)
    }
    there = _printed(laid, grid.rows)
    drawn = replace(sheet, groups=tuple(pair.now for pair in pairs if pair.now))
    needed = windows_needed(Ink.of(drawn), grid, there - changed)
    kept = needed & there - changed
    return replace(
        bare,
        sheet=replace(sheet, groups=tuple(_with_old_lines(pairs))),
        columns=grid.columns,
        rows=grid.rows,
        tiles=tiles_of(grid, needed, kept),
    )


def _moved_to(group: Group, motion: Motion) -> Group:
    """The group as if moved by that alone from where the piece was drafted."""
    was = group.motion
    back = Motion(
        was.a,
        was.c,
        was.b,
        was.d,
        -(was.a * was.e + was.b * was.f),
        -(was.c * was.e + was.d * was.f),
    )
    return group.moved(back.then(motion))


# Where the pieces lie


def _parted(
    sheet: Sheet, old: Mapping[str, Group], places: Mapping[str, Motion], grid: Grid
) -> tuple[list[Group], list[Group]]:
    """The pieces that lie where they lay, and those that have no room there.

    What is as it was has its place before what grew.
    """
    laid = {
        group.piece: _moved_to(group, places[group.piece])
        for group in sheet.groups
        if group.piece in old
    }
    rings = {name: _outline(group) for name, group in laid.items()}
    top = grid.corner.y + grid.rows * grid.step[1] + grid.overlap
    fixed: set[str] = set()
    for name in sorted(laid, key=lambda name: _outline(old[name]) != rings[name]):
        box = laid[name].outline_box
        inside = box.left >= grid.corner.x - SAME and box.top <= top + SAME
        # Only where two boxes meet is it worth joining areas.
        near = (n for n in fixed if laid[n].outline_box.meets(box))
        if inside and all(shared_area(rings[name], rings[n]) <= _TOUCH for n in near):
            fixed.add(name)
    staying = [laid[group.piece] for group in sheet.groups if group.piece in fixed]
    return staying, [group for group in sheet.groups if group.piece not in fixed]


def _outline(group: Group) -> list[Point]:
    return (*group.outlines, *group.marks)[0].points(_ROUGH)


def _grown(grid: Grid, staying: Sequence[Group]) -> Grid:
    """The grid with windows at the right and below for what grew beyond it."""
    if not staying:
        return grid
    box = Sheet("", tuple(staying)).box
    columns = max(grid.columns, grid_from(grid.corner, box, grid).columns)
    return _lowered(replace(grid, columns=columns), grid.corner.y - box.bottom)


def _lowered(grid: Grid, by: float) -> Grid:
    """The grid with as many rows below as reach so far down."""
    rows = max(0, math.ceil((by - SAME) / grid.step[1]))
    corner = grid.corner - Point(0.0, rows * grid.step[1])
    return replace(grid, corner=corner, rows=grid.rows + rows)


def _below(grid: Grid, rest: Sheet) -> tuple[Grid, tuple[Group, ...]]:
    """Pieces laid in rows of windows of their own below the grid."""
    columns = max(grid.columns, columns_for(rest, grid.step))
    packed = on_sheets(rest, grid.step, grid.overlap, columns)
    if packed is None:
        packed = rest.moved(Motion(e=-rest.box.left, f=-rest.box.bottom))
    wide = grid_from(Point(0, 0), packed.box, grid).columns
    # Clear of the strip that the lowest row shares with the row below it.
    lower = _lowered(replace(grid, columns=max(grid.columns, wide)), packed.box.top)
    moved = packed.moved(Motion(e=lower.corner.x, f=lower.corner.y))
    return lower, moved.groups


# What differs


def _windows_changed(
    pair: RelaidPiece, grid: Grid, otherwise: Collection[str]
) -> Iterable[Spot]:
    """The windows in which a piece is not what it was."""
    now, before = pair.now, pair.before
    if now is None or before is None or now.piece in otherwise:
        return _showing([m for g in (now, before) if g for m in g.marks], grid)
    changed = {
        spot
        for one, two in ((now, before), (before, now))
        for _, run in _parts_apart(one.marks, two.marks)
        for spot in _showing([Stroke(_path(run), "cutting")], grid)
    }
    for one, two in ((now, before), (before, now)):
        changed |= _showing(_said_otherwise(one, two), grid)
        if _turned(one, two):
            changed |= _showing([m for m in one.marks if m.layer == "grain"], grid)
    return changed


def _showing(marks: Sequence[Mark], grid: Grid) -> set[Spot]:
    if not marks:
        return set()
    sheet = Sheet("", (Group.of("", marks),))
    return windows_showing(Ink.of(sheet), grid)


def _parts_apart(one: Sequence[Mark], two: Sequence[Mark]) -> Iterator[tuple[str, Run]]:
    """The parts of some lines that are none of the others, with their kind."""
    theirs = set(map(_drawn, two))
    against: dict[str, Lines] = {}
    for mark in one:
        if isinstance(mark, Text) or mark.layer == "grain" or _drawn(mark) in theirs:
            continue
        if mark.layer not in against:
            alike = (m for m in two if m.layer == mark.layer)
            against[mark.layer] = Lines(
                m.points() for m in alike if not isinstance(m, Text)
            )
        for run in against[mark.layer].apart(mark.points()):
            yield mark.layer, run


def _drawn(mark: Mark) -> object:
    return None if isinstance(mark, Text) else (mark.layer, mark.path)


def _said_otherwise(one: Group, two: Group) -> list[Mark]:
    """The lines of which something is said that is not said of the other's.

    Of the piece itself, where its label differs.
    """
    left = Counter(label.versions for label in two.labels)
    found: list[Mark] = []
    for label in one.labels:
        left[label.versions] -= 1
        if left[label.versions] < 0:
            found += [Stroke(label.of, "label")] if label.of else one.outlines
    return found


def _with_grain_of(group: Group, before: Group) -> Group:
    """The group with the grain where it was, if it lies within the piece still.

    Sheets that stay show it there.
    """
    grain = [mark for mark in before.marks if mark.layer == "grain"]
    if not grain or _turned(group, before):
        return group
    ring = _outline(group)
    if not all(holds(ring, point) for mark in grain for point in mark.points(_ROUGH)):
        return group
    others = (mark for mark in group.marks if mark.layer != "grain")
    return group.holding((*others, *grain))


_TURNED_DEG = 0.1


def _turned(one: Group, two: Group) -> bool:
    """Whether the straight grain runs another way."""
    ways = []
    for group in (one, two):
        arrows = [m for m in group.marks if m.layer == "grain"]
        shaft = next((m.path for m in arrows if isinstance(m, Stroke)), None)
        ways.append(None if shaft is None else shaft[-1].end - shaft[0].start)
    first, second = ways
    if first is None or second is None:
        return first is not second
    return abs(bend_deg(first, second)) > _TURNED_DEG


def _with_old_lines(pairs: Iterable[RelaidPiece]) -> Iterator[Group]:
    """Each piece with its lines as they were, where these lay elsewhere."""
    for pair in pairs:
        if pair.now is None:
            continue
        before = pair.before
        marks = [m for m in before.marks if isinstance(m, Stroke)] if before else []
        gone = _parts_apart(marks, pair.now.marks)
        old = [
            Stroke(_path(run), "inside", *BEFORE)
            for layer, run in gone
            if layer in _SHOWN_BEFORE
        ]
        yield pair.now.holding((*pair.now.marks, *old))


def _path(run: Run) -> Path:
    ends = pairwise(run if len(run) > 1 else run * 2)
    return tuple(Line(p, q) for p, q in ends)
