"""An order on paper: what the command line and the window both print and plot."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

from skirtwright.budget import bounded
from skirtwright.export.correction import AS_IT_IS, Correction
from skirtwright.export.papers import (
    Roll,
    own_roll,
    paper_named,
    plotter_named,
    roll_named,
    rolls,
)
from skirtwright.export.pattern import cover_facts, pattern_of
from skirtwright.export.sheet import LAYERS, Layer, Sheet, chosen, drawn_at
from skirtwright.export.tiles import Orientation, TileOptions, Tiling, tile
from skirtwright.measures.units import Unit, read_length
from skirtwright.report import Report
from skirtwright.words import Manner

if TYPE_CHECKING:
    from skirtwright.export.full_size import FullSize
    from skirtwright.export.plotter import Plot

Lines = Literal["both", "stitching", "cutting"]
"""Which of the two outlines is drawn."""

SCALES = {"full": 1.0, "half": 0.5, "quarter": 0.25, "fifth": 0.2}
"""The scales a pattern is printed at; the smaller ones are for teaching."""


@dataclass(frozen=True)
class Printing:
    """How an order is to be printed.

    Attributes:
        paper: its name.
        orientation: or whichever needs fewer sheets.
        overlap: of neighbouring sheets, mm; 0 for sheets laid edge to edge.
        margin: unprinted, mm; None for the paper's own.
        only: names of the pieces wanted; none means all.
        lines: which outlines are drawn.
        scale: a name of `SCALES`.
        toile: wide seams, nothing at waist and hem.
        layered: kinds of line on layers of their own.
        correction: what puts this printer right.
        printer: its name, said on the sheet when it is put right.
        named: whether a file for a copy shop says whom the skirt is for.
    """

    paper: str = "a4"
    orientation: Orientation = "auto"
    overlap: float = 10.0
    margin: float | None = None
    only: tuple[str, ...] = ()
    lines: Lines = "both"
    scale: str = "full"
    toile: bool = False
    layered: bool = True
    correction: Correction = AS_IT_IS
    printer: str = ""
    named: bool = False


def sheet_for(
    report: Report,
    client: str,
    printing: Printing,
    manner: Manner,
    *,
    short_labels: bool = False,
    date: str = "",
) -> Sheet:
    """The pieces to be printed, with the lines and at the scale asked for.

    Raises:
        NotFound: there is no such piece.
        Refused: there is nothing to print.
    """
    sheet = pattern_of(
        report,
        client,
        manner,
        only=printing.only,
        toile=printing.toile,
        short_labels=short_labels,
        date=date,
    )
    left_out = {"stitching": "cutting", "cutting": "stitching"}.get(printing.lines)
    if left_out:
        layers: Collection[Layer] = [layer for layer in LAYERS if layer != left_out]
        sheet = chosen(sheet, layers=layers)
    scale = SCALES[printing.scale]
    return sheet if scale == 1.0 else drawn_at(sheet, scale)


@bounded()
def tiling_for(
    report: Report, client: str, printing: Printing, manner: Manner, date: str = ""
) -> Tiling:
    """The sheets an order takes: counted, not yet printed.

    Raises:
        SkirtwrightError: unknown paper or piece, no room between the margins.
    """
    options = TileOptions(
        printing.orientation, printing.overlap, printing.margin, printing.correction
    )
    sheet = sheet_for(report, client, printing, manner, date=date)
    return tile(sheet, paper_named(printing.paper), options)


@bounded()
def tiled_pdf(
    report: Report, client: str, date: str, printing: Printing, manner: Manner
) -> bytes:
    """The pieces on sheets to be taped together.

    Raises:
        SkirtwrightError: see `tiling_for`.
    """
    from skirtwright.export.tiled import write_tiled

    tiling = tiling_for(report, client, printing, manner, date)
    facts = cover_facts(report, client, date, manner)
    return write_tiled(
        tiling, facts, manner, layered=printing.layered, printer=printing.printer
    )


@bounded()
def full_size_for(
    report: Report,
    client: str,
    date: str,
    printing: Printing,
    roll: str,
    manner: Manner,
) -> FullSize:
    """The pieces as they lie on a roll, not yet printed.

    Raises:
        SkirtwrightError: unknown piece or roll, or a piece wider than the roll.
    """
    from skirtwright.export.full_size import full_size

    if not printing.named:
        # Whoever prints it need not know whom it is for.
        report, client = replace(report, title=report.worked.draft.title), ""
    sheet = sheet_for(report, client, printing, manner, date=date)
    facts = cover_facts(report, client, date, manner)
    return full_size(sheet, roll_of(roll, manner.unit), facts, manner)


@bounded()
def full_size_pdf(
    report: Report,
    client: str,
    date: str,
    printing: Printing,
    roll: str,
    manner: Manner,
) -> bytes:
    """The pieces at full size on a roll, for a copy shop.

    Raises:
        SkirtwrightError: see `full_size_for`.
    """
    from skirtwright.export.full_size import write_full_size

    laid = full_size_for(report, client, date, printing, roll, manner)
    whose = client if printing.named else ""
    facts = cover_facts(report, whose, date, manner)
    return write_full_size(laid, facts, manner, layered=printing.layered)


@bounded()
def projected_for(
    report: Report, client: str, date: str, printing: Printing, manner: Manner
) -> Sheet:
    """The page that is thrown on cloth, not yet written; its first group is the grid.

    Raises:
        SkirtwrightError: unknown piece, or a page larger than the format allows.
    """
    from skirtwright.export.projector import projected

    sheet = sheet_for(report, client, printing, manner, short_labels=True)
    return projected(sheet, cover_facts(report, client, date, manner), manner)


@bounded()
def projector_pdf(
    report: Report, client: str, date: str, printing: Printing, manner: Manner
) -> bytes:
    """The pieces to be thrown on cloth, on one page.

    Raises:
        SkirtwrightError: unknown piece, or a page larger than the format allows.
    """
    from skirtwright.export.projector import write_projector

    sheet = sheet_for(report, client, printing, manner, short_labels=True)
    facts = cover_facts(report, client, date, manner)
    return write_projector(sheet, facts, manner, layered=printing.layered)


@bounded()
def plot_for(
    report: Report,
    client: str,
    date: str,
    printing: Printing,
    plotter: str,
    roll: str | None,
    manner: Manner,
) -> Plot:
    """The pieces as they lie on a plotter's roll, not yet written.

    Raises:
        SkirtwrightError: unknown piece or plotter, or a roll too narrow.
    """
    from skirtwright.export.plotter import plot

    sheet = sheet_for(report, client, printing, manner, date=date)
    facts = cover_facts(report, client, date, manner)
    width = None if roll is None else roll_of(roll, manner.unit).width
    return plot(sheet, plotter_named(plotter), facts, manner, roll=width)


@bounded()
def plotter_file(
    report: Report,
    client: str,
    date: str,
    printing: Printing,
    plotter: str,
    roll: str | None,
    manner: Manner,
) -> bytes:
    """The pieces for a plotter or cutter.

    Raises:
        SkirtwrightError: see `plot_for`.
    """
    from skirtwright.export.plotter import write_plotter

    plotted = plot_for(report, client, date, printing, plotter, roll, manner)
    facts = cover_facts(report, client, date, manner)
    return write_plotter(plotted, facts, manner)


def roll_of(text: str, unit: Unit = "cm") -> Roll:
    """A roll by its name, or by its width as a length.

    Args:
        text: as typed.
        unit: of a width without one.

    Raises:
        SkirtwrightError: neither.
    """
    if text in rolls():
        return roll_named(text)
    return own_roll(read_length(text, unit))
