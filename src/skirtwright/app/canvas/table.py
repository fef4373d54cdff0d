"""The table: one widget that paints the draft and its pieces, and lets her pull them.

The pointer is only taken note of when it moves; what follows from it is worked once
all waiting events are in, so that no backlog can grow however fast they come.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from PySide6.QtCore import (
    QEasingCurve,
    QEvent,
    QRect,
    QSize,
    Qt,
    QTimer,
    QVariantAnimation,
    Signal,
)
from PySide6.QtGui import (
    QAccessible,
    QAccessibleEvent,
    QAccessibleValueChangeEvent,
    QPainter,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from skirtwright.app.canvas import accessible, hands, rulers
from skirtwright.app.canvas.drawing import (
    Brushes,
    paint_sheet,
    paint_thing,
    paint_words,
)
from skirtwright.app.canvas.handles import Shown, paint_points
from skirtwright.app.canvas.overlays import (
    paint_bubble,
    paint_check,
    paint_found,
    paint_walk,
    walk_lines,
)
from skirtwright.app.canvas.pointing import Found, describe, locate
from skirtwright.app.canvas.points import Points
from skirtwright.app.canvas.pulling import Pull
from skirtwright.app.canvas.scene import Scene
from skirtwright.app.canvas.stepping import Pace, at_limit, shown, stepped
from skirtwright.app.canvas.view import Box, Margins, View, box_round, fitted
from skirtwright.app.canvas.walking import Walk
from skirtwright.app.guard import guarded
from skirtwright.app.look import Colours
from skirtwright.draft.handles import Handle
from skirtwright.geometry.point import Point
from skirtwright.geometry.ring import without_repeats
from skirtwright.job.worktable import Look
from skirtwright.problems import Problem
from skirtwright.words import Manner, say, translate

GLIDE_MS = 180
"""A short glide from one view to another."""

WALK_MS = 4000
"""A seam is walked in this time."""

_MARGIN = 28.0
_BELOW = 12.0
_ZOOM_STEP = 1.25


class Table(QWidget):
    """The table.

    Args:
        colours: of the theme.
        parent: the window.

    Signals:
        pulling: every tick of a pull: the amounts as they would be, mm, degrees, plain.
        pulled: once on release, and for every key or click: the amounts.
        dropped: a pull was given up; the order is as it was.
        pointed: the sentence of what is pointed at or chosen; empty for nothing.
        asked_why: the name of what she wants explained, such as `front.side`.
        walking: True when a seam begins to be walked, False when that is over.
    """

    pulling = Signal(object)
    pulled = Signal(object)
    dropped = Signal()
    pointed = Signal(str)
    asked_why = Signal(str)
    walking = Signal(bool)

    def __init__(self, colours: Colours, parent: QWidget | None = None) -> None:
        accessible.install()
        super().__init__(parent)
        self.scene = Scene()
        self.points = Points(self.scene)
        self.brushes = Brushes(colours, Manner())
        self.view = View()
        self.pull: Pull | None = None
        self.walk: Walk | None = None
        self.pointer: tuple[float, float] | None = None
        self.hovered: Found | None = None
        self.chosen: Found | None = None
        self.checks: list[tuple[Problem, Point]] = []
        self.shown_check: Problem | None = None
        self._fitted = ""
        self._said = ""
        self._true_scale: float | None = None
        self._hands = hands.Hands(self)
        self._tick = self._timer(0, self._on_tick)
        self._idle = self._timer(40, self._on_idle)
        self._glide = QVariantAnimation(self)
        self._glide.setDuration(GLIDE_MS)
        self._glide.setEasingCurve(QEasingCurve.Type.InOutCubic)
        self._walker = QVariantAnimation(self)
        self._walker.setDuration(WALK_MS)
        self._walker.valueChanged.connect(self._on_walk)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.grabGesture(Qt.GestureType.PinchGesture)
        self._name()

    def _timer(self, ms: int, then: Any) -> QTimer:
        timer = QTimer(self)
        timer.setSingleShot(True)
        timer.setInterval(ms)
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
        names = [laid.name for laid in self.scene.layout.laid]
        self.scene.show(look, held)
        if held is None:
            self._settle(names)
        self.tell_value()
        self.update()

    def _settle(self, names: list[str]) -> None:
        """After the hand rests: stand-ins, checks, and how far each point reaches."""
        self.points.forget_lost()
        known = self.points.names()
        if known != [stand_in.name for stand_in in self.points.stand_ins]:
            for lost in self.points.stand_ins:
                lost.deleteLater()
            self.points.stand_ins = [accessible.PullPoint(self, n) for n in known]
        self.hovered = self.chosen = None
        problems = self.scene.look.problems if self.scene.look else ()
        places = [(p, locate(self.scene, p)) for p in problems if p.severity != "note"]
        self.checks = [(p, place) for p, place in places if place]
        if self.walk:
            self.stop_walking()
        self._idle.start()
        if not names or self._fitted:
            self._fit(self._fitted or "all", glide=False)

    def set_manner(self, manner: Manner) -> None:
        """Her unit, fraction and language."""
        self.brushes = replace(self.brushes, manner=manner)
        self._name()
        self.update()

    def set_colours(self, colours: Colours) -> None:
        """Another theme."""
        self.brushes = replace(self.brushes, colours=colours)
        self.update()

    def set_text_size(self, percent: int) -> None:
        """Her text size; 100 is ordinary."""
        self.brushes = replace(self.brushes, percent=percent)
        self.update()

    # How it is seen

    def fit_all(self) -> None:
        """Everything in view."""
        self._fit("all")

    def fit_draft(self) -> None:
        """The draft in view."""
        self._fit("draft")

    def fit_pieces(self) -> None:
        """The pieces in view."""
        self._fit("piece")

    def _fit(self, what: str, *, glide: bool = True) -> None:
        layout = self.scene.layout
        box = (
            layout.box("draft" if what == "draft" else "piece")
            if (what != "all")
            else layout.box()
        )
        self._fitted = what
        if box:
            self._show_box(box, glide=glide)

    def _show_box(self, box: Box, *, glide: bool) -> None:
        strip = rulers.wide(self.brushes.percent)
        margins = Margins(strip + _MARGIN, strip + _MARGIN, _MARGIN, _MARGIN + _BELOW)
        self._go(fitted(box, self.width(), self.height(), margins), glide=glide)

    def true_size(self) -> None:
        """As large as the skirt itself, about the middle of the window."""
        scale = self._true_scale or self.physicalDpiX() / 25.4
        x, y = self.width() / 2, self.height() / 2
        self._fitted = ""
        self._go(self.target_view().zoomed(x, y, scale / self.target_view().scale))

    def set_true_scale(self, pixels_per_mm: float | None) -> None:
        """What she measured on this screen; None for what the screen says of itself."""
        self._true_scale = pixels_per_mm

    def zoom_by(self, factor: float, at: tuple[float, float] | None = None) -> None:
        """Nearer or further, about a pixel or the middle."""
        x, y = at or (self.width() / 2, self.height() / 2)
        self.look_from(self.target_view().zoomed(x, y, factor))

    def pan_by(self, x: float, y: float) -> None:
        """Push the table by so many pixels."""
        self.look_from(self.target_view().panned(x, y))

    def look_from(self, view: View) -> None:
        """See the table so, at once, and keep it so when the window changes."""
        self._fitted = ""
        self._go(view, glide=False)

    def target_view(self) -> View:
        """The view, or the one it glides to."""
        running = self._glide.state() == QVariantAnimation.State.Running
        return self._goal if running else self.view

    def _go(self, view: View, *, glide: bool = True) -> None:
        self._glide.stop()
        self._goal = view
        if not glide or not self.isVisible() or self.pull:
            self.view = view
            self.look_around()
            return
        start, size = self.view, (float(self.width()), float(self.height()))

        def turn(share: float) -> None:
            self.view = view if share >= 1 else start.between(view, share, *size)
            self.look_around()

        self._glide.valueChanged.disconnect() if self._gliding else None
        self._gliding = True
        self._glide.valueChanged.connect(turn)
        self._glide.setStartValue(0.0)
        self._glide.setEndValue(1.0)
        self._glide.start()

    _gliding = False
    _goal = View()

    # Pull points

    def handle_names(self) -> list[str]:
        """The places of the pull points, in reading order."""
        return self.points.names()

    def pull_by(self, amount: str, steps: float, pace: Pace = "plain") -> None:
        """Make an amount more or less by steps; one step to undo.

        Args:
            amount: its name.
            steps: how many; negative for less.
            pace: how far each goes.
        """
        state = self.scene.state(amount)
        if state is not None:
            self.set_amounts({amount: stepped(state, steps, self.brushes.manner, pace)})

    def set_amounts(self, amounts: Mapping[str, float]) -> None:
        """Give amounts on, unless they are so already."""
        states = {name: self.scene.state(name) for name in amounts}
        if any(s and abs(s.value - amounts[n]) > 1e-9 for n, s in states.items()):
            self.pulled.emit(dict(amounts))

    def step_point(self, name: str, steps: float) -> None:
        """A pull point's amount more or less by steps."""
        handle = self.scene.point_of(name)
        if handle:
            self.pull_by(handle.amount, steps)

    def set_point(self, name: str, value: float) -> None:
        """A pull point's amount as it is wished for."""
        self.set_amounts(self.points.snapped(name, value, self.brushes.manner))

    def focus_point(self, name: str) -> None:
        """Give a pull point the keyboard."""
        self.points.focused = name if name in self.points.names() else ""
        if not self.hasFocus():
            self.setFocus(Qt.FocusReason.OtherFocusReason)
        self._bring_into_sight(name)
        self.say_pointed()
        stand_in = self._stand_in(name)
        if stand_in and QAccessible.isActive():
            event = QAccessibleEvent(stand_in, QAccessible.Event.Focus)
            QAccessible.updateAccessibility(event)
        self.update()

    def _bring_into_sight(self, name: str) -> None:
        """A point with the keyboard must be seen: the only time the view moves."""
        handle = self.scene.point_of(name)
        if handle and not self.point_in_sight(name):
            view = self.target_view().centred(
                self.scene.at(handle), self.width(), self.height()
            )
            self._fitted = ""
            self._go(view)

    def point_in_sight(self, name: str) -> bool:
        """True when a pull point lies within the window."""
        target = self.points.target(name, self.target_view())
        return self.rect().contains(target.center())

    def point_target(self, name: str) -> QRect:
        """A pull point's target in the window."""
        return self.points.target(name, self.view)

    def _stand_in(self, name: str) -> accessible.PullPoint | None:
        return next((s for s in self.points.stand_ins if s.name == name), None)

    def tell_value(self) -> None:
        """Let assistive technology know the amount of the point in hand."""
        if not QAccessible.isActive():
            return
        name = self.points.held or self.points.focused or self.points.chosen
        stand_in = self._stand_in(name)
        if stand_in:
            value = self.points.says_value(name, self.brushes.manner)
            event = QAccessibleValueChangeEvent(stand_in, value)
            QAccessible.updateAccessibility(event)

    # Seams and checks

    def walk_seam(self, name: str) -> None:
        """Roll the two edges of a seam along each other."""
        good = self.scene.good
        seams = good.report.cut.seams if good else ()
        seam = next((walked for walked in seams if walked.seam.name == name), None)
        if seam is None:
            return
        panels = {piece.name: piece.panel for piece in self.scene.pieces}
        self.walk = Walk(seam, panels)
        self.walking.emit(True)
        self._show_box(self._box_of_walk(self.walk), glide=True)
        self._walker.setStartValue(0.0)
        self._walker.setEndValue(self.walk.whole)
        self._walker.start()
        self.setFocus(Qt.FocusReason.OtherFocusReason)
        self.update()

    def _box_of_walk(self, walk: Walk) -> Box:
        """Room for the first piece and for the second rolled along it."""
        first = self.scene.layout.find("piece", walk.rolled().first.piece)
        boxes = [first.box] if first else []
        for share in (0.0, 0.5, 1.0):
            now = walk.at(walk.whole * share).rolled()
            outline = walk.panels[now.second.piece].outline.moved(now.motion)
            points = without_repeats(outline.flattened(2.0))
            step = first.offset if first else Point(0.0, 0.0)
            moved = [point + step for point in points]
            boxes.append(
                Box(
                    min(p.x for p in moved),
                    min(p.y for p in moved),
                    max(p.x for p in moved),
                    max(p.y for p in moved),
                )
            )
        return box_round(boxes) or Box(0, 0, 1, 1)

    def walk_to(self, distance: float) -> None:
        """Roll the seam that is being walked to a distance, mm, and stop there."""
        self._walker.stop()
        self._on_walk(distance)

    def stop_walking(self) -> None:
        """Lay the pieces down again."""
        self._walker.stop()
        self.walk = None
        self.walking.emit(False)
        self.update()

    def _on_walk(self, distance: float) -> None:
        if self.walk:
            self.walk = self.walk.at(float(distance))
            self.update()

    def show_problem(self, problem: Problem) -> None:
        """Bring the place a check is about into the middle, with a ring round it."""
        place = locate(self.scene, problem)
        self.shown_check = problem if place else None
        if place is None:
            return
        if all(known != problem for known, _ in self.checks):
            self.checks.append((problem, place))
        self._fitted = ""
        self._go(self.view.centred(place, self.width(), self.height()))

    # Timers

    def look_around(self) -> None:
        """Have what the pointer means worked out once all events are in."""
        if not self._tick.isActive():
            self._tick.start()
        self.update()

    def _on_tick(self) -> None:
        self._hands.tick()

    def _on_idle(self) -> None:
        """One point at a time, so that nothing waits for it."""
        for handle in self.scene.points:
            if not self.scene.knows_response(handle):
                for amount in handle.amounts:
                    self.scene.response(handle, amount)
                if self.scene.is_dim(handle):
                    self.update()
                self._idle.start()
                return

    def say_pointed(self) -> None:
        """Tell what is pointed at, when it is another thing than before."""
        said = self._sentence()
        if said != self._said:
            self._said = said
            self.pointed.emit(said)

    def _sentence(self) -> str:
        manner = self.brushes.manner
        handle = self.points.active()
        if handle and (self.points.hovered or not self.hovered):
            return self.points.sentence(handle.place, manner)
        found = self.hovered or self.chosen
        return describe(self.scene, found, manner) if found else ""

    # Painting

    @guarded()
    def paintEvent(self, _: Any) -> None:
        """Paint everything; all of it changes with any pull."""
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            self._paint(painter)

    def _paint(self, painter: QPainter) -> None:
        scene, view = self.scene, self.view
        brushes = replace(self.brushes, moving=self.pull is not None)
        painter.fillRect(self.rect(), brushes.colours.ground)
        if scene.layout.sheet:
            paint_sheet(painter, scene.layout.sheet, view, brushes)
        for laid, prepared in scene.prepared():
            paint_thing(painter, laid, prepared, view, brushes)
        paint_words(painter, scene, view, brushes)
        self._paint_over(painter, brushes)
        rulers.paint_rulers(
            painter, view, self._size(), self._nought(), brushes, self.pointer
        )

    def _paint_over(self, painter: QPainter, brushes: Brushes) -> None:
        view = self.view
        for found in (self.chosen, self.hovered):
            if found and not self.pull:
                is_chosen = found is self.chosen
                paint_found(painter, found, view, brushes, chosen=is_chosen)
        for problem, place in self.checks if not self.pull else ():
            at, ringed = view.screen(place), problem == self.shown_check
            paint_check(painter, problem.severity, at, brushes, shown=ringed)
        if self.walk:
            self._paint_walk(painter, self.walk, brushes)
            return
        shown_points = self.shown_points()
        paint_points(painter, shown_points, brushes)
        self._paint_value(painter, shown_points, brushes)

    def _paint_walk(self, painter: QPainter, walk: Walk, brushes: Brushes) -> None:
        now = walk.rolled()
        laid = self.scene.layout.find("piece", now.first.piece)
        offset = laid.offset if laid else Point(0.0, 0.0)
        paint_walk(painter, walk, offset, self.view, brushes)
        title = self._seam_title(walk.seam.seam.name)
        at = self.view.screen(now.first.place + offset)
        paint_bubble(
            painter, walk_lines(walk, title, brushes), at, self._size(), brushes
        )

    def _seam_title(self, name: str) -> str:
        good = self.scene.good
        seams = good.worked.draft.seams if good else ()
        return next((s.title for s in seams if s.name == name and s.title), name)

    def _paint_value(
        self, painter: QPainter, points: list[Shown], brushes: Brushes
    ) -> None:
        """The amount in hand, beside the pointer while it is pulled."""
        handle = self.points.active()
        known = next((p for p in points if handle and p.name == handle.place), None)
        if handle is None or known is None:
            return
        has_keyboard = known.focused and self.hasFocus()
        if not (known.hovered or known.held or known.chosen or has_keyboard):
            return
        at = self.pull.pointer if self.pull else (known.x, known.y)
        if not self.pull and (known.chosen or known.focused):
            # Clear of the minus and the plus.
            at = (at[0] + 12, at[1] + 14)
        paint_bubble(painter, self._value_lines(handle), at, self._size(), brushes)

    def _value_lines(self, handle: Handle) -> tuple[str, ...]:
        manner = self.brushes.manner
        lines = []
        for name in handle.amounts:
            state = self.scene.state(name)
            if state is None:
                continue
            pulled = self.pull.values if self.pull else {}
            value = pulled.get(name, state.value)
            limit = at_limit(state, value) if self.pull else ""
            label = translate(state.amount.label, manner)
            if limit:
                label = say(f"table.at_{limit}", {"label": label}, manner)
            lines += [label, shown(state, value, manner)]
        if len(lines) > 2:
            return (f"{lines[0]}, {lines[2]}", f"{lines[1]}, {lines[3]}")
        return tuple(lines) or ("",)

    def shown_points(self) -> list[Shown]:
        """The pull points as they stand on the screen."""
        return self.points.shown(self.view, self.pointer, has_keyboard=self.hasFocus())

    def _size(self) -> tuple[float, float]:
        return float(self.width()), float(self.height())

    def _nought(self) -> Point:
        """The paper's upper left corner, from which both scales count."""
        sheet = self.scene.layout.sheet
        return Point(sheet.left, sheet.top) if sheet else Point(0.0, 0.0)

    # What Qt calls

    @guarded(lambda: QSize(640, 480))
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
        if self._fitted and not self.pull:
            self._fit(self._fitted, glide=False)

    @guarded(otherwise=False)
    def event(self, event: QEvent) -> bool:
        """Pinching, on a touchpad or a screen."""
        return self._hands.pinch(event) or super().event(event)

    @guarded()
    def mousePressEvent(self, event: Any) -> None:
        """Take something in hand."""
        self._hands.press(event)

    @guarded()
    def mouseMoveEvent(self, event: Any) -> None:
        """Take note of the pointer."""
        self._hands.move(event)

    @guarded()
    def mouseReleaseEvent(self, event: Any) -> None:
        """Let go."""
        self._hands.release(event)

    @guarded()
    def mouseDoubleClickEvent(self, event: Any) -> None:
        """Ask why."""
        self._hands.double_click(event)

    @guarded()
    def contextMenuEvent(self, event: Any) -> None:
        """Ask why, too: the other button, or the menu key."""
        self._hands.ask_why()
        event.accept()

    @guarded()
    def wheelEvent(self, event: Any) -> None:
        """Zoom at the pointer; two fingers on a touchpad pan."""
        self._hands.wheel(event)

    @guarded()
    def leaveEvent(self, event: Any) -> None:
        """The pointer is elsewhere."""
        super().leaveEvent(event)
        self._hands.leave()

    @guarded()
    def keyPressEvent(self, event: Any) -> None:
        """Keys for the point that has the keyboard, or for the table."""
        if not self._hands.key(event):
            super().keyPressEvent(event)

    @guarded(otherwise=False)
    def focusNextPrevChild(self, next: bool) -> bool:  # noqa: A002 - Qt's name
        """Tab goes from pull point to pull point, and then on."""
        if self.walk or not self.hasFocus():
            return super().focusNextPrevChild(next)
        name = self.points.next_name(forward=next)
        if name:
            self.focus_point(name)
            return True
        self.points.focused = ""
        return super().focusNextPrevChild(next)

    @guarded()
    def focusInEvent(self, event: Any) -> None:
        """Tab comes in at the first point or, backwards, at the last."""
        super().focusInEvent(event)
        if event.reason() in (
            Qt.FocusReason.TabFocusReason,
            Qt.FocusReason.BacktabFocusReason,
        ):
            self.points.focused = ""
            forward = event.reason() == Qt.FocusReason.TabFocusReason
            self.focus_point(self.points.next_name(forward=forward))
        self.update()

    @guarded()
    def focusOutEvent(self, event: Any) -> None:
        """Its frame goes; a pull goes on."""
        super().focusOutEvent(event)
        self.say_pointed()
        self.update()
