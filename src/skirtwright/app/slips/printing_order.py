"""What she wants printed, counted before it is written; no widgets here."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, Literal

from skirtwright.app.slips.nesting_choice import Sizes
from skirtwright.export.full_size import FullSize
from skirtwright.export.nested import Nest
from skirtwright.export.plotter import Plot
from skirtwright.export.print_job import PrintJob
from skirtwright.export.printing import PrintBefore, Printing, numbers_in
from skirtwright.export.sheet import Sheet
from skirtwright.export.tiles import Blocks, Tiling
from skirtwright.job.prints import today
from skirtwright.job.worktable import Look
from skirtwright.problems import SkirtwrightError
from skirtwright.words import Manner, say

Kind = Literal["sheets", "roll", "projector", "plotter"]
"""Sheets to tape, one long page, a page to throw on cloth, a file for a machine."""

KINDS: tuple[Kind, ...] = ("sheets", "roll", "projector", "plotter")

Laid = Blocks | FullSize | Sheet | Plot
"""Pieces where they will lie on paper, for each kind."""

SUFFIXES = {"sheets": ".pdf", "roll": ".pdf", "projector": ".pdf", "plotter": ".plt"}


@dataclass(frozen=True)
class Wanted:
    """How an order is to be put on paper.

    Attributes:
        printing: pieces, lines, scale, and all that concerns sheets.
        roll: of the long page: a name, or a width as typed.
        plotter: a machine's name.
        plotter_roll: in the machine, likewise; None for the machine's own.
        before: a print on sheets of which only what changed is printed again.
        sizes: to be drawn over one another, in place of the order's own.
    """

    kind: Kind = "sheets"
    printing: Printing = field(default_factory=Printing)
    roll: str = "914mm"
    plotter: str = "pen"
    plotter_roll: str | None = None
    before: PrintBefore | None = None
    sizes: Sizes | None = None

    def nested(self, nest: Nest) -> Wanted:
        """The same with its sizes worked."""
        return replace(self, printing=replace(self.printing, nest=nest))


@dataclass(frozen=True)
class Counted:
    """What an order takes.

    Attributes:
        said: how much, in a few words.
        more: how it lies, in a sentence.
    """

    laid: Laid
    said: str
    more: str


@dataclass(frozen=True)
class Written:
    """A file, not yet on disk.

    Attributes:
        look: of the order then.
        data: the file.
    """

    path: Path
    wanted: Wanted
    look: Look
    counted: Counted
    data: bytes

    @property
    def in_part(self) -> bool:
        """Whether it is only some sheets of an order: that is no print to keep."""
        blocks, wanted = self.counted.laid, self.wanted
        alone = wanted.sizes is None and wanted.before is None
        if not (isinstance(blocks, Blocks) and alone):
            return False
        chosen = numbers_in(wanted.printing.sheets, blocks.sheets)
        return 0 < len(chosen) < blocks.sheets


def count(wanted: Wanted, look: Look, manner: Manner) -> Counted:
    """What an order takes, before anything is written.

    Raises:
        SkirtwrightError: it cannot be printed so, or not at all.
    """
    _check(look)
    how = {
        "sheets": _count_sheets,
        "roll": _count_roll,
        "projector": _count_projector,
        "plotter": _count_plotter,
    }[wanted.kind]
    return how(wanted, look, manner)


def written(wanted: Wanted, look: Look, manner: Manner, counted: Counted) -> bytes:
    """The file, as the command line writes it; what was counted is not laid again.

    Raises:
        SkirtwrightError: it cannot be printed so, or not at all.
    """
    job, laid = _job(wanted, look, manner), counted.laid
    if isinstance(laid, Blocks):
        return job.pdf(laid)
    if isinstance(laid, FullSize):
        return job.roll_pdf(laid)
    if isinstance(laid, Plot):
        return job.plotter_file(laid)
    return job.projector_pdf()


def _job(wanted: Wanted, look: Look, manner: Manner) -> PrintJob:
    client, how = look.job.card.name, wanted.printing
    return PrintJob(look.report, client, today(), how, manner, wanted.before)


def _check(look: Look) -> None:
    """A drawing with a stop in it is not for cutting."""
    if look.report.refusals:
        raise SkirtwrightError.of(look.report.refusals[0])


def _count_sheets(wanted: Wanted, look: Look, manner: Manner) -> Counted:
    how = wanted.printing
    blocks = _job(wanted, look, manner).blocks()
    if wanted.before is not None:
        return _changed(blocks, wanted.before, manner)
    numbers = numbers_in(how.sheets, blocks.sheets)
    first = blocks.tilings[0]
    blank = sum(len(t.tiles) - t.sheets for t in blocks.tilings)
    sheets = len(numbers) or blocks.sheets
    values = {
        "sheets": sheets,
        "paper": first.paper.name,
        "columns": first.columns,
        "rows": first.rows,
        "blank": blank,
        "blocks": len(blocks.tilings),
    }
    if len(blocks.tilings) > 1:
        more = [say("printing.blocks", values, manner)]
    else:
        way = say(f"printing.lying.{_way(first)}", manner=manner)
        more = [say("printing.grid", {**values, "way": way}, manner)]
        if blank:
            more.append(say(_numbered("printing.left_out", blank), values, manner))
    said = say(_numbered("printing.sheets", sheets), values, manner)
    return Counted(blocks, said, " ".join(more))


def otherwise(wanted: Wanted, look: Look, manner: Manner) -> str:
    """What sheets laid the other ways would take, in a sentence each.

    Raises:
        SkirtwrightError: it cannot be printed so.
    """
    others: Mapping[Any, int]
    if wanted.before is not None:
        anew = _job(replace(wanted, before=None), look, manner)
        others = {"anew": anew.blocks().sheets}
    else:
        others = _job(wanted, look, manner).sheet_counts()
    return " ".join(
        say(f"printing.would_take.{way}", {"sheets": count}, manner)
        for way, count in others.items()
    )


def _changed(blocks: Blocks, before: PrintBefore, manner: Manner) -> Counted:
    """The sheets that changed since a print before."""
    kept = len(blocks.tilings[0].kept)
    values = {"sheets": blocks.sheets, "of": blocks.sheets + kept}
    said = say("printing.changed_sheets", values, manner)
    stay = {"kept": kept, "on": before.on}
    return Counted(
        blocks, said, say(_numbered("printing.changed_stay", kept), stay, manner)
    )


def _way(tiling: Tiling) -> str:
    return "landscape" if tiling.landscape else "portrait"


def _count_roll(wanted: Wanted, look: Look, manner: Manner) -> Counted:
    laid = _job(wanted, look, manner).on_roll(wanted.roll)
    pages = len(laid.windows)
    values = {"length": laid.length, "width": laid.roll.width, "pages": pages}
    said = say("printing.long", values, manner)
    return Counted(laid, said, say(_numbered("printing.pages", pages), values, manner))


def _count_projector(wanted: Wanted, look: Look, manner: Manner) -> Counted:
    drawn = _job(wanted, look, manner).projected()
    page = drawn.groups[0].outline_box
    values = {"width": page.width, "height": page.height}
    said = say("printing.thrown", values, manner)
    return Counted(drawn, said, say("printing.thrown_more", values, manner))


def _count_plotter(wanted: Wanted, look: Look, manner: Manner) -> Counted:
    job = _job(wanted, look, manner)
    plotted = job.plot(wanted.plotter, wanted.plotter_roll)
    frames = len(plotted.frames)
    values = {"length": plotted.length, "width": plotted.roll, "frames": frames}
    said = say("printing.long", values, manner)
    more = say(_numbered("printing.frames", frames), values, manner)
    return Counted(plotted, said, more)


def _numbered(message: str, number: int) -> str:
    return f"{message}.one" if number == 1 else f"{message}.many"
