"""Seams with their allowances and notches, then the pieces by cloth."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QApplication, QLabel, QWidget

from skirtwright.app.layouts import in_column, tab_as_read
from skirtwright.app.piece_desk import PieceDesk
from skirtwright.app.slips.slip import Slip, clear
from skirtwright.job.worktable import Look
from skirtwright.pieces.joined_edges import Key
from skirtwright.pieces.wording.labels import material_words
from skirtwright.words import say

if TYPE_CHECKING:
    from skirtwright.app.slips.piece_row import PieceRow
    from skirtwright.app.slips.seam_row import SeamRow
    from skirtwright.app.slips.sets_row import SetsRow


_FRAMED = 11
"""From the edge of a seam's or piece's row to its words, px."""


class CutSlip(Slip):
    """Every seam and piece; worked out only while it is open.

    Signals:
        chose: a piece is in hand: its name, or nothing.
        chose_seam: a seam is in hand: piece and edge of all its edges.
        gone: a set of hers was taken away; it.
    """

    chose = Signal(str)
    chose_seam = Signal(object)
    gone = Signal(object)

    def __init__(self, desk: PieceDesk) -> None:
        super().__init__(desk.desk)
        self._desk = desk
        self._shown_for: Look | None = None
        self._chosen = ""
        self._in_hand: Key | None = None
        self.seams: dict[Key, SeamRow] = {}
        self.pieces: dict[str, PieceRow] = {}
        self.headings: list[tuple[str, QLabel]] = []
        self.none = QLabel(wordWrap=True)
        self.rows.setSpacing(6)
        # A row in hand is framed; the words within stand where those outside do.
        self.rows.setContentsMargins(24 - _FRAMED, 18, 18, 18)
        self.none.setContentsMargins(_FRAMED, 0, 0, 0)
        self.seam_rows = in_column(spacing=2)
        self.rows.addWidget(self.none)
        self.rows.addLayout(self.seam_rows)
        self.rows.addStretch(1)
        program = QApplication.instance()
        if isinstance(program, QApplication):
            program.focusChanged.connect(self._focus_moved)

    # Showing

    def refresh(self) -> None:
        """Say everything again, in another manner."""
        manner = self._desk.manner
        self.head(say("pieces.title", manner=manner))
        self.none.setText(say("pieces.none", manner=manner))
        if "sets" in self.__dict__:
            self.sets.say_again()
        for material, heading in self.headings:
            heading.setText(_cloth(material, self._desk))
        self._shown_for = None

    @cached_property
    def sets(self) -> SetsRow:
        """The sets of allowances, over the list; made when first asked for."""
        # What the list is made of is loaded now and not when the window starts.
        from skirtwright.app.slips.sets_row import SetsRow

        made = SetsRow(self._desk.desk)
        made.gone.connect(self.gone)
        made.say_again()
        made.setContentsMargins(_FRAMED, 0, 0, 0)
        self.rows.insertWidget(0, made)
        return made

    def first_place(self) -> QWidget:
        """The choice of a set."""
        return self.sets.box

    def show_order(self, look: Look) -> None:
        """List the pieces of the order as it stands."""
        if self._shown_for is look:
            return
        self._shown_for = look
        sets = self.sets
        self._show_seams(look)
        wanted = [piece.name for piece in look.report.cut.listed]
        if wanted != list(self.pieces):
            self._lay_out(look)
        for piece in look.pieces:
            self.pieces[piece.name].show_piece(piece, look, self.colours)
        self.none.setVisible(not self.pieces)
        sets.setVisible(bool(self.pieces))
        sets.show_look(look)

    def _show_seams(self, look: Look) -> None:
        states = {state.name: state for state in self._desk.seams(look)}
        if list(states) != list(self.seams):
            clear(self.seam_rows)
            self.seams = {}
            for name in states:
                self.seams[name] = self._made_seam(name)
                self.seam_rows.addWidget(self.seams[name])
        for name, state in states.items():
            self.seams[name].show_state(state)
        tab_as_read(self.body)

    def _made_seam(self, name: Key) -> SeamRow:
        from skirtwright.app.slips.seam_row import SeamRow

        row = SeamRow(self._desk, name)
        row.grown.connect(self._grew)
        row.chosen.connect(lambda: self._bring_row(row))
        row.take_in_hand(name == self._in_hand)
        return row

    def _lay_out(self, look: Look) -> None:
        """Rows for the pieces there are; those that stay are kept as they are."""
        for _, heading in self.headings:
            self.rows.removeWidget(heading)
            heading.deleteLater()
        self.headings = []
        kept, self.pieces = self.pieces, {}
        for row in kept.values():
            self.rows.removeWidget(row)
        material, place = "", 3
        for piece in look.report.cut.listed:
            if piece.spec.material != material:
                material = piece.spec.material
                heading = QLabel(_cloth(material, self._desk))
                heading.setProperty("role", "subheading")
                heading.setWordWrap(True)
                heading.setContentsMargins(_FRAMED, 0, 0, 0)
                self.headings.append((material, heading))
                self.rows.insertWidget(place, heading)
                place += 1
            known = kept.pop(piece.name) if piece.name in kept else None
            row = known or self._made(piece.name)
            self.pieces[piece.name] = row
            self.rows.insertWidget(place, row)
            place += 1
        for lost in kept.values():
            lost.hide()
            lost.deleteLater()
        self._mark()
        tab_as_read(self.body)

    def _grew(self) -> None:
        tab_as_read(self.body)
        self.measure_again()

    def _made(self, name: str) -> PieceRow:
        from skirtwright.app.slips.piece_row import PieceRow

        row = PieceRow(self._desk, name)
        row.chosen.connect(lambda: self._choose(name))
        return row

    # Choosing

    def mark(self, piece: str) -> None:
        """Show which piece is chosen elsewhere, and have it in sight."""
        self._chosen = piece
        self._take_seam(None)
        self._mark()
        row = self.pieces.get(piece)
        if row is not None and self.isVisible():
            # Once the rows have their new places.
            QTimer.singleShot(0, self, lambda: self._in_sight(row))

    def seam_in_hand(self) -> SeamRow | None:
        """The row of the seam in hand, if one is."""
        return self.seams.get(self._in_hand) if self._in_hand else None

    def bring(self, piece: str, edge: str, *, notch: bool = False) -> None:
        """Put the seam of an edge in hand: its allowance, or its newest notch."""
        for row in self.seams.values():
            if (piece, edge) in row.keys:
                self._bring_row(row, notch=notch)

    def _bring_row(self, row: SeamRow, *, notch: bool = False) -> None:
        self._choose_seam(row)
        field = row.marks[-1] if notch and row.marks else row.first_field()
        if field is not None:
            field.line.setFocus(Qt.FocusReason.ShortcutFocusReason)
        QTimer.singleShot(0, self, lambda: self._in_sight(row))

    def _in_sight(self, widget: QWidget) -> None:
        self.scrolled.ensureWidgetVisible(widget, 0, 24)

    def _mark(self) -> None:
        for name, row in self.pieces.items():
            row.mark(name == self._chosen)

    def _choose(self, piece: str) -> None:
        if piece != self._chosen:
            self._chosen = piece
            self._mark()
        self._take_seam(None)
        self.chose.emit(piece)

    def _choose_seam(self, row: SeamRow) -> None:
        if self._chosen:
            self._chosen = ""
            self._mark()
        self._take_seam(row)
        self.chose_seam.emit(row.keys)

    def _take_seam(self, row: SeamRow | None) -> None:
        self._in_hand = row.name if row is not None else None
        # Going on by keys nothing folds away above: what comes next stays in its place.
        by_mouse = QApplication.mouseButtons() != Qt.MouseButton.NoButton
        for each in self.seams.values():
            each.take_in_hand(each is row, fold=by_mouse)

    def _focus_moved(self, _: QWidget | None, now: QWidget | None) -> None:
        """What has the keyboard is what is chosen."""
        if now is None or not self.isAncestorOf(now):
            return
        for seam in self.seams.values():
            if seam.isAncestorOf(now):
                if not seam.in_hand:
                    self._choose_seam(seam)
                return
        for name, row in self.pieces.items():
            if row.isAncestorOf(now):
                if name != self._chosen:
                    self._choose(name)
                return


def _cloth(material: str, desk: PieceDesk) -> str:
    words = material_words(material, desk.manner)
    return words[:1].upper() + words[1:]
