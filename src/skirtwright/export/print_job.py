"""An order on paper: what the command line and the window both print and plot."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from skirtwright.budget import bounded
from skirtwright.export.changed_sheets import (
    tiled_again,
    tiling_as_printed,
    words_staying,
)
from skirtwright.export.facts import CoverFacts
from skirtwright.export.nested import nested_facts, nested_sheet
from skirtwright.export.pattern import Drawing, cover_facts, pattern_of
from skirtwright.export.print_media import paper_named, plotter_named
from skirtwright.export.printing import (
    SCALES,
    PrintBefore,
    Printing,
    kept_said,
    numbers_in,
    roll_of,
)
from skirtwright.export.sheet import LAYERS, Sheet, drawn_at, with_layers
from skirtwright.export.tiles import (
    LAYINGS,
    Blocks,
    Laying,
    TileOptions,
    Tiling,
    bare_tiling,
    in_blocks,
    tile,
)
from skirtwright.geometry import Motion
from skirtwright.problems import Refused
from skirtwright.report import Report
from skirtwright.words import Manner

if TYPE_CHECKING:
    from skirtwright.export.full_size import FullSize
    from skirtwright.export.plotter import Plot


@dataclass(frozen=True)
class PrintJob:
    """An order, and how it is to be printed.

    Attributes:
        before: a print of which those sheets stay that are still good; paper and all
            that concerns sheets are then as they were.
    """

    report: Report
    client: str
    date: str
    printing: Printing
    manner: Manner
    before: PrintBefore | None = None

    def sheet(self) -> Sheet:
        """The pieces to be printed, with the lines and at the scale asked for.

        Raises:
            NotFound: there is no such piece.
            Refused: there is nothing to print.
        """
        printing, manner = self.printing, self.manner
        if printing.nest:
            stitching = printing.lines == "stitching"
            sheet = nested_sheet(printing.nest, manner, printing.only, stitching)
        else:
            drawing = _drawing(printing)
            sheet = pattern_of(self.report, self.client, manner, drawing, self.date)
        return _drawn(sheet, printing)

    def facts(self, drawing: Drawing | None = None) -> CoverFacts:
        """What the first page says: of all pieces, as they are drawn, if no others."""
        what = drawing or _drawing(replace(self.printing, only=(), toile=False))

        def told(of: Report) -> CoverFacts:
            return cover_facts(of, self.client, self.date, self.manner, what)

        if self.printing.nest:
            return nested_facts(self.printing.nest, told, self.manner)
        return told(self.report)

    # On sheets to be taped together

    @bounded()
    def tiling(self) -> Tiling:
        """The sheets it takes: counted, not yet printed.

        Raises:
            SkirtwrightError: unknown paper or piece, no room between the margins.
        """
        if self.before is not None:
            return self._changed_tiling(self.before)
        paper = paper_named(self.printing.paper)
        return tile(self.sheet(), paper, _options(self.printing))

    def _changed_tiling(self, before: PrintBefore) -> Tiling:
        how = before.printed_so(self.printing)
        if not how.only:
            shown = [piece.name for piece in self.report.cut.shown]
            left_out = before.left_out()
            how = replace(how, only=tuple(n for n in shown if n not in left_out))
        now = replace(self, printing=how)
        bare = bare_tiling(paper_named(how.paper), _options(how), before.laid.landscape)
        then = now.as_printed(before).sheet()
        return tiled_again(now.sheet(), then, before.laid, bare, before.otherwise())

    def as_printed(self, before: PrintBefore) -> PrintJob:
        """The pieces as they were printed, with what is said of them today."""
        known = {piece.name for piece in before.report.cut.pieces}
        laid = [spot.piece for spot in before.laid.pieces if spot.piece in known]
        old = replace(self.printing, only=tuple(laid))
        return replace(self, report=before.report, printing=old)

    @bounded()
    def blocks(self) -> Blocks:
        """The same in blocks: all together, a cloth or a piece at a time.

        Raises:
            SkirtwrightError: see `tiling`.
        """
        printing = self.printing
        if printing.laying == "together" or self.before is not None:
            return Blocks((self.tiling(),))
        paper = paper_named(printing.paper)
        return in_blocks(self.sheet(), paper, _options(printing), printing.laying)

    @bounded()
    def sheet_counts(self) -> dict[Laying, int]:
        """How many sheets it takes laid any other way; the fewest may not be wanted.

        Raises:
            SkirtwrightError: see `tiling`.
        """
        sheet, options = self.sheet(), _options(self.printing)
        paper = paper_named(self.printing.paper)
        return {
            way: in_blocks(sheet, paper, options, way).sheets
            for way in LAYINGS
            if way != self.printing.laying
        }

    def with_words_staying(self, blocks: Blocks) -> Blocks:
        """The sheets with words that are the same held where they stood.

        After a print of what changed they stand anew: none is lost, some are there
        twice.
        """
        from skirtwright.export.tiled import with_words

        before = self.before
        if before is None or not before.whole:
            return blocks
        (tiling,) = blocks.tilings
        now = replace(self, printing=before.printed_so(self.printing))
        old = tiling_as_printed(now.as_printed(before).sheet(), before.laid, tiling)
        placed = with_words(Blocks((old,))).placed
        sheet = words_staying(tiling.sheet, old.sheet, placed)
        return Blocks((replace(tiling, sheet=sheet),))

    @bounded()
    def pdf(self, blocks: Blocks | None = None) -> bytes:
        """The sheets, written.

        Args:
            blocks: from `blocks`, where they were counted.

        Raises:
            Refused: every sheet of the print before is still good.
            BadInput: `print.no_such_sheets`.
            SkirtwrightError: see `tiling`.
        """
        from skirtwright.export.pdf import write
        from skirtwright.export.tiled import tiled_document

        blocks = self.blocks() if blocks is None else blocks
        before, how = self.before, self.printing
        how = how if before is None else before.printed_so(how)
        facts = self.facts(_drawing(how))
        if before is not None:
            if not blocks.sheets:
                raise Refused("print.nothing_differs", on=before.on)
            kept = kept_said(blocks.tilings[0], before, self.manner)
            facts = replace(facts, notes=(*facts.notes, kept))
            blocks = self.with_words_staying(blocks)
        made = tiled_document(
            blocks,
            facts,
            self.manner,
            layered=how.layered,
            printer=how.printer,
            only=numbers_in(self.printing.sheets, blocks.sheets),
        )
        return write(made)

    # On a roll, for a copy shop

    @bounded()
    def on_roll(self, roll: str) -> FullSize:
        """The pieces as they lie on a roll, not yet printed.

        Raises:
            SkirtwrightError: unknown piece or roll, or a piece wider than the roll.
        """
        from skirtwright.export.full_size import full_size

        job = self
        if not self.printing.named:
            # Whoever prints it need not know whom it is for.
            bare = replace(self.report, title=self.report.worked.draft.title)
            job = replace(self, report=bare, client="")
        paper = roll_of(roll, self.manner.unit)
        return full_size(job.sheet(), paper, job.facts(), self.manner)

    @bounded()
    def roll_pdf(self, laid: FullSize) -> bytes:
        """The pages of `on_roll`, written."""
        from skirtwright.export.full_size import write_full_size

        named = self.printing.named
        facts = (self if named else replace(self, client="")).facts()
        layered = self.printing.layered
        return write_full_size(laid, facts, self.manner, layered=layered)

    # Thrown on cloth

    def _thrown(self) -> tuple[Sheet, CoverFacts]:
        """The pieces, told in a few words, opened out or turned over; what is said."""
        printing = self.printing
        drawing = Drawing(
            printing.only,
            printing.toile,
            short_labels=True,
            open_out=printing.open_out,
        )
        sheet = pattern_of(self.report, self.client, self.manner, drawing)
        sheet = _drawn(sheet, printing)
        facts = cover_facts(self.report, self.client, self.date, self.manner)
        return (sheet.moved(Motion(a=-1.0)) if printing.mirrored else sheet), facts

    @bounded()
    def projected(self) -> Sheet:
        """The page thrown on cloth, not yet written; its first group is the grid.

        Raises:
            SkirtwrightError: unknown piece, or a page larger than the format allows.
        """
        from skirtwright.export.projector import projected

        return projected(*self._thrown(), self.manner)

    @bounded()
    def projector_pdf(self) -> bytes:
        """The pieces to be thrown on cloth, on one page.

        Raises:
            SkirtwrightError: unknown piece, or a page larger than the format allows.
        """
        from skirtwright.export.projector import write_projector

        ground, layered = self.printing.ground, self.printing.layered
        return write_projector(
            *self._thrown(), self.manner, ground=ground, layered=layered
        )

    # On a plotter

    @bounded()
    def plot(self, plotter: str, roll: str | None) -> Plot:
        """The pieces as they lie on a plotter's roll, not yet written.

        Raises:
            SkirtwrightError: unknown piece or plotter, or a roll too narrow.
        """
        from skirtwright.export.plotter import plot

        width = None if roll is None else roll_of(roll, self.manner.unit).width
        return plot(
            self.sheet(),
            plotter_named(plotter),
            self.facts(),
            self.manner,
            roll=width,
            solid=self.printing.solid,
        )

    @bounded()
    def plotter_file(self, plotted: Plot) -> bytes:
        """The file of `plot`, written."""
        from skirtwright.export.plotter import write_plotter

        return write_plotter(plotted, self.facts(), self.manner)


def _drawing(printing: Printing) -> Drawing:
    return Drawing(
        printing.only,
        printing.toile,
        lining_on_shell=printing.lining_on_shell,
        as_sizes=printing.as_sizes,
    )


def _drawn(sheet: Sheet, printing: Printing) -> Sheet:
    """Only the lines asked for, at the scale asked for."""
    left_out = {"stitching": "cutting", "cutting": "stitching"}.get(printing.lines)
    if left_out:
        sheet = with_layers(sheet, [layer for layer in LAYERS if layer != left_out])
    scale = SCALES[printing.scale]
    return sheet if scale == 1.0 else drawn_at(sheet, scale)


def _options(printing: Printing) -> TileOptions:
    return TileOptions(
        printing.orientation, printing.overlap, printing.margin, printing.correction
    )
