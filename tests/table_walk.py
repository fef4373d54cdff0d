"""A walk on one table, each step held against a fresh desk and table with that order.

What is remembered between steps (worked steps, layouts, pictures) may save time and
must not change anything that is seen.
"""

from __future__ import annotations

import random
from typing import Any

from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QImage, QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from memory_walk import ALTERED, added_options
from skirtwright.app.canvas.pointing import Found, corners, describe
from skirtwright.app.canvas.table import Table
from skirtwright.app.desk import Desk
from skirtwright.app.look import DARK, LIGHT
from skirtwright.app.settings import Settings
from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.styles import names, style
from skirtwright.export.report_json import as_json
from skirtwright.job import fitting_edits
from skirtwright.job.edits import set_choice, set_measurement, set_style
from skirtwright.job.job import new_job
from skirtwright.job.piece_edits import rename_piece, set_allowance, show_piece
from skirtwright.problems import SkirtwrightError
from skirtwright.words import Manner, says

SIZE = (760, 560)
HAND, NOTHING = Qt.MouseButton.LeftButton, Qt.MouseButton.NoButton


class Stand:
    """A desk and its table, wired as the window wires them."""

    def __init__(self, qtbot: Any) -> None:
        self.desk, self.table = Desk(Settings()), Table(LIGHT)
        qtbot.addWidget(self.table)
        self.table.resize(*SIZE)
        self.desk.looked.connect(self.table.show_look)
        self.table.pulling.connect(self.desk.pull)
        self.table.pulled.connect(self.desk.settle)
        self.table.dropped.connect(self.desk.drop)

    def settle(self) -> None:
        """All waiting events, and all that is learnt while the hand rests."""
        for _ in range(4):
            QApplication.processEvents()
        while self.table.scene.learn_one():
            pass
        self.table.refresh()

    def let_go(self) -> None:
        """Nothing is in hand, chosen, or pointed at any more."""
        table = self.table
        table.points.chosen = table.points.focused = table.points.hovered = ""
        table.chosen = table.hovered = table.pointer = None
        table.signs.shown = table.signs.hovered = None
        table.refresh()

    def picture(self) -> QImage:
        """What is painted."""
        return self.table.grab().toImage()

    def mouse(self, kind: QEvent.Type, at: QPointF) -> None:
        """The hand on the table, its button held but for the release."""
        moving = kind == QEvent.Type.MouseMove
        held = NOTHING if kind == QEvent.Type.MouseButtonRelease else HAND
        away = self.table.mapToGlobal(at)
        none = Qt.KeyboardModifier.NoModifier
        button = NOTHING if moving else HAND
        event = QMouseEvent(kind, at, away, button, held, none)
        QApplication.sendEvent(self.table, event)
        QApplication.processEvents()


class Walk:
    """Random steps on one stand."""

    def __init__(self, qtbot: Any, seed: int) -> None:
        self._qtbot = qtbot
        self._chance = random.Random(seed)
        self.stand = Stand(qtbot)
        self.done: list[str] = []
        self.stand.desk.begin(new_job(style(self._chance.choice(names()))))
        self.stand.table.show()
        qtbot.waitExposed(self.stand.table)

    def step(self) -> None:
        """One thing a hand does."""
        kinds = {
            self._pull: 6,
            self._choose: 3,
            self._undo: 3,
            self._measure: 1,
            self._piece: 1,
            self._allowance: 1,
            self._allowances: 2,
            self._alter: 1,
            self._see: 3,
            self._style: 1,
        }
        doing = self._chance.choices(list(kinds), list(kinds.values()))[0]
        try:
            said = doing()
        except SkirtwrightError as refused:
            said = f"refused: {refused.problem.code}"
        self.done.append(f"{doing.__name__} {said}")
        self.stand.settle()
        self.stand.let_go()

    def _pull(self) -> str:
        table = self.stand.table
        shown = [
            p for p in table.shown_points() if table.rect().contains(p.place.toPoint())
        ]
        if not shown:
            return "nothing in sight"
        point = self._chance.choice(shown)
        self.stand.mouse(QEvent.Type.MouseButtonPress, point.place)
        for _ in range(self._chance.randint(1, 3)):
            x, y = (self._chance.uniform(-30, 30) for _ in "xy")
            at = point.place + QPointF(x, y)
            self.stand.mouse(QEvent.Type.MouseMove, at)
            self.stand.picture()
        if self._chance.random() < 0.2:
            QTest.keyClick(table, Qt.Key.Key_Escape)
        self.stand.mouse(QEvent.Type.MouseButtonRelease, at)
        return point.name

    def _choose(self) -> str:
        job = self.stand.desk.job
        choice = self._chance.choice(job.draft.choices)
        name, option = choice.name, self._chance.choice(list(choice.options))
        if (added := added_options(job.draft)) and self._chance.random() < 0.5:
            name, option = self._chance.choice(added)
        self.stand.desk.change(set_choice(job, name, option))
        return f"{name} {option}"

    def _undo(self) -> str:
        history = self.stand.desk.history
        back = self._chance.random() < 0.7
        (history.undo if back else history.redo)()
        return "back" if back else "forth"

    def _measure(self) -> str:
        text = f"{self._chance.randint(66, 90)} cm"
        self.stand.desk.change(set_measurement(self.stand.desk.job, "waist", text))
        return text

    def _piece(self) -> str:
        desk = self.stand.desk
        piece = self._chance.choice(desk.job.draft.pieces).name
        if self._chance.random() < 0.5:
            desk.change(rename_piece(desk.job, piece, f"Piece {len(self.done)}"))
        else:
            desk.change(show_piece(desk.job, piece, self._chance.random() < 0.5))
        return piece

    def _allowance(self) -> str:
        desk = self.stand.desk
        piece = self._chance.choice(desk.look.pieces)
        edge, text = self._chance.choice(piece.edges).name, self._chance.choice("12")
        desk.change(set_allowance(desk.job, piece.name, edge, text))
        return f"{piece.name} {edge} {text}"

    def _allowances(self) -> str:
        table = self.stand.table
        table.show_allowances(not table.scene.cutting)
        return str(table.scene.cutting)

    def _alter(self) -> str:
        desk = self.stand.desk
        made = self._chance.choice(ALTERED)
        desk.change(fitting_edits.alter(desk.job, made, desk.look.worked.stated))
        return made.what

    def _style(self) -> str:
        name = self._chance.choice(names())
        self.stand.desk.change(set_style(self.stand.desk.job, style(name)))
        return name

    def _see(self) -> str:
        table, what = self.stand.table, self._chance.randint(0, 5)
        if what == 0:
            table.zoom_by(self._chance.choice([0.5, 0.8, 1.7, 3.0]))
        elif what == 1:
            table.pan_by(self._chance.randint(-90, 90), self._chance.randint(-90, 90))
        elif what == 2:
            table.set_colours(self._chance.choice([LIGHT, DARK]))
        elif what == 3:
            table.set_manner(self._chance.choice([Manner(), Manner("in", 8, "en_US")]))
        elif what == 4:
            table.set_text_size(self._chance.choice([100, 150]))
        else:
            table.bring(self._chance.choice(table.scene.card_order()))
        return str(what)

    def fresh(self) -> Stand:
        """Another desk and table, with the same order, laid and seen alike."""
        own, other = self.stand.table, Stand(self._qtbot)
        other.table.brushes = own.brushes
        other.table.show_allowances(own.scene.cutting)
        other.desk.begin(self.stand.desk.job)
        # What lies on a table keeps its place: so it lay on this one before, too.
        other.table.scene._whole = own.scene._whole
        other.table.scene._lain = [*own.scene._lain]
        other.table.scene.brought = own.scene.brought
        other.table.show_look(other.desk.look)
        other.table.camera.view, other.table.camera.fitted = own.view, False
        other.settle()
        return other


def told(stand: Stand) -> dict[str, Any]:
    """Everything a table shows, as plain values."""
    table, scene = stand.table, stand.table.scene
    manner = table.brushes.manner
    found: dict[str, Any] = {
        "report": as_json(stand.desk.look.report, manner),
        "layout": scene.layout,
        "points": [
            (h, scene.at(h), scene.is_dim(h), table.points.sentence(h.place, manner))
            for h in scene.points
        ],
        "signs": [(n, says(p, manner), place) for n, p, place in table.signs.places],
        "choices": dict(stand.desk.look.worked.stated.choices),
        "outlines": table.outlines(),
        "entries": table.entries(),
    }
    for laid, of in scene.things():
        panel, base = scene.panel_of(laid), laid.panel
        ring = of.ring() if isinstance(of, Panel) else of.cut
        things = [Found("thing", base, laid)]
        things += [
            Found("edge", f"{base}.{edge.name}", laid, edge.chain)
            for edge in panel.edges
        ]
        things += [
            Found("corner", name, laid, place) for name, place in corners(scene, panel)
        ]
        said = [describe(scene, thing, manner) for thing in things]
        found[f"{laid.kind} {laid.name}"] = (ring, said)
    return found
