"""Remedies for what is to be looked at, worked while the order rests.

They are tried in a thread of their own, on a table of their own: nothing of the window
waits. What comes of an order that has changed since is dropped.
"""

from __future__ import annotations

from collections.abc import Callable
from threading import Event, Thread

from PySide6.QtCore import QObject, QTimer, Signal

from skirtwright.app.desk import Desk
from skirtwright.app.shown_figures import length_about, shown, unit_shown
from skirtwright.draft.draft import Amount, Choice
from skirtwright.job.remedies import Remedy, remedies
from skirtwright.job.unused import measurements_to_try, unused
from skirtwright.job.worktable import Look, Worktable
from skirtwright.measures.units import Unit
from skirtwright.pieces.joined_edges import JoinedEdges
from skirtwright.problems import Problem
from skirtwright.words import Manner, say, translate

REST_MS = 300
"""How long the order must rest before remedies are tried, ms."""

_PAUSE_S = 0.01

MOST = 3
"""Findings, the gravest, for which remedies are tried."""

_TOLD = ("step_allowed", "knee", "sweep", "hip", "waist", "length")
"""Finished measures a remedy is told by, the likeliest first."""

_WORTH = 0.5
"""mm that a finished measure must change by to be told."""


class Mending(QObject):
    """Knows the remedies of the findings of the order as it stands.

    Signals:
        found: there are remedies that were not there before, those of a graver finding
            first: what comes stands below what is there.
    """

    found = Signal()
    _ended = Signal(object, object, object)
    _tried = Signal(object, object)

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._desk = desk
        self._table = Worktable()
        self._known: dict[tuple[str, str], tuple[Remedy, ...]] = {}
        self._for: Look | None = None
        self._stop = Event()
        self._thread: Thread | None = None
        self._rest = QTimer(self, singleShot=True, interval=REST_MS)
        self._rest.timeout.connect(self._begin)
        self.is_cut: Callable[[], bool] = lambda: False
        self._tried_for: tuple[object, ...] = ()
        self._ended.connect(self._take)
        self._tried.connect(self._take_unused)
        desk.looked.connect(self._looked)

    def says_cut(self) -> str:
        """Where the cloth is cut by now: that it stays so, whatever is offered."""
        return say("mending.cut", manner=self._desk.manner) if self.is_cut() else ""

    def of(self, problem: Problem) -> tuple[Remedy, ...]:
        """What would mend a finding, as far as it is known by now."""
        if self._for is not self._desk.look:
            return ()
        return self._known.get((problem.code, problem.where), ())

    def take(self, remedy: Remedy) -> None:
        """Do it: one step of the history.

        Raises:
            SkirtwrightError: the order is another by now.
        """
        self._desk.change(remedy.edited)

    def wait(self) -> None:
        """Let nothing be tried any more."""
        self._rest.stop()
        self._stop.set()
        if self._thread is not None:
            self._thread.join()
            self._thread = None

    def _looked(self, look: Look) -> None:
        if look is self._desk.look and look is not self._for:
            self._stop.set()
            self._known, self._for = {}, look
            if self._tried_for != _decides_use(look):
                self._tried_for, self._desk.unused = (), frozenset()
            self._rest.start()

    def _begin(self) -> None:
        look, desk = self._desk.look, self._desk
        if desk.waits is not None:
            return
        serious = [p for p in look.problems if p.severity != "note"][:MOST]
        is_known = self._tried_for == _decides_use(look)
        if not serious and is_known:
            return
        # The one before ends after the look it is at.
        if self._thread is not None and self._thread.is_alive():
            self._rest.start()
            return
        self._stop = Event()
        given = (look, serious, desk.manner.unit, is_known, self._stop)
        self._thread = Thread(target=self._work, args=given, daemon=True)
        self._thread.start()

    def _work(
        self,
        look: Look,
        serious: list[Problem],
        unit: Unit,
        is_known: bool,
        stop: Event,
    ) -> None:
        """In a thread of its own: nothing of the window is touched."""
        for problem in serious:
            least: tuple[Remedy, ...] = ()
            for best in remedies(problem, look, self._table.look, unit):
                least = best
                # Between two tries the window has its turn.
                if stop.wait(_PAUSE_S):
                    return
            # Not before: what is offered never changes under her hand.
            self._ended.emit(look, problem, least)
        if not is_known and look.drawn:
            names = set()
            for name in unused(look, self._table.look):
                names.add(name)
                if stop.wait(_PAUSE_S):
                    return
            self._tried.emit(look, frozenset(names - {""}))

    def _take(self, look: Look, problem: Problem, best: tuple[Remedy, ...]) -> None:
        if look is self._desk.look and best:
            self._known[problem.code, problem.where] = best
            self.found.emit()

    def _take_unused(self, look: Look, names: frozenset[str]) -> None:
        if look is not self._desk.look:
            return
        self._tried_for = _decides_use(look)
        if names != self._desk.unused:
            self._desk.unused = names
            self.found.emit()


def _decides_use(look: Look) -> tuple[object, ...]:
    """What it hangs on whether a measurement is of use."""
    job = look.job
    return (
        job.draft.id,
        dict(job.choices),
        measurements_to_try(job),
        sorted(job.amounts),
    )


def says_what(remedy: Remedy, manner: Manner) -> str:
    """What a remedy will do, as its button says it."""
    of = remedy.of
    if isinstance(of, JoinedEdges):
        was = length_about(float(remedy.before), manner)
        turned = {"before": was, "after": remedy.after}
        return say("mending.turn_up", turned, manner)
    label = translate(of.label, manner)
    if isinstance(of, Choice):
        option = translate(of.options[str(remedy.after)], manner)
        return say("mending.choice", {"label": label, "option": option}, manner)
    unit = unit_shown(of.kind, manner)
    told, (before, after) = of.told(float(remedy.before), float(remedy.after))
    values = {
        "label": translate(told, manner),
        "before": _figure(of, before, manner),
        "after": f"{_figure(of, after, manner)} {unit}".strip(),
    }
    return say("mending.amount", values, manner)


def says_effect(remedy: Remedy, look: Look, manner: Manner) -> str:
    """What else is another figure after it: two at most."""
    before, after = look.report.finished, remedy.look.report.finished
    told = []
    for name in _TOLD:
        was, now = before.get(name), after.get(name)
        if was is not None and now is not None and abs(now - was) >= _WORTH:
            label = say(f"finished.{name}", manner=manner)
            told.append(f"{label[:1].lower()}{label[1:]} {length_about(now, manner)}")
    return ", ".join(told[:2])


def _figure(amount: Amount, value: float, manner: Manner) -> str:
    if amount.kind == "length":
        return length_about(value, manner)
    return shown(amount.kind, value, manner)
