"""A picture of the table as a frame of items, from the ground up to the scales."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Protocol

from PySide6.QtCore import QLineF, QRect, QRectF
from PySide6.QtGui import QColor, QPainter, QPen

from skirtwright.app.canvas.drawing import (
    Brushes,
    paint_sheet,
    paint_thing,
    screen_rect,
)
from skirtwright.app.canvas.frame import Frame, Item
from skirtwright.app.canvas.handles import Shown, area_of, paint_point
from skirtwright.app.canvas.laying import Laid
from skirtwright.app.canvas.lettering import cloth_names, paint_cloth, paint_names
from skirtwright.app.canvas.overlays import (
    bubble_area,
    check_area,
    paint_bubble,
    paint_check,
    paint_found,
    paint_walk,
    walk_lines,
)
from skirtwright.app.canvas.paths import prepare
from skirtwright.app.canvas.pointing import Found
from skirtwright.app.canvas.points import Points
from skirtwright.app.canvas.pulling import Pull
from skirtwright.app.canvas.rulers import paint_scale, wide
from skirtwright.app.canvas.scene import Rest, Scene
from skirtwright.app.canvas.sheets import Sheets, paint_sheets
from skirtwright.app.canvas.signs import Signs
from skirtwright.app.canvas.stepping import at_limit, shown
from skirtwright.app.canvas.stroll import Stroll
from skirtwright.app.canvas.view import View
from skirtwright.app.canvas.walking import Walk
from skirtwright.draft.pulls import Handle
from skirtwright.draft.shapes.panel import Panel
from skirtwright.geometry.box import Box
from skirtwright.geometry.point import Point
from skirtwright.pieces.piece import Piece
from skirtwright.telling.names_in_words import plain
from skirtwright.words import say, translate

_ROUND = 6
"""Pixels round a thing that its lines and its shadow need."""


class Seen(Protocol):
    """What a picture of the table is made from; the table says what each is."""

    scene: Scene
    points: Points
    signs: Signs
    stroll: Stroll
    brushes: Brushes
    pull: Pull | None
    pointer: tuple[float, float] | None
    hovered: Found | None
    chosen: Found | None

    @property
    def view(self) -> View:
        """How it is seen."""

    def rect(self) -> QRect:
        """All of it, px."""

    def shown_points(self) -> list[Shown]:
        """The pull points as they stand on the screen."""


def frame_of(table: Seen) -> Frame:
    """The table as it stands."""
    items = (
        _ground(table),
        *_things(table),
        *_sheets(table),
        *_cloths(table),
        *_over(table),
        *_scales(table),
    )
    return Frame(table.view, table.rect(), items)


def _ground(table: Seen) -> Item:
    """The table itself, and the paper under the draft."""
    leans = (table.rect(), table.scene.layout.sheet, table.brushes)
    return Item("ground", table.rect(), _draw_ground, leans, kept=True)


def _draw_ground(
    painter: QPainter, view: View, whole: QRect, sheet: Box | None, brushes: Brushes
) -> None:
    painter.fillRect(whole, QColor(brushes.colours.ground))
    if sheet:
        paint_sheet(painter, sheet, view, brushes)


def _things(table: Seen) -> Iterator[Item]:
    """All that lies on the table."""
    scene, held = table.scene, table.pull is not None
    still, moving = table.brushes, replace(table.brushes, moving=True)
    titles = {piece.spec.panel: piece.spec.title for piece in scene.pieces}
    for laid, of in scene.things():
        rest, moves = scene.rest(laid, of, held=held)
        area = _pixels(screen_rect(laid.box, table.view), _ROUND) & table.rect()
        if not area.isEmpty():
            title = titles.get(laid.name) or plain(laid.name).capitalize()
            leans = (laid, of, title, rest, moving if moves else still)
            key = (laid.kind, laid.name)
            yield Item(key, area, _draw_thing, leans, kept=True)


def _draw_thing(
    painter: QPainter,
    view: View,
    laid: Laid,
    of: Panel | Piece,
    title: str,
    rest: Rest,
    brushes: Brushes,
) -> None:
    """A panel or piece with its words."""
    paint_thing(painter, laid, prepare(of), view, brushes)
    paint_names(painter, laid, of, title, rest, view, brushes)


def _sheets(table: Seen) -> Iterator[Item]:
    """The sheets of a print, with the pieces on them."""
    sheets, printed = table.scene.sheets, table.scene.layout.printed
    if isinstance(sheets, Sheets) and printed:
        area = _pixels(screen_rect(printed, table.view), _ROUND)
        leans = (sheets, Point(printed.left, printed.top), table.brushes)
        yield Item("sheets", area, paint_sheets, leans)


def _cloths(table: Seen) -> Iterator[Item]:
    """The name of each cloth over its pieces."""
    for name in cloth_names(table.scene.layout, table.view, table.brushes):
        leans = (name, table.brushes)
        yield Item(("cloth", name.words), _pixels(name.area, 2), paint_cloth, leans)


def _over(table: Seen) -> Iterator[Item]:
    """What is pointed at, checks, pull points and what is said beside them."""
    if table.pull is None:
        yield from _found(table)
        yield from _signs(table)
    if table.stroll.walk:
        yield from _walk(table, table.stroll.walk)
        return
    points = table.shown_points()
    for point in sorted(points, key=lambda s: (s.chosen, s.focused, s.hovered)):
        key, area = ("point", point.name), _pixels(area_of(point), 2)
        yield Item(key, area, _draw_point, (point, table.brushes))
    yield from _value(table, points)


def _draw_point(painter: QPainter, _: View, point: Shown, brushes: Brushes) -> None:
    paint_point(painter, point, brushes)


def _found(table: Seen) -> Iterator[Item]:
    """What is chosen, and what is pointed at."""
    things = dict(table.scene.things())
    for key, found in (("chosen", table.chosen), ("hovered", table.hovered)):
        if found:
            area = _pixels(screen_rect(found.laid.box, table.view), _ROUND)
            leans = (found, things.get(found.laid), key == "chosen", table.brushes)
            yield Item(key, area, paint_found, leans)


def _signs(table: Seen) -> Iterator[Item]:
    for number, (problem, place) in enumerate(table.signs.places):
        area = _pixels(check_area(table.view.screen(place)), 2)
        ringed = problem == table.signs.shown
        leans = (problem.severity, place, ringed, table.brushes)
        yield Item(("sign", number), area, paint_check, leans)


def _walk(table: Seen, walk: Walk) -> Iterator[Item]:
    """A seam being walked, and how far."""
    offset, brushes = table.stroll.offset(walk), table.brushes
    yield Item("walk", table.rect(), paint_walk, (walk, offset, brushes))
    lines = walk_lines(walk, table.stroll.title(walk), brushes)
    at = table.view.screen(walk.rolled().first.place + offset)
    yield _bubble(table, lines, at, [])


def _value(table: Seen, points: list[Shown]) -> Iterator[Item]:
    """The amount in hand, beside the pointer while it is pulled."""
    handle = table.points.active()
    known = next((p for p in points if handle and p.name == handle.place), None)
    if handle is None or known is None or not known.about:
        return
    at = table.pull.pointer if table.pull else (known.x, known.y)
    clear = [known.rect]
    if not table.pull and (known.chosen or known.focused):
        clear += [known.sign_rect(more) for more in (True, False)]
    yield _bubble(table, value_lines(table, handle), at, clear)


def _bubble(
    table: Seen, lines: tuple[str, ...], at: tuple[float, float], clear: list[QRectF]
) -> Item:
    slip = bubble_area(lines, at, table.rect(), table.brushes, clear)
    leans = (lines, slip, table.brushes)
    return Item("bubble", _pixels(slip, 2), paint_bubble, leans)


def value_lines(table: Seen, handle: Handle) -> tuple[str, str]:
    """What a pull point's amounts are called, and where they stand."""
    manner, pull = table.brushes.manner, table.pull
    labels, values = [], []
    for name in handle.amounts:
        state = table.scene.state(name)
        if state is None:
            continue
        value = pull.values.get(name, state.value) if pull else state.value
        limit = at_limit(state, value) if pull else ""
        label = translate(state.amount.label, manner)
        labels.append(
            say(f"table.at_{limit}", {"label": label}, manner) if limit else label
        )
        values.append(shown(state, value, manner))
    return ", ".join(labels), ", ".join(values)


def _scales(table: Seen) -> Iterator[Item]:
    """The scale down the left edge, over it the one along the upper edge."""
    sheet, whole = table.scene.layout.sheet, table.rect()
    # Both count from the paper's upper left corner.
    nought = Point(sheet.left, sheet.top) if sheet else Point(0.0, 0.0)
    strip = math.ceil(wide(table.brushes.percent))
    for upright in (True, False):
        size = (strip, whole.height()) if upright else (whole.width(), strip)
        area = QRect(0, 0, *size)
        leans = (area, nought, upright, table.brushes)
        yield Item(("scale", upright), area, paint_scale, leans, kept=True)
    for upright in (False, True) if table.pointer else ():
        at = table.pointer[upright] if table.pointer else 0.0
        line = QLineF(0, at, strip, at) if upright else QLineF(at, 0, at, strip)
        if at > strip:
            area = _pixels(QRectF(line.p1(), line.p2()), 2)
            mark = ("pointer", upright)
            yield Item(mark, area, _draw_pointer, (line, table.brushes))


def _draw_pointer(painter: QPainter, _: View, line: QLineF, brushes: Brushes) -> None:
    """Where the pointer is, on a scale."""
    painter.setPen(QPen(QColor(brushes.colours.accent), 1))
    painter.drawLine(line)


def _pixels(area: QRectF, more: int) -> QRect:
    """Whole pixels round an area, and some more on each side."""
    left, top = math.floor(area.left()) - more, math.floor(area.top()) - more
    right, bottom = math.ceil(area.right()) + more, math.ceil(area.bottom()) + more
    return QRect(left, top, right - left, bottom - top)
