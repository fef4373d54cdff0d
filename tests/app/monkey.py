"""Random actions in the real window, held against an order worked afresh.

Every action is one a hand can do: a field set, a choice made, a point pulled, undo,
redo, another style, another client, opening and saving. After some of them what the
window shows must be what a desk that remembers nothing makes of the same order.
"""

from __future__ import annotations

import gc
import json
import random
from collections import Counter
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from skirtwright.app.window import Window
from skirtwright.draft import styles
from skirtwright.export.report_json import as_json
from skirtwright.job.edits import set_choice, set_measurement, set_style
from skirtwright.job.worktable import Look, Worktable
from skirtwright.problems import SkirtwrightError
from skirtwright.words import Manner

_TICKS = 4
"""Moves of one pull."""

WEIGHTS = {
    "amount": 30,
    "choice": 15,
    "pull": 15,
    "undo": 15,
    "redo": 8,
    "measurement": 8,
    "style": 3,
    "save": 3,
    "open": 2,
    "back": 1,
}


class Monkey:
    """Does one seeded action after another.

    Attributes:
        done: how often each action was done.
        refused: how often the window refused one with a sentence.
    """

    def __init__(self, window: Window, seed: int, folder: Path) -> None:
        self.window = window
        self.done: Counter[str] = Counter()
        self.refused = 0
        self._chance = random.Random(seed)
        self._files = [folder / f"order-{number}.skirt" for number in range(3)]
        self._deeds: dict[str, Callable[[], object]] = {
            name: getattr(self, f"_{name}") for name in WEIGHTS
        }

    def act(self) -> str:
        """One action; its name."""
        name = self._chance.choices(list(WEIGHTS), list(WEIGHTS.values()))[0]
        self.done[name] += 1
        try:
            self._deeds[name]()
        except SkirtwrightError:
            self.refused += 1
        clear_away()
        return name

    def _amount(self) -> None:
        states = self.window.desk.look.worked.stated.amounts
        name = self._chance.choice([n for n, s in states.items() if s.applies])
        state = states[name]
        if self._chance.random() < 0.2:
            self.window.desk.set_amounts({name: None})
            return
        value = self._chance.uniform(state.least, state.most)
        self.window.desk.settle({name: value})

    def _choice(self) -> None:
        desk = self.window.desk
        choices = desk.job.draft.choices
        if choices:
            choice = self._chance.choice(choices)
            option = self._chance.choice(list(choice.options))
            desk.change(set_choice(desk.job, choice.name, option))

    def _pull(self) -> None:
        """A few moves of a pull point's amounts, then let go or thought better of."""
        desk = self.window.desk
        states = desk.look.worked.stated.amounts
        handle = self._chance.choice(desk.job.draft.pulls)
        named = (handle.amount, handle.second or "")
        names = [n for n in named if n in states and states[n].applies]
        found: dict[str, float] = {}
        for _ in range(_TICKS if names else 0):
            found = {
                n: self._chance.uniform(states[n].least, states[n].most) for n in names
            }
            desk.pull(found)
            QApplication.processEvents()
        if self._chance.random() < 0.3:
            desk.drop()
        else:
            desk.settle(found)

    def _undo(self) -> None:
        self.window.acts.by_name["undo"].trigger()

    def _redo(self) -> None:
        self.window.acts.by_name["redo"].trigger()

    def _measurement(self) -> None:
        desk = self.window.desk
        measured = desk.look.worked.stated.measurements
        name = self._chance.choice(desk.job.draft.measurements)
        text = f"{measured[name] * self._chance.uniform(0.95, 1.05):.1f} mm"
        desk.change(set_measurement(desk.job, name, text))

    def _style(self) -> None:
        draft = styles.style(self._chance.choice(styles.names()))
        self.window.desk.change(set_style(self.window.desk.job, draft))

    def _save(self) -> None:
        if self.window.keeper.path is None or self._chance.random() < 0.3:
            self.window.files.save_as(self._chance.choice(self._files))
        else:
            self.window.files.save()

    def _open(self) -> None:
        path = self._chance.choice(self._files)
        if path.exists():
            self.window.files.open(path)

    def _back(self) -> None:
        self.window.files.back_to_saved()


def clear_away() -> None:
    """Let the window do what waits, and put away what it has done with."""
    QApplication.processEvents()
    # Outside a running loop nobody deletes what is to be deleted later.
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)


def shown(look: Look) -> str:
    """Everything a look tells, as text."""
    return json.dumps(as_json(look.report, Manner()), indent=0)


def afresh(look: Look) -> Look:
    """The same order on a table that remembers nothing."""
    return Worktable().look(look.job)


def differences(look: Look) -> list[str]:
    """Lines in which what is shown is not what a fresh table makes of the order."""
    mine, theirs = shown(look).splitlines(), shown(afresh(look)).splitlines()
    return [f"{a} -> {b}" for a, b in zip(mine, theirs, strict=False) if a != b] + (
        [f"{len(mine)} lines -> {len(theirs)}"] if len(mine) != len(theirs) else []
    )


def memory_kb() -> int:
    """What the process holds in memory, after what is thrown away is cleared."""
    QTest.qWait(20)
    gc.collect()
    status = Path("/proc/self/status").read_text()
    return int(status.split("VmRSS:")[1].split()[0])
