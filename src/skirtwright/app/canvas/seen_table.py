"""How the table is seen: what is laid on it, how large, and what lies over it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from PySide6.QtCore import QRectF
from PySide6.QtWidgets import QWidget

from skirtwright.app.canvas.camera import Camera
from skirtwright.app.canvas.drawing import Brushes
from skirtwright.app.canvas.entries import Setters, setters
from skirtwright.app.canvas.entry_field import EntryField
from skirtwright.app.canvas.fitting import (
    MARGIN,
    NAMES,
    Area,
    Fit,
    Stacked,
    Window,
    figure_place,
    stacked,
)
from skirtwright.app.canvas.laid_cloths import Cloths
from skirtwright.app.canvas.laying import ALL, SKIRT, STAGES, Layout
from skirtwright.app.canvas.lines_before import LinesBefore
from skirtwright.app.canvas.pointing import Found
from skirtwright.app.canvas.points import Points
from skirtwright.app.canvas.pulling import Pull
from skirtwright.app.canvas.scene import Scene
from skirtwright.app.canvas.signs import Signs
from skirtwright.app.canvas.view import View
from skirtwright.app.canvas.walk_player import WalkPlayer
from skirtwright.app.figure_view import FigureView
from skirtwright.draft.shapes.panel import Panel
from skirtwright.geometry import Point
from skirtwright.geometry.apart import Run
from skirtwright.job.worktable import Look
from skirtwright.lay.lay import Lay
from skirtwright.pieces.piece import Piece
from skirtwright.remembered import Remembered


class SeenTable(QWidget):
    """What is on the table, where it is seen, and what waits in its corners.

    Attributes:
        signs: the pins of checks.
        on_cloths: they are seen, not the skirt.
    """

    scene: Scene
    points: Points
    signs: Signs
    brushes: Brushes
    camera: Camera
    walk_player: WalkPlayer
    figure: FigureView
    field: EntryField
    pull: Pull | None
    hovered: Found | None
    chosen: Found | None
    cloths: Cloths
    on_cloths: bool
    _seen_before: tuple[View, bool]
    _setters: Setters
    _printed: Look | None
    _ghost: Look | None
    _best: Remembered[Fit | None, Layout, Window]
    _apart: Remembered[tuple[Run, ...], Panel | Piece, Panel | Piece | None, bool]

    def refresh(self) -> None:
        """Have what looks another way than before painted again."""
        raise NotImplementedError

    def say_pointed(self) -> None:
        """Tell what is pointed at, when it is another thing than before."""
        raise NotImplementedError

    def show_before(self, before: Look | None) -> None:
        """Dot the lines of an order as it was printed; None takes them away."""
        self._printed = before
        self.refresh()

    def show_ghost(self, look: Look | None) -> None:
        """Dot the lines as another look would draw them; the table lies as it lay."""
        if look is not None or self._ghost is not None:
            self._ghost = look
            self.refresh()

    def lines_before(self) -> tuple[LinesBefore, ...]:
        """The lines as they were printed, and as a remedy would draw them.

        In a pull those that were printed stay as they are at the press.
        """
        others = (("printed", self._printed), ("to_come", self._ghost))
        return tuple(
            LinesBefore(laid, runs, which == "to_come")
            for which, other in others
            if other is not None
            for laid, of in self.scene.things()
            if (runs := self._runs((which, laid.kind, laid.name), of, other))
        )

    def _runs(
        self, key: tuple[str, ...], of: Panel | Piece, other: Look
    ) -> tuple[Run, ...]:
        if self.pull is not None:
            known = self._apart.last(key)
            return known[1] if known else ()
        if isinstance(of, Panel):
            was = other.worked.values.get(key[-1])
        else:
            was = next((piece for piece in other.pieces if piece.name == of.name), None)
        return self._apart.of(key, of, was, self.shows_cutting)

    def fit_all(self) -> None:
        """All that lies on the table in view, laid as it is best seen."""
        self.scene.lay_afresh()
        self.signs.renew()
        self.fit()

    def fit(self, *, glide: bool = True) -> None:
        """What is on the table whole and as large as it will go."""
        if self.on_cloths:
            lays = [one.lay for one in self.cloths.spreads]
            self._lay_cloths(lays, afresh=True)
            self.camera.show(self.cloths.view, glide=glide)
            self.refresh()
            return
        best = self.best_fit()
        if best:
            self.camera.show(best.view, glide=glide)
        self.refresh()

    def fit_draft(self) -> None:
        """The stages of the draft on the table."""
        self.bring(STAGES)

    def fit_pieces(self) -> None:
        """All pieces side by side, and back."""
        self.bring(SKIRT if self.scene.brought == ALL else ALL)

    def bring(self, key: str) -> None:
        """Lay a card of the stack on the table, large; the skirt goes into the stack.

        Args:
            key: of the card, `skirt`, or `all` for all pieces side by side.
        """
        self.show_cloths(on=False)
        if not self.scene.bring(key):
            return
        self.field.done()
        self.hovered = self.chosen = None
        self.points.renew(self)
        self._setters = setters(self.scene)
        self.signs.renew()
        self.fit(glide=False)
        self.say_pointed()

    # The cloths, further along the table

    def show_cloths(self, *, on: bool) -> None:
        """Go along the table to the cloths, or back to the skirt as she saw it."""
        if on == self.on_cloths:
            return
        self.on_cloths, self.hovered = on, None
        self.cloths = replace(self.cloths, chosen=None, hovered=None, held=None)
        if on:
            self._seen_before = (self.camera.goal(), self.camera.fitted)
            self.fit(glide=False)
        elif self._seen_before[1]:
            self.fit(glide=False)
        else:
            self.camera.look_from(self._seen_before[0])
        self.say_pointed()
        self.refresh()

    def show_lays(
        self, lays: Sequence[Lay], sure: frozenset[str], share: float
    ) -> None:
        """Show pieces on their cloths."""
        names = {lay.cloth.material for lay in lays}
        still = self.cloths.chosen is not None or not self.camera.fitted
        self._lay_cloths(lays, afresh=names <= sure and not still)
        if self.cloths.find(self.cloths.chosen) is None:
            self.cloths = replace(self.cloths, chosen=None)
        self.cloths = replace(self.cloths, sure=sure, share=share).judged()
        if self.on_cloths:
            if self.camera.fitted:
                self.camera.show(self.cloths.view, glide=False)
            self.say_pointed()
            self.refresh()

    def _lay_cloths(self, lays: Sequence[Lay], *, afresh: bool) -> None:
        unit, window = self.brushes.manner.unit, self.window_left
        self.cloths = self.cloths.shown(lays, unit, window, afresh=afresh)

    def leaf(self, steps: int) -> None:
        """The next card of the stack, or the last; after all of them the skirt."""
        order, brought = self.scene.card_order(), self.scene.brought
        here = order.index(brought) if brought in order else 0
        self.bring(order[(here + steps) % len(order)])

    def card_at(self, x: float, y: float) -> str:
        """The key of the card that lies under a pixel; empty for none."""
        found = (s.card.key for s in reversed(self.stack()) if s.area.holds(x, y))
        return next(found, "")

    @property
    def window_left(self) -> Window:
        """The table's part of the window, and what lies over it."""
        camera = self.camera
        covered = (float(camera.covered_right), float(camera.covered_below))
        text = self.brushes.percent / 100
        return Window(float(self.width()), float(self.height()), *covered, text)

    def best_fit(self) -> Fit | None:
        """How what is on the table is best seen."""
        return self._best.of("", self.scene.layout, self.window_left)

    def overflows(self) -> bool:
        """Whether the skirt runs out of the free table, or under a card, as it is seen.

        False where it would as it is best seen too.
        """
        box, best, window = self.scene.layout.box(), self.best_fit(), self.window_left
        if box is None or best is None:
            return False
        cards = [stacked.area for stacked in self.stack()]

        def beyond(view: View) -> float:
            right, bottom = view.screen(Point(box.right, box.bottom))
            low = bottom + NAMES
            under = [min(right - card.left, low - card.top) for card in cards]
            return max(right - window.free_width, bottom - window.free_height, *under)

        return beyond(self.camera.goal()) > max(beyond(best.view), 0.0) + 1.0

    def stack(self) -> list[Stacked]:
        """The cards where they stand."""
        best = self.best_fit()
        if best is None or self.on_cloths:
            return []
        return stacked(self.scene.layout.stack, self.window_left, low=best.low)

    def figure_area(self) -> Area | None:
        """Where the skirt on her stands; None where the drawing leaves no room."""
        window, best = self.window_left, self.best_fit()
        if self.figure.is_large and self.scene.good is not None:
            wide, tall = window.free_width, window.free_height
            # A sentence stands over her; large text breaks it into more lines.
            top = MARGIN * (1 + window.text**2)
            return Area(MARGIN, top, wide - 2 * MARGIN, tall - top - MARGIN)
        box = self.scene.layout.box()
        if best is None or box is None or self.scene.good is None:
            return None
        left, foot = best.view.screen(Point(box.left, box.bottom))
        cards = min((s.area.left for s in self.stack()), default=window.free_width)
        return figure_place(window, (left, foot), cards, low=best.low)

    def figure_at(self, x: float, y: float) -> bool:
        """Whether a pixel lies on the skirt on her."""
        area = self.figure_area()
        return area is not None and (self.figure.is_large or area.holds(x, y))

    def show_figure(self, *, large: bool | None = None) -> None:
        """The skirt on her large, from all sides, or small again.

        Args:
            large: which; None turns it round.
        """
        self.figure.is_large = not self.figure.is_large if large is None else large
        self.hovered = None
        self.say_pointed()
        self.refresh()

    @property
    def shows_cutting(self) -> bool:
        """Whether cutting lines are shown: always of what is not the skirt."""
        shown = self.scene.cutting or self.scene.on_paper
        return shown or self.scene.brought not in (SKIRT, STAGES)

    def set_covered(self, *, right: int, bottom: int) -> None:
        """What lies over the table's edges; a view she has not moved makes room.

        Args:
            right: width of what lies over its right edge, px.
            bottom: height of what lies over its lower edge, px.
        """
        if (right, bottom) == (self.camera.covered_right, self.camera.covered_below):
            return
        self.camera.covered_right, self.camera.covered_below = right, bottom
        if self.camera.fitted:
            self.fit()
        self.refresh()

    def true_size(self) -> None:
        """As large as the skirt itself, about the middle of the window."""
        self.camera.true_size()

    def zoom_by(self, factor: float, at: tuple[float, float] | None = None) -> None:
        """Nearer or further, about a pixel or the middle."""
        self.camera.zoom_by(factor, at)

    def pan_by(self, x: float, y: float) -> None:
        """Push the table by so many pixels."""
        self.camera.pan_by(x, y)

    @property
    def view(self) -> View:
        """How the table is seen now."""
        return self.camera.view

    def room(self) -> QRectF:
        """What of the window is not covered, px."""
        window = self.window_left
        return QRectF(0, 0, window.free_width, window.free_height)
