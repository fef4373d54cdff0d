"""What is on the table just now: the last good drawing, laid out, and its pull points.

Pure: no Qt, and it asks nothing of the window.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Protocol

from skirtwright.app.canvas.laying import Laid, Layout, lay_out
from skirtwright.draft.inputs import AmountState
from skirtwright.draft.pulls import Drag, Handle, Pulling, Response, handles
from skirtwright.draft.shapes.panel import Panel
from skirtwright.geometry.box import Box
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.point import Point
from skirtwright.geometry.segment import Line
from skirtwright.job.worktable import Look
from skirtwright.pieces.outline.room import roomiest_place
from skirtwright.pieces.piece import Piece
from skirtwright.problems import SkirtwrightError
from skirtwright.remembered import Remembered


class OnPaper(Protocol):
    """Pieces on the sheets of a print."""

    @property
    def box(self) -> Box:
        """Round all sheets, their upper left corner at 0, 0, mm."""


_STILL = Response(Point(0.0, 0.0))


@dataclass(frozen=True)
class Rest:
    """Where a thing's label and grain go.

    Attributes:
        place: the roomiest place, in its own coordinates.
        room: how far that is from everything drawn, mm.
        grain: the grain arrow of a piece.
    """

    place: Point
    room: float
    grain: Line | None = None


def rest_of(of: Panel | Piece) -> Rest:
    """Where a panel's label goes, or a piece's label and grain arrow."""
    if not isinstance(of, Panel):
        return Rest(*of.middle, of.grain)
    legs = [of.leg_lines(dart)[0] for dart in of.darts]
    lines = [mark.shape for mark in of.marks if isinstance(mark.shape, Chain)]
    return Rest(*roomiest_place(of.ring(2.0), [*legs, *lines]))


@dataclass
class Scene:
    """Everything shown.

    Attributes:
        look: the order as last shown, good or not.
        good: the last order whose drawing is whole; it is what is drawn.
        panels: of the draft, in order.
        pieces: in order, without those that are hidden.
        layout: where they lie; without the pieces while those lie on sheets.
        sheets: what the pieces lie on while a print is made ready.
        points: the pull points, in reading order.
    """

    look: Look | None = None
    good: Look | None = None
    panels: Mapping[str, Panel] = field(default_factory=dict)
    pieces: tuple[Piece, ...] = ()
    layout: Layout = field(default_factory=Layout)
    sheets: OnPaper | None = None
    points: tuple[Handle, ...] = ()
    pulling: Pulling = field(default_factory=Pulling)

    def __post_init__(self) -> None:
        self._whole = self.layout
        self._rests = Remembered(rest_of)
        # Only while the drawing stays: emptied whenever another is shown.
        self._responses: dict[tuple[str, str], Response] = {}
        self._does_more: dict[str, str | None] = {}

    def show(self, look: Look, held: str | None = None) -> None:
        """Take over an order.

        Args:
            look: as worked out; one that is not whole leaves the drawing of the same
                style as it was.
            held: the panel that is being pulled.
        """
        self.look = look
        same = self.good is not None and self.good.job.draft.id == look.job.draft.id
        if same and not look.drawn:
            return
        self.good = look
        values = look.worked.values
        self.panels = {n: v for n, v in values.items() if isinstance(v, Panel)}
        self.pieces = look.shown
        # A hidden piece keeps its place, so that nothing moves when it is shown again.
        before = self._whole if same else Layout()
        self._whole = lay_out(self.panels, look.pieces, before, held)
        self.show_sheets(self.sheets)
        if held is None:
            self._rests.next_round()
            self._responses.clear()
            self._does_more.clear()
        self.points = self._in_reading_order(handles(look.worked))

    def show_sheets(self, sheets: OnPaper | None) -> None:
        """Lay the pieces on sheets, or on the table again."""
        self.sheets = sheets
        hidden = self.good.report.cut.hidden if self.good else frozenset()
        whole = self._whole.without(hidden) if hidden else self._whole
        self.layout = whole.on_sheets(sheets.box) if sheets else whole

    def _in_reading_order(self, found: tuple[Handle, ...]) -> tuple[Handle, ...]:
        """Panel by panel, each from top to bottom and from left to right."""
        order = list(self.panels)
        known = [h for h in found if h.panel in order]
        return tuple(
            sorted(
                known,
                # Ten mm of height is still one line of reading.
                key=lambda h: (
                    order.index(h.panel),
                    -round(h.point.y / 10),
                    h.point.x,
                ),
            )
        )

    def things(self) -> Iterator[tuple[Laid, Panel | Piece]]:
        """Everything laid on the table, draft first."""
        pieces = {piece.name: piece for piece in self.pieces}
        for laid in self.layout.laid:
            known = self.panels if laid.kind == "draft" else pieces
            yield laid, known[laid.name]

    def rest(
        self, laid: Laid, of: Panel | Piece, *, held: bool = False
    ) -> tuple[Rest, bool]:
        """Where a thing's label and grain go, and whether it moved since.

        While something is held they stay where they were: moving labels cannot be read.
        """
        key = (laid.kind, laid.name)
        known = self._rests.last(key)
        if known and held:
            return known[1], known[0][0] is not of
        return self._rests.of(key, of), False

    # Pull points

    def point_of(self, name: str) -> Handle | None:
        """The pull point at a place, by the place's name."""
        return next((h for h in self.points if h.place == name), None)

    def at(self, handle: Handle) -> Point:
        """Where a pull point lies on the table."""
        laid = self.layout.find("draft", handle.panel)
        return handle.point + laid.offset if laid else handle.point

    def state(self, amount: str) -> AmountState | None:
        """An amount as it stands."""
        look = self.look or self.good
        return look.worked.stated.amounts.get(amount) if look else None

    def response(self, handle: Handle, amount: str) -> Response:
        """How a place answers to an amount, remembered while the drawing stays."""
        key = (handle.place, amount)
        if key not in self._responses:
            self._responses[key] = self._respond(handle, amount)
        return self._responses[key]

    def _respond(self, handle: Handle, amount: str) -> Response:
        if self.good:
            try:
                return self.pulling.response(self.good.worked, handle, amount)
            except SkirtwrightError:
                # Said among the checks already; the point is dim until it is put right.
                return _STILL
        return _STILL

    def learn_one(self) -> bool:
        """Learn how one more point answers; False when all are known.

        One at a time, while the hand rests, so that nothing waits for it.
        """
        for handle in self.points:
            unknown = [
                a for a in handle.amounts if (handle.place, a) not in self._responses
            ]
            if unknown:
                self.response(handle, unknown[0])
                return True
        return False

    def is_dim(self, handle: Handle) -> bool:
        """True for a point known to be hardly moved by its amount."""
        known = self._responses.get((handle.place, handle.amount))
        return known is not None and known.hopeless

    def does_more(self, handle: Handle) -> AmountState | None:
        """The amount that would move this place more."""
        if handle.place not in self._does_more and self.good:
            more = self.pulling.does_more(self.good.worked, handle)
            self._does_more[handle.place] = more
        name = self._does_more.get(handle.place)
        return self.state(name) if name else None

    def begin(self, handle: Handle, place: Point) -> Drag | None:
        """Take a pull point in hand at a place of the table."""
        if self.good is None:
            return None
        away = self.at(handle) - handle.point
        return Drag(self.pulling, self.good.worked, handle, place - away)
