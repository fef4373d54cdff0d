"""A seam: one allowance for all its edges, and the notches along it."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QFrame,
    QLabel,
    QVBoxLayout,
)

from skirtwright.app.fields import (
    Choosing,
    dress,
    link_button,
    role_label,
    sentence_label,
    tell,
)
from skirtwright.app.guard import guarded
from skirtwright.app.layouts import in_column, in_row
from skirtwright.app.piece_desk import PieceDesk
from skirtwright.app.seams import SeamAllowance, SeamNotch, SeamState
from skirtwright.app.shown_figures import length_about
from skirtwright.app.slips.allowance_field import AllowanceField, LengthField
from skirtwright.app.slips.slip import clear
from skirtwright.job.piece_changes import MOST_SNIPS
from skirtwright.pieces.joined_edges import Key
from skirtwright.problems import SkirtwrightError
from skirtwright.words import in_one_sentence, say


class NotchRow(LengthField):
    """A notch she placed: how far from the end it counts from, and how many snips."""

    def __init__(self, desk: PieceDesk, piece: str, number: int) -> None:
        def take(text: str | None) -> None:
            if text is None:
                self.remove()
            else:
                desk.move_notch(piece, number, text)

        super().__init__(desk, take, "−")
        self.piece, self.number = piece, number
        self.count = Choosing()
        for snips in range(1, MOST_SNIPS + 1):
            self.count.addItem(str(snips), snips)
        # Its words come after it is first shown.
        self.count.setSizeAdjustPolicy(Choosing.SizeAdjustPolicy.AdjustToContents)
        self.count.setMinimumContentsLength(1)
        self.count.activated.connect(self._count)
        self.grid.addWidget(self.count, 0, 0, Qt.AlignmentFlag.AlignLeft)
        # As it is read, and so by Tab: the number, then the length, then away.
        for column, widget in ((2, self.line), (3, self.unit), (4, self.button)):
            self.grid.addWidget(widget, 0, column)
        self.grid.addWidget(self.label, 1, 0, 1, 5)
        self.grid.addWidget(self.said, 2, 0, 1, 5)
        self.label.setProperty("role", "faint")
        self.line.set_back.connect(self.remove)
        self.button.clicked.connect(self.remove)

    def show_state(self, state: SeamNotch, seam: str) -> None:
        """Show the notch as it stands."""
        manner = self._desk.manner
        values = {"edge": seam, "from": state.begins}
        self.label.setText(say("cut.from", values, manner))
        self.name_line(say("pieces.notch_at", values, manner))
        words = say("pieces.notch_count", values, manner)
        self.count.setAccessibleName(words)
        self.count.setToolTip(words)
        for index in range(self.count.count()):
            snips = index + 1
            words = say(f"pieces.notch_of_{snips}", manner=manner)
            self.count.setItemText(index, words)
        self.count.setCurrentIndex(state.count - 1)
        off = say("pieces.notch_off", manner=manner)
        self.button.setAccessibleName(off)
        self.button.setToolTip(off)
        self.show_length(state.distance or 0.0, state.typed)

    def remove(self) -> None:
        """Take the notch away."""
        self._desk.remove_notch(self.piece, self.number)

    def _count(self, index: int) -> None:
        try:
            self._desk.count_notch(self.piece, self.number, index + 1)
        except SkirtwrightError as refused:
            tell(self.said, in_one_sentence(refused.problem, self._desk.manner))


class SeamRow(QFrame):
    """A seam, a hem or the like; in hand it shows each edge and the notches.

    Signals:
        grown: it has more rows, or fewer.
        chosen: it was clicked.
    """

    grown = Signal()
    chosen = Signal()

    def __init__(self, desk: PieceDesk, name: Key) -> None:
        super().__init__()
        self._desk, self.name = desk, name
        self._state: SeamState | None = None
        self.in_hand = self.is_open = False
        self.setProperty("piece", True)
        self.title, self.pieces = QLabel(), QLabel()
        self.title.setWordWrap(True)
        self.pieces.setWordWrap(True)
        self.pieces.setProperty("role", "faint")
        self.fields: dict[tuple[Key, ...], AllowanceField] = {}
        self.singles: dict[tuple[Key, ...], AllowanceField] = {}
        self.marks: list[NotchRow] = []
        self.alone, self.add = link_button(), link_button()
        self.alone.setCheckable(True)
        self.alone.toggled.connect(lambda _: self._again())
        self.add.clicked.connect(self.add_notch)
        self.style_marks = role_label("faint", wraps=True)
        self.said = sentence_label("wrong")
        self._width, self._runs = QVBoxLayout(), QVBoxLayout()
        self._ones, self._notches = QVBoxLayout(), QVBoxLayout()
        self._arrange()

    def _arrange(self) -> None:
        named = in_column(self.title, self.pieces, 1, spacing=0)
        head = in_row(spacing=2)
        head.addLayout(named, 1)
        head.addLayout(self._width)
        column = in_column(head, on=self, spacing=2, margins=(8, 6, 0, 6))
        for rows in (self._runs, self._ones, self._notches):
            rows.setSpacing(3)
            column.addLayout(rows)
        column.addWidget(self.style_marks)
        for link in (self.alone, self.add):
            column.addWidget(link, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self.said)

    # Showing

    def show_state(self, state: SeamState) -> None:
        """Show the seam as it stands."""
        manner, self._state = self._desk.manner, state
        self.title.setText(state.title)
        self.pieces.setText(state.pieces)
        self.pieces.setVisible(len(state.pieces) > 0)
        self.alone.setText(say("cut.one_alone", manner=manner))
        self.add.setText(say("pieces.add_notch", manner=manner))
        named = {"edge": state.title}
        self.alone.setAccessibleName(say("cut.one_alone_of", named, manner))
        self.add.setAccessibleName(say("pieces.add_notch_on", named, manner))
        shows_ones = self.alone.isChecked() or any(a.unlike for a in state.allowances)
        several = len(state.edges) > 1
        ones = [
            SeamAllowance(allowance.label, (part,))
            for allowance in state.allowances
            for part in allowance.parts
            if several and shows_ones
        ]
        by_hand = [notch for notch in state.notches if notch.piece and self.is_open]
        beside = self._width if len(state.allowances) < 2 else self._runs
        grown = self._lay_out(beside, self.fields, list(state.allowances))
        grown = self._lay_out(self._ones, self.singles, ones) or grown
        grown = self._lay_out_notches(by_hand) or grown
        for field, now in zip(self.fields.values(), state.allowances, strict=True):
            field.show_allowance(now, state.title, now.label)
        for field, now in zip(self.singles.values(), ones, strict=True):
            label = ", ".join(w for w in (now.parts[0].title, now.label) if w)
            field.show_allowance(now, state.title, label)
        for mark, notch in zip(self.marks, by_hand, strict=True):
            mark.show_state(notch, state.title)
        self.alone.setVisible(self.is_open and several)
        self.add.setVisible(self.is_open and state.sewn)
        words = self._of_the_style(state) if self.is_open else ""
        self.style_marks.setText(words)
        self.style_marks.setVisible(bool(words))
        if grown:
            self.grown.emit()

    def _of_the_style(self, state: SeamState) -> str:
        """Where the style's own notches are."""
        manner = self._desk.manner
        by_side: dict[str, list[SeamNotch]] = {}
        for notch in state.notches:
            if not notch.piece:
                by_side.setdefault(notch.side, []).append(notch)
        lines = []
        for side, own in by_side.items():
            at = ", ".join(length_about(notch.distance or 0.0, manner) for notch in own)
            values = {"at": at, "unit": manner.unit, "from": own[0].begins}
            message = f"cut.notches_at_{side}" if side else "cut.notches_at"
            lines.append(say(message, values, manner))
        return "\n".join(lines)

    def take_in_hand(self, on: bool, *, fold: bool = True) -> None:
        """Show all there is of it; or let go of it.

        Args:
            on: which.
            fold: only its allowance is shown once it is let go of.
        """
        if on != self.in_hand:
            self.in_hand = on
            dress(self, "chosen", on)
        is_open = on or (self.is_open and not fold)
        if is_open != self.is_open:
            self.is_open = is_open
            self._again()

    def _again(self) -> None:
        if self._state is not None:
            self.show_state(self._state)
            self.grown.emit()

    @property
    def keys(self) -> tuple[Key, ...]:
        """Piece and edge of all it is about."""
        return self._state.edges if self._state else ()

    def first_field(self) -> AllowanceField | None:
        """The field that is meant when the seam is."""
        return next(reversed(self.fields.values()), None)

    def _lay_out(
        self,
        rows: QVBoxLayout,
        held: dict[tuple[Key, ...], AllowanceField],
        wanted: list[SeamAllowance],
    ) -> bool:
        """Fields for what there is; True when they are others than before."""
        keys = [tuple((p.piece, p.key) for p in one.parts) for one in wanted]
        if keys == list(held):
            return False
        for column in (self._width, self._runs) if held is self.fields else (rows,):
            clear(column)
        held.clear()
        for each in keys:
            held[each] = AllowanceField(self._desk, each)
            rows.addWidget(held[each])
            # Its height counts at once, not when Qt next comes by.
            held[each].show()
        return True

    def _lay_out_notches(self, by_hand: list[SeamNotch]) -> bool:
        wanted = [(notch.piece, notch.number) for notch in by_hand]
        if wanted == [(mark.piece, mark.number) for mark in self.marks]:
            return False
        held = self.window().focusWidget()
        if held is not None and any(m.isAncestorOf(held) for m in self.marks):
            # What took the place of a thing taken away is what made it.
            self.add.setFocus(Qt.FocusReason.OtherFocusReason)
        clear(self._notches)
        self.marks = [NotchRow(self._desk, *each) for each in wanted]
        for mark in self.marks:
            self._notches.addWidget(mark)
            mark.show()
        return True

    # Doing

    def add_notch(self) -> None:
        """A notch in the middle, to be moved from there; its partner has it too."""
        if self._state is None:
            return
        piece, edge = self._state.edges[0]
        try:
            self._desk.add_notch_in_middle(piece, edge)
        except SkirtwrightError as refused:
            words = in_one_sentence(refused.problem, self._desk.manner)
            tell(self.said, words, "wrong")
            return
        tell(self.said, "", "wrong")
        if self.marks:
            self.marks[-1].line.setFocus(Qt.FocusReason.OtherFocusReason)

    @guarded()
    def mousePressEvent(self, event: object) -> None:
        self.chosen.emit()
