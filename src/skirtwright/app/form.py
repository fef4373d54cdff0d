"""A small form over the window: lines to fill in, a sentence, and two buttons."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QEvent, Qt, QTimer
from PySide6.QtWidgets import (
    QDialog,
    QFormLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QWidget,
)

from skirtwright.app.fields import sentence_label
from skirtwright.app.guard import guarded
from skirtwright.app.layouts import in_column, in_row
from skirtwright.words import Manner, say


class Form(QDialog):
    """Never smaller than its text, also when a sentence comes.

    Args:
        title: a message id.
        on: of the button that goes on, a message id.

    Attributes:
        on, away: the buttons; the second closes the form.
    """

    def __init__(self, title: str, on: str, manner: Manner, parent: QWidget) -> None:
        super().__init__(parent)
        self._manner = manner
        self.setWindowTitle(say(title, manner=manner))
        self._rows = QFormLayout(self)
        self._rows.setContentsMargins(20, 20, 20, 16)
        self._rows.setVerticalSpacing(12)
        self.said = sentence_label()
        self.said.setMinimumWidth(320)
        self.on = QPushButton(say(on, manner=manner))
        self.on.setProperty("main", True)
        self.on.setDefault(True)
        self.away = QPushButton(say("notice.close", manner=manner))
        self.away.clicked.connect(self.reject)

    def add_line(
        self, label: str, longest: int, values: Mapping[str, object] | None = None
    ) -> QLineEdit:
        """A line to be filled in.

        Args:
            label: a message id.
            longest: letters.
            values: of the message.
        """
        line = QLineEdit()
        line.setMaxLength(longest)
        shown = QLabel(say(label, values, self._manner))
        shown.setBuddy(line)
        line.setAccessibleName(shown.text().replace("&", ""))
        self._rows.addRow(shown, line)
        return line

    def add_told(self, told: Mapping[QLabel, int]) -> None:
        """Sentences that come and go; their room is kept, that nothing below jumps.

        Args:
            told: how many lines each has at most, as a rule.
        """
        self._rows.addRow(in_column(*told, spacing=12))
        for label, lines in told.items():
            keep = label.sizePolicy()
            keep.setRetainSizeWhenHidden(True)
            label.setSizePolicy(keep)
            label.setAlignment(Qt.AlignmentFlag.AlignTop)
            label.ensurePolished()
            label.setMinimumHeight(lines * label.fontMetrics().lineSpacing())

    def add_foot(self, *others: QPushButton) -> None:
        """The sentence and the buttons, under all that is in the form."""
        buttons = in_row(self.on, *others, self.away, spacing=8)
        self._rows.addRow(self.said)
        self._rows.addRow(buttons)

    @guarded(otherwise=False)
    def event(self, event: QEvent) -> bool:
        """A row that comes, or grows, takes room of its own."""
        if event.type() in (QEvent.Type.LayoutRequest, QEvent.Type.Show):
            QTimer.singleShot(0, self, self.adjustSize)
        return super().event(event)
