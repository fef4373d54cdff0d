"""A piece in the list: whether it is shown, its picture, its name, how it is cut."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QCheckBox, QFrame

from skirtwright.app.fields import dress, link_button, role_label, sentence_label, tell
from skirtwright.app.layouts import in_grid
from skirtwright.app.look import Colours
from skirtwright.app.piece_desk import PieceDesk
from skirtwright.app.slips.piece_picture import PiecePicture
from skirtwright.app.slips.title_line import TitleLine
from skirtwright.job.worktable import Look
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.wording.labels import cut_line
from skirtwright.problems import SkirtwrightError
from skirtwright.words import in_one_sentence, say


class PieceRow(QFrame):
    """One piece.

    Signals:
        chosen: its picture was clicked.
    """

    chosen = Signal()

    def __init__(self, desk: PieceDesk, name: str) -> None:
        super().__init__()
        self._desk, self.name = desk, name
        self.setProperty("piece", True)
        self.check = QCheckBox()
        self.picture = PiecePicture()
        self.title = TitleLine()
        self.cut = role_label("faint", wraps=True)
        self.cut.setContentsMargins(7, 0, 0, 0)
        self.rename = link_button()
        self.said = sentence_label()
        self._arrange()
        self.check.clicked.connect(self._show)
        self.title.entered.connect(self._rename)
        other = Qt.FocusReason.OtherFocusReason
        self.rename.clicked.connect(lambda: self.title.setFocus(other))
        self.picture.clicked.connect(self.chosen)

    def _arrange(self) -> None:
        grid = in_grid(self, (4, 4, 4, 4), across=6, down=0)
        top = Qt.AlignmentFlag.AlignTop
        grid.addWidget(self.check, 0, 0, top)
        grid.addWidget(self.picture, 0, 1, 3, 1, top)
        grid.addWidget(self.title, 0, 2)
        grid.addWidget(self.cut, 1, 2, top)
        grid.addWidget(self.rename, 2, 2, Qt.AlignmentFlag.AlignLeft)
        grid.addWidget(self.said, 3, 0, 1, 3)
        grid.setColumnStretch(2, 1)
        grid.setRowStretch(1, 1)

    # Showing

    def show_piece(self, piece: Piece, look: Look, colours: Colours) -> None:
        """Take over the piece as it is cut now."""
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
        number = look.report.cut.numbers[piece.name]
        self.cut.setText(f"{number} · {cut_line(piece, manner)}")
        self.rename.setText(say("cut.rename", manner=manner))
        self.rename.setAccessibleName(say("pieces.name", {"piece": title}, manner))
        hint = say("pieces.hide", {"piece": title}, manner) if hidden else ""
        tell(self.said, hint)

    def mark(self, on: bool) -> None:
        """Chosen, or not any more."""
        dress(self, "chosen", on)

    # Doing

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
