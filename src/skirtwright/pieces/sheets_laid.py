"""How pieces lay on the sheets of a print: enough to lay them so once more."""

from __future__ import annotations

from typing import Literal

from skirtwright import shelf
from skirtwright.geometry import Motion, Point, turn
from skirtwright.measures.records import Record, ruled
from skirtwright.problems import BadInput

MOST_SHEETS = 1000
"""Sheets along or across a print, and pieces on it; more is a mistake, not a skirt."""

_FAR = 100_000.0
"""No piece lies further off, mm."""

_LONG = 1000.0


class PieceLaid(Record):
    """Where a piece lay: turned about its draft's zero point, then moved.

    Attributes:
        turned: anticlockwise, degrees.
        right, up: mm.
    """

    piece: str
    turned: float = ruled(default=0.0, ge=-360, le=360)
    right: float = ruled(ge=-_FAR, le=_FAR)
    up: float = ruled(ge=-_FAR, le=_FAR)

    @property
    def motion(self) -> Motion:
        """From the piece's own draft to the drawing."""
        spin = turn(Point(0, 0), self.turned)
        return spin.then(Motion(e=self.right, f=self.up))


class SheetsLaid(Record):
    """A print on sheets, as it lay.

    Attributes:
        landscape: whether the sheets lay on their side.
        overlap: of neighbours, mm.
        margin: unprinted, mm; None for the paper's own.
        across, along: what put the printer right.
        lines: which outlines were drawn.
        toile: whether with the seams of a toile.
        right, up: lower left corner of the lowest sheet at the left, mm.
        sheets: a row a text, from the top: `x` for each sheet printed, `.` for one
            that was not needed.
    """

    paper: str = ruled(max_length=40)
    landscape: bool = False
    overlap: float = ruled(ge=0, le=_LONG)
    margin: float | None = ruled(default=None, ge=0, le=_LONG)
    across: float = ruled(default=1.0, ge=0.9, le=1.1)
    along: float = ruled(default=1.0, ge=0.9, le=1.1)
    printer: str = ruled(default="", max_length=200)
    lines: Literal["both", "stitching", "cutting"] = "both"
    toile: bool = False
    right: float = ruled(ge=-_FAR, le=_FAR)
    up: float = ruled(ge=-_FAR, le=_FAR)
    sheets: tuple[str, ...] = ruled(min_length=1, max_length=MOST_SHEETS)
    pieces: tuple[PieceLaid, ...] = ruled(min_length=1, max_length=MOST_SHEETS)

    def refuse(self) -> None:
        """Refuse rows of sheets that are none, and a paper nobody sells."""
        if self.paper not in shelf.read_toml("papers/papers.toml"):
            raise BadInput("file.print_unread", self.paper, text=self.paper)
        for row in self.sheets:
            if not row or len(row) > MOST_SHEETS or set(row) - {"x", "."}:
                raise BadInput("file.print_unread", row, text=row)

    @property
    def columns(self) -> int:
        """Sheets side by side."""
        return max(map(len, self.sheets))

    def has_sheet(self, row: int, column: int) -> bool:
        """Whether there is a sheet at a row, 0 at the top, and a column."""
        return self.sheets[row : row + 1] != () and (
            self.sheets[row][column : column + 1] == "x"
        )
