"""The checks: one line of finished figures, and what there is to look at."""

from __future__ import annotations

import html

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleAnnouncementEvent,
    QColor,
    QResizeEvent,
)
from PySide6.QtWidgets import (
    QBoxLayout,
    QFrame,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from skirtwright.app.desk import Desk
from skirtwright.app.guard import guarded
from skirtwright.app.look import LIGHT, Colours
from skirtwright.job.worktable import Look
from skirtwright.problems import Problem
from skirtwright.words import Manner, remedy, say, says

FIGURES = ("waist", "hip", "knee", "sweep", "step_allowed", "length")
SIGNS = {"wrong": "■", "caution": "▲", "note": "●"}
_SHARE = 0.2
"""Of the window's height, for figures and checks together."""

_TIGHT = 70
"""Letters across, below which the count stands under the figures."""

_NO_BREAK = "\u00a0"


class ChecksStrip(QFrame):
    """Finished figures, and a list that is quiet when all is well.

    Signals:
        asked: she wants to see where something lies; the Problem.
    """

    asked = Signal(object)

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._colours: Colours = LIGHT
        self._said: set[str] = set()
        self._problems: tuple[Problem, ...] = ()
        self._manner: Manner | None = None
        self.setProperty("strip", True)
        self.figures = QLabel()
        self.figures.setWordWrap(True)
        self.figures.setTextFormat(Qt.TextFormat.RichText)
        self.figures.setProperty("role", "figures")
        self.count = QLabel()
        self.count.setProperty("role", "faint")
        self.list = QListWidget()
        self.list.setWordWrap(True)
        self.list.setFrameShape(QFrame.Shape.NoFrame)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setVerticalScrollMode(QListWidget.ScrollMode.ScrollPerPixel)
        self.list.itemClicked.connect(self._show)
        self.list.itemActivated.connect(self._show)
        self.inside = QWidget()
        self.inside.setProperty("strip", True)
        self.top = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self.top.setSpacing(8)
        self.top.addWidget(self.figures, 5)
        self.top.addWidget(self.count, 1)
        column = QVBoxLayout(self.inside)
        column.setContentsMargins(16, 6, 16, 8)
        column.setSpacing(6)
        column.addLayout(self.top)
        column.addWidget(self.list)
        column.addStretch(1)
        self.scrolled = QScrollArea()
        self.scrolled.setFrameShape(QFrame.Shape.NoFrame)
        self.scrolled.setWidgetResizable(True)
        self.scrolled.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.scrolled.setHorizontalScrollBarPolicy(
            Qt.ScrollBarPolicy.ScrollBarAlwaysOff
        )
        self.scrolled.setWidget(self.inside)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(self.scrolled)
        desk.looked.connect(self.show_look)

    @property
    def problems(self) -> tuple[Problem, ...]:
        """What is listed, the gravest first."""
        return self._problems

    def set_colours(self, colours: Colours) -> None:
        """Light or dark."""
        self._colours = colours
        self._manner = None
        self.refresh()

    def refresh(self) -> None:
        """Say everything again."""
        manner = self._desk.manner
        self.setAccessibleName(say("checks.title", manner=manner))
        self.list.setAccessibleName(say("checks.list", manner=manner))
        if hasattr(self._desk, "look"):
            self.show_look(self._desk.look)

    def show_look(self, look: Look) -> None:
        """Show the figures and the checks of a look."""
        settled = look is self._desk.look
        if not settled and not self.isVisible():
            return
        manner = self._desk.manner
        self._show_figures(look, manner)
        waits = self._desk.waits
        # What the sample has to be told of is nothing to her.
        problems = look.problems if waits is None else (waits,)
        before, self._problems = self._problems, problems
        if manner != self._manner or _kinds(before) != _kinds(problems):
            self._manner = manner
            self._fill(manner)
        elif before != problems:
            self._tell_anew(before, manner)
        if settled:
            self._announce(manner)

    def _tell_anew(self, before: tuple[Problem, ...], manner: Manner) -> None:
        """The same checks with other figures."""
        for row, (old, new) in enumerate(zip(before, self._problems, strict=True)):
            if old != new:
                self.list.item(row).setText(line(new, manner))
                self.list.item(row).setData(Qt.ItemDataRole.UserRole, new)
        if self._desk.look.problems == self._problems:
            self.fit()

    def _show_figures(self, look: Look, manner: Manner) -> None:
        if self._desk.waits is not None:
            words = say("checks.waiting", manner=manner)
            self.figures.setText(html.escape(words))
            self.figures.setAccessibleName(words)
            return
        spoken, drawn = [], []
        for name in FIGURES:
            value = look.report.finished.get(name)
            if value is None:
                continue
            label = say(f"finished.{name}", manner=manner)
            length = say("finished.length_shown", {"value": value}, manner)
            spoken.append(f"{label} {length}")
            name_shown = html.escape(label)
            if self.top.direction() == QBoxLayout.Direction.LeftToRight:
                name_shown = name_shown.replace(" ", _NO_BREAK)
            figure = html.escape(length).replace(" ", _NO_BREAK)
            drawn.append(
                f'<span style="color:{self._colours.faint}">{name_shown}</span>'
                f"{_NO_BREAK}<b>{figure}</b>"
            )
        self.figures.setText("&nbsp;&nbsp;&nbsp; ".join(drawn))
        self.figures.setAccessibleName(", ".join(spoken))

    def _fill(self, manner: Manner) -> None:
        row = self.list.currentRow()
        self.list.clear()
        colours = {
            "wrong": self._colours.wrong,
            "caution": self._colours.caution,
            "note": self._colours.ink,
        }
        for problem in self._problems:
            item = QListWidgetItem(line(problem, manner))
            item.setForeground(QColor(colours[problem.severity]))
            item.setData(Qt.ItemDataRole.UserRole, problem)
            self.list.addItem(item)
        if 0 <= row < self.list.count():
            self.list.setCurrentRow(row)
        self.list.setVisible(bool(self._problems))
        message = "checks.count" if self._problems else "checks.none"
        if len(self._problems) == 1:
            message = "checks.one"
        self.count.setText(say(message, {"count": len(self._problems)}, manner))
        self.fit()

    def fit(self) -> None:
        """Quiet: no taller than a share of the window; what is more scrolls."""
        metrics, wrap = self.list.fontMetrics(), Qt.TextFlag.TextWordWrap.value
        tight = self.width() < metrics.averageCharWidth() * _TIGHT
        way, side = QBoxLayout.Direction, Qt.AlignmentFlag
        direction = way.TopToBottom if tight else way.LeftToRight
        if direction != self.top.direction():
            self.top.setDirection(direction)
            self._show_figures(self._desk.look, self._desk.manner)
        self.count.setAlignment(side.AlignLeft if tight else side.AlignRight)
        room = max(self.list.viewport().width() - 20, 60)
        tall = []
        for row in range(self.list.count()):
            item = self.list.item(row)
            lines = metrics.boundingRect(0, 0, room, 10_000, wrap, item.text())
            item.setSizeHint(QSize(room, lines.height() + 10))
            tall.append(lines.height() + 10)
        most = max(110, round(self.window().height() * _SHARE))
        self.list.setFixedHeight(sum(tall) + 4)
        whole = self._needed()
        if tall and whole > most:
            over = whole - most
            self.list.setFixedHeight(max(sum(tall) + 4 - over, min(tall[0] + 4, 70)))
            whole = self._needed()
        if whole > 0:
            self.setFixedHeight(min(whole, round(most * 1.4)))

    def _needed(self) -> int:
        layout = self.inside.layout()
        if layout is None:
            return -1
        layout.invalidate()
        return layout.totalHeightForWidth(self.width())

    @guarded()
    def resizeEvent(self, event: QResizeEvent) -> None:
        """Another width, other lines."""
        super().resizeEvent(event)
        self.fit()

    def _announce(self, manner: Manner) -> None:
        """A check that is new is said once."""
        now = {line(problem, manner) for problem in self._problems}
        fresh = now - self._said
        self._said = now
        if fresh and QAccessible.isActive():
            for problem in self._problems:
                words = line(problem, manner)
                if words in fresh:
                    event = QAccessibleAnnouncementEvent(self.list, words)
                    QAccessible.updateAccessibility(event)

    def _show(self, item: QListWidgetItem) -> None:
        self.asked.emit(item.data(Qt.ItemDataRole.UserRole))


def _kinds(problems: tuple[Problem, ...]) -> list[tuple[str, str, str]]:
    """What tells the rows of one list of checks from those of another."""
    return [(p.code, p.where, p.severity) for p in problems]


def line(problem: Problem, manner: Manner) -> str:
    """A check as it is listed: its sign, its word, its sentence, its remedy."""
    grave = say(f"severity.{problem.severity}", manner=manner)
    words = [says(problem, manner), remedy(problem, manner)]
    return f"{SIGNS[problem.severity]} {grave}: {' '.join(w for w in words if w)}"
