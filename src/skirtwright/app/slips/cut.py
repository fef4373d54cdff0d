"""The list of pieces, by cloth: shown or hidden, their names, edges and allowances."""

from __future__ import annotations

from functools import cached_property
from itertools import pairwise
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QApplication, QLabel, QWidget

from skirtwright.app.piece_desk import PieceDesk
from skirtwright.app.slips.slip import Slip
from skirtwright.job.worktable import Look
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.wording.labels import material_words
from skirtwright.words import say

if TYPE_CHECKING:
    from skirtwright.app.slips.piece_row import PieceRow
    from skirtwright.app.slips.sets_row import SetsRow

_CLOTHS = ("shell", "lining", "interfacing")


class CutSlip(Slip):
    """Every piece that is cut; worked out only while it is open.

    Signals:
        chose: a piece is in hand: its name, and that of the edge in hand, or nothing.
        grown: it may need another width.
        gone: a set of hers was taken away; it.
    """

    chose = Signal(str, str)
    grown = Signal()
    gone = Signal(object)

    def __init__(self, desk: PieceDesk) -> None:
        super().__init__(desk.desk)
        self._desk = desk
        self._shown_for: Look | None = None
        self._chosen = ("", "")
        self.pieces: dict[str, PieceRow] = {}
        self.headings: list[tuple[str, QLabel]] = []
        self.none = QLabel()
        self.none.setWordWrap(True)
        self.rows.setSpacing(6)
        self.rows.addWidget(self.none)
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
        from skirtwright.app.set_desk import SetDesk
        from skirtwright.app.slips.sets_row import SetsRow

        made = SetsRow(SetDesk(self._desk.desk))
        made.gone.connect(self.gone)
        made.say_again()
        self.rows.insertWidget(0, made)
        return made

    def first_place(self) -> QWidget:
        """The choice of a set."""
        return self.sets.box

    def show_look(self, look: Look) -> None:
        """Follow the order while nothing is pulled."""
        if look is self._desk.desk.look:
            self.fill()

    def fill(self) -> None:
        """List the pieces of the order as it stands."""
        look = self._desk.desk.look
        if self._shown_for is look:
            return
        self._shown_for = look
        sets = self.sets
        wanted = [piece.name for piece in _in_order(look)]
        if wanted != list(self.pieces):
            self._lay_out(look)
        for piece in look.pieces:
            self.pieces[piece.name].show_piece(piece, look, self.colours)
        self.none.setVisible(not self.pieces)
        sets.setVisible(bool(self.pieces))
        sets.show_look(look)
        self.grown.emit()

    def _lay_out(self, look: Look) -> None:
        """Rows for the pieces there are; those that stay are kept as they are."""
        for _, heading in self.headings:
            self.rows.removeWidget(heading)
            heading.deleteLater()
        self.headings = []
        kept, self.pieces = self.pieces, {}
        for row in kept.values():
            self.rows.removeWidget(row)
        material, place = "", 2
        for piece in _in_order(look):
            if piece.spec.material != material:
                material = piece.spec.material
                heading = QLabel(_cloth(material, self._desk))
                heading.setProperty("role", "subheading")
                heading.setWordWrap(True)
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
        self._order_keys()

    def _grew(self) -> None:
        self._order_keys()
        self.grown.emit()

    def _order_keys(self) -> None:
        """Tab goes as she reads, whatever was made last."""
        order = self.sets.in_reading_order()
        for row in self.pieces.values():
            order += row.in_reading_order()
        for one, other in pairwise(order):
            QWidget.setTabOrder(one, other)

    def _made(self, name: str) -> PieceRow:
        from skirtwright.app.slips.piece_row import PieceRow

        row = PieceRow(self._desk, name)
        row.chosen.connect(lambda: self._choose(name, ""))
        row.grown.connect(self._grew)
        return row

    # Choosing

    def mark(self, piece: str, edge: str = "") -> None:
        """Show which piece, or edge, is chosen elsewhere, and have it in sight."""
        self._chosen = (piece, edge)
        self._mark()
        row = self.pieces.get(piece)
        if row is not None and self.isVisible():
            if edge:
                row.unfold()
            held: QWidget = row.edges.get(edge, row)
            # Once the rows have their new places.
            QTimer.singleShot(0, self, lambda: self._in_sight(held))

    def bring(self, piece: str, edge: str) -> None:
        """Put the allowance of an edge in hand."""
        self.mark(piece, edge)
        row = self.pieces.get(piece)
        held = row.edges.get(edge) if row else None
        field = held.first_field() if held else None
        if field is not None:
            field.line.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _in_sight(self, widget: QWidget) -> None:
        self.scrolled.ensureWidgetVisible(widget, 0, 24)

    def _mark(self) -> None:
        for name, row in self.pieces.items():
            row.mark(name == self._chosen[0])

    def _choose(self, piece: str, edge: str) -> None:
        if (piece, edge) != self._chosen:
            self._chosen = (piece, edge)
            self._mark()
        self.chose.emit(piece, edge)

    def _focus_moved(self, _: QWidget | None, now: QWidget | None) -> None:
        """What has the keyboard is what is chosen."""
        if now is None or not self.isAncestorOf(now):
            return
        for name, row in self.pieces.items():
            if row.isAncestorOf(now):
                edge = next(
                    (e for e, r in row.edges.items() if r.isAncestorOf(now)), ""
                )
                if (name, edge) != self._chosen:
                    self._choose(name, edge)
                return


def _in_order(look: Look) -> list[Piece]:
    """The pieces by cloth, each cloth's in the style's order."""

    def rank(piece: Piece) -> int:
        material = piece.spec.material
        return _CLOTHS.index(material) if material in _CLOTHS else len(_CLOTHS)

    return sorted(look.pieces, key=rank)


def _cloth(material: str, desk: PieceDesk) -> str:
    words = material_words(material, desk.manner)
    return words[:1].upper() + words[1:]
