"""Pieces in the window: the list, the table and the slip beside an edge, as one."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property, partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt

from skirtwright.app.canvas.choosing import edge_of
from skirtwright.app.canvas.pointing import Found
from skirtwright.app.line import CLOSE
from skirtwright.app.window_frame import Frame
from skirtwright.job.job import Job
from skirtwright.job.piece_changes import PieceChanges
from skirtwright.problems import SkirtwrightError
from skirtwright.words import in_one_sentence, say

if TYPE_CHECKING:
    from skirtwright.app.slips.cut import CutSlip
    from skirtwright.app.slips.edge_slip import EdgeSlip
    from skirtwright.app.slips.seam_row import SeamRow
    from skirtwright.job.allowance_sets import AllowanceSet


class Piecework(QObject):
    """What is chosen in one place shows in the others.

    Attributes:
        desk: what she does to pieces goes through it.
    """

    def __init__(self, window: Frame) -> None:
        super().__init__(window)
        self._window = window
        self.desk = window.piece_desk
        window.table.picked.connect(self._picked)
        window.table.notch_wanted.connect(self._notch)
        window.desk.looked.connect(self._moved)

    @cached_property
    def slip(self) -> EdgeSlip:
        """Beside an edge that was clicked; made when the first is."""
        from skirtwright.app.slips.edge_slip import EdgeSlip

        made = EdgeSlip(self.desk, self._window.table)
        made.closed.connect(self._closed)
        made.settled.connect(self._window.pointed.fit)
        self._window.desk.looked.connect(made.show_look)
        self._window.table.camera.turned.connect(made.settle)
        return made

    def _put_slip_away(self) -> None:
        if "slip" in self.__dict__:
            self.slip.done()

    def connect_slip(self, slip: CutSlip) -> None:
        """Hear of what is chosen in the slip of pieces."""
        slip.chose.connect(partial(self._window.table.choose_piece, sight=True))
        slip.chose_seam.connect(self._window.table.choose_edges)
        slip.gone.connect(self._tell_gone)

    @property
    def _open(self) -> CutSlip | None:
        slips = self._window.slips
        return slips.cut if slips.open_name == "cut" else None

    def _picked(self, found: Found | None, at: tuple[float, float]) -> None:
        edge = edge_of(found)
        piece = found.laid.name if found and found.laid.kind == "piece" else ""
        if edge is None or self._is_on_fold(*edge):
            self._put_slip_away()
            if self._open:
                self._open.mark(piece)
        elif self._open:
            self._open.bring(*edge)
            self._window.table.chosen = None
        else:
            table = self._window.table
            place = table.view.table(*at)
            self.slip.open(*edge, lambda: table.view.screen(place))
            seam = self.desk.seam_of(*edge, self._window.desk.look)
            table.choose_edges(seam.edges if seam else ())

    def _is_on_fold(self, piece: str, edge: str) -> bool:
        data = self._window.desk.look.report.cut.asked.get(piece)
        return data is None or edge in data.folds

    def _notch(self, piece: str, edge: str, distance: float) -> None:
        """A notch is wanted at a place of an edge."""
        manner = self._window.settings.manner
        try:
            self.desk.add_notch(piece, edge, distance)
        except SkirtwrightError as refused:
            words = in_one_sentence(refused.problem, manner)
        else:
            done = self._window.desk.history.undoText()
            words = say("pieces.done", {"what": done}, manner)
            self._light(piece, edge)
        self._window.point(words)

    def _light(self, piece: str, edge: str) -> None:
        """Show the seam of an edge with its notches, a new one too."""
        if self._open:
            self._open.bring(piece, edge, notch=True)
            return
        table, chosen = self._window.table, self._window.table.chosen
        seam = self.desk.seam_of(piece, edge, self._window.desk.look)
        table.choose_edges(seam.edges if seam else ())
        table.chosen = chosen

    def _row(self) -> SeamRow | None:
        """The seam in hand: in the slip of pieces, or beside its edge."""
        if self._open:
            return self._open.seam_in_hand()
        return self.slip.row if "slip" in self.__dict__ else None

    def add_notch(self) -> None:
        """A notch on the edge that is pointed at or chosen, or the seam in hand."""
        row, held = self._row(), self._window.focusWidget()
        if row is not None and held is not None and row.isAncestorOf(held):
            row.add_notch()
        elif self._window.table.ask_notch():
            return
        elif row is not None:
            row.add_notch()
        else:
            words = say("pointed.no_edge", manner=self._window.settings.manner)
            self._window.point(words)

    def _closed(self) -> None:
        table = self._window.table
        if self._window.isActiveWindow() and not table.hasFocus():
            table.setFocus(Qt.FocusReason.OtherFocusReason)

    def _moved(self) -> None:
        """The slip is not in the way of a pull."""
        if self._window.table.pull is not None:
            self._put_slip_away()

    def _tell_gone(self, known: AllowanceSet) -> None:
        """A set of hers is away; one press brings it back."""
        manner = self._window.settings.manner
        words = say("pieces.set_gone", {"title": known.title}, manner)
        back = {"pieces.set_bring_back": partial(self._bring_back, known)}
        self._window.line.tell("set_gone", words, {**back, **CLOSE})

    def _bring_back(self, known: AllowanceSet) -> None:
        from skirtwright.job import allowance_sets

        try:
            kept = allowance_sets.kept()
            allowance_sets.keep(allowance_sets.with_set(kept, known))
        except SkirtwrightError as refused:
            words = in_one_sentence(refused.problem, self._window.settings.manner)
            self._window.point(words)
        self._window.slips.cut.sets.again()

    def show_changes(self, before: Job, after: Job) -> None:
        """Have the piece in sight that differs between two orders."""
        changed = [
            n
            for n, own in _changes_of(after).items()
            if _changes_of(before).get(n) != own
        ]
        changed += [n for n in _changes_of(before) if n not in _changes_of(after)]
        if len(changed) == 1:
            if self._open:
                self._open.mark(changed[0])
            self._window.table.choose_piece(changed[0])


def _changes_of(job: Job) -> Mapping[str, PieceChanges]:
    return {own.piece: own for own in job.pieces}
