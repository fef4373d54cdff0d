"""How she looks at the table: fitting, zooming, panning, gliding between views."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEasingCurve, QObject, QVariantAnimation, Signal
from PySide6.QtWidgets import QWidget

from skirtwright.app.canvas.view import Margins, View, fitted
from skirtwright.geometry.box import Box
from skirtwright.geometry.point import Point

GLIDE_MS = 140
"""A short glide from one view to another."""

_MARGIN = 28.0


class Camera(QObject):
    """The view, and how it changes.

    Attributes:
        fitted: all is kept in view while the window changes; False when she looks
            from where she chose to.
        true_scale: px to a mm as she measured it on this screen, or None.
        covered_right, covered_below: what other widgets hide of the table there, px.

    Signals:
        turned: the view has changed.
    """

    turned = Signal()

    def __init__(self, table: QWidget, changed: Callable[[], None]) -> None:
        super().__init__(table)
        self.view = View()
        self.fitted = False
        self.true_scale: float | None = None
        self.covered_right = self.covered_below = 0
        self._table = table
        self._changed = changed
        self._start = self._goal = self.view
        self._glide = QVariantAnimation(self)
        self._glide.setDuration(GLIDE_MS)
        self._glide.setEasingCurve(QEasingCurve.Type.InOutCubic)
        self._glide.setStartValue(0.0)
        self._glide.setEndValue(1.0)
        self._glide.valueChanged.connect(self._turn)

    def goal(self) -> View:
        """The view, or the one it glides to."""
        running = self._glide.state() == QVariantAnimation.State.Running
        return self._goal if running else self.view

    def show(self, view: View, *, glide: bool = True) -> None:
        """A view that keeps all in sight, in a short glide or at once."""
        self.fitted = True
        self._go(view, glide=glide)

    def show_box(self, box: Box) -> None:
        """A part of the table whole and as large as it will go."""
        self.fitted = False
        size, margins = self._table.size(), Margins(*4 * (_MARGIN,))
        wide = size.width() - self.covered_right
        view = fitted(box, wide, size.height() - self.covered_below, margins)
        self._go(view)

    def show_place(self, place: Point) -> None:
        """A place in the middle; one in sight stays where it is."""
        size = self._table.size()
        wide = size.width() - self.covered_right
        tall = size.height() - self.covered_below
        x, y = self.goal().screen(place)
        if _MARGIN <= x <= wide - _MARGIN and _MARGIN <= y <= tall - _MARGIN:
            return
        self.fitted = False
        self._go(self.goal().centred(place, wide, tall))

    def true_size(self) -> None:
        """As large as the skirt itself, about the middle of the window."""
        scale = self.true_scale or self._table.physicalDpiX() / 25.4
        x, y = self._middle()
        self.fitted = False
        self._go(self.goal().zoomed(x, y, scale / self.goal().scale))

    def zoom_by(self, factor: float, at: tuple[float, float] | None) -> None:
        """Nearer or further, about a pixel or the middle."""
        self.look_from(self.goal().zoomed(*(at or self._middle()), factor))

    def pan_by(self, x: float, y: float) -> None:
        """Push the table by so many pixels."""
        self.look_from(self.goal().panned(x, y))

    def look_from(self, view: View) -> None:
        """A view she chose."""
        self.fitted = False
        self._go(view, glide=False)

    def _middle(self) -> tuple[float, float]:
        wide = self._table.width() - self.covered_right
        return wide / 2, (self._table.height() - self.covered_below) / 2

    def _go(self, view: View, *, glide: bool = True) -> None:
        self._glide.stop()
        self._start, self._goal = self.view, view
        if glide and self._table.isVisible():
            self._glide.start()
        else:
            self._turn(1.0)

    def _turn(self, share: float) -> None:
        size = self._table.size()
        if share >= 1:
            self.view = self._goal
        else:
            self.view = self._start.between(
                self._goal, share, size.width(), size.height()
            )
        self._changed()
        self.turned.emit()
