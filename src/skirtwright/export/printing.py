"""How an order is printed: what is chosen, and what a print before leaves good."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

from skirtwright.export.changed_sheets import (
    laid_as,
    rows_of,
)
from skirtwright.export.correction import AS_IT_IS, Correction
from skirtwright.export.nested import Nest
from skirtwright.export.print_media import (
    Roll,
    own_roll,
    roll_named,
    rolls,
)
from skirtwright.export.tiles import (
    Blocks,
    Laying,
    Orientation,
    Tiling,
)
from skirtwright.geometry.apart import SEEN
from skirtwright.measures.units import Unit, read_length
from skirtwright.pieces.differing import cutting_length
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.sheets_laid import SheetsLaid
from skirtwright.problems import BadInput
from skirtwright.report import Report
from skirtwright.words import Manner, say

if TYPE_CHECKING:
    from skirtwright.export.projector import Ground

Lines = Literal["both", "stitching", "cutting"]
"""Which of the two outlines is drawn."""

SCALES = {"full": 1.0, "half": 0.5, "quarter": 0.25, "fifth": 0.2}
"""The scales a pattern is printed at; the smaller ones are for teaching."""


@dataclass(frozen=True)
class Printing:
    """How an order is to be printed.

    Attributes:
        orientation: or whichever needs fewer sheets.
        overlap: of neighbouring sheets, mm; 0 for sheets laid edge to edge.
        margin: unprinted, mm; None for the paper's own.
        only: names of the pieces wanted; none means all.
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


@dataclass(frozen=True)
class PrintBefore:
    """A print on sheets that was made of the order before.

    Attributes:
        report: of the order as it was printed, worked once more.
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
    said = "changed.sheets.one" if kept == 1 else "changed.sheets.many"
    return say(said, {**values, "on": before.on}, manner)


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


def roll_of(text: str, unit: Unit = "cm") -> Roll:
    """A roll by its name, or by its width as a length.

    Args:
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
