"""A table with an order on it, and hands to work it; shares `table_walk`."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from drafting import look_of, worktable_of
from skirtwright.app.canvas.table import Table
from skirtwright.app.look import LIGHT
from skirtwright.draft.styles import style
from skirtwright.job.job import Job, new_job
from skirtwright.job.worktable import Look

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

LEFT = Qt.MouseButton.LeftButton
NONE = Qt.KeyboardModifier.NoModifier


class Bench:
    """A table, and what stands behind it as the window does."""

    def __init__(self, qtbot: Any, name: str, size: tuple[int, int]) -> None:
        self.table = Table(LIGHT)
        qtbot.addWidget(self.table)
        self.table.resize(*size)
        self.job: Job = new_job(style(name))
        self.table.show_look(self.look())
        self.heard: list[tuple[str, Any]] = []
        self.table.pulling.connect(self._pulling)
        self.table.pulled.connect(self._pulled)
        self.table.dropped.connect(self._dropped)
        self.table.pointed.connect(lambda said: self.heard.append(("pointed", said)))
        self.table.asked_why.connect(lambda name: self.heard.append(("why", name)))
        self.table.show()
        qtbot.waitExposed(self.table)
        self.table.activateWindow()
        self.settle()

    def look(self, amounts: dict[str, float] | None = None) -> Look:
        if amounts is None:
            return look_of(self.job)
        return worktable_of(self.job.draft.id).look(self.job, amounts)

    def _pulling(self, amounts: dict[str, float]) -> None:
        self.heard.append(("pulling", amounts))
        self.table.show_look(self.look(amounts))

    def _pulled(self, amounts: dict[str, float]) -> None:
        self.heard.append(("pulled", amounts))
        typed = {name: f"{value!r} mm" for name, value in amounts.items()}
        self.job = self.job.replace(amounts={**self.job.amounts, **typed})
        self.table.show_look(self.look())

    def _dropped(self) -> None:
        self.heard.append(("dropped", None))
        self.table.show_look(self.look())

    def of(self, kind: str) -> list[Any]:
        """What was heard of one kind."""
        return [what for known, what in self.heard if known == kind]

    def settle(self) -> None:
        """All waiting events and ticks."""
        for _ in range(6):
            QApplication.processEvents()

    def value(self, amount: str) -> float:
        return self.table.scene.good.worked.stated.amounts[amount].value

    def at(self, name: str) -> QPointF:
        """Where a pull point is on the screen."""
        shown = next(p for p in self.table.shown_points() if p.name == name)
        return QPointF(shown.x, shown.y)

    def mouse(
        self,
        kind: QEvent.Type,
        at: QPointF,
        button: Qt.MouseButton = LEFT,
        keys: Qt.KeyboardModifier = NONE,
        *,
        held: bool = True,
    ) -> None:
        moving = kind == QEvent.Type.MouseMove
        event = QMouseEvent(
            kind,
            at,
            self.table.mapToGlobal(at),
            Qt.MouseButton.NoButton if moving else button,
            button if held else Qt.MouseButton.NoButton,
            keys,
        )
        QApplication.sendEvent(self.table, event)

    def press(self, at: QPointF, button: Qt.MouseButton = LEFT) -> None:
        self.mouse(QEvent.Type.MouseButtonPress, at, button)

    def move(
        self,
        at: QPointF,
        *,
        held: bool = True,
        keys: Qt.KeyboardModifier = NONE,
        button: Qt.MouseButton = LEFT,
    ) -> None:
        self.mouse(QEvent.Type.MouseMove, at, button, keys, held=held)
        self.settle()

    def release(self, at: QPointF, button: Qt.MouseButton = LEFT) -> None:
        self.mouse(QEvent.Type.MouseButtonRelease, at, button, held=False)
        self.settle()

    def click(self, at: QPointF) -> None:
        self.press(at)
        self.release(at)

    def pull(self, name: str, x: float, y: float) -> None:
        """Drag a pull point by so many pixels and let go."""
        at = self.at(name)
        self.press(at)
        for share in (0.25, 0.5, 0.75, 1.0):
            self.move(at + QPointF(x, y) * share)
        self.release(at + QPointF(x, y))

    def key(self, key: Qt.Key, keys: Qt.KeyboardModifier = NONE) -> None:
        QTest.keyClick(self.table, key, keys)
        self.settle()

    def focus(self, name: str) -> None:
        self.table.focus_point(name)
        self.settle()


@pytest.fixture
def bench(qtbot) -> Bench:
    return Bench(qtbot, "mermaid", (1100, 900))
