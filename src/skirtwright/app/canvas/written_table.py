"""What is written on the table: figures, pins, and what is told beside the hand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainterPath

from skirtwright.app.canvas.allowances import allowance_entries, edges_of
from skirtwright.app.canvas.cards import ClothTold, cloth_told, rect_of
from skirtwright.app.canvas.drawing import outline_of, screen_rect
from skirtwright.app.canvas.entries import Entry, Level, entries, levels
from skirtwright.app.canvas.fitting import Area
from skirtwright.app.canvas.free_places import held_within, place_for
from skirtwright.app.canvas.handles import Shown, area_of
from skirtwright.app.canvas.in_hand import (
    NEARER,
    Followed,
    Lens,
    Told,
    followed,
    held,
    lens_for,
)
from skirtwright.app.canvas.laying import Laid
from skirtwright.app.canvas.ledger import (
    Written,
    dimension_area,
    number_of,
    word_of,
    write,
)
from skirtwright.app.canvas.paths import Prepared
from skirtwright.app.canvas.seen_table import SeenTable
from skirtwright.app.canvas.signs import PIN, Pin
from skirtwright.app.canvas.stepping import shown
from skirtwright.app.canvas.view import View
from skirtwright.app.seams import SeamState
from skirtwright.app.shown_figures import step_of
from skirtwright.draft.shapes.panel import Panel
from skirtwright.geometry.point import Point
from skirtwright.job.worktable import Look
from skirtwright.pieces.joined_edges import Key
from skirtwright.pieces.piece import Piece
from skirtwright.problems import Problem
from skirtwright.remembered import Remembered
from skirtwright.words import Manner, say, translate

_NEAR_ENOUGH = 9.0
"""Pixels a mm beyond which nothing is gained by a lens."""

_SEEN = 0.05
"""mm, or parts of a plain number: less is the same figure."""


class WrittenTable(SeenTable):
    """Where each figure and pin stands, and what it says.

    Attributes:
        edges_in_hand: of the seam in hand.
        cloth_lines: how much cloth is needed, in words.
    """

    entry_in_hand: str
    entry_hovered: str
    edges_in_hand: frozenset[Key]
    cloth_lines: tuple[str, ...]
    _prepared: Remembered[Prepared, Panel | Piece]
    _outlines: Remembered[QPainterPath, Laid, Prepared, View, bool]
    _seams: Remembered[tuple[SeamState, ...], Look, Manner]
    _ledger: tuple[Entry, ...] | None
    _written: list[Written] | None
    _pins: list[Pin] | None
    _taken: list[QRectF] | None
    _pressed: Mapping[str, float]
    _turned: frozenset[str] = frozenset()
    _panels_then: Mapping[str, Panel]
    _lens: Lens | None = None
    _told_at: tuple[QPointF, float] | None = None

    def levels(self) -> tuple[Level, ...]:
        """The level lines across front and back."""
        return () if self.scene.cutting else levels(self.scene)

    def written(self) -> list[Written]:
        """The entries where they are written: at rest, or as they are pulled."""
        if self._written is None:
            self._written = self._write()
        return self._written

    def _write(self) -> list[Written]:
        best = self.best_fit()
        if best is None or self.walk_player.walk or (self.pull and self.scene.cutting):
            return []
        # What the label beside the hand says need not stand under it as well.
        told = {*self.pull.handle.amounts, *self.pull.alike} if self.pull else set()
        known = self.entries()
        made = write(
            [self._as_pressed(entry) for entry in known if entry.name not in told],
            self.view,
            self.room(),
            best.column,
            self.outlines(),
            self.taken(),
            self.brushes,
        )
        return [self._highlighted(one) for one in made]

    def _as_pressed(self, entry: Entry) -> Entry:
        """In a pull, a length that knows which way it was read at the press."""
        turned = entry.name in self._turned
        if self.pull is None or entry.where != "length" or entry.turned == turned:
            return entry
        return replace(entry, turned=turned)

    def entries(self) -> tuple[Entry, ...]:
        """What is written on the table: the ledger, or allowances in its place."""
        look = self.scene.good
        if not self.scene.cutting or look is None:
            return self._figures()
        seams = self._seams.of("", look, self.brushes.manner)
        return allowance_entries(self.scene, seams)

    def _figures(self) -> tuple[Entry, ...]:
        if self._ledger is None:
            self._ledger = entries(self.scene, self._setters)
        return self._ledger

    def outlines(self) -> list[QPainterPath]:
        """All that lies on the table as it is seen, px."""
        return [
            self._outlines.of(laid.key, laid, thing, self.view, self.shows_cutting)
            for laid, thing in self.prepared()
        ]

    def prepared(self) -> list[tuple[Laid, Prepared]]:
        """All that lies on the table, ready to be painted."""
        return [
            (laid, self._prepared.of(laid.key, of)) for laid, of in self.scene.things()
        ]

    def _highlighted(self, written: Written) -> Written:
        """An entry that follows the hand, or has the keyboard or the pointer."""
        entry, manner = written.entry, self.brushes.manner
        before = self._pressed.get(entry.name, entry.value)
        hot = self.pull is not None and before != entry.value
        hot = hot and number_of(entry, manner, before) != number_of(entry, manner)
        chosen = entry.name in (self.entry_in_hand, self.entry_hovered)
        chosen = chosen or not self.edges_in_hand.isdisjoint(edges_of(entry))
        return replace(written, hot=hot, chosen=chosen) if hot or chosen else written

    def note_press(self) -> None:
        """Keep how things stand as a point is taken in hand."""
        found = entries(self.scene, self._setters)
        self._pressed = {entry.name: entry.value for entry in found}
        written = self.written()
        self._turned = frozenset(one.entry.name for one in written if one.turned)
        self._panels_then = dict(self.scene.panels)
        self._lens = self._told_at = None

    def moved(self) -> tuple[Followed, ...]:
        """The edges that follow the hand."""
        if self.pull is None:
            return ()
        then, now = self._panels_then, self.scene.panels
        found = (
            followed(laid, then[laid.panel], now[laid.panel])
            for laid in self.scene.layout.laid
            if laid.panel in then
        )
        return tuple(one for one in found if one is not None)

    def lens(self) -> Lens | None:
        """The lens in the hollow, while a point is pulled and seen from afar."""
        pull, handle = self.pull, self.points.active()
        if pull is None or handle is None or not pull.moved:
            return None
        if self.view.scale * NEARER > _NEAR_ENOUGH:
            return None
        place = self.scene.point_of(handle.place)
        at = self.scene.at(place or handle)
        hand = self.view.screen(at)
        lens = self._lens and held(self._lens, hand, at)
        if lens is None:
            taken = [*self.taken(), *(one.area for one in self.written())]
            hollow, room, pieces = self._hollow(), self.room(), self.outlines()
            lens = lens_for(hand, at, hollow, room, pieces, taken)
        self._lens = lens
        return lens

    def beside_hand(self, size: tuple[float, float], taken: Sequence[QRectF]) -> QRectF:
        """Where the value stands while a point is pulled, px."""
        hand = self.pull.pointer if self.pull else (0.0, 0.0)
        clear = [*taken, *self.taken(), *(one.area for one in self.written())]
        pieces, before = self.outlines(), self._told_at
        area = place_for(hand, size, self.room(), pieces, clear, before=before)
        if before is None or area.topLeft() != before[0]:
            self._told_at = area.topLeft(), held_within(hand, area)
        return area

    def _hollow(self) -> float:
        """The middle of the hollow between front and back, px."""
        laid = self.scene.layout.laid
        rights = [one.seen.right for one in laid if one.body == "front"]
        lefts = [one.seen.left for one in laid if one.body == "back"]
        if not rights or not lefts:
            return self.room().center().x()
        middle = (max(rights) + min(lefts)) / 2
        return self.view.screen(Point(middle, 0.0))[0]

    def pins(self) -> list[Pin]:
        """The pins of checks, each beside the pieces where there is room."""
        if self._pins is None:
            self._pins = self._placed()
        return self._pins

    def _placed(self) -> list[Pin]:
        if self.pull or self.walk_player.walk or self.scene.on_paper:
            return []
        made: list[Pin] = []
        taken = [*self.taken(), *(one.area for one in self.written())]
        pieces, room = self.outlines(), self.room()
        for number, problem, place in self.signs.places:
            at = self.view.screen(place)
            if room.contains(*at):
                area = place_for(at, (PIN, PIN), room, pieces, taken, leader=True)
                taken.append(area)
                made.append(Pin(number, problem, place, _area(area)))
        return made

    def pin_at(self, x: float, y: float) -> Problem | None:
        """The check whose pin lies under a pixel."""
        found = (pin.problem for pin in self.pins() if pin.area.holds(x, y))
        return next(found, None)

    def taken(self) -> list[QRectF]:
        """What a label is not to cover: points, cards, the skirt on her, px."""
        if self._taken is None:
            self._taken = self._find_taken()
        return self._taken

    def _find_taken(self) -> list[QRectF]:
        found = [area_of(point).adjusted(8, 8, -8, -8) for point in self.shown_points()]
        found += [rect_of(one.area) for one in self.stack()]
        told, on_her = self.cloth_told(), self.figure_area()
        found += [told.area] if told else []
        return [*found, rect_of(on_her)] if on_her else found

    def cloth_told(self) -> ClothTold | None:
        """How much cloth is needed, over the stack where no piece or line is there.

        Where there is no room the slip of the cloth alone says it.
        """
        stack = self.stack()
        if not (stack and self.cloth_lines):
            return None
        told = cloth_told(self.cloth_lines, stack, self.brushes)
        covered = [
            area_of(point).adjusted(8, 8, -8, -8) for point in self.shown_points()
        ]
        covered += [dimension_area(entry, self.view) for entry in self.entries()]
        is_clear = (
            self.room().contains(told.area)
            and not any(map(told.area.intersects, covered))
            and not any(piece.intersects(told.area) for piece in self.outlines())
        )
        return told if is_clear else None

    def drawn(self) -> list[QRectF]:
        """All that lies on the table or is written there, px."""
        if self.on_cloths:
            return [screen_rect(one.box, self.view) for one in self.cloths.seen()]
        written = [one.area for one in self.written()]
        pieces = [outline.boundingRect() for outline in self.outlines()]
        return [*self.taken(), *written, *pieces]

    def told(self) -> Told | None:
        """What is told beside the hand: a figure of the skirt, and the amount."""
        pull, manner = self.pull, self.brushes.manner
        if pull is None:
            return None
        name = pull.most_changed
        state = self.scene.state(name) or pull.states[name]
        value = pull.values.get(name, state.value)
        told, (size_told,) = state.amount.told(value)
        label, said = translate(told, manner), shown(state, size_told, manner)
        setters = self._setters
        found = (e for e in self._figures() if name in setters.get(e.name, ((),))[0])
        entry = next(found, None)
        changed = value - pull.states[name].value
        more = self._since_press(entry) if entry else 0.0
        if entry is None or (abs(more) < _SEEN <= abs(changed)):
            size = _signed(shown(state, abs(changed), manner), changed)
            return Told("", said, size, label)
        size = " ".join(number_of(entry, manner, abs(more))).strip()
        number = " ".join(number_of(entry, manner)).strip()
        both = bool(pull.alike) and not pull.alone
        same = abs(entry.value - value) < _SEEN
        below = "" if same else f"{label} {said}"
        below = say("table.alike", {"amount": below}, manner) if both else below
        return Told(word_of(entry, manner), number, _signed(size, more), below)

    def _since_press(self, entry: Entry) -> float:
        """How much more it is than at the press, from figure shown to figure shown."""
        before = self._pressed.get(entry.name, entry.value)
        if entry.kind != "length":
            return entry.value - before
        mark = step_of(entry.kind, self.brushes.manner)
        return mark * (round(entry.value / mark) - round(before / mark))

    def entry_at(self, x: float, y: float) -> Written | None:
        """The entry under a pixel that can be set there."""
        return next((w for w in self.written() if w.area.contains(x, y)), None)

    def shown_points(self) -> list[Shown]:
        """The pull points as they stand on the screen."""
        return self.points.shown(self.view, has_keyboard=self.hasFocus())


def outlined(
    laid: Laid, thing: Prepared, view: View, shows_cutting: bool
) -> QPainterPath:
    """All that a thing covers as it is seen, px."""
    return outline_of(laid, thing, view, cutting=shows_cutting)


def _signed(size: str, more: float) -> str:
    """A change with its sign; empty for none that is seen."""
    if abs(more) < _SEEN:
        return ""
    return f"+{size}" if more > 0 else f"\u2212{size}"


def _area(rect: QRectF) -> Area:
    return Area(rect.left(), rect.top(), rect.width(), rect.height())
