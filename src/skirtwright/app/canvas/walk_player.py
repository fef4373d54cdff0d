"""A seam walked on the table, on its own or by the arrow keys."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, QVariantAnimation

from skirtwright.app.canvas.laying import Laid
from skirtwright.app.canvas.scene import Scene
from skirtwright.app.canvas.view import box_round
from skirtwright.app.canvas.walking import Walk
from skirtwright.geometry.box import Box, box_of

WALK_MS = 4000
"""A seam is walked in this time."""


class WalkPlayer(QObject):
    """Shows a walk.

    Attributes:
        walk: as far as it has come; None when no seam is walked.
    """

    def __init__(
        self, parent: QObject, scene: Scene, changed: Callable[[], None]
    ) -> None:
        super().__init__(parent)
        self.walk: Walk | None = None
        self._scene = scene
        self._changed = changed
        self._clock = QVariantAnimation(self)
        self._clock.setDuration(WALK_MS)
        self._clock.valueChanged.connect(self._on_clock)

    def begin(self, name: str) -> Box | None:
        """Begin to walk a seam.

        Returns:
            The part of the table to look at; None when there is no such seam.
        """
        good = self._scene.good
        seams = good.report.cut.seams if good else ()
        seam = next((walked for walked in seams if walked.seam.name == name), None)
        if seam is None:
            return None
        pieces = good.pieces if good else ()
        panels = {piece.name: piece.panel for piece in pieces}
        self.walk = Walk(seam, panels)
        self._clock.setStartValue(0.0)
        self._clock.setEndValue(self.walk.whole)
        self._clock.start()
        return self._box(self.walk)

    def to(self, distance: float) -> None:
        """Walk to a distance, mm, and stop there."""
        self._clock.stop()
        self._on_clock(distance)

    def end(self) -> None:
        """Lay the pieces down again."""
        self._clock.stop()
        self.walk = None
        self._changed()

    def laid(self, walk: Walk) -> Laid | None:
        """How the first piece lies on the table."""
        return self._scene.layout.find("piece", walk.rolled().first.piece)

    def title(self, walk: Walk) -> str:
        """What the seam is called."""
        good, name = self._scene.good, walk.seam.seam.name
        seams = good.report.cut.written if good else ()
        return next((s.title for s in seams if s.name == name and s.title), name)

    def _box(self, walk: Walk) -> Box | None:
        """Room for the first piece and for the second rolled along it."""
        first = self.laid(walk)
        if first is None:
            return None
        boxes = [first.box]
        for share in (0.0, 0.5, 1.0):
            now = walk.at(walk.whole * share).rolled()
            outline = walk.panels[now.second.piece].outline.moved(now.motion)
            boxes.append(box_of(map(first.at, outline.flattened(2.0))))
        return box_round(boxes)

    def _on_clock(self, distance: float) -> None:
        if self.walk:
            self.walk = self.walk.at(float(distance))
            self._changed()
