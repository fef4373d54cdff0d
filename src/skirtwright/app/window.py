"""The window: the table, the strips round it, and what they tell each other."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QByteArray, Qt
from PySide6.QtGui import QCloseEvent, QGuiApplication, QResizeEvent
from PySide6.QtWidgets import (
    QApplication,
    QLabel,
    QMainWindow,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from skirtwright.app.actions import Actions
from skirtwright.app.canvas.table import Table
from skirtwright.app.commands import Commands
from skirtwright.app.desk import Desk
from skirtwright.app.files import Files
from skirtwright.app.guard import guarded
from skirtwright.app.header import Header
from skirtwright.app.keeping import Keeper
from skirtwright.app.look import colours_for, letters, palette, stylesheet
from skirtwright.app.making_up import MakingUp
from skirtwright.app.panels.amounts import AmountsStrip
from skirtwright.app.panels.card import CardStrip
from skirtwright.app.panels.checks import ChecksStrip
from skirtwright.app.panels.notice import Notice
from skirtwright.app.panels.pieces import PiecesStrip
from skirtwright.app.panels.steps import StepsStrip
from skirtwright.app.panels.strip import Strip
from skirtwright.app.panels.welcome import Welcome
from skirtwright.app.paper import RIGHT, SIDES, Paper
from skirtwright.app.piecework import Piecework
from skirtwright.app.settings import Settings
from skirtwright.job.job import Job
from skirtwright.job.worktable import Look
from skirtwright.words import say, translate

STRIPS = ("card", "measures", "checks", "parts", "steps")
_Strip = CardStrip | AmountsStrip | ChecksStrip | PiecesStrip | StepsStrip
_SIDE_BY_SIDE = 1240
"""Below this width, at ordinary text size, card and measures share one column."""

_ONE_ONLY = 760
"""Below this width, at ordinary text size, there is room for one strip."""

_STRIP_WIDE = 268
_LONG = 150
"""Letters of a long sentence about what is pointed at."""


class Window(QMainWindow):
    """One order on one table."""

    def __init__(self, settings: Settings) -> None:
        super().__init__()
        settings.setParent(self)
        self.settings = settings
        self.desk = Desk(settings, self)
        self.keeper = Keeper(self.desk)
        self.colours = colours_for(settings.theme)
        self.notice = Notice()
        self.welcome = Welcome(self.desk)
        self.card = CardStrip(self.desk)
        self.measures = AmountsStrip(self.desk)
        self.checks = ChecksStrip(self.desk)
        self.steps = StepsStrip(self.desk)
        self.table = Table(self.colours)
        self.piecework = Piecework(self)
        self.pointed = QLabel()
        self._restored = False
        self._lay_out()
        self.files = Files(self)
        self.paper = Paper(self)
        self.making = MakingUp(self)
        self.commands = Commands(self)
        self.acts = Actions(self, self.commands.table())
        self.acts.fill(self.menuBar())
        self.header = Header(self.desk, self.keeper, self.acts)
        self.whole.insertWidget(0, self.header)
        self._connect()
        self.dress()
        self._restore()

    # Making

    def _lay_out(self) -> None:
        self.left = QSplitter(Qt.Orientation.Horizontal)
        self.left.addWidget(self.card)
        self.left.addWidget(self.measures)
        centre = QWidget()
        column = QVBoxLayout(centre)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        self.pointed.setWordWrap(True)
        self.pointed.setTextFormat(Qt.TextFormat.PlainText)
        self.pointed.setProperty("strip", True)
        self.pointed.setProperty("role", "faint")
        self.pointed.setContentsMargins(16, 6, 16, 0)
        column.addWidget(self.welcome)
        column.addWidget(self.notice)
        column.addWidget(self.table, 1)
        column.addWidget(self.pointed)
        column.addWidget(self.checks)
        self.across = QSplitter(Qt.Orientation.Horizontal)
        for widget in (self.left, centre, self.piecework.strip, self.steps):
            self.across.addWidget(widget)
        self.across.setStretchFactor(1, 1)
        for splitter in (self.left, self.across):
            splitter.setHandleWidth(1)
            splitter.setChildrenCollapsible(False)
        inside = QWidget()
        self.whole = QVBoxLayout(inside)
        self.whole.setContentsMargins(0, 0, 0, 0)
        self.whole.setSpacing(0)
        self.whole.addWidget(self.across, 1)
        self.setCentralWidget(inside)

    def _connect(self) -> None:
        desk, table = self.desk, self.table
        desk.looked.connect(self._looked)
        desk.changed.connect(self._named)
        self.keeper.moved.connect(self._named)
        self.keeper.moved.connect(self.files.tell_state)
        self.keeper.cannot_keep.connect(lambda _: self.files.tell_not_kept())
        self.keeper.put_aside.connect(self.files.tell_put_aside)
        self.keeper.kept_again.connect(lambda: self.notice.done("not_kept"))
        table.pulling.connect(desk.pull)
        table.pulled.connect(desk.settle)
        table.dropped.connect(desk.drop)
        table.pointed.connect(self._point)
        table.asked_why.connect(self.commands.ask_why)
        self.piecework.connect_all()
        self.piecework.strip.grown.connect(self.fit_pieces)
        table.eyes.true_scale = self.settings.true_scale
        self.card.taking.connect(self._say_tape)
        self.checks.asked.connect(self.commands.show_check)
        self.welcome.left.connect(self.settings.welcome_done)
        self.settings.changed.connect(self._preferred)
        hints = QGuiApplication.styleHints()
        hints.colorSchemeChanged.connect(self._desktop_changed)

    def _looked(self, look: Look) -> None:
        self.table.show_look(look)
        self.paper.show_look(look)
        self.making.show_look(look)

    def _point(self, words: str) -> None:
        """What is pointed at; how to point, while nothing is."""
        self.pointed.setText(words or say("pointed.nothing", manner=self.desk.manner))

    def _say_tape(self, words: str) -> None:
        """How the tape is taken, where the sheet has no room for it."""
        if self.is_narrow:
            self.pointed.setText(words)

    def show_changes(self, before: Job, after: Job) -> None:
        """Have the fields in sight that differ between two orders."""
        amounts = _differing(before.amounts, after.amounts)
        card = _differing(before.card.measurements, after.card.measurements)
        rows: list[tuple[Strip, QWidget | None]] = [
            *((self.measures, self.measures.amounts.get(name)) for name in amounts),
            *((self.card, self.card.rows_by_name.get(name)) for name in card),
        ]
        self.piecework.show_changes(before, after)
        for strip, row in rows:
            if row is not None and row.isVisible():
                strip.scrolled.ensureWidgetVisible(row)

    # Words and looks

    def dress(self) -> None:
        """Letters, colours and words as she prefers them."""
        self.colours = colours_for(self.settings.theme)
        program = QApplication.instance()
        if isinstance(program, QApplication):
            program.setFont(letters(self.settings.text_size))
            program.setPalette(palette(self.colours))
            sheet = stylesheet(self.colours, self.settings.text_size)
            if program.styleSheet() != sheet:
                program.setStyleSheet(sheet)
        self.table.set_colours(self.colours)
        self.table.set_text_size(self.settings.text_size)
        self.card.set_colours(self.colours)
        self.checks.set_colours(self.colours)
        self.piecework.strip.set_colours(self.colours)
        self.making.dress()
        self.fit_strips()
        self.say_again()

    def say_again(self) -> None:
        """Everything in her manner."""
        manner = self.settings.manner
        self.acts.say_again(manner)
        self.table.set_manner(manner)
        self.pointed.setAccessibleName(say("pointed.name", manner=manner))
        self._point("")
        if not hasattr(self.desk, "look"):
            return
        self.desk.again()
        for name in STRIPS:
            self.strip(name).refresh()
        self.header.refresh()
        self.welcome.refresh()

    def _preferred(self, name: str) -> None:
        if name in ("theme", "text_size"):
            self.dress()
        else:
            self.say_again()

    def _desktop_changed(self) -> None:
        if self.settings.theme == "system":
            self.dress()

    def _named(self) -> None:
        """Title, undo and redo by name, and what can be done just now."""
        if not hasattr(self.desk, "job"):
            return
        manner, job = self.settings.manner, self.desk.job
        values = {
            "style": job.title or translate(job.draft.title, manner),
            "client": job.card.name,
        }
        message = "window.title" if job.card.name else "window.title_nobody"
        saved = "" if self.desk.saved else f" ({say('window.unsaved', manner=manner)})"
        self.setWindowTitle(say(message, {**values, "saved": saved}, manner))
        history = self.desk.history
        for name, able, what in (
            ("undo", history.canUndo(), history.undoText()),
            ("redo", history.canRedo(), history.redoText()),
        ):
            action = self.acts.by_name[name]
            action.setEnabled(able)
            words = f"action.{name}_what" if able else f"action.{name}"
            short = action.iconText()
            action.setText(say(words, {"what": what}, manner))
            action.setIconText(short)
        able = self.keeper.path is not None or self.keeper.brought_back is not None
        back = self.acts.by_name["back_to_saved"]
        back.setEnabled(able and not self.desk.saved)
        given = any(s.given for s in self.desk.look.worked.stated.amounts.values())
        self.acts.by_name["set_back_all"].setEnabled(given)

    # Strips

    def strip(self, name: str) -> _Strip:
        """A strip by its name."""
        pieces = self.piecework.strip
        strips: tuple[_Strip, ...] = (
            self.card,
            self.measures,
            self.checks,
            pieces,
            self.steps,
        )
        return dict(zip(STRIPS, strips, strict=True))[name]

    def show_strip(self, name: str, on: bool) -> None:
        """Unfold a strip or fold it away."""
        strip = self.strip(name)
        if on and self.is_tight and name in SIDES:
            for other in SIDES:
                if other != name:
                    self.acts.by_name[other].setChecked(False)
        if on and name in RIGHT:
            self._free_right(name)
        if not on and self.focusWidget() and strip.isAncestorOf(self.focusWidget()):
            self.table.setFocus(Qt.FocusReason.OtherFocusReason)
        strip.setVisible(on)
        self.left.setVisible(not (self.card.isHidden() and self.measures.isHidden()))
        self.fit_strips()

    def _free_right(self, name: str) -> None:
        """At the table's right there is room for one strip."""
        self.paper.close()
        self.making.close()
        for other in RIGHT:
            if other != name:
                self.acts.by_name[other].setChecked(False)

    @property
    def is_narrow(self) -> bool:
        """True when card and measures share one column."""
        return self.width() < _SIDE_BY_SIDE * self.settings.text_size / 100

    @property
    def is_tight(self) -> bool:
        """True when there is room for one strip only beside the table."""
        return self.width() < _ONE_ONLY * self.settings.text_size / 100

    def fit_strips(self) -> None:
        """Side by side where there is room, else one over the other."""
        least = round(_STRIP_WIDE * (0.5 + self.settings.text_size / 200))
        flat = Qt.Orientation.Vertical if self.is_narrow else Qt.Orientation.Horizontal
        if self.left.orientation() != flat:
            self.left.setOrientation(flat)
            tall = self.left.height()
            self.left.setSizes([tall // 2, tall - tall // 2])
        wide = max(least, self.card.needs(), self.measures.needs())
        for strip in (self.card, self.measures):
            strip.setMinimumWidth(wide)
        shown = 2 - self.card.isHidden() - self.measures.isHidden()
        room = wide + 40 if self.is_narrow or shown < 2 else 2 * wide + 80
        self.left.setMaximumWidth(room)
        self.steps.setMinimumWidth(least)
        self.fit_pieces()
        self.paper.fit(least)
        self.making.fit(least)
        self.card.show_tape_box(not self.is_narrow)
        self.pointed.setVisible(not self.is_tight)
        self._room_for_pointed()
        if self.is_tight:
            self._one_only()

    def fit_pieces(self) -> None:
        """The list of pieces as wide as what is unfolded in it needs."""
        pieces = self.piecework.strip
        wide = max(round(1.2 * self.steps.minimumWidth()), pieces.needs())
        if wide != pieces.minimumWidth():
            pieces.setMinimumWidth(wide)

    def _room_for_pointed(self) -> None:
        """Room for a long sentence, whatever is pointed at: the table never jumps."""
        metrics = self.fontMetrics()
        wide = max(self.checks.width() - 40, 200)
        lines = -(-metrics.averageCharWidth() * _LONG // wide)
        tall = max(2, min(lines, 5)) * metrics.lineSpacing() + 8
        if tall != self.pointed.height():
            self.pointed.setFixedHeight(tall)

    def _one_only(self) -> None:
        """Beside a table this small there is room for one strip."""
        shown = [n for n in SIDES if not self.strip(n).isHidden()]
        for name in shown[1:]:
            self.acts.by_name[name].setChecked(False)

    @guarded()
    def resizeEvent(self, event: QResizeEvent) -> None:
        """Strips stand as there is room."""
        super().resizeEvent(event)
        self.fit_strips()

    # Keeping

    def _restore(self) -> None:
        kept = self.settings.layout("window")
        if not isinstance(kept, QByteArray) or not self.restoreGeometry(kept):
            room = self.screen().availableGeometry()
            self.resize(min(1440, room.width()), min(900, room.height()))
        folded = self.settings.folded
        for name in STRIPS:
            on = name not in folded
            self.strip(name).setVisible(on)
            self.acts.by_name[name].blockSignals(True)
            self.acts.by_name[name].setChecked(on)
            self.acts.by_name[name].blockSignals(False)
        self.left.setVisible(not {"card", "measures"} <= set(folded))
        self._restored = True

    @guarded()
    def closeEvent(self, event: QCloseEvent) -> None:
        """Keep what is not saved; ask nothing.

        Only when it cannot be kept does the window stay, say why and offer a place:
        work goes when she says that it may.
        """
        # Until the work is kept: a fault on the way there must not close the window.
        event.ignore()
        self.take_typed()
        if not (self.keeper.close() or self.files.may_lose):
            self.files.tell_not_kept(closing=True)
            return
        event.accept()
        self.paper.close()
        self.making.wait()
        self.keeper.let_go()
        self.desk.close()
        self.settings.keep_layout("window", self.saveGeometry())
        self.settings.folded = [n for n in STRIPS if self.strip(n).isHidden()]
        self.settings.write_now()

    def take_typed(self) -> None:
        """Take what is half typed in the field in hand."""
        held = self.focusWidget()
        if held is not None:
            held.clearFocus()
            held.setFocus(Qt.FocusReason.OtherFocusReason)


def _differing(before: Mapping[str, str], after: Mapping[str, str]) -> list[str]:
    """The names that have another text, or one only on one side."""
    names = {**before, **after}
    return [name for name in names if before.get(name) != after.get(name)]
