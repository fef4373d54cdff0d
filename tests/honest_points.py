"""Whether each pull point does what it shows, tried by mouse on one table.

A point that is not hollow moves when it is pulled, one way or the other; a hollow one
stays where it is however much of its amount there is.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication

from skirtwright.app.canvas.table import Table
from skirtwright.app.look import LIGHT
from skirtwright.draft.alterations import Alteration, alterable
from skirtwright.draft.pulls import HOPELESS, handles
from skirtwright.draft.styles import names, style
from skirtwright.job.edits import set_choice, set_measurement
from skirtwright.job.fitting_edits import alter, offered
from skirtwright.job.job import Job, new_job
from skirtwright.job.worktable import Worktable
from skirtwright.problems import SkirtwrightError

LEFT, NONE = Qt.MouseButton.LeftButton, Qt.MouseButton.NoButton
_FAR = 36.0
"""How far a point is pulled, px."""


def orders() -> Iterator[tuple[str, Job]]:
    """Every style, and every option of every choice of it."""
    for name in names():
        plain = new_job(style(name))
        yield name, plain
        for choice in plain.draft.choices:
            for option in choice.options:
                if option != choice.default:
                    made = set_choice(plain, choice.name, option).job
                    yield f"{name}, {choice.name} {option}", made


def altered() -> Iterator[tuple[str, Job]]:
    """Every style altered at a fitting, each thing that can be, on both sides and one.

    With it left and right apart, and every option of an addition on such a body.
    """
    worktable = Worktable()
    for name in names():
        plain = new_job(style(name))
        stated = worktable.look(plain).worked.stated
        for known in offered(stated):
            both = () if known.one_side else ("",)
            for side in (*both, *(("right",) if known.by_side else ())):
                made = _altered(plain, known.id, side, stated)
                if made is not None:
                    yield f"{name}, {known.id} {side or 'both'}", made
        apart = set_measurement(plain, "waist_to_hip", None).job
        apart = set_measurement(apart, "waist_to_hip_left", "20 cm").job
        apart = set_measurement(apart, "waist_to_hip_right", "21.5 cm").job
        yield f"{name}, apart", apart
        for choice in plain.draft.choices:
            if choice.name in ("at_hem", "patch_pocket", "pocket", "overlay"):
                for option in choice.offered:
                    made = set_choice(apart, choice.name, option).job
                    yield f"{name}, apart, {choice.name} {option}", made


def _altered(job: Job, what: str, side: str, stated: Any) -> Job | None:
    """An order altered by a centimetre; None where the alteration asks for more."""
    known = alterable(what)
    readings = ("104", "104.5", "103", "104", "103.5") if known.reads else ()
    try:
        given = Alteration(
            what=what,
            by="" if known.reads else "1",
            side="" if known.reads else side,
            first=known.first,
            last=known.last,
            readings=readings,
        )
        return alter(job, given, stated).job
    except (SkirtwrightError, ValueError):
        return None


class Hand:
    """A table that is pulled and let go again, so that the order stays as it was."""

    def __init__(self) -> None:
        self.worktable, self.table = Worktable(), Table(LIGHT)
        self.table.resize(1440, 796)
        self.table.pulling.connect(self._pulling)
        self.table.show()
        self.job: Job | None = None
        self._learnt: dict[tuple[str, str], Any] = {}

    def _pulling(self, amounts: dict[str, float]) -> None:
        try:
            look = self.worktable.look(self.job, amounts)
        except (SkirtwrightError, ValueError):
            return
        if look.drawn:
            self.table.show_look(look)

    def lies(self, job: Job) -> Iterator[str]:
        """What is wrong with the points of an order; nothing for one not drawn."""
        try:
            look = self.worktable.look(job)
        except (SkirtwrightError, ValueError):
            return
        if not look.drawn:
            return
        self.job, self._learnt = job, {}
        self._lay(look)
        while self.table.scene.learn_one():
            pass
        # Learnt once: the order is the same after each pull.
        self._learnt = dict(self.table.scene._responses)
        for shown in self.table.shown_points():
            if shown.dim:
                yield from self._moves_though_hollow(look, shown.name)
            elif not self._is_pulled(look, shown):
                yield f"{shown.name} does not move when pulled"

    def _lay(self, look: Any) -> None:
        """The order as it is at rest."""
        self.table.show_look(look)
        self.table.scene._responses.update(self._learnt)
        self.table.scene.lay_afresh()
        self.table.fit(glide=False)

    def _is_pulled(self, look: Any, shown: Any) -> bool:
        ways = [shown.way, (-shown.way[0], -shown.way[1])]
        if shown.both:
            ways += [(-way[1], way[0]) for way in ways]
        return any(self._pulled(look, shown, way) for way in ways)

    def _pulled(self, look: Any, shown: Any, way: tuple[float, float]) -> bool:
        table, at = self.table, shown.place
        before = table.scene.at(table.scene.point_of(shown.name))
        self._mouse(QEvent.Type.MouseButtonPress, at)
        held = table.points.held
        for share in (0.5, 1.0):
            step = QPointF(*way) * (_FAR * share)
            self._mouse(QEvent.Type.MouseMove, at + step)
            QApplication.processEvents()
        handle = table.scene.point_of(shown.name)
        moved = handle is not None and table.scene.at(handle).to(before) > 0.2
        table.pull, table.points.held = None, ""
        self._mouse(QEvent.Type.MouseButtonRelease, at)
        self._lay(look)
        return moved and held == shown.name

    def _mouse(self, kind: QEvent.Type, at: QPointF) -> None:
        moving = kind == QEvent.Type.MouseMove
        held = NONE if kind == QEvent.Type.MouseButtonRelease else LEFT
        away, none = self.table.mapToGlobal(at), Qt.KeyboardModifier.NoModifier
        event = QMouseEvent(kind, at, away, NONE if moving else LEFT, held, none)
        QApplication.sendEvent(self.table, event)

    def _moves_though_hollow(self, look: Any, name: str) -> Iterator[str]:
        """A quarter of the range more or less, or as much as can be drawn."""
        scene = self.table.scene
        handle = scene.point_of(name)
        state = scene.state(handle.amount)
        for end in (state.least, state.most):
            step = 0.25 * (end - state.value)
            if state.amount.kind == "count":
                step = round(end - state.value)
            if not step:
                continue
            tried = self.worktable.look(self.job, {handle.amount: state.value + step})
            there = next((h for h in handles(tried.worked) if h.place == name), None)
            if not tried.drawn or there is None:
                continue
            way = there.point.to(handle.point)
            if way > 4 * HOPELESS * abs(step) and way > 0.5:
                yield f"{name} is hollow, yet {handle.amount} moves it {way:.1f} mm"
