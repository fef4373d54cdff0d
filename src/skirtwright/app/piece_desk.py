"""What she does to single pieces, and how their edges stand: the desk for pieces."""

from __future__ import annotations

import math
from collections.abc import Sequence

from skirtwright.app.desk import Desk, with_unit
from skirtwright.app.seams import SeamState, seams_of
from skirtwright.app.shown_figures import shown, unit_shown
from skirtwright.job import piece_edits
from skirtwright.job.worktable import Look
from skirtwright.pieces.joined_edges import Key
from skirtwright.pieces.piece import Piece
from skirtwright.words import Manner, translate


class PieceDesk:
    """Changes to pieces; one that cannot be raises SkirtwrightError and leaves all."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk

    @property
    def manner(self) -> Manner:
        """How she is spoken to."""
        return self.desk.manner

    # How things stand

    def seams(self, look: Look) -> tuple[SeamState, ...]:
        """Seams, hems and other edges that have an allowance or can have one."""
        return seams_of(look, self.manner)

    def seam_of(self, piece: str, edge: str, look: Look) -> SeamState | None:
        """The seam in which an edge lies; None for a fold."""
        return next((s for s in self.seams(look) if (piece, edge) in s.edges), None)

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

    def set_allowance(self, keys: Sequence[Key], text: str | None) -> None:
        """An allowance as typed, on a seam or one edge of it; None for the style's.

        Args:
            keys: each piece, and what the allowance is kept under: an edge by its name.
            text: as typed; nothing is None.
        """
        if keys:
            kept, job = self._typed(text) or None, self.desk.job
            edited = piece_edits.set_allowance_of(job, keys, kept)
            self.desk.change_piece(edited, *(piece for piece, _ in keys))

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

    def add_notch_in_middle(self, piece: str, edge: str) -> None:
        """A notch half way along an edge."""
        cut = next(p for p in self.desk.look.pieces if p.name == piece)
        self.add_notch(piece, edge, cut.panel.edge(edge).chain.length / 2)

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
