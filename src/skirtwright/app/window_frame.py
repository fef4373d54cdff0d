"""The frame of the window: the table, the strips round it, and where they stand.

What the strips at the table's right and the commands do stands above it, in files of
their own that know the frame and not the window.
"""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QLabel, QMainWindow, QSplitter, QVBoxLayout, QWidget

from skirtwright.app.actions import Actions
from skirtwright.app.canvas.table import Table
from skirtwright.app.desk import Desk
from skirtwright.app.guard import guarded
from skirtwright.app.keeping import Keeper
from skirtwright.app.look import colours_for
from skirtwright.app.panels.amounts import AmountsStrip
from skirtwright.app.panels.card import CardStrip
from skirtwright.app.panels.checks import ChecksStrip
from skirtwright.app.panels.notice import Notice
from skirtwright.app.panels.pieces import PiecesStrip
from skirtwright.app.panels.steps import StepsStrip
from skirtwright.app.panels.strip import Strip
from skirtwright.app.panels.welcome import Welcome
from skirtwright.app.piece_desk import PieceDesk
from skirtwright.app.settings import Settings
from skirtwright.job.job import Job
from skirtwright.words import say

SIDES = ("card", "measures", "parts", "steps")
"""The strips beside the table."""

RIGHT = ("parts", "steps")
"""Those of them at its right; there is room for one."""

STRIPS = ("card", "measures", "checks", "parts", "steps")
_Strip = CardStrip | AmountsStrip | ChecksStrip | PiecesStrip | StepsStrip
_SIDE_BY_SIDE = 1240
"""Below this width, at ordinary text size, card and measures share one column."""

_ONE_ONLY = 760
"""Below this width, at ordinary text size, there is room for one strip."""

_STRIP_WIDE = 268
_LONG = 150
"""Letters of a long sentence about what is pointed at."""


class Frame(QMainWindow):
    """Table and strips of one order.

    Attributes:
        right_taken: the name of the strip that now stands at the table's right.
        fitted: the least width of a strip, px, whenever the strips are fitted.
    """

    right_taken = Signal(str)
    fitted = Signal(int)
    acts: Actions

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
        self.piece_desk = PieceDesk(self.desk)
        self.pieces = PiecesStrip(self.piece_desk)
        self.table = Table(self.colours)
        self.pointed = QLabel()
        self._lay_out()
        self.card.taking.connect(self._say_tape)
        self.pieces.grown.connect(self.fit_pieces)

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
        for widget in (self.left, centre, self.pieces, self.steps):
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

    def point(self, words: str) -> None:
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
        for strip, row in rows:
            if row is not None and row.isVisible():
                strip.scrolled.ensureWidgetVisible(row)

    def strip(self, name: str) -> _Strip:
        """A strip by its name."""
        pieces = self.pieces
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
        self.right_taken.emit(name)
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
        self.fitted.emit(least)
        self.card.show_tape_box(not self.is_narrow)
        self.pointed.setVisible(not self.is_tight)
        self._room_for_pointed()
        if self.is_tight:
            self._one_only()

    def fit_pieces(self) -> None:
        """The list of pieces as wide as what is unfolded in it needs."""
        pieces = self.pieces
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
