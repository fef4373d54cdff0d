"""What to look at before cutting, the gravest first; notes and figures under it."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from itertools import pairwise

from PySide6.QtCore import QElapsedTimer, QEvent, QPoint, QSize, Qt, Signal
from PySide6.QtGui import QEnterEvent, QKeyEvent, QMouseEvent
from PySide6.QtWidgets import (
    QFrame,
    QLabel,
    QPushButton,
    QSizePolicy,
    QWidget,
)

from skirtwright.app.desk import Desk
from skirtwright.app.fields import role_label, sentence_label, tell
from skirtwright.app.guard import guarded
from skirtwright.app.layouts import in_column, in_grid
from skirtwright.app.mending import MOST, Mending, says_effect, says_what
from skirtwright.app.shown_figures import unbroken
from skirtwright.app.slips.slip import Fold, Slip, clear
from skirtwright.job.remedies import OFFERED, Remedy
from skirtwright.job.worktable import Look
from skirtwright.measures.measurements import measurements
from skirtwright.problems import Problem
from skirtwright.words import Manner, remedy, say, says, translate

_FIGURE_SIDES = (Qt.AlignmentFlag.AlignLeft, Qt.AlignmentFlag.AlignRight)
"""Names of finished measures to the left, their figures to the right."""

_REMEDY_EDGES = (14, 7, 10, 8)
"""Between a remedy's words and the edges of its button, px."""

_REMEDY_LINES, _BETWEEN = 2, 7
"""Lines a remedy has room for, and what lies between two, px."""

_UNDER_WORDS = 42
"""Where the words of a row begin beside its number, px."""

_A_MOMENT_MS = 500
"""In which a hand already on its way cannot be stopped."""

FIGURES = (
    "waist",
    "hip",
    "knee",
    "sweep",
    "step_allowed",
    "length",
    "length_left",
    "length_right",
)


class RemedyButton(QPushButton):
    """A remedy and what else it changes; the table shows it under the pointer.

    Signals:
        pointed: the pointer, or the keyboard, is on it, or no more.
    """

    pointed = Signal(bool)

    def __init__(self, words: str, effect: str) -> None:
        super().__init__()
        self.setProperty("remedy", True)
        self.setAccessibleName(f"{words}. {effect}" if effect else words)
        self.words, self.effect = QLabel(unbroken(words)), QLabel(unbroken(effect))
        self.effect.setProperty("role", "faint")
        column = in_column(on=self, spacing=0, margins=_REMEDY_EDGES)
        for label in (self.words, self.effect):
            label.setWordWrap(True)
            label.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
            column.addWidget(label)
        self.effect.setVisible(bool(effect))
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self._shown = QElapsedTimer()
        self._shown.start()

    @guarded(otherwise=False)
    def hitButton(self, at: QPoint) -> bool:
        """Not by a click that was meant for what lay there a moment ago."""
        return self._shown.hasExpired(_A_MOMENT_MS) and super().hitButton(at)

    @guarded(otherwise=lambda: QSize(120, 40))
    def sizeHint(self) -> QSize:
        layout = self.layout()
        return layout.sizeHint() if layout is not None else QSize(120, 40)

    @guarded(otherwise=lambda: QSize(80, 40))
    def minimumSizeHint(self) -> QSize:
        """Its words wrap; the slip says how wide."""
        return QSize(80, 40)

    @guarded(otherwise=40)
    def heightForWidth(self, wide: int) -> int:
        layout = self.layout()
        return layout.totalHeightForWidth(wide) if layout is not None else 40

    @guarded()
    def enterEvent(self, event: QEnterEvent) -> None:
        super().enterEvent(event)
        self.pointed.emit(True)

    @guarded()
    def leaveEvent(self, event: QEvent) -> None:
        """The order as it stands."""
        super().leaveEvent(event)
        self.pointed.emit(False)


class CheckRow(QFrame):
    """One thing to look at; a click or Enter brings its place near.

    Signals:
        asked: she wants to see where it lies; the Problem.
    """

    asked = Signal(object)

    def __init__(self, number: int) -> None:
        super().__init__()
        self.problem: Problem | None = None
        self.setProperty("check", True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.pin = QLabel(str(number))
        self.pin.setProperty("role", "pin")
        self.pin.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.words = sentence_label("strong" if number == 1 else "ink")
        self.advice = sentence_label()
        self.advice.setContentsMargins(_UNDER_WORDS, 0, 0, 0)
        grid = in_grid(self, (8, 8, 8, 12), across=14)
        grid.addWidget(self.pin, 0, 0, Qt.AlignmentFlag.AlignTop)
        grid.addWidget(self.words, 0, 1)
        grid.addWidget(self.advice, 1, 1)
        self._remedies = in_column(spacing=_BETWEEN)
        self.buttons: list[RemedyButton] = []
        self._offered: tuple[object, ...] = ()
        self.room = QWidget()
        in_column(self.advice, self._remedies, 1, on=self.room, spacing=0)
        grid.addWidget(self.room, 1, 0, 1, 2)
        grid.setColumnStretch(1, 1)

    def keep_room(self) -> None:
        """For the remedies there may be, from the first: nothing moves as they come."""
        a_line, edges = self.fontMetrics().lineSpacing(), _REMEDY_EDGES
        one = _REMEDY_LINES * a_line + edges[1] + edges[3]
        self.room.setMinimumHeight(OFFERED * one + _BETWEEN)

    def _fit(self) -> None:
        """What else a remedy changes is shown while there is room for it."""
        wide, room = self.room.width(), self.room.minimumHeight()
        for button in reversed(self.buttons):
            tall = sum(b.heightForWidth(wide) + _BETWEEN for b in self.buttons)
            if tall - _BETWEEN > room:
                button.effect.hide()

    def show_problem(self, problem: Problem, manner: Manner) -> None:
        """Say it."""
        self.problem = problem
        grave = say(f"severity.{problem.severity}", manner=manner)
        words, advice = says(problem, manner), remedy(problem, manner)
        tell(self.words, unbroken(words), str(self.words.property("role")))
        tell(self.advice, unbroken(advice))
        self.setAccessibleName(f"{grave}: {words} {advice}".strip())

    def offer(self, found: Sequence[Remedy], desk: Desk, mending: Mending) -> None:
        """Put what mends it under it; the general advice is then not needed.

        What stands there stays while it is the same; of what takes its place only the
        same remedy takes the keyboard over, for a key would take another unread.
        """
        offered = (desk.look, desk.manner, *map(id, found))
        if found and offered == self._offered:
            tell(self.advice, "")
            return
        held = next((b.accessibleName() for b in self.buttons if b.hasFocus()), None)
        was_shown = any(button.underMouse() for button in self.buttons)
        self.take_away()
        self.buttons, self._offered, manner = [], offered, desk.manner
        for remedy_found in found:
            words = says_what(remedy_found, manner)
            effect = says_effect(remedy_found, desk.look, manner)
            button = RemedyButton(words, effect)
            button.clicked.connect(partial(mending.take, remedy_found))
            button.pointed.connect(partial(_preview, desk, remedy_found))
            self._remedies.addWidget(button)
            # What is hidden yet takes no keyboard.
            button.show()
            self.buttons.append(button)
        self._fit()
        # Tab goes as she reads, though the buttons were made last.
        for one, other in pairwise([self, *self.buttons]):
            QWidget.setTabOrder(one, other)
        if found:
            tell(self.advice, "")
        if held is not None:
            same = (b for b in self.buttons if b.accessibleName() == held)
            after = next(same, self)
            after.setFocus(Qt.FocusReason.OtherFocusReason)
        if was_shown:
            desk.drop()

    def take_away(self) -> None:
        """The buttons: as one goes from under the pointer it tells nobody."""
        for button in self.buttons:
            button.blockSignals(True)
        clear(self._remedies)

    @guarded()
    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self.rect().contains(event.position().toPoint()):
            self.asked.emit(self.problem)

    @guarded()
    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter and Space ask; up and down go from one to the next."""
        key = event.key()
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.asked.emit(self.problem)
        elif key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self.focusNextPrevChild(key == Qt.Key.Key_Down)
        else:
            super().keyPressEvent(event)


class CheckSlip(Slip):
    """The checks; notes, which were decided for her, don't count among them.

    Signals:
        asked: she wants to see where something lies; the Problem.
    """

    asked = Signal(object)

    def __init__(self, desk: Desk, mending: Mending) -> None:
        super().__init__(desk)
        self._mending = mending
        mending.found.connect(self._offer)
        self._kinds: list[tuple[str, ...]] | None = None
        self.found: list[CheckRow] = []
        self.none, self.cut = sentence_label("ink"), sentence_label("ink")
        self._found = in_column(spacing=0)
        self.notes: list[QLabel] = []
        self.notes_fold = Fold("", lambda _: None, self.body)
        # What was decided for her is read without being asked for.
        self.notes_fold.unfold()
        self.heading = role_label("subheading")
        self.figures = QWidget()
        self._figures = in_grid(self.figures, (0, 0, 0, 0))
        self._figures.setColumnStretch(0, 1)
        self.rows.addWidget(self.cut)
        self.rows.addLayout(self._found)
        self.unused = sentence_label("ink")
        # What is tried for last is told last: it comes when the rest is read.
        below = (self.none, self.heading, self.figures, self.notes_fold, self.unused)
        for widget in below:
            self.rows.addWidget(widget)
        self.rows.addStretch(1)

    def first_place(self) -> QWidget:
        """The gravest."""
        return self.found[0] if self.found else self.notes_fold.button

    def refresh(self) -> None:
        """Say everything again."""
        manner = self.desk.manner
        self.head(say("checks.title", manner=manner))
        self.heading.setText(say("checks.figures", manner=manner))

    def show_look(self, look: Look) -> None:
        """Show the checks and the figures of a look."""
        self._show_figures(look)
        if look is not self.desk.look:
            # Under a held point, or a remedy pointed at, nothing goes or jumps.
            return
        waits, manner = self.desk.waits, self.desk.manner
        problems = self.desk.problems
        serious = [p for p in problems if p.severity != "note" or p is waits]
        notes = [p for p in problems if p.severity == "note" and p is not waits]
        kinds: list[tuple[str, ...]] = [(p.code, p.where, p.severity) for p in problems]
        if kinds != self._kinds:
            self._kinds = kinds
            self._lay_out(len(serious), len(notes))
        for row, problem in zip(self.found, serious, strict=True):
            row.show_problem(problem, manner)
        for row in self.found[:MOST]:
            if waits is None and row.problem not in self.desk.lay_problems:
                row.keep_room()
        for label, problem in zip(self.notes, notes, strict=True):
            tell(label, says(problem, manner), "ink")
        names = [translate(measurements()[n].label, manner) for n in self._unused(look)]
        told_unused = say("checks.unused", {"names": names}, manner) if names else ""
        tell(self.unused, told_unused, "ink")
        tell(self.cut, self._mending.says_cut() if serious else "", "ink")
        well = "checks.none_of_skirt" if self.desk.waits_for_lay else "checks.none"
        tell(self.none, "" if serious else say(well, manner=manner), "ink")
        told = {"count": len(notes)}
        message = "checks.notes_one" if len(notes) == 1 else "checks.notes"
        self.notes_fold.button.setText(say(message, told, manner))
        self.notes_fold.setVisible(bool(notes))
        self._offer()

    def _unused(self, look: Look) -> list[str]:
        """What was taken and is of no use to the style as it stands."""
        given = {*look.report.unused, *self.desk.unused}
        return [name for name in measurements() if name in given]

    def _offer(self) -> None:
        for row in self.found:
            if row.problem is not None:
                row.offer(self._mending.of(row.problem), self.desk, self._mending)

    def _lay_out(self, serious: int, notes: int) -> None:
        held = next((n for n, row in enumerate(self.found) if row.hasFocus()), None)
        for row in self.found:
            row.take_away()
        clear(self._found)
        self.found = [CheckRow(number) for number in range(1, serious + 1)]
        for row in self.found:
            row.asked.connect(self.asked)
            self._found.addWidget(row)
        if held is not None and held < serious:
            self.found[held].setFocus(Qt.FocusReason.OtherFocusReason)
        clear(self.notes_fold.rows)
        self.notes = [sentence_label("ink") for _ in range(notes)]
        for label in self.notes:
            self.notes_fold.rows.addWidget(label)

    def _show_figures(self, look: Look) -> None:
        manner = self.desk.manner
        finished = {} if self.desk.waits else look.report.finished
        known = ((name, finished.get(name)) for name in FIGURES)
        shown = [(name, value) for name, value in known if value is not None]
        self.heading.setVisible(bool(shown))
        self.figures.setVisible(bool(shown))
        if self._figures.rowCount() < len(shown) + 1:
            for row in range(len(FIGURES)):
                for column in range(2):
                    made = QLabel(wordWrap=column == 0)
                    side = _FIGURE_SIDES[column] | Qt.AlignmentFlag.AlignVCenter
                    made.setAlignment(side)
                    self._figures.addWidget(made, row, column)
        spoken = []
        for row in range(len(FIGURES)):
            name, value = shown[row] if row < len(shown) else ("", None)
            label = say(f"finished.{name}", manner=manner) if name else ""
            words = ""
            if value is not None:
                about = look.report.is_about(name)
                message = "finished.length_about" if about else "finished.length_shown"
                words = say(message, {"value": value}, manner)
                spoken.append(f"{label} {words}")
            for column, text in ((0, label), (1, words)):
                held = self._figures.itemAtPosition(row, column)
                widget = held.widget() if held is not None else None
                if isinstance(widget, QLabel):
                    widget.setText(text)
                    widget.setVisible(bool(text))
        self.figures.setAccessibleName(", ".join(spoken))


def _preview(desk: Desk, found: Remedy, on: bool) -> None:
    """The table shows what a remedy would do while it is pointed at."""
    if on and desk.look.job.draft is found.edited.job.draft:
        desk.looked.emit(found.look)
    else:
        desk.drop()
