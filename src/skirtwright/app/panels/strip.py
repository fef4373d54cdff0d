"""What the strips round the table are made of."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QFrame,
    QLabel,
    QScrollArea,
    QSizePolicy,
    QToolButton,
    QVBoxLayout,
    QWidget,
)


class Strip(QFrame):
    """A strip with its heading and a body that scrolls when it must."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("strip", True)
        self.heading = QLabel()
        self.heading.setProperty("role", "heading")
        self.heading.setWordWrap(True)
        self.heading.setContentsMargins(16, 14, 16, 6)
        self.body = QWidget()
        self.body.setProperty("strip", True)
        self.rows = QVBoxLayout(self.body)
        self.rows.setContentsMargins(16, 4, 16, 16)
        self.rows.setSpacing(10)
        self.scrolled = QScrollArea()
        self.scrolled.setFrameShape(QFrame.Shape.NoFrame)
        self.scrolled.setWidgetResizable(True)
        self.scrolled.setHorizontalScrollBarPolicy(
            Qt.ScrollBarPolicy.ScrollBarAlwaysOff
        )
        self.scrolled.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.scrolled.setWidget(self.body)
        self.outer = QVBoxLayout(self)
        self.outer.setContentsMargins(0, 0, 0, 0)
        self.outer.setSpacing(0)
        self.outer.addWidget(self.heading)
        self.outer.addWidget(self.scrolled, 1)

    def needs(self) -> int:
        """The width below which something of the strip would be cut."""
        return self.body.minimumSizeHint().width() + 14

    def head(self, text: str) -> None:
        """Name the strip, on screen and for assistive technology."""
        self.heading.setText(text)
        self.setAccessibleName(text)
        self.scrolled.setAccessibleName(text)


class Fold(QWidget):
    """A heading that unfolds what stands under it, made when first unfolded."""

    def __init__(
        self, name: str, fill: Callable[[QVBoxLayout], None], parent: QWidget
    ) -> None:
        super().__init__(parent)
        self._fill: Callable[[QVBoxLayout], None] | None = fill
        self.button = QToolButton()
        self.button.setText(name)
        self.button.setCheckable(True)
        self.button.setProperty("fold", True)
        self.button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self.button.setArrowType(Qt.ArrowType.RightArrow)
        self.button.setSizePolicy(
            QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed
        )
        self.button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.button.toggled.connect(self._unfold)
        self.inside = QWidget()
        self.inside.setProperty("strip", True)
        self.rows = QVBoxLayout(self.inside)
        self.rows.setContentsMargins(0, 2, 0, 6)
        self.rows.setSpacing(10)
        self.inside.hide()
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(2)
        outer.addWidget(self.button)
        outer.addWidget(self.inside)

    @property
    def filled(self) -> bool:
        """True once it was unfolded."""
        return self._fill is None

    def unfold(self) -> None:
        """Show what stands under the heading."""
        self.button.setChecked(True)

    def _unfold(self, on: bool) -> None:
        fill, self._fill = self._fill, None if on else self._fill
        if on and fill is not None:
            fill(self.rows)
        self.inside.setVisible(on)
        arrow = Qt.ArrowType.DownArrow if on else Qt.ArrowType.RightArrow
        self.button.setArrowType(arrow)


def clear(rows: QVBoxLayout) -> None:
    """Take everything out of a column."""
    while rows.count():
        item = rows.takeAt(0)
        widget = item.widget() if item is not None else None
        if widget is not None:
            widget.hide()
            widget.setParent(None)
            widget.deleteLater()
