"""A picture of the table as a frame of items, from the linen up to what is in hand."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any, Protocol

from PySide6.QtCore import QPointF, QRect, QRectF
from PySide6.QtGui import QPainter, QPainterPath

from skirtwright.app.canvas.allowances import edges_in_hand, paint_edges
from skirtwright.app.canvas.cards import (
    CardShown,
    ClothTold,
    paint_card,
    paint_cloth,
    rect_of,
)
from skirtwright.app.canvas.cloth_painting import cloth_items
from skirtwright.app.canvas.drawing import (
    Brushes,
    grain_area,
    lies_alike,
    outline_of,
    paint_linen,
    paint_thing,
    screen_rect,
    seen_boxes,
)
from skirtwright.app.canvas.entries import Level
from skirtwright.app.canvas.entry_field import EntryField
from skirtwright.app.canvas.first_paper import FirstLine, paint_first_paper
from skirtwright.app.canvas.fitting import Area, Fit, Stacked
from skirtwright.app.canvas.frame import Frame, Item
from skirtwright.app.canvas.free_places import place_for
from skirtwright.app.canvas.handles import Shown, paint_point, reach_of
from skirtwright.app.canvas.in_hand import (
    Followed,
    Lens,
    Told,
    paint_followed,
    paint_lens,
    paint_rim,
    paint_told,
    told_size,
)
from skirtwright.app.canvas.laid_cloths import Cloths
from skirtwright.app.canvas.laying import Laid
from skirtwright.app.canvas.ledger import (
    Written,
    dimension_area,
    level_area,
    paint_dimension,
    paint_entry,
    paint_level,
)
from skirtwright.app.canvas.lettering import (
    BESIDE,
    card_title,
    name_area,
    name_of,
    named_beside,
    paint_name,
)
from skirtwright.app.canvas.lines_before import LinesBefore, paint_before
from skirtwright.app.canvas.marking import (
    bubble_size,
    paint_bubble,
    paint_found,
    paint_pin,
    paint_walk,
    pin_area,
    walk_lines,
)
from skirtwright.app.canvas.paths import Prepared, swept
from skirtwright.app.canvas.pointing import Found
from skirtwright.app.canvas.points import Points
from skirtwright.app.canvas.pulling import Pull
from skirtwright.app.canvas.scene import Rest, Scene
from skirtwright.app.canvas.sheets import Sheets, paint_sheets
from skirtwright.app.canvas.signs import Pin, Signs
from skirtwright.app.canvas.stepping import at_limit, shown
from skirtwright.app.canvas.view import View
from skirtwright.app.canvas.walk_player import WalkPlayer
from skirtwright.app.canvas.walking import Walk
from skirtwright.app.figure_view import Figure, FigureView
from skirtwright.app.figure_view import paint as paint_figure
from skirtwright.draft.pulls import Handle
from skirtwright.draft.shapes.panel import Panel
from skirtwright.pieces.joined_edges import Key
from skirtwright.pieces.piece import Piece
from skirtwright.words import say, translate

_BUBBLE_REACH = 140.0
"""From a pull point to its value at most where it would lie on no piece, px."""

_ROUND = 8
"""Pixels round a thing that its lines and its shadow need."""

_ROUND_HER = 48
"""Pixels round the skirt on her that what is written on it may need."""

_BLOCK = 32
"""Pixels across a block of what is painted again of something that moves."""

_MOST_ON_A_CARD = 4


class Seen(Protocol):
    """What a picture of the table is made from; the table says what each is."""

    scene: Scene
    points: Points
    signs: Signs
    walk_player: WalkPlayer
    brushes: Brushes
    figure: FigureView
    card_in_hand: str
    field: EntryField
    pull: Pull | None
    pointer: tuple[float, float] | None
    hovered: Found | None
    chosen: Found | None
    edges_in_hand: frozenset[Key]
    sheets: Sheets
    first_paper: tuple[FirstLine, ...] | None
    cloths: Cloths
    on_cloths: bool

    @property
    def view(self) -> View:
        """How it is seen."""

    def rect(self) -> QRect:
        """All of it, px."""

    @property
    def shows_cutting(self) -> bool:
        """Whether cutting lines are shown."""

    def levels(self) -> tuple[Level, ...]:
        """The level lines."""

    def written(self) -> list[Written]:
        """The figures where they are written."""

    def best_fit(self) -> Fit | None:
        """How what is on the table is best seen."""

    def moved(self) -> tuple[Followed, ...]:
        """The edges that follow the hand."""

    def lines_before(self) -> tuple[LinesBefore, ...]:
        """Lines as they were printed, where they are shown."""

    def lens(self) -> Lens | None:
        """The lens, while a point is pulled."""

    def told(self) -> Told | None:
        """What is told beside the hand."""

    def beside_hand(self, size: tuple[float, float], taken: Sequence[QRectF]) -> QRectF:
        """Where it stands, px."""

    def prepared(self) -> list[tuple[Laid, Prepared]]:
        """All that lies on the table, ready to be painted."""

    def outlines(self) -> list[QPainterPath]:
        """All that lies on the table as it is seen, px."""

    def pins(self) -> list[Pin]:
        """The pins where they stand."""

    def taken(self) -> list[QRectF]:
        """What a label is not to cover, px."""

    def room(self) -> QRectF:
        """What of the window is not covered, px."""

    def stack(self) -> list[Stacked]:
        """The cards where they stand."""

    def cloth_told(self) -> ClothTold | None:
        """How much cloth is needed, where that is told."""

    def figure_area(self) -> Area | None:
        """Where the skirt on her stands."""

    def shown_points(self) -> list[Shown]:
        """The pull points as they stand on the screen."""


def frame_of(table: Seen) -> Frame:
    """The table as it stands."""
    if table.first_paper is not None:
        leans = (table.room(), table.first_paper, table.brushes)
        paper = Item("first_paper", table.rect(), paint_first_paper, leans)
        return Frame(table.view, table.rect(), (_linen(table), paper))
    if table.on_cloths:
        good = table.scene.good
        numbers = good.report.cut.numbers if good else {}
        seen = (table.cloths, numbers, table.view, table.rect(), table.brushes)
        return Frame(table.view, table.rect(), (_linen(table), *cloth_items(*seen)))
    items: tuple[Item, ...] = (_linen(table), *_figure(table))
    if not table.figure.is_large:
        items += (
            *_levels(table),
            *_things(table),
            *_lines_as_printed(table),
            *_ledger(table),
            *_sheets(table),
            *_cards(table),
            *_cloth(table),
            *_signs_and_points(table),
        )
    return Frame(table.view, table.rect(), items)


def is_in_hand(item: Item) -> bool:
    """Whether an item is there to be taken in hand, or tells of one that is."""
    kind = item.key[0] if isinstance(item.key, tuple) else item.key
    return kind in ("point", "pin", "chosen", "hovered", "edges", "bubble")


def _linen(table: Seen) -> Item:
    leans = (table.rect(), table.brushes)
    return Item("linen", table.rect(), paint_linen, leans)


def _figure(table: Seen) -> Iterator[Item]:
    area = table.figure_area()
    brushes = table.brushes
    figure = table.figure.figure(brushes.colours, brushes.manner) if area else None
    if area and figure:
        within = rect_of(area)
        # Words on her may be wider than she is.
        pixels = _pixels(within, _ROUND_HER) & table.rect()
        leans = (within.translated(-QPointF(pixels.topLeft())), figure)
        yield Item("figure", pixels, _draw_figure, leans, kept=True, fixed=True)


def _draw_figure(painter: QPainter, _: View, area: QRectF, figure: Figure) -> None:
    paint_figure(painter, area, figure)


def _things(table: Seen) -> Iterator[Item]:
    scene, held = table.scene, table.pull is not None
    brushes = replace(table.brushes, cutting=table.shows_cutting)
    moving = replace(brushes, moving=True)
    for laid, thing in table.prepared():
        rest, moves = scene.rest(laid, thing.of, cutting=brushes.cutting, held=held)
        seen = screen_rect(laid.covered, table.view)
        if named_beside(laid, table.view, brushes):
            seen.adjust(0, 0, BESIDE, 0)
        area = _pixels(seen, _ROUND) & table.rect()
        if not area.isEmpty():
            number = scene.number_of(laid)
            leans = (laid, thing, number, rest, moving if moves else brushes)
            # What moves is another at every move: a picture of it would be laid once.
            apart = _things_apart if moves and not brushes.cutting else None
            yield Item(laid.key, area, _draw_thing, leans, not moves, apart=apart)


def _things_apart(
    view: View, before: tuple[Any, ...], now: tuple[Any, ...]
) -> list[QRect] | None:
    """Where a piece in a pull is another than it was: at the lines that moved.

    How it lies is told by where it lies, the fold it is opened on and its cloth; the
    boxes round it change with its lines.
    """
    (was, old, *same), (laid, thing, *others) = before, now
    boxes = thing.apart(old) if same == others and lies_alike(was, laid) else None
    return None if boxes is None else _blocks(seen_boxes(boxes, laid, view))


def _blocks(areas: list[QRectF]) -> list[QRect]:
    """Blocks round areas and their lines, px: a region of few edges paints quickly."""
    found = []
    for area in areas:
        all_of = _pixels(area, _ROUND)
        left, top, right, low = (
            _BLOCK * (side // _BLOCK)
            for side in (all_of.left(), all_of.top(), all_of.right(), all_of.bottom())
        )
        found.append(QRect(left, top, right - left + _BLOCK, low - top + _BLOCK))
    return found


def _followed_apart(
    view: View, before: tuple[Any, ...], now: tuple[Any, ...]
) -> list[QRect] | None:
    """Where edges that follow the hand are others than they were."""
    (was, old_brushes), (one, brushes) = before, now
    alike = was.before == one.before and len(was.now) == len(one.now)
    if not alike or old_brushes != brushes or not lies_alike(was.laid, one.laid):
        return None
    laid = replace(one.laid, fold=None)
    return _blocks(seen_boxes(swept(was.now, one.now), laid, view))


def _draw_thing(
    painter: QPainter,
    view: View,
    laid: Laid,
    thing: Prepared,
    number: int,
    rest: Rest,
    brushes: Brushes,
) -> None:
    """A panel or piece with its name."""
    paint_thing(painter, laid, thing, view, brushes)
    words = name_of(thing.of, laid.name, brushes.manner)
    paint_name(painter, laid, words, number, rest, view, brushes)


def _lines_as_printed(table: Seen) -> Iterator[Item]:
    """Lines as they were printed, where they lay elsewhere."""
    for one in table.lines_before():
        area = _pixels(one.area(table.view), _ROUND) & table.rect()
        key = ("to_come" if one.to_come else "before", one.laid.name)
        yield Item(key, area, paint_before, (one, table.brushes))


def _levels(table: Seen) -> Iterator[Item]:
    """Chalk lines across the table, under the paper."""
    brushes, best = table.brushes, table.best_fit()
    column = best.column if best else 0.0
    for number, level in enumerate(table.levels() if best else ()):
        area = _pixels(level_area(level, table.view, column), 2) & table.rect()
        leans = (level, column, brushes)
        yield Item(("level", number), area, paint_level, leans)


def _ledger(table: Seen) -> Iterator[Item]:
    """The entries on the lines they measure."""
    brushes = table.brushes
    for written in table.written():
        entry = written.entry
        if entry.ends:
            area = _pixels(dimension_area(entry, table.view), 3)
            yield Item("dimension", area, paint_dimension, (entry, brushes))
        if entry != table.field.entry:
            key = ("entry", entry.name, entry.where)
            area = _pixels(written.area, 4)
            yield Item(key, area, paint_entry, (written, brushes))


def _sheets(table: Seen) -> Iterator[Item]:
    if not table.sheets:
        return
    brushes = replace(table.brushes, cutting=True)
    names = _names(table)
    for (laid, thing), name in zip(table.prepared(), names, strict=True):
        sheets = table.sheets.get(laid.name, ())
        if not sheets:
            continue
        grain = table.scene.rest(laid, thing.of, cutting=True)[0].grain
        arrow = grain_area(grain, laid, table.view) if grain else QRectF()
        clear = (name, arrow)
        outline = outline_of(laid, thing, table.view, cutting=True, mirrored=False)
        area = _pixels(outline.boundingRect(), 24) & table.rect()
        leans = (laid, sheets, outline, clear, brushes)
        yield Item(("sheets", laid.name), area, paint_sheets, leans)


def _cards(table: Seen) -> Iterator[Item]:
    """The stack, from the back to the top."""
    scene, manner = table.scene, table.brushes.manner
    pieces = {piece.name: piece for piece in scene.pieces}
    for stacked in table.stack():
        known: list[Panel | Piece] = [
            scene.panels[name] if kind == "draft" else pieces[name]
            for kind, name in stacked.card.things
        ]
        on_it = tuple(known[:_MOST_ON_A_CARD]) if stacked.drawn else ()
        chosen = stacked.card.key == table.card_in_hand
        card = CardShown(stacked, card_title(stacked.card, manner), on_it, chosen)
        area = _pixels(rect_of(stacked.area), 4)
        key = ("card", stacked.card.key)
        yield Item(key, area, paint_card, (card, table.brushes))


def _cloth(table: Seen) -> Iterator[Item]:
    """How much cloth is needed, over the stack."""
    told = table.cloth_told()
    if told:
        leans = (told, table.brushes)
        yield Item("cloth", _pixels(told.area, 2), paint_cloth, leans)


def _signs_and_points(table: Seen) -> Iterator[Item]:
    """What is pointed at, checks, pull points and what is said beside them."""
    if table.pull is None:
        yield from _edges(table)
        yield from _chosen_and_pointed(table)
        yield from _pins(table)
    if table.walk_player.walk:
        yield from _walk(table, table.walk_player.walk)
        return
    moved = table.moved()
    for edges in moved:
        area = _pixels(edges.area(table.view), _ROUND)
        leans = (edges, replace(table.brushes, moving=True))
        yield Item(
            ("moved", edges.laid.name),
            area & table.rect(),
            paint_followed,
            leans,
            apart=_followed_apart,
        )
    points = table.shown_points()
    for point in sorted(points, key=lambda s: (s.chosen, s.focused, s.hovered)):
        # On whole pixels: wherever it goes in a pull it is the same picture.
        half = math.ceil(reach_of(point)) + 2
        area = QRect(round(point.x) - half, round(point.y) - half, 2 * half, 2 * half)
        here = (replace(point, x=half, y=half), table.brushes)
        key = ("point", point.name)
        yield Item(key, area, _draw_point, here, kept=True, fixed=True)
    if table.pull:
        yield from _in_hand(table, moved)
    else:
        yield from _value(table, points)


def _in_hand(table: Seen, moved: tuple[Followed, ...]) -> Iterator[Item]:
    """The lens, and the value beside the hand."""
    lens, told = table.lens(), table.told()
    brushes = replace(table.brushes, moving=True)
    taken = []
    if lens:
        things = tuple(table.prepared())
        taken = [lens.area]
        ends = QRectF(QPointF(*lens.middle), QPointF(*lens.hand)).normalized()
        area = _pixels(lens.area.united(ends), 4)
        leans = (lens, things, moved, brushes)
        yield Item("lens", area & table.rect(), paint_lens, leans)
        around = _pixels(lens.area, 2)
        rim = lens.area.translated(-QPointF(around.topLeft()))
        round_it = (rim, table.view.scale, table.brushes)
        yield Item("rim", around, paint_rim, round_it, kept=True, fixed=True)
    if told:
        slip = table.beside_hand(told_size(told, brushes), taken)
        yield Item("told", _pixels(slip, 4), paint_told, (told, slip, brushes))


def _draw_point(painter: QPainter, _: View, point: Shown, brushes: Brushes) -> None:
    paint_point(painter, point, brushes)


def _chosen_and_pointed(table: Seen) -> Iterator[Item]:
    things = dict(table.scene.things())
    for key, found in (("chosen", table.chosen), ("hovered", table.hovered)):
        if found:
            area = _pixels(screen_rect(found.laid.box, table.view), _ROUND)
            leans = (found, things.get(found.laid), key == "chosen", table.brushes)
            yield Item(key, area, paint_found, leans)


def _edges(table: Seen) -> Iterator[Item]:
    """All edges of the seam in hand."""
    for laid, piece, names in edges_in_hand(table.scene, table.edges_in_hand):
        area = _pixels(screen_rect(laid.covered, table.view), _ROUND) & table.rect()
        leans = (laid, piece, names, table.brushes)
        yield Item(("edges", laid.name), area, paint_edges, leans)


def _pins(table: Seen) -> Iterator[Item]:
    for pin in table.pins():
        area = _pixels(pin_area(pin, table.view), 3)
        leans = (pin, pin.problem == table.signs.shown, table.brushes)
        yield Item(("pin", pin.number, pin.problem.where), area, paint_pin, leans)


def _walk(table: Seen, walk: Walk) -> Iterator[Item]:
    """A seam being walked, and how far."""
    laid, brushes = table.walk_player.laid(walk), table.brushes
    if laid is None:
        return
    yield Item("walk", table.rect(), paint_walk, (walk, laid, brushes))
    lines = walk_lines(walk, table.walk_player.title(walk), brushes)
    at = table.view.screen(laid.at(walk.rolled().first.place))
    yield _bubble(table, lines, at, [])


def _value(table: Seen, points: list[Shown]) -> Iterator[Item]:
    """The amount in hand, beside the pointer while it is pulled."""
    handle = table.points.active()
    known = next((p for p in points if handle and p.name == handle.place), None)
    if handle is None or known is None or not known.about:
        return
    clear = [known.rect, *_names(table)]
    clear += [rect_of(pin.area) for pin in table.pins()]
    if known.chosen or known.focused:
        clear += [known.sign_rect(more) for more in (True, False)]
    yield _bubble(table, value_lines(table, handle), (known.x, known.y), clear)


def _names(table: Seen) -> Iterator[QRectF]:
    """What the names of the pieces cover, px."""
    brushes = replace(table.brushes, cutting=table.shows_cutting)
    for laid, of in table.scene.things():
        rest, _ = table.scene.rest(laid, of, cutting=brushes.cutting)
        words = name_of(of, laid.name, table.brushes.manner)
        yield name_area(laid, words, rest, table.view, brushes)


def _bubble(
    table: Seen, lines: tuple[str, ...], at: tuple[float, float], clear: list[QRectF]
) -> Item:
    taken = [*clear, *table.taken(), *(one.area for one in table.written())]
    size, pieces = bubble_size(lines, table.brushes), table.outlines()
    slip = place_for(at, size, table.room(), pieces, taken, reach=_BUBBLE_REACH)
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
        told, (told_value,) = state.amount.told(value)
        label = translate(told, manner)
        labels.append(
            say(f"table.at_{limit}", {"label": label}, manner) if limit else label
        )
        values.append(shown(state, told_value, manner))
    return ", ".join(labels), ", ".join(values)


def _pixels(area: QRectF, more: int) -> QRect:
    """Whole pixels round an area, and some more on each side."""
    left, top = math.floor(area.left()) - more, math.floor(area.top()) - more
    right, bottom = math.ceil(area.right()) + more, math.ceil(area.bottom()) + more
    return QRect(left, top, right - left, bottom - top)
