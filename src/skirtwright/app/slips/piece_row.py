"""A piece in the list: whether it is shown, its picture, its name, how it is cut."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QFrame,
    QGridLayout,
    QLabel,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from skirtwright.app.fields import sentence_label, tell
from skirtwright.app.look import Colours
from skirtwright.app.piece_desk import PieceDesk
from skirtwright.app.slips.edge_row import EdgeRow
from skirtwright.app.slips.piece_picture import PiecePicture
from skirtwright.app.slips.title_line import TitleLine
from skirtwright.job.worktable import Look
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.wording.labels import cut_line
from skirtwright.problems import SkirtwrightError
from skirtwright.words import in_one_sentence, say


class PieceRow(QFrame):
    """One piece; its edges are listed when it is unfolded.

    Signals:
        chosen: its picture was clicked, or it was unfolded.
        grown: it is taller or less tall than before.
    """

    chosen = Signal()
    grown = Signal()

    def __init__(self, desk: PieceDesk, name: str) -> None:
        super().__init__()
        self._desk, self.name = desk, name
        self._piece: Piece | None = None
        self._look: Look | None = None
        self.edges: dict[str, EdgeRow] = {}
        self.setProperty("piece", True)
        self.check = QCheckBox()
        self.picture = PiecePicture()
        self.title = TitleLine()
        self.cut = QLabel()
        self.cut.setProperty("role", "faint")
        self.cut.setWordWrap(True)
        self.cut.setContentsMargins(7, 0, 0, 0)
        self.fold = QToolButton()
        self.fold.setCheckable(True)
        self.fold.setProperty("fold", True)
        self.fold.setArrowType(Qt.ArrowType.RightArrow)
        self.said = sentence_label()
        self.inside = QWidget()
        self.rows = QVBoxLayout(self.inside)
        self.rows.setContentsMargins(0, 4, 0, 6)
        self.rows.setSpacing(10)
        self.inside.hide()
        self._arrange()
        self.check.clicked.connect(self._show)
        self.title.entered.connect(self._rename)
        self.fold.toggled.connect(self._unfold)
        self.picture.clicked.connect(self.chosen)

    def _arrange(self) -> None:
        grid = QGridLayout(self)
        grid.setContentsMargins(4, 4, 4, 4)
        grid.setHorizontalSpacing(6)
        grid.setVerticalSpacing(0)
        top = Qt.AlignmentFlag.AlignTop
        grid.addWidget(self.check, 0, 0, Qt.AlignmentFlag.AlignVCenter)
        grid.addWidget(self.picture, 0, 1, 2, 1, top)
        grid.addWidget(self.title, 0, 2)
        grid.addWidget(self.fold, 0, 3, 2, 1, top)
        grid.addWidget(self.cut, 1, 2, top)
        grid.addWidget(self.said, 2, 0, 1, 4)
        grid.addWidget(self.inside, 3, 0, 1, 4)
        grid.setColumnStretch(2, 1)
        grid.setRowStretch(1, 1)

    # Showing

    def show_piece(self, piece: Piece, look: Look, colours: Colours) -> None:
        """Take over the piece as it is cut now."""
        self._piece, self._look = piece, look
        manner = self._desk.manner
        title = self._desk.title(piece)
        hidden = piece.name in look.report.cut.hidden
        self.check.setChecked(not hidden)
        self.check.setAccessibleName(say("pieces.show", {"piece": title}, manner))
        self.check.setToolTip(say("pieces.show_help", manner=manner))
        self.picture.show_piece(piece, colours, hidden=hidden)
        self.picture.setAccessibleName(say("pieces.picture", {"piece": title}, manner))
        self.title.rest_at(title)
        self.title.setAccessibleName(say("pieces.name", {"piece": title}, manner))
        self.title.setToolTip(say("pieces.name_help", manner=manner))
        self.cut.setText(cut_line(piece, manner))
        self.fold.setAccessibleName(say("pieces.open", {"piece": title}, manner))
        self.fold.setToolTip(self.fold.accessibleName())
        folds = piece.spec.folds
        self.fold.setVisible(any(e.name not in folds for e in piece.panel.edges))
        hint = say("pieces.hide", {"piece": title}, manner) if hidden else ""
        tell(self.said, hint)
        if self.fold.isChecked():
            self._show_edges()

    def _show_edges(self) -> None:
        if self._piece is None or self._look is None:
            return
        states = self._desk.edges(self._piece, self._look)
        if [state.edge for state in states] != list(self.edges):
            for lost in self.edges.values():
                self.rows.removeWidget(lost)
                lost.hide()
                lost.deleteLater()
            self.edges = {}
            for state in states:
                row = EdgeRow(self._desk, self.name, state.edge)
                row.grown.connect(self.grown)
                self.edges[state.edge] = row
                self.rows.addWidget(row)
            self.grown.emit()
        title = self._desk.title(self._piece)
        for state in states:
            self.edges[state.edge].show_state(state, title)

    def in_reading_order(self) -> list[QWidget]:
        """What takes the keyboard, as she reads."""
        inside = [w for row in self.edges.values() for w in row.in_reading_order()]
        return [self.check, self.title, self.fold, *inside]

    def unfold(self) -> None:
        """List the edges."""
        self.fold.setChecked(True)

    def mark(self, on: bool) -> None:
        """Chosen, or not any more."""
        if bool(self.property("chosen")) != on:
            self.setProperty("chosen", on)
            self.style().unpolish(self)
            self.style().polish(self)

    # Doing

    def _unfold(self, on: bool) -> None:
        arrow = Qt.ArrowType.DownArrow if on else Qt.ArrowType.RightArrow
        self.fold.setArrowType(arrow)
        if on:
            self._show_edges()
        self.inside.setVisible(on)
        self.grown.emit()
        if on:
            self.chosen.emit()

    def _show(self, on: bool) -> None:
        try:
            self._desk.show(self.name, on)
        except SkirtwrightError as refused:
            self.check.setChecked(not on)
            self._refuse(refused)

    def _rename(self, title: str) -> None:
        try:
            self._desk.rename(self.name, title)
        except SkirtwrightError as refused:
            self._refuse(refused)

    def _refuse(self, refused: SkirtwrightError) -> None:
        tell(self.said, in_one_sentence(refused.problem, self._desk.manner), "wrong")
