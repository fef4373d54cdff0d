"""The record of prints on the command line: printing from it, and adding to it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from skirtwright.export import printing
from skirtwright.export.print_job import PrintJob
from skirtwright.export.print_media import paper_named
from skirtwright.export.printing import PrintBefore, Printing
from skirtwright.job import file
from skirtwright.job.changed import changed_since
from skirtwright.job.job import Job
from skirtwright.job.prints import How, last_on_sheets, printed_whole
from skirtwright.job.worktable import Look, Worktable
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.sheets_laid import SheetsLaid
from skirtwright.problems import Refused
from skirtwright.words import Manner, say


@dataclass(frozen=True)
class OnSheets:
    """A print on sheets to tape.

    Attributes:
        told: what changed since the print before, where that was asked for.
        record: the pieces on it, and how they lie.
    """

    data: bytes
    told: tuple[str, ...]
    record: tuple[Iterable[Piece], SheetsLaid | None]


def on_sheets(
    look: Look, wanted: Printing, date: str, manner: Manner, *, changed: bool
) -> OnSheets:
    """An order on sheets to tape: all of them, or those that changed.

    Raises:
        Refused: what changed is asked for, and no print on sheets is recorded.
        SkirtwrightError: it cannot be printed so.
    """
    before, told = _last_print(look, manner) if changed else (None, ())
    job = PrintJob(look.report, look.job.card.name, date, wanted, manner, before)
    blocks = job.blocks()
    data = job.pdf(blocks)
    tiling, how = blocks.tilings[0], wanted
    if before is not None:
        how = before.printed_so(wanted)
        told = (*told, printing.changed_said(tiling, before, manner))
    else:
        told = (_sheets_told(job, blocks.sheets),)
    pieces = printing.pieces_printed(look.report, how, blocks)
    return OnSheets(data, told, (pieces, printing.laid_of(tiling, how)))


def _sheets_told(job: PrintJob, sheets: int) -> str:
    """How many sheets are printed; where all are, how many other ways take."""
    values: dict[str, object] = {
        "sheets": sheets,
        "paper": paper_named(job.printing.paper).name,
    }
    chosen = printing.numbers_in(job.printing.sheets, sheets)
    if chosen:
        return say("cli.sheets_chosen", {"chosen": len(chosen), **values}, job.manner)
    counts = {**job.sheet_counts(), job.printing.laying: sheets}
    values |= {str(way): count for way, count in counts.items()}
    return say("cli.sheets_taken", values, job.manner)


def _last_print(look: Look, manner: Manner) -> tuple[PrintBefore, tuple[str, ...]]:
    """The last print on sheets, and what changed since."""
    one = last_on_sheets(look.job.prints)
    job = look.job.as_printed(one) if one else None
    if one is None or one.laid is None or job is None:
        raise Refused("print.none_before")
    then = Worktable().look(job)
    phrases = changed_since(one, then, look).phrases()
    whole = printed_whole(one, look.job.prints)
    told = (f"  {phrase.said(manner)}" for phrase in phrases)
    return (
        PrintBefore(then.report, one.laid, one.drawn, one.on, whole),
        (say("changed.since", {"on": one.on}, manner), *told),
    )


def recorded(
    place: Path | None,
    job: Job,
    on: str,
    how: How,
    pieces: Iterable[Piece],
    laid: SheetsLaid | None = None,
) -> tuple[Callable[[], None], ...]:
    """What saves the order with a print in its record, where that is asked for."""
    if place is None:
        return ()
    return (partial(file.save, job.printed(on, how, pieces, laid), place),)


def recorded_said(
    place: Path | None, laid: SheetsLaid | None, manner: Manner
) -> tuple[str, ...]:
    """That no later print takes up a recorded one, where that is so."""
    taken_up = place is None or laid is not None
    return () if taken_up else (say("cli.record_not_laid", manner=manner),)
