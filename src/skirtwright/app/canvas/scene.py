"""What is on the table just now: the last good drawing, laid out, and its pull points.

Pure: no Qt, and it asks nothing of the window.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from skirtwright.app.canvas.laying import SKIRT, Laid, Layout, lay_out
from skirtwright.draft.inputs import AmountState, Inputs
from skirtwright.draft.pulls import (
    HOPELESS,
    Drag,
    Handle,
    PullTrials,
    Response,
    handles,
)
from skirtwright.draft.shapes.panel import Panel
from skirtwright.geometry.box import box_of
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.point import Point
from skirtwright.geometry.ring import holds
from skirtwright.geometry.segment import Line
from skirtwright.job.worktable import Look
from skirtwright.pieces.marks.notches import distances_out
from skirtwright.pieces.outline.room import roomiest_place
from skirtwright.pieces.parts import piece_of_part
from skirtwright.pieces.piece import Piece
from skirtwright.problems import SkirtwrightError
from skirtwright.remembered import Remembered

_STILL = Response(Point(0.0, 0.0))


_ALIKE = 6.0
"""mm by which one place is no roomier than another."""

_ABOUT = 20.0
"""mm about the place of a label in which it is as roomy as there, at most."""

_LAIN_KEPT = 100
"""Orders whose tables are kept: more steps back are laid anew."""


@dataclass(frozen=True)
class Rest:
    """Where a thing's label and grain go.

    Attributes:
        place: the roomiest place, in its own coordinates.
        room: how far that is from everything drawn, mm.
        across: how wide it is there, as far to the left as to the right, mm.
        along: how tall it is there, as far up as down, mm.
    """

    place: Point
    room: float
    across: float
    along: float
    grain: Line | None = None


def rest_of(of: Panel | Piece, cutting: bool) -> Rest:
    """Where a panel's label goes, or a piece's label and grain arrow.

    Args:
        cutting: all that a piece is marked with is shown, and not its folds alone.
    """
    panel = of if isinstance(of, Panel) else of.panel
    if isinstance(of, Piece) and cutting:
        place, room = of.middle
        return Rest(place, room, *_ways(panel, (), place), of.grain)
    lines = [*_shown_at_rest(of)]
    place, room = roomiest_place(panel.ring(2.0), lines)
    grain = None if isinstance(of, Panel) else of.grain
    ways = _ways(panel, lines, place)
    # Between two folds it is as roomy anywhere: midway, as on the pieces beside it.
    level = Point(place.x, box_of(panel.ring(2.0)).middle.y)
    other = _ways(panel, lines, level)
    if min(other) > min(ways) - _ALIKE and holds(panel.ring(2.0), level):
        place, ways = level, other
    return Rest(place, room, *ways, grain)


def _shown_at_rest(of: Panel | Piece) -> Iterator[Chain]:
    """The lines on a thing while allowances are not shown."""
    panel = of if isinstance(of, Panel) else of.panel
    for dart in panel.darts:
        yield from panel.leg_lines(dart)
    for mark in panel.marks:
        if isinstance(mark.shape, Chain) and (mark.level or isinstance(of, Panel)):
            yield mark.shape
    if isinstance(of, Piece):
        yield from of.pleat_folds
        yield from of.stitched_on


def _ways(panel: Panel, lines: Iterable[Chain], place: Point) -> tuple[float, float]:
    """How wide and how tall a panel is about a place, between lines on it.

    Words have some height, and some width: it is so wide above and below it too.
    """
    rings = [panel.ring(2.0), *(line.flattened(2.0) for line in lines)]
    across, along = Point(1.0, 0.0), Point(0.0, 1.0)

    def reach(way: Point, aside: Point) -> float:
        meets = (
            away
            for start in (place, place + aside, place - aside)
            for ring in rings
            for each in (way, -way)
            for away in distances_out(ring, start, each)
        )
        return 2 * min(meets, default=0.0)

    none = Point(0.0, 0.0)
    half = (
        min(_ABOUT, 0.15 * reach(along, none)),
        min(_ABOUT, 0.15 * reach(across, none)),
    )
    return reach(across, along * half[0]), reach(along, across * half[1])


@dataclass
class Scene:
    """Everything shown.

    Attributes:
        look: the order as last shown, good or not.
        good: the last order whose drawing is whole; it is what is drawn.
        pieces, layout: without what is hidden.
        brought: the key of what is on the table: the skirt, a card, everything.
        on_paper: the edges of sheets are shown: nothing is pulled there.
        cutting: allowances are shown: halves joined at the centre lie apart for them.
        points: the pull points, in reading order.
    """

    look: Look | None = None
    good: Look | None = None
    panels: Mapping[str, Panel] = field(default_factory=dict)
    pieces: tuple[Piece, ...] = ()
    layout: Layout = field(default_factory=Layout)
    brought: str = SKIRT
    on_paper: bool = False
    cutting: bool = False
    points: tuple[Handle, ...] = ()
    trials: PullTrials = field(default_factory=PullTrials)

    def __post_init__(self) -> None:
        self._whole = self.layout
        # How the table lay for what was asked last: whoever goes back finds it so.
        self._lain: list[tuple[Inputs, Layout]] = []
        self._rests = Remembered(rest_of)
        # Only while the drawing stays: emptied whenever another is shown.
        self._responses: dict[tuple[str, str], Response] = {}
        # How points of the same drawing answered before it was changed: they are shown
        # so until each is learnt anew, lest they flash at every change.
        self._answered: dict[tuple[str, str], Response] = {}
        self.handles: tuple[Handle, ...] = ()

    def show(self, look: Look, held: str | None = None) -> bool:
        """Take over an order.

        Args:
            look: as worked out; one that is not whole leaves the drawing of the same
                style as it was.
            held: the panel that is being pulled.

        Returns:
            True when the table was laid afresh, for another style, client or choice or
            because other pieces lie there, or as it lay for this order before.
        """
        self.look = look
        good = self.good
        same = good is not None and good.job.draft.id == look.job.draft.id
        if same and not look.drawn:
            return False
        # All but the choices may differ, and the table stays laid as it is.
        alike = same and good is not None and good.job.choices == look.job.choices
        self.good = look
        if not same:
            self.brought = SKIRT
        values = look.worked.values
        self.panels = {n: v for n, v in values.items() if isinstance(v, Panel)}
        self.pieces = look.shown
        was = self._whole
        self.handles = handles(look.worked)
        if not alike:
            self._lain.clear()
        inputs = look.worked.inputs
        stays = held or (good is not None and good.worked.inputs == inputs)
        back = None if stays else self._lain_for(inputs)
        self._lay(back or (was if alike else Layout()), held)
        if held is None:
            self._rests.next_round()
            known = {**self._answered, **self._responses} if alike else {}
            self._answered, self._responses = known, {}
        return not alike or back is not None or _names(was) != _names(self._whole)

    def _lain_for(self, inputs: Inputs) -> Layout | None:
        """How the table lay when the same was asked before."""
        return next((layout for known, layout in self._lain if known == inputs), None)

    def clear(self) -> None:
        """Take everything off the table: there is no drawing yet."""
        self.look = self.good = None
        self.panels, self.pieces, self.brought = {}, (), SKIRT
        self._whole = self.layout = Layout()
        self._lain.clear()
        self.handles = self.points = ()
        self._rests.next_round()
        self._responses.clear()
        self._answered.clear()

    def _lay(self, before: Layout, held: str | None = None) -> None:
        """Lay the table as it was before, as far as it can be."""
        # A hidden piece keeps its place, so that nothing moves when it is shown again.
        pieces = self.good.pieces if self.good else ()
        self._whole = lay_out(self.panels, pieces, self.brought, before, held)
        self.brought = self._whole.brought
        if held is None and self.good is not None:
            inputs = self.good.worked.inputs
            others = [one for one in self._lain if one[0] != inputs]
            self._lain = [(inputs, self._whole), *others][:_LAIN_KEPT]
        self.show_on_paper(self.on_paper)

    def lay_afresh(self) -> None:
        """Lay everything as if it had not lain there before."""
        if self.good is not None:
            self._lain.clear()
            self._lay(Layout())

    def bring(self, key: str) -> bool:
        """Lay a card on the table and the skirt in the stack; False when it is there.

        Args:
            key: of the card, `skirt`, or `all` for everything side by side.
        """
        if key == self.brought or not self.panels:
            return False
        self.brought = key
        self._lain.clear()
        self._lay(Layout())
        return True

    def card_order(self) -> list[str]:
        """The keys of all cards: the skirt, then the stack from its top to its back."""
        first, *rest = [card.key for card in self.layout.cards] or [SKIRT]
        return [first, *reversed(rest)]

    def show_cutting(self, on: bool) -> None:
        """Show allowances, or leave them off."""
        self.cutting = on
        self.show_on_paper(self.on_paper)

    def show_on_paper(self, on: bool) -> None:
        """Show how the pieces lie on paper, or what can be pulled."""
        self.on_paper = on
        hidden = self.good.report.cut.hidden if self.good else frozenset()
        whole = self._whole.parted() if self.cutting or on else self._whole
        self.layout = whole.without(hidden) if hidden else whole
        self.points = self._in_reading_order()

    def _in_reading_order(self) -> tuple[Handle, ...]:
        """Those on the table, panel by panel, each from top to bottom, left to right.

        A place with two uses pulls what the style names first; where two halves meet
        one point is enough. On paper there are none, for nothing is drafted there.
        """
        if self.on_paper:
            return ()
        order = [laid.panel for laid in self._whole.laid]
        known: dict[str, Handle] = {}
        for handle in self.handles:
            if handle.panel in order and not self._is_told(handle, known.values()):
                known.setdefault(handle.place, handle)
        return tuple(
            sorted(
                known.values(),
                # Ten mm of height is still one line of reading.
                key=lambda h: (
                    order.index(h.panel),
                    -round(h.point.y / 10),
                    h.point.x,
                ),
            )
        )

    def _is_told(self, handle: Handle, others: Iterable[Handle]) -> bool:
        """Whether a point across a joined centre pulls the same amounts there."""
        laid = self._whole.of_panel(handle.panel)
        for other in others:
            beside = self._whole.of_panel(other.panel)
            if laid is None or beside is None or other.amounts != handle.amounts:
                continue
            if laid.name != beside.joined and beside.name != laid.joined:
                continue
            way = laid.at(handle.point).to(beside.at(other.point))
            if way <= abs(laid.seen.middle.x - beside.seen.middle.x) / 2:
                return True
        return False

    def things(self) -> Iterator[tuple[Laid, Panel | Piece]]:
        """Everything laid on the table."""
        pieces = {piece.name: piece for piece in self.pieces}
        for laid in self.layout.laid:
            known = self.panels if laid.kind == "draft" else pieces
            yield laid, known[laid.name]

    def number_of(self, laid: Laid) -> int:
        """What a piece is numbered in the cut list; a stage of the draft, in order."""
        if laid.kind == "draft" or self.good is None:
            return list(self.panels).index(laid.name) + 1
        return self.good.report.cut.numbers[laid.name]

    def panel_of(self, laid: Laid) -> Panel:
        """The panel that lies there, or that a piece there is made from."""
        part = self.piece_of(laid) if piece_of_part(laid.name) else None
        return part.panel if part else self.panels[laid.panel]

    def piece_of(self, laid: Laid) -> Piece | None:
        """The piece that lies there; None for a stage of the draft."""
        if laid.kind == "draft":
            return None
        return next((piece for piece in self.pieces if piece.name == laid.name), None)

    def rest(
        self, laid: Laid, of: Panel | Piece, *, cutting: bool, held: bool = False
    ) -> tuple[Rest, bool]:
        """Where a thing's label and grain go, and whether it moved since.

        While something is held they stay where they were: moving labels cannot be read.
        """
        key = laid.key
        known = self._rests.last(key)
        if known and held:
            return known[1], known[0][0] is not of
        return self._rests.of(key, of, cutting), False

    # Pull points

    def point_of(self, name: str) -> Handle | None:
        """The pull point at a place, by the place's name."""
        return next((h for h in self.points if h.place == name), None)

    def at(self, handle: Handle) -> Point:
        """Where a pull point lies on the table."""
        laid = self.layout.of_panel(handle.panel)
        return laid.at(handle.point) if laid else handle.point

    def way(self, handle: Handle, amount: str) -> Point:
        """The way a place goes on the table as an amount grows."""
        return self._way(handle, self.response(handle, amount))

    def _way(self, handle: Handle, response: Response) -> Point:
        laid = self.layout.of_panel(handle.panel)
        return laid.way(response.direction) if laid else response.direction

    def known_way(self, handle: Handle) -> Point | None:
        """The way a place goes, as far as it is known without working it."""
        known = self._known(handle)
        return self._way(handle, known) if known else None

    def _known(self, handle: Handle) -> Response | None:
        key = (handle.place, handle.amount)
        return self._responses.get(key) or self._answered.get(key)

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
                return self.trials.response(self.good.worked, handle, amount)
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
        known = self._known(handle)
        return known is not None and known.is_ineffective

    def stronger_amount(self, handle: Handle) -> AmountState | None:
        """The amount that would move this place more."""
        others = {h.amount for h in self.handles} - set(handle.amounts)
        reaches = {name: self.response(handle, name).reach for name in sorted(others)}
        best = max(reaches, key=reaches.__getitem__, default="")
        return self.state(best) if best and reaches[best] > HOPELESS else None

    def begin(self, handle: Handle, place: Point) -> Drag | None:
        """Take a pull point in hand at a place of the table."""
        laid = self.layout.of_panel(handle.panel)
        if self.good is None or laid is None:
            return None
        return Drag(self.trials, self.good.worked, handle, laid.drafted(place))


def _names(layout: Layout) -> set[str]:
    return {laid.name for laid in layout.laid}
