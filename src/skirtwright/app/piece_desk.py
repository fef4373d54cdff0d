"""What she does to single pieces, and how their edges stand: the desk for pieces."""

from __future__ import annotations

import math
from dataclasses import dataclass

from skirtwright.app.desk import Desk, with_unit
from skirtwright.app.fields import shown, unit_shown
from skirtwright.draft.draft import PieceOf
from skirtwright.job import piece_edits
from skirtwright.job.edits import Edited
from skirtwright.job.job import PieceChanges
from skirtwright.job.worktable import Look
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.piece_settings import allowance_runs
from skirtwright.pieces.spec import AllowanceRun
from skirtwright.pieces.wording.edge_names import edge_title
from skirtwright.problems import SkirtwrightError
from skirtwright.words import Manner, say, translate


@dataclass(frozen=True)
class AllowanceState:
    """One allowance as it stands.

    Attributes:
        key: what it is kept under.
        label: which run of the edge it is; empty for the whole edge.
        width: mm.
        default: of the style, mm.
        typed: as she typed it; empty where she did not.
    """

    key: str
    label: str
    width: float
    default: float
    typed: str


@dataclass(frozen=True)
class NotchState:
    """A notch she placed: which of the piece's it is, where, and how many snips."""

    number: int
    distance: float | None
    typed: str
    count: int


@dataclass(frozen=True)
class EdgeState:
    """A seam edge of a piece as it stands; `length` in mm."""

    edge: str
    title: str
    length: float
    allowances: tuple[AllowanceState, ...]
    notches: tuple[NotchState, ...]


class PieceDesk:
    """Changes to pieces; each raises SkirtwrightError and leaves all where it cannot.

    Attributes:
        desk: holds the order.
    """

    def __init__(self, desk: Desk) -> None:
        self.desk = desk

    @property
    def manner(self) -> Manner:
        """How she is spoken to."""
        return self.desk.manner

    def own(self, piece: str) -> PieceChanges:
        """What she set for a piece."""
        return self.desk.job.piece(piece)

    # How things stand

    def edges(self, piece: Piece, look: Look) -> tuple[EdgeState, ...]:
        """The edges of a piece that have an allowance or can have one."""
        data = look.report.cut.asked.get(piece.name)
        if data is None:
            return ()
        names = [edge.name for edge in piece.panel.edges]
        return tuple(
            self.edge(piece, name, look) for name in names if name not in data.folds
        )

    def edge(self, piece: Piece, name: str, look: Look) -> EdgeState:
        """One edge of a piece."""
        data = look.report.cut.asked[piece.name]
        chain = piece.panel.edge(name).chain
        return EdgeState(
            name,
            edge_title(name, self.manner),
            chain.length,
            self._allowances(data, name, look),
            self._notches(piece.name, name, look),
        )

    def _allowances(
        self, data: PieceOf, edge: str, look: Look
    ) -> tuple[AllowanceState, ...]:
        own = look.job.piece(data.name).allowances
        try:
            now = allowance_runs(look.worked, data, edge, own)
            style = dict(allowance_runs(look.worked, data, edge, {}))
        except SkirtwrightError:
            return ()
        found = []
        for number, (key, run) in enumerate(now or ((edge, AllowanceRun(None, 0.0)),)):
            ordinary = style.get(key) or style.get(edge)
            if ordinary is None and style:
                ordinary = list(style.values())[min(number, len(style) - 1)]
            default = ordinary.width if ordinary else 0.0
            label = self._run_label(run, number) if len(now) > 1 else ""
            typed = own.get(key, "")
            found.append(AllowanceState(key, label, run.width, default, typed))
        return tuple(found)

    def _run_label(self, run: AllowanceRun, number: int) -> str:
        if run.until is None:
            return say("pieces.run_rest", manner=self.manner)
        message = "pieces.run_to" if number else "pieces.run_first"
        return say(message, {"length": run.until}, self.manner)

    def _notches(self, piece: str, edge: str, look: Look) -> tuple[NotchState, ...]:
        found = []
        for number, notch in enumerate(look.job.piece(piece).notches):
            if notch.edge != edge:
                continue
            try:
                distance: float | None = look.worked.read_typed(notch.at)
            except SkirtwrightError:
                distance = None
            found.append(NotchState(number, distance, notch.at, notch.count))
        return tuple(found)

    def title(self, piece: Piece) -> str:
        """What a piece is called."""
        return translate(piece.spec.title, self.manner)

    # What she does

    def rename(self, piece: str, title: str) -> None:
        """A name of her own; nothing, or the style's, for the style's."""
        data = self.desk.look.report.cut.asked.get(piece)
        styles_own = translate(data.title, self.manner) if data else ""
        kept = "" if title.strip() == styles_own else title
        self.desk.change(piece_edits.rename_piece(self.desk.job, piece, kept))

    def show(self, piece: str, on: bool) -> None:
        """Show a piece, or leave it off table and paper."""
        self.desk.change(piece_edits.show_piece(self.desk.job, piece, on))

    def set_allowance(
        self, piece: str, key: str, text: str | None, *, alone: bool = False
    ) -> None:
        """An allowance as typed, on both edges of a seam; None for the style's.

        Args:
            piece: the piece.
            key: what the allowance is kept under; a whole edge by its name.
            text: as typed; nothing is None.
            alone: this edge and not the one that is sewn to it.
        """
        kept = self._typed(text) or None
        edited = piece_edits.set_allowance(self.desk.job, piece, key, kept)
        partner = None if alone else self.partner(piece, key)
        if partner is not None:
            other = piece_edits.set_allowance(edited.job, *partner, kept)
            edited = Edited(other.job, edited.name, edited.values)
        self.desk.change_piece(edited, piece, *(partner or ())[:1])

    def partner(self, piece: str, edge: str) -> tuple[str, str] | None:
        """The edge a whole edge is sewn to, edge on edge; None where none is."""
        cut = self.desk.look.report.cut
        for walked in cut.seams:
            runs = [side[0] for side in walked.seam.sides if len(side) == 1]
            named = [(run.piece, run.edge) for run in runs]
            if len(named) == 2 and (piece, edge) in named and named[0] != named[1]:
                other = named[1 - named.index((piece, edge))]
                return other if other[0] in cut.asked else None
        return None

    def add_notch(self, piece: str, edge: str, distance: float) -> None:
        """A notch at a walked distance, mm, brought to a round figure of her unit."""
        manner = self.manner
        step = 25.4 / manner.fraction if manner.unit == "in" else 1.0
        cut = next(p for p in self.desk.look.pieces if p.name == piece)
        most = math.floor(cut.panel.edge(edge).chain.length / step)
        value = min(round(distance / step), most) * step
        at = f"{shown('length', value, manner)} {unit_shown('length', manner)}"
        edited = piece_edits.add_notch(self.desk.job, piece, edge, at)
        self.desk.change_piece(edited, piece)

    def move_notch(self, piece: str, number: int, text: str) -> None:
        """Another distance for a notch, as typed."""
        kept = self._typed(text)
        edited = piece_edits.change_notch(self.desk.job, piece, number, at=kept)
        self.desk.change_piece(edited, piece)

    def count_notch(self, piece: str, number: int, count: int) -> None:
        """Another number of snips for a notch."""
        edited = piece_edits.change_notch(self.desk.job, piece, number, count=count)
        self.desk.change_piece(edited, piece)

    def remove_notch(self, piece: str, number: int) -> None:
        """Take a notch away."""
        self.desk.change(piece_edits.remove_notch(self.desk.job, piece, number))

    def _typed(self, text: str | None) -> str:
        """What was typed, bare numbers in the unit she sees."""
        return with_unit(text or "", self.manner.unit, self.desk.job.unit)
