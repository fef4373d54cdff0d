"""What was put on paper of an order: when, how, from which figures, where it lay.

The record is of what happened: no edit changes it, and undoing one leaves it. Of the
last print, and of the last on sheets, the draft is kept too, so that its pieces can be
worked once more and held against those of today; of earlier ones only the figures.
"""

from __future__ import annotations

import time
from collections.abc import Sequence
from datetime import date
from typing import Literal

from skirtwright.draft.alterations import MOST_ALTERATIONS, Alteration
from skirtwright.draft.draft import Draft
from skirtwright.job.piece_changes import PieceChanges
from skirtwright.measures.card import Card
from skirtwright.measures.records import Record, ruled
from skirtwright.measures.units import Unit
from skirtwright.pieces.sheets_laid import SheetsLaid
from skirtwright.problems import BadInput

How = Literal["sheets", "roll", "projector", "plotter", "drawing"]
"""Sheets to tape, one long page, thrown on cloth, for a machine, a drawing."""

AS_NOW = "as now"
"""In a file: the draft of the print is the order's own."""

MOST_PRINTS = 50
"""Prints of one order that are kept; the earliest go first."""

MOST_PIECES = 1000
_LONGEST = 1e6


def today() -> str:
    """Her own day, whatever her clock's zone is set to."""
    return time.strftime("%Y-%m-%d")


class Print(Record):
    """One print, or one file saved to be printed.

    Attributes:
        on: the day, such as 2026-11-28.
        drawn: the pieces on it, each with the length of its cutting line, mm: by it is
            known whether they still come out as they did.
        card: whose measurements, as typed.
        unit: of numbers typed without one in `amounts` and `pieces`.
        choices, amounts, pieces, fitting: as they were then, see `Job`.
        laid: where the pieces lay, of a print at full size on sheets.
        draft: the style as it was; None where it is kept no longer.
    """

    on: str
    how: How
    drawn: dict[str, float] = ruled(max_length=MOST_PIECES)
    card: Card
    unit: Unit = "cm"
    choices: dict[str, str] = {}
    amounts: dict[str, str] = {}
    pieces: tuple[PieceChanges, ...] = ()
    fitting: tuple[Alteration, ...] = ruled(default=(), max_length=MOST_ALTERATIONS)
    laid: SheetsLaid | None = None
    draft: Draft | Literal["as now"] | None = None

    def refuse(self) -> None:
        """Refuse a day, or a length of a line, that is none."""
        try:
            day = date.fromisoformat(self.on).isoformat()
        except ValueError:
            day = ""
        if day != self.on:
            raise BadInput("file.print_unread", self.on, text=self.on)
        for name, length in self.drawn.items():
            if not 0 <= length <= _LONGEST:
                raise BadInput("file.print_unread", name, text=str(length))


def with_print(prints: Sequence[Print], made: Print) -> tuple[Print, ...]:
    """The record with another print at its end."""
    every = [*prints, made][-MOST_PRINTS:]
    kept = (every[-1], last_on_sheets(every))
    return tuple(
        one if one in kept or one.draft is None else one.replace(draft=None)
        for one in every
    )


def last_on_sheets(prints: Sequence[Print]) -> Print | None:
    """The last print whose pieces could be laid once more as they lay."""
    return next((one for one in reversed(prints) if one.laid), None)


def printed_whole(one: Print, prints: Sequence[Print]) -> bool:
    """Whether a print surely took all its sheets, not only those that had changed.

    What changed is laid as it lay: then an earlier print has pieces at the same places.
    """
    if one.laid is None:
        return False
    earlier = prints[: next(n for n, each in enumerate(prints) if each is one)]
    laid = {spot for each in earlier if each.laid for spot in each.laid.pieces}
    return laid.isdisjoint(one.laid.pieces)
