"""What the slips that lie over the table's edge are made of."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QEvent, QObject, Qt, QTimer, Signal
from PySide6.QtWidgets import (
    QFrame,
    QScrollArea,
    QSizePolicy,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from skirtwright.app.desk import Desk
from skirtwright.app.guard import guarded
from skirtwright.app.layouts import in_column
from skirtwright.app.look import Colours, colours_for
from skirtwright.job.worktable import Look


class Slip(QFrame):
    """What lies over the table's edge: a body that scrolls when it must.

    It follows the order while it is in sight, and is brought up to date before it comes
    in sight; until then it costs nothing.

    Signals:
        grown: it may need another width.
    """

    grown = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self.setProperty("slip", True)
        self.body = QWidget()
        self._bar = 0
        self.body.installEventFilter(self)
        self.rows = in_column(on=self.body, spacing=10, margins=(24, 18, 24, 18))
        self.scrolled = QScrollArea()
        self.scrolled.setFrameShape(QFrame.Shape.NoFrame)
        self.scrolled.setWidgetResizable(True)
        self.scrolled.setHorizontalScrollBarPolicy(
            Qt.ScrollBarPolicy.ScrollBarAlwaysOff
        )
        self.scrolled.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.scrolled.setWidget(self.body)
        self.scrolled.verticalScrollBar().rangeChanged.connect(self._make_room)
        self.outer = in_column((self.scrolled, 1), on=self, spacing=0)
        desk.looked.connect(self._looked)

    @property
    def colours(self) -> Colours:
        """Of her theme."""
        return colours_for(self.desk.settings.theme)

    def _make_room(self, _: int, most: int) -> None:
        """For the bar, so that no row is moved when there is one or none."""
        bar = self.scrolled.verticalScrollBar().sizeHint().width() if most else 0
        edges = self.rows.contentsMargins()
        edges.setRight(edges.right() + self._bar - bar)
        self.rows.setContentsMargins(edges)
        self._bar = bar

    def _looked(self, look: Look) -> None:
        if self.isVisible():
            self.show_look(look)

    def show_look(self, look: Look) -> None:
        """Show a look; one that is not the desk's own is only being pulled."""
        if look is self.desk.look:
            self.show_order(look)

    def show_order(self, look: Look) -> None:
        """Show the order as it stands; nothing of it follows while she pulls."""

    def refresh(self) -> None:
        """Say everything again, in another manner or other colours."""

    def bring_in_sight(self, names: Sequence[str]) -> None:
        """Have the rows of measurements or amounts in sight, where it has them."""

    def first_place(self) -> QWidget:
        """What takes the keyboard when the slip is opened."""
        return self

    def last_place(self) -> QWidget | None:
        """What takes the keyboard when she is done with the rest, if there is such."""
        return None

    @guarded(otherwise=False)
    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Whatever changes among its rows may want more room."""
        if event.type() == QEvent.Type.LayoutRequest:
            self.grown.emit()
        return False

    def needs(self) -> int:
        """The width below which something of the slip would be cut."""
        return self.body.minimumSizeHint().width() + 14

    def measure_again(self) -> None:
        """New rows have a height once they are shown: the slip asks for it then."""
        QTimer.singleShot(0, self, self._measure)

    def _measure(self) -> None:
        self.rows.invalidate()
        self.rows.activate()

    def head(self, text: str) -> None:
        """Name the slip for assistive technology."""
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
        self.rows = in_column(on=self.inside, spacing=10, margins=(0, 2, 0, 6))
        self.inside.hide()
        in_column(self.button, self.inside, on=self, spacing=2)

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
