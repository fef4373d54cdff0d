"""A picture of the table, from the ground up to the scales."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtGui import QColor, QPainter

from skirtwright.app.canvas.drawing import (
    Brushes,
    paint_sheet,
    paint_thing,
    screen_rect,
)
from skirtwright.app.canvas.handles import Shown, paint_points
from skirtwright.app.canvas.laying import Laid
from skirtwright.app.canvas.lettering import paint_cloths, paint_names
from skirtwright.app.canvas.overlays import (
    paint_bubble,
    paint_check,
    paint_found,
    paint_walk,
    walk_lines,
)
from skirtwright.app.canvas.pictures import Leans, area_round
from skirtwright.app.canvas.scene import Rest
from skirtwright.app.canvas.sheets import paint_sheets
from skirtwright.app.canvas.stepping import at_limit, shown
from skirtwright.app.canvas.view import View
from skirtwright.app.canvas.walking import Walk
from skirtwright.draft.handles import Handle
from skirtwright.draft.shapes.panel import Panel
from skirtwright.geometry.point import Point
from skirtwright.pieces.piece import Piece
from skirtwright.telling.names_in_words import plain
from skirtwright.words import say, translate

if TYPE_CHECKING:
    from skirtwright.app.canvas.table import Table


def paint_table(painter: QPainter, table: Table) -> None:
    """Everything, the ground first."""
    scene, view, brushes = table.scene, table.view, table.brushes
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    _paint_ground(painter, table, brushes)
    _paint_things(painter, table, brushes)
    if scene.sheets and scene.layout.printed:
        printed = scene.layout.printed
        corner = Point(printed.left, printed.top)
        paint_sheets(painter, scene.sheets, corner, view, brushes)
    paint_cloths(painter, scene, view, brushes)
    _paint_over(painter, table, brushes)
    size, nought = _size(table), _nought(table)
    table.rulers.paint(painter, view, size, nought, brushes, table.pointer)


def _paint_ground(painter: QPainter, table: Table, brushes: Brushes) -> None:
    """The table itself, and the paper under the draft."""
    sheet = table.scene.layout.sheet

    def paint(onto: QPainter, view: View) -> None:
        onto.fillRect(table.rect(), QColor(brushes.colours.ground))
        if sheet:
            paint_sheet(onto, sheet, view, brushes)

    leans = Leans((), (sheet, brushes))
    table.pictures.lay(painter, "ground", leans, table.rect(), table.view, paint)


def _paint_things(painter: QPainter, table: Table, brushes: Brushes) -> None:
    """All that lies on the table."""
    scene = table.scene
    titles = {piece.spec.panel: piece.spec.title for piece in scene.pieces}
    held = table.pull is not None
    keys: list[Hashable] = ["ground"]
    for laid, of in scene.things():
        key = (laid.kind, laid.name)
        keys.append(key)
        area = area_round(screen_rect(laid.box, table.view), table.rect())
        if area.isEmpty():
            continue
        rest = scene.rest_of(laid, of, held=held)
        moving = replace(brushes, moving=held and rest.of is not of)
        title = titles.get(laid.name, plain(laid.name).capitalize())

        paint = partial(_paint_thing, table, laid, of, title, rest, moving)
        leans = Leans((of, rest), (laid.material, laid.offset, title, moving))
        table.pictures.lay(painter, key, leans, area, table.view, paint)
    table.pictures.keep_only(keys)
    table.preparing.keep_only(keys)


def _paint_thing(
    table: Table,
    laid: Laid,
    of: Panel | Piece,
    title: str,
    rest: Rest,
    brushes: Brushes,
    painter: QPainter,
    view: View,
) -> None:
    """A panel or piece with its words."""
    prepared = table.preparing.of((laid.kind, laid.name), of)
    paint_thing(painter, laid, prepared, view, brushes)
    paint_names(painter, laid, of, title, rest, view, brushes)


def _size(table: Table) -> tuple[float, float]:
    return float(table.width()), float(table.height())


def _nought(table: Table) -> Point:
    """The paper's upper left corner, from which both scales count."""
    sheet = table.scene.layout.sheet
    return Point(sheet.left, sheet.top) if sheet else Point(0.0, 0.0)


def _paint_over(painter: QPainter, table: Table, brushes: Brushes) -> None:
    view = table.view
    if table.pull is None:
        bodies = dict(table.scene.things())
        for found in (table.chosen, table.hovered):
            if found:
                paint_found(
                    painter,
                    found,
                    view,
                    brushes,
                    chosen=found is table.chosen,
                    of=bodies.get(found.laid),
                )
        for problem, place in table.signs.places:
            at, ringed = view.screen(place), problem == table.signs.shown
            paint_check(painter, problem.severity, at, brushes, shown=ringed)
    if table.stroll.walk:
        _paint_stroll(painter, table, table.stroll.walk, brushes)
        return
    points = table.shown_points()
    paint_points(painter, points, brushes)
    _paint_value(painter, table, points, brushes)


def _paint_stroll(
    painter: QPainter, table: Table, walk: Walk, brushes: Brushes
) -> None:
    offset = table.stroll.offset(walk)
    paint_walk(painter, walk, offset, table.view, brushes)
    lines = walk_lines(walk, table.stroll.title(walk), brushes)
    at = table.view.screen(walk.rolled().first.place + offset)
    paint_bubble(painter, lines, at, _size(table), brushes)


def _paint_value(
    painter: QPainter, table: Table, points: list[Shown], brushes: Brushes
) -> None:
    """The amount in hand, beside the pointer while it is pulled."""
    handle = table.points.active()
    known = next((p for p in points if handle and p.name == handle.place), None)
    if handle is None or known is None or not known.about:
        return
    at = table.pull.pointer if table.pull else (known.x, known.y)
    clear = [known.rect]
    if not table.pull and (known.chosen or known.focused):
        clear += [known.sign_rect(more) for more in (True, False)]
    lines = value_lines(table, handle)
    paint_bubble(painter, lines, at, _size(table), brushes, clear)


def value_lines(table: Table, handle: Handle) -> tuple[str, str]:
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
