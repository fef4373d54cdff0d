"""An order on paper: what the command line and the window both print and plot."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

from skirtwright.budget import bounded
from skirtwright.export.changed_sheets import (
    as_it_lay,
    laid_as,
    rows_of,
    tiled_again,
    words_staying,
)
from skirtwright.export.correction import AS_IT_IS, Correction
from skirtwright.export.facts import CoverFacts
from skirtwright.export.nested import Nest, nested_facts, nested_sheet
from skirtwright.export.papers import (
    Roll,
    own_roll,
    paper_named,
    plotter_named,
    roll_named,
    rolls,
)
from skirtwright.export.pattern import Drawing, cover_facts, pattern_of
from skirtwright.export.sheet import LAYERS, Layer, Sheet, drawn_at, with_layers
from skirtwright.export.tiles import (
    LAYINGS,
    Blocks,
    Laying,
    Orientation,
    TileOptions,
    Tiling,
    bare_tiling,
    in_blocks,
    tile,
)
from skirtwright.geometry import Motion
from skirtwright.geometry.apart import SEEN
from skirtwright.measures.units import Unit, read_length
from skirtwright.pieces.differing import cutting_length
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.sheets_laid import SheetsLaid
from skirtwright.problems import BadInput, Refused
from skirtwright.report import Report
from skirtwright.words import Manner, say

if TYPE_CHECKING:
    from skirtwright.export.full_size import FullSize
    from skirtwright.export.plotter import Plot
    from skirtwright.export.projector import Ground

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
        laying: all pieces together, a cloth at a time or a piece at a time.
        sheets: numbers of the sheets wanted, such as 2-5,9; empty for all, with the
            first page.
        named: whether a file for a copy shop says whom the skirt is for.
        solid: for a plotter, no line dashed, other pens in their place.
        ground: what a projector throws the lines on.
        open_out: for a projector, pieces as they are cut of single cloth.
        mirrored: for a projector, the page turned over, for cloth right side down.
        lining_on_shell: linings that lie on a piece of the main cloth as lines on it.
        as_sizes: rectangles told on the first page and not drawn.
        nest: sizes drawn over one another, in place of the order's own.
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
    laying: Laying = "together"
    sheets: str = ""
    named: bool = False
    solid: bool = False
    ground: Ground = "light"
    open_out: bool = False
    mirrored: bool = False
    lining_on_shell: bool = False
    as_sizes: bool = False
    nest: Nest | None = None


def sheet_for(
    report: Report,
    client: str,
    printing: Printing,
    manner: Manner,
    *,
    date: str = "",
) -> Sheet:
    """The pieces to be printed, with the lines and at the scale asked for.

    Raises:
        NotFound: there is no such piece.
        Refused: there is nothing to print.
    """
    if printing.nest:
        stitching = printing.lines == "stitching"
        sheet = nested_sheet(printing.nest, manner, printing.only, stitching)
    else:
        sheet = pattern_of(report, client, manner, _what(printing), date)
    return _drawn(sheet, printing)


def _what(printing: Printing) -> Drawing:
    return Drawing(
        printing.only,
        printing.toile,
        lining_on_shell=printing.lining_on_shell,
        as_sizes=printing.as_sizes,
    )


def _facts(
    report: Report,
    client: str,
    date: str,
    manner: Manner,
    printing: Printing,
    what: Drawing | None = None,
) -> CoverFacts:
    """What the first page says: of all pieces, as they are drawn, if not `what`."""
    fewer = Drawing(
        lining_on_shell=printing.lining_on_shell, as_sizes=printing.as_sizes
    )

    def facts(of: Report) -> CoverFacts:
        return cover_facts(of, client, date, manner, what or fewer)

    if printing.nest:
        return nested_facts(printing.nest, facts, manner)
    return facts(report)


def _thrown(report: Report, client: str, printing: Printing, manner: Manner) -> Sheet:
    """The pieces for a projector: told in a few words, opened out or turned over."""
    what = Drawing(
        printing.only,
        printing.toile,
        short_labels=True,
        open_out=printing.open_out,
    )
    sheet = pattern_of(report, client, manner, what)
    sheet = _drawn(sheet, printing)
    return sheet.moved(Motion(a=-1.0)) if printing.mirrored else sheet


def _drawn(sheet: Sheet, printing: Printing) -> Sheet:
    """Only the lines asked for, at the scale asked for."""
    left_out = {"stitching": "cutting", "cutting": "stitching"}.get(printing.lines)
    if left_out:
        layers: Collection[Layer] = [layer for layer in LAYERS if layer != left_out]
        sheet = with_layers(sheet, layers)
    scale = SCALES[printing.scale]
    return sheet if scale == 1.0 else drawn_at(sheet, scale)


@dataclass(frozen=True)
class PrintBefore:
    """A print on sheets that was made of the order before.

    Attributes:
        report: of the order as it was printed, worked once more.
        laid: how the pieces lay.
        drawn: the pieces printed, each with the length of its cutting line, mm.
        on: the day, as it is read.
        whole: whether all its sheets were printed at once: then it is known where on
            them each word stood.
    """

    report: Report
    laid: SheetsLaid
    drawn: Mapping[str, float]
    on: str = ""
    whole: bool = False

    def printed_so(self, printing: Printing) -> Printing:
        """Printed as it was then: all that was, and what has come since."""
        laid = self.laid
        return replace(
            printing,
            paper=laid.paper,
            orientation="landscape" if laid.landscape else "portrait",
            overlap=laid.overlap,
            margin=laid.margin,
            lines=laid.lines,
            scale="full",
            toile=laid.toile,
            correction=Correction(laid.across, laid.along),
            printer=laid.printer,
        )

    def left_out(self) -> frozenset[str]:
        """Pieces that were there and not printed."""
        laid = {spot.piece for spot in self.laid.pieces}
        return frozenset(p.name for p in self.report.cut.shown) - laid

    def otherwise(self) -> frozenset[str]:
        """Pieces that do not come out any more as they were printed."""
        rounds = {p.name: cutting_length(p) for p in self.report.to_cut.pieces}
        return frozenset(
            name
            for name, length in self.drawn.items()
            if abs(rounds.get(name, 0.0) - length) > SEEN
        )


@bounded()
def tiling_for(
    report: Report,
    client: str,
    printing: Printing,
    manner: Manner,
    date: str = "",
    before: PrintBefore | None = None,
) -> Tiling:
    """The sheets an order takes: counted, not yet printed.

    Args:
        report: of the order.
        client: whom it is for.
        printing: how.
        manner: her unit and language.
        date: as it is to be read on the labels.
        before: a print of which those sheets stay that are still good; paper and all
            that concerns sheets are then as they were.

    Raises:
        SkirtwrightError: unknown paper or piece, no room between the margins.
    """
    if before is not None:
        return _changed_tiling(report, client, printing, manner, date, before)
    sheet = sheet_for(report, client, printing, manner, date=date)
    return tile(sheet, paper_named(printing.paper), _options(printing))


def _options(printing: Printing) -> TileOptions:
    return TileOptions(
        printing.orientation, printing.overlap, printing.margin, printing.correction
    )


def _changed_tiling(
    report: Report,
    client: str,
    printing: Printing,
    manner: Manner,
    date: str,
    before: PrintBefore,
) -> Tiling:
    how = before.printed_so(printing)
    if not how.only:
        shown = [piece.name for piece in report.cut.shown]
        how = replace(how, only=tuple(n for n in shown if n not in before.left_out()))
    sheet = sheet_for(report, client, how, manner, date=date)
    then = _printed_then(client, how, manner, date, before)
    bare = bare_tiling(paper_named(how.paper), _options(how), before.laid.landscape)
    return tiled_again(sheet, then, before.laid, bare, before.otherwise())


def _printed_then(
    client: str, how: Printing, manner: Manner, date: str, before: PrintBefore
) -> Sheet:
    """The pieces as they were printed, with what is said of them today."""
    known = {piece.name for piece in before.report.cut.pieces}
    laid = [spot.piece for spot in before.laid.pieces if spot.piece in known]
    old = replace(how, only=tuple(laid))
    return sheet_for(before.report, client, old, manner, date=date)


def with_words_staying(
    blocks: Blocks,
    client: str,
    date: str,
    how: Printing,
    manner: Manner,
    before: PrintBefore,
) -> Blocks:
    """The sheets with words that are the same held where they stood.

    After a print of what changed they stand anew: none is lost, some are there twice.
    """
    if not before.whole:
        return blocks
    from skirtwright.export.tiled import with_words

    (tiling,) = blocks.tilings
    then = _printed_then(client, how, manner, date, before)
    old = as_it_lay(then, before.laid, tiling)
    placed = with_words(Blocks((old,))).placed
    sheet = words_staying(tiling.sheet, old.sheet, placed)
    return Blocks((replace(tiling, sheet=sheet),))


def laid_of(tiling: Tiling, printing: Printing) -> SheetsLaid | None:
    """How the pieces lie, to be kept.

    None where that is not all of them drawn, at full size, laid together.
    """
    whole = printing.scale == "full" and not printing.sheets
    less = printing.lining_on_shell or printing.as_sizes
    whole = whole and not less and printing.nest is None
    if not whole or printing.laying != "together":
        return None
    return SheetsLaid(
        paper=tiling.paper.key,
        landscape=tiling.landscape,
        overlap=tiling.overlap,
        margin=printing.margin,
        across=tiling.correction.across,
        along=tiling.correction.along,
        printer=printing.printer,
        lines=printing.lines,
        toile=printing.toile,
        right=round(tiling.corner.x, 3),
        up=round(tiling.corner.y, 3),
        sheets=rows_of(tiling),
        pieces=laid_as(tiling),
    )


def kept_said(tiling: Tiling, before: PrintBefore, manner: Manner) -> str:
    """Which sheets stay from the print before, in a sentence."""
    names = [tile.name for tile in tiling.kept]
    said = "print.kept" if names else "print.none_kept"
    return say(said, {"names": ", ".join(names), "on": before.on}, manner)


def changed_said(tiling: Tiling, before: PrintBefore, manner: Manner) -> str:
    """How many sheets are printed of how many, in a sentence."""
    kept = len(tiling.kept)
    values = {"sheets": tiling.sheets, "of": tiling.sheets + kept, "kept": kept}
    return say("changed.sheets", {**values, "on": before.on}, manner)


@bounded()
def blocks_for(
    report: Report,
    client: str,
    printing: Printing,
    manner: Manner,
    date: str = "",
    before: PrintBefore | None = None,
) -> Blocks:
    """The same in blocks: all together, a cloth or a piece at a time.

    Raises:
        SkirtwrightError: see `tiling_for`.
    """
    if printing.laying == "together" or before is not None:
        return Blocks((tiling_for(report, client, printing, manner, date, before),))
    sheet = sheet_for(report, client, printing, manner, date=date)
    paper = paper_named(printing.paper)
    return in_blocks(sheet, paper, _options(printing), printing.laying)


@bounded()
def counts_otherwise(
    report: Report, printing: Printing, manner: Manner
) -> dict[Laying, int]:
    """How many sheets it takes laid any other way; the fewest are not always wanted.

    Raises:
        SkirtwrightError: see `blocks_for`.
    """
    sheet = sheet_for(report, "", printing, manner)
    paper, options = paper_named(printing.paper), _options(printing)
    return {
        way: in_blocks(sheet, paper, options, way).sheets
        for way in LAYINGS
        if way != printing.laying
    }


@bounded()
def tiled_pdf(
    report: Report,
    client: str,
    date: str,
    printing: Printing,
    manner: Manner,
    before: PrintBefore | None = None,
) -> bytes:
    """The pieces on sheets to be taped together.

    Raises:
        SkirtwrightError: see `blocks_for`; `print.no_such_sheets`.
    """
    blocks = blocks_for(report, client, printing, manner, date, before)
    return pdf_of(blocks, report, client, date, printing, manner, before)


@bounded()
def pdf_of(
    blocks: Blocks,
    report: Report,
    client: str,
    date: str,
    printing: Printing,
    manner: Manner,
    before: PrintBefore | None = None,
) -> bytes:
    """The sheets of `blocks_for`, written.

    Raises:
        Refused: every sheet of the print before is still good.
        BadInput: `print.no_such_sheets`.
    """
    from skirtwright.export.tiled import write_tiled

    how = printing if before is None else before.printed_so(printing)
    facts = _facts(report, client, date, manner, printing, _what(how))
    if before is not None:
        if not blocks.sheets:
            raise Refused("print.nothing_differs", on=before.on)
        kept = kept_said(blocks.tilings[0], before, manner)
        facts = replace(facts, notes=(*facts.notes, kept))
        blocks = with_words_staying(blocks, client, date, how, manner, before)
    return write_tiled(
        blocks,
        facts,
        manner,
        layered=how.layered,
        printer=how.printer,
        only=numbers_in(printing.sheets, blocks.sheets),
    )


def pieces_printed(
    report: Report, printing: Printing, blocks: Blocks | None = None
) -> list[Piece]:
    """The pieces on paper: those that were asked for, or those on the sheets."""
    if blocks is None:
        shown = report.to_cut.shown
        known = report.to_cut.pieces
        return [p for p in known if p.name in printing.only] or [*shown]
    names = {group.piece for group in blocks.sheet.groups}
    if printing.lining_on_shell or printing.as_sizes:
        # Those told on the first page, and those drawn on another piece, as well.
        whole = replace(printing, lining_on_shell=False, as_sizes=False)
        names |= {piece.name for piece in pieces_printed(report, whole)}
    return [piece for piece in report.to_cut.pieces if piece.name in names]


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
    facts = _facts(report, client, date, manner, printing)
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
    laid = full_size_for(report, client, date, printing, roll, manner)
    return full_size_of(laid, report, client, date, printing, manner)


@bounded()
def full_size_of(
    laid: FullSize,
    report: Report,
    client: str,
    date: str,
    printing: Printing,
    manner: Manner,
) -> bytes:
    """The pages of `full_size_for`, written."""
    from skirtwright.export.full_size import write_full_size

    whose = client if printing.named else ""
    facts = _facts(report, whose, date, manner, printing)
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

    sheet = _thrown(report, client, printing, manner)
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

    sheet = _thrown(report, client, printing, manner)
    facts = cover_facts(report, client, date, manner)
    return write_projector(
        sheet, facts, manner, ground=printing.ground, layered=printing.layered
    )


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
    facts = _facts(report, client, date, manner, printing)
    width = None if roll is None else roll_of(roll, manner.unit).width
    machine = plotter_named(plotter)
    return plot(sheet, machine, facts, manner, roll=width, solid=printing.solid)


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
    plotted = plot_for(report, client, date, printing, plotter, roll, manner)
    return plotted_of(plotted, report, client, date, printing, manner)


@bounded()
def plotted_of(
    plotted: Plot,
    report: Report,
    client: str,
    date: str,
    printing: Printing,
    manner: Manner,
) -> bytes:
    """The file of `plot_for`, written."""
    from skirtwright.export.plotter import write_plotter

    facts = _facts(report, client, date, manner, printing)
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


def numbers_in(text: str, most: int) -> Collection[int]:
    """Numbers of sheets such as 2-5,9; none for an empty text, which means all.

    Raises:
        BadInput: `print.no_such_sheets`, for what is no number or range of sheets.
    """
    found: set[int] = set()
    for part in filter(None, text.replace(" ", "").split(",")):
        first, dash, last = part.partition("-")
        ends = (first, last if dash else first)
        if not all(end.isascii() and end.isdigit() and len(end) < 6 for end in ends):
            raise BadInput("print.no_such_sheets", "sheets", text=text, most=most)
        low, high = map(int, ends)
        if not 1 <= low <= high <= most:
            raise BadInput("print.no_such_sheets", "sheets", text=text, most=most)
        found.update(range(low, high + 1))
    return found
