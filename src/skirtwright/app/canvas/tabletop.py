"""The table: one widget that paints the draft and its pieces, and lets her pull them.

The pointer is only taken note of when it moves; what follows from it is worked once
all waiting events are in, so that no backlog can grow however fast they come.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QSize, Qt, QTimer, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QRegion
from PySide6.QtWidgets import QSizePolicy, QWidget

from skirtwright.app.canvas.camera import Camera
from skirtwright.app.canvas.choosing import found_piece
from skirtwright.app.canvas.cloth_painting import piece_sentence
from skirtwright.app.canvas.drawing import Brushes
from skirtwright.app.canvas.entries import Setters, alike, amounts_for, setters
from skirtwright.app.canvas.entry_field import EntryField, read_entry
from skirtwright.app.canvas.first_paper import FirstLine, first_lines
from skirtwright.app.canvas.fitting import best_fit
from skirtwright.app.canvas.frame import Frame, Item
from skirtwright.app.canvas.laid_cloths import Cloths
from skirtwright.app.canvas.lines_before import runs_before
from skirtwright.app.canvas.painting import frame_of, is_in_hand
from skirtwright.app.canvas.paths import Prepared
from skirtwright.app.canvas.pictures import Pictures
from skirtwright.app.canvas.places import card_with
from skirtwright.app.canvas.pointing import Found, describe, found_again
from skirtwright.app.canvas.points import Points
from skirtwright.app.canvas.pulling import Pull, changed_by
from skirtwright.app.canvas.scene import Scene
from skirtwright.app.canvas.sheets import Sheets, sheets_over
from skirtwright.app.canvas.signs import Signs
from skirtwright.app.canvas.stepping import Pace, stepped
from skirtwright.app.canvas.walk_player import WalkPlayer
from skirtwright.app.canvas.written_table import WrittenTable, outlined
from skirtwright.app.figure_view import FigureView
from skirtwright.app.guard import guarded
from skirtwright.app.look import Colours
from skirtwright.app.offered_lengths import amounts_named
from skirtwright.app.pause import Pause
from skirtwright.app.seams import seams_of
from skirtwright.draft.shapes.panel import Panel
from skirtwright.job.worktable import Look
from skirtwright.pieces.joined_edges import Key
from skirtwright.problems import Problem, SkirtwrightError
from skirtwright.remembered import Remembered
from skirtwright.words import Manner, say, says

if TYPE_CHECKING:
    from skirtwright.app.canvas.sheets import Printed


PAUSE_MS = 100
"""A hand that is still for so long looks at what it did: what follows it follows."""

_NOWHERE = QRegion()


class Tabletop(WrittenTable):
    """The table as it is seen; what hands do to it stands in `Table`.

    Attributes:
        set_allowance: takes an allowance as typed, with what it is kept under.
        set_texts: takes what amounts are worked from.

    Signals:
        pulling: every tick of a pull: the amounts as they would be, mm, degrees, plain.
        pulled: once on release, and for every key or click: the amounts.
        dropped: a pull was given up; the order is as it was.
        hand_moved: a move of a pull, whether it changes anything or not.
        pointed: the sentence of what is pointed at or chosen; empty for nothing.
        asked_why: the name of what she wants explained, such as `front.side`.
        picked: something was clicked, as a Found, with where, px; None for nothing.
        notch_wanted: a piece, its edge and a walked distance, mm, for a balance mark.
        laid_by_hand: the lay of a cloth as she left it, and the message of the deed.
        refused: a problem that kept her from it.
        walking: True when a seam begins to be walked, False when that is over.
    """

    pulling = Signal(object)
    pulled = Signal(object)
    dropped = Signal()
    hand_moved = Signal()
    pointed = Signal(str)
    asked_why = Signal(str)
    picked = Signal(object, object)
    notch_wanted = Signal(str, str, float)
    laid_by_hand = Signal(object, str)
    refused = Signal(object)
    walking = Signal(bool)

    def __init__(self, colours: Colours, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("Table")
        self.scene = Scene()
        self.points = Points(self.scene)
        self.brushes = Brushes(colours, Manner())
        self.camera = Camera(self, self.look_around)
        self.walk_player = WalkPlayer(self, self.scene, self.update)
        self.pull: Pull | None = None
        self.pointer: tuple[float, float] | None = None
        self.hovered: Found | None = None
        self.chosen: Found | None = None
        self.signs = Signs(self.scene)
        self.figure = FigureView()
        self.pictures = Pictures()
        self.frame = Frame()
        self._said = ""
        self._tick = self._timer(0, self.notice)
        self._idle = Pause(self, 40, self._on_idle)
        self._dressing = Pause(self, PAUSE_MS, self._dress)
        for pause in (self._idle, self._dressing):
            self.hand_moved.connect(pause.put_off)
        self._renewal = self._timer(0, self._renew)
        self._stale, self._learning = True, False
        self._printed: Look | None = None
        self._ghost: Look | None = None
        self._best = Remembered(best_fit)
        self._apart = Remembered(runs_before)
        self._prepared, self._outlines = Remembered(Prepared), Remembered(outlined)
        self._seams = Remembered(seams_of)
        self.edges_in_hand: frozenset[Key] = frozenset()
        self.field = EntryField(self)
        self.field.typed.connect(self._typed)
        self.field.left.connect(self.refresh)
        self.entry_in_hand = self.entry_hovered = ""
        self._setters: Setters = {}
        self._ledger = self._written = self._pins = self._taken = None
        self._pressed: Mapping[str, float] = {}
        self._panels_then: Mapping[str, Panel] = {}
        self.card_in_hand = ""
        self.sheets: Sheets = {}
        self.cloth_lines = ()
        self.cloths, self.on_cloths = Cloths(), False
        self.first_paper: tuple[FirstLine, ...] | None = None
        self.set_allowance: Callable[[tuple[Key, ...], str], None]
        self.set_texts: Callable[[Mapping[str, str]], None]
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.grabGesture(Qt.GestureType.PinchGesture)
        self._name()

    def _timer(self, ms: int, then: Any) -> QTimer:
        timer = QTimer(self, singleShot=True, interval=ms)
        timer.timeout.connect(then)
        return timer

    def _name(self) -> None:
        manner = self.brushes.manner
        self.setAccessibleName(say("table.name", {}, manner))
        self.setAccessibleDescription(say("table.help", {}, manner))

    # What is shown

    def show_look(self, look: Look) -> None:
        """Show an order; one that is not whole leaves the last good drawing."""
        held = self.pull.handle.panel if self.pull else None
        before, self.first_paper, self._ghost = self.scene.good, None, None
        if before is not None and look.job is not before.job and held is None:
            self._let_go()
        afresh = self.scene.show(look, held)
        if look.drawn and held is None:
            self.figure.show(look.report)
        elif look.drawn:
            # She follows when the hand pauses; no move waits for her.
            self.figure.show_later(look.report)
            self._dressing.begin()
        if held is None:
            self._settle()
        # The view is hers once she has moved it, except on opening another order.
        other = before is None or before.job.draft.id != look.job.draft.id
        if other or (afresh and self.camera.fitted):
            self.fit(glide=False)
        elif held is None and self.camera.fitted and self.overflows():
            self.fit()
        self.points.tell_value(self.brushes.manner)
        self.refresh()

    def _let_go(self) -> None:
        """A point that was taken by mouse: she has gone on to something else."""
        if self.points.chosen:
            self.points.chosen = self.points.focused = ""

    def show_paper(self, taken: Mapping[str, float]) -> None:
        """Show paper with what her measurements, mm, allow to be drawn so far."""
        self.pull = None
        self.first_paper = first_lines(taken)
        self.scene.clear()
        self.show_figure(large=False)
        self.edges_in_hand = frozenset()
        self.entry_in_hand = ""
        self.field.done()
        self._settle()
        self.refresh()

    def _settle(self) -> None:
        """After the hand rests: stand-ins, checks, and how far each point reaches."""
        self.points.renew(self)
        self._setters = setters(self.scene)
        self.hovered = None
        self.chosen = found_again(self.scene, self.chosen) if self.chosen else None
        self.signs.renew()
        if self.walk_player.walk:
            self.stop_walking()
        self._idle.begin()

    def set_manner(self, manner: Manner) -> None:
        """Her unit, fraction and language."""
        self.brushes = replace(self.brushes, manner=manner)
        self._name()
        self.refresh()

    def set_colours(self, colours: Colours) -> None:
        """Another theme."""
        self.brushes = replace(self.brushes, colours=colours)
        self.refresh()

    def set_text_size(self, percent: int) -> None:
        """Her text size; 100 is ordinary."""
        self.brushes = replace(self.brushes, percent=percent)
        self.refresh()

    # How it is seen

    def show_allowances(self, on: bool) -> None:
        """Show cutting lines, notches and allowances, or leave them off."""
        before = self.scene.layout
        self.scene.show_cutting(on)
        self.edges_in_hand = frozenset()
        self.entry_in_hand = ""
        if self.scene.layout != before:
            self.points.renew(self)
            self.signs.renew()
            if self.camera.fitted:
                self.fit()
        self.refresh()

    # Pull points

    def pull_by(
        self, amount: str, steps: float, pace: Pace = "plain", *, alone: bool = False
    ) -> None:
        """Make an amount more or less by steps; one step to undo.

        Args:
            pace: how far each goes.
            alone: what goes alike with it stays.
        """
        state = self.scene.state(amount)
        if state is None:
            return
        value = stepped(state, steps, self.brushes.manner, pace)
        handle = next((h for h in self.scene.points if h.amount == amount), None)
        others = alike(self.scene, handle) if handle and not alone else {}
        self.set_amounts({amount: value, **changed_by(others, value - state.value)})

    def set_amounts(self, amounts: Mapping[str, float]) -> None:
        """Give amounts on, unless they are so already."""
        states = {name: self.scene.state(name) for name in amounts}
        if any(s and abs(s.value - amounts[n]) > 1e-9 for n, s in states.items()):
            points = self.points
            in_hand = points.chosen, points.focused
            self.pulled.emit(dict(amounts))
            points.chosen, points.focused = in_hand

    def focus_point(self, name: str) -> None:
        """Give a pull point the keyboard."""
        self.points.focused = name if name in self.points.names() else ""
        if not self.hasFocus():
            self.setFocus(Qt.FocusReason.OtherFocusReason)
        # A point with the keyboard must be seen: the only time the view moves.
        handle = self.scene.point_of(name)
        if handle and not self.point_in_sight(name):
            self.camera.show_place(self.scene.at(handle))
        self.say_pointed()
        self.points.tell_focus(name)
        self.refresh()

    def point_in_sight(self, name: str) -> bool:
        """True when a pull point lies within the window."""
        target = self.points.target(name, self.camera.goal())
        return self.rect().contains(target.center())

    def step_focus(self, *, forward: bool) -> bool:
        """The next entry or pull point takes the keyboard; False after the last."""
        if self.on_cloths:
            return self._step_piece(1 if forward else -1)
        entries_here = dict.fromkeys(w.entry.name for w in self.written())
        order = [("", name) for name in entries_here]
        order += [("point", name) for name in self.points.names()]
        here = ("point", self.points.focused)
        if self.entry_in_hand:
            here = ("", self.entry_in_hand)
        index = order.index(here) if here in order else (-1 if forward else len(order))
        index += 1 if forward else -1
        self.entry_in_hand = self.points.focused = ""
        if not 0 <= index < len(order):
            return False
        kind, name = order[index]
        if kind:
            self.focus_point(name)
        else:
            self.entry_in_hand = name
        self.refresh()
        return True

    def _step_piece(self, way: int) -> bool:
        """The next piece on its cloth takes the keyboard; False after the last."""
        keys, chosen = self.cloths.pieces(), self.cloths.chosen
        here = keys.index(chosen) if chosen in keys else (-1 if way > 0 else len(keys))
        known = 0 <= here + way < len(keys)
        self.cloths = replace(self.cloths, chosen=keys[here + way] if known else None)
        self.say_pointed()
        self.refresh()
        return known

    def open_entry(self, name: str) -> None:
        """Make an entry a field in its place."""
        written = next((w for w in self.written() if w.entry.name == name), None)
        if written:
            self.entry_in_hand = name
            manner, percent = self.brushes.manner, self.brushes.percent
            self.field.open(written.entry, written.area, manner, percent)
            self.refresh()

    def _typed(self, text: str) -> None:
        """What was typed for an entry, taken; or refused, and it stays."""
        entry, good = self.field.entry, self.scene.good
        if entry is None or good is None:
            return
        manner = self.brushes.manner
        try:
            if entry.keys:
                self.set_allowance(entry.keys, text)
                self.field.done()
                return
            named = amounts_named(text, (entry.name, *entry.amounts), manner)
            if named:
                self.set_texts(named)
                self.field.done()
                return
            value = read_entry(good, entry, text, manner)
            amounts = amounts_for(self.scene, entry, value)
        except SkirtwrightError as refused:
            self.field.refuse(refused.problem)
            return
        self.field.done()
        self.set_amounts(amounts)

    # Seams, checks, sheets

    def tell_cloth(self, lines: tuple[str, ...]) -> None:
        """Say over the stack how much cloth is needed."""
        if lines != self.cloth_lines:
            self.cloth_lines = lines
            self.refresh()

    def show_sheets(self, laid: Printed | None) -> None:
        """Show the edges of sheets across the pieces; None takes them away."""
        pieces, manner = self.scene.pieces, self.brushes.manner
        self.sheets = {} if laid is None else sheets_over(laid, pieces, manner)
        self.scene.show_on_paper(laid is not None)
        self.hovered = self.chosen = None
        self.points.renew(self)
        self.signs.renew()
        self.refresh()

    def walk_seam(self, name: str) -> None:
        """Roll the two edges of a seam along each other."""
        if self.scene.on_paper:
            self.show_sheets(None)
        self._bring_card_of(name)
        box = self.walk_player.begin(name)
        if box:
            self.camera.show_box(box)
            self.setFocus(Qt.FocusReason.OtherFocusReason)
            self.walking.emit(True)

    def stop_walking(self) -> None:
        """Lay the pieces down again."""
        self.walk_player.end()
        self.walking.emit(False)

    def choose_edges(self, keys: Sequence[Key]) -> None:
        """Have the edges of a seam in hand, all of them."""
        self.edges_in_hand = frozenset(keys)
        self.chosen = None
        self.points.chosen = self.entry_in_hand = ""
        named = [name for name, _ in keys]
        laid = self.scene.layout
        if named and not any(laid.find("piece", name) for name in named):
            self._bring_card_of(named[0])
        self.say_pointed()
        self.refresh()

    def choose_piece(self, name: str, edge: str = "", *, sight: bool = False) -> None:
        """Choose a piece, or an edge of it, from elsewhere.

        Args:
            name: of the piece; empty lets go of what is chosen.
            edge: of it; empty for the whole piece.
            sight: glide to it where it is out of sight.
        """
        if name and self.scene.layout.find("piece", name) is None:
            self._bring_card_of(name)
        self.edges_in_hand = frozenset()
        self.chosen = found_piece(self.scene, name, edge) if name else None
        self.points.chosen = ""
        self.signs.shown = None
        if self.chosen and sight:
            middle = self.chosen.laid.box.middle
            x, y = self.view.screen(middle)
            if not self.rect().contains(round(x), round(y)):
                self.camera.show_place(middle)
        self.say_pointed()
        self.refresh()

    def show_problem(self, problem: Problem) -> None:
        """Bring the place a check is about into the middle, with a ring round it."""
        self._bring_card_of(problem.where)
        place = self.signs.show(problem)
        if place:
            self.camera.show_place(place)
        self.refresh()

    def _bring_card_of(self, where: str) -> None:
        """Lay the card on the table on which a piece or the first of a seam lies."""
        key = card_with(self.scene, where)
        if key is not None:
            self.bring(key)

    # Timers

    def look_around(self) -> None:
        """Have what the pointer means worked out once all events are in."""
        if not self._tick.isActive():
            self._tick.start()
        # What is pulled is painted once it is worked, not before as well.
        if self.pull is None:
            self.refresh()
        else:
            # A move that changes nothing is no pause either.
            self.hand_moved.emit()

    def notice(self) -> None:
        """What the pointer means now, once all events are in."""

    def _dress(self) -> None:
        """The skirt on her as it is pulled by now."""
        self.figure.catch_up()
        # What is written stands where it stood.
        self._repaint()

    def _on_idle(self) -> None:
        """Learn how each point answers, one at a time; then show it all at once."""
        if self.scene.learn_one():
            self._learning = True
            self._idle.begin()
        elif self._learning:
            self._learning = False
            self.refresh()

    def say_pointed(self) -> None:
        """Tell what is pointed at, when it is another thing than before."""
        said = self._sentence()
        if said != self._said:
            self._said = said
            self.pointed.emit(said)

    def _sentence(self) -> str:
        """Of what is pointed at, else of what is chosen; empty for nothing."""
        points, signs, manner = self.points, self.signs, self.brushes.manner
        if self.on_cloths:
            return piece_sentence(self.cloths, manner)
        if self.figure.is_large:
            return say("table.figure_large", {}, manner)
        handle, found = points.active(), self.hovered or self.chosen
        problem = signs.hovered or signs.shown
        if problem and not points.hovered:
            return says(problem, manner)
        if handle and (points.hovered or not self.hovered):
            return points.sentence(handle.place, manner)
        if self.on_figure:
            return say("table.figure", {}, manner)
        return describe(self.scene, found, manner) if found else ""

    @property
    def on_figure(self) -> bool:
        """Whether the pointer is on the skirt on her, and on nothing over it."""
        found = self.hovered or self.points.hovered or self.signs.hovered
        at = None if found or self.card_in_hand or self.pull else self.pointer
        return at is not None and self.figure_at(*at)

    # Painting

    def refresh(self) -> None:
        """Have what looks another way than before painted again, once events are in."""
        self._ledger = self._written = self._pins = self._taken = None
        self._repaint()

    def show_changes(self) -> None:
        """Have what looks another way than before painted again with the next paint."""
        self.refresh()
        self._renew()

    def _repaint(self) -> None:
        self._stale = True
        if self.isVisible():
            self._renewal.start()

    def _renew(self, in_hand: QRegion = _NOWHERE) -> None:
        """The frame as things stand; what differs is painted, but what is just now."""
        if not self._stale:
            return
        before, self.frame = self.frame, frame_of(self)
        self._stale = False
        self.pictures.keep_only(self.frame)
        self._prepared.next_round()
        self._outlines.next_round()
        self.update(self.frame.differs_from(before) - in_hand)

    @guarded()
    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint what lies where something changed."""
        self._renew(event.region())
        with QPainter(self) as painter:
            self._paint(painter, event.region(), self.frame.items)

    def paint_at_rest(self, painter: QPainter) -> None:
        """Paint it whole on something else, without what can be taken in hand."""
        self._renew()
        resting = [item for item in self.frame.items if not is_in_hand(item)]
        self._paint(painter, QRegion(self.rect()), resting)

    def _paint(self, painter: QPainter, region: QRegion, items: Iterable[Item]) -> None:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for item in items:
            if not region.intersects(item.area):
                continue
            if item.kept:
                self.pictures.lay(painter, item, self.frame.view)
            else:
                painter.save()
                item.draw(painter, self.frame.view, *item.leans)
                painter.restore()

    # What Qt calls

    @guarded(lambda: QSize(900, 640))
    def sizeHint(self) -> QSize:
        """As large as it can be."""
        return QSize(900, 640)

    @guarded(lambda: QSize(200, 160))
    def minimumSizeHint(self) -> QSize:
        """Still of use beside the strips in a small window."""
        return QSize(320, 240)

    @guarded()
    def resizeEvent(self, event: Any) -> None:
        """A view that shows everything goes on doing so."""
        super().resizeEvent(event)
        if self.camera.fitted and not self.pull:
            self.fit(glide=False)
        self.refresh()
