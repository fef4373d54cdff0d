"""Faults put into what a table, a draft's names and a worked draft keep.

Beside `drop_leans.py`, for what is kept without a stated lean: each is kept too long in
turn, and a walk must show it. The program knows nothing of it.

Run: python tests/bench/drop_on_table.py [FAULT ...]
"""

from __future__ import annotations

import inspect
import os
import sys
import time
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from types import SimpleNamespace

# In the source alone can a method be replaced.
os.environ["SKIRTWRIGHT_PURE"] = "1"
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from PySide6.QtWidgets import QApplication

import memory_walk
import table_walk
from skirtwright.app.canvas.fitting import best_fit
from skirtwright.app.canvas.paths import Prepared
from skirtwright.app.canvas.pictures import _painted
from skirtwright.app.canvas.scene import rest_of
from skirtwright.app.canvas.tabletop import Tabletop
from skirtwright.app.canvas.written_table import outlined
from skirtwright.app.seams import seams_of
from skirtwright.draft.working.recompute import Worked
from skirtwright.remembered import Remembered
from skirtwright.report import Checked

SEEDS, STEPS = (1, 2, 3, 4), 12
PLAIN = Remembered.of


@contextmanager
def put(owner, name, fault):
    """A method replaced for a while."""
    was = owner.__dict__[name] if isinstance(owner, type) else getattr(owner, name)
    setattr(owner, name, fault)
    try:
        yield
    finally:
        setattr(owner, name, was)


def without(work, number):
    """What is remembered of one function without one of its leans."""

    def of(self, key, *leans):
        last = self.last(key) if self._work is work else None
        if last is not None:
            leans = (*leans[:number], last[0][number], *leans[number + 1 :])
        return PLAIN(self, key, *leans)

    return put(Remembered, "of", of)


def stays(name):
    """What a table worked of itself outlives a refresh."""
    renew = Tabletop.refresh

    def refresh(self):
        kept = self.__dict__.get(name)
        renew(self)
        setattr(self, name, kept)

    return put(Tabletop, "refresh", refresh)


class _Full(dict):
    """Emptied by nobody."""

    def clear(self):
        pass


def answers_stay(name):
    """How points answer outlives the drawing."""
    begin = Tabletop.__init__

    def init(self, *given):
        begin(self, *given)
        setattr(self.scene, name, _Full())

    return put(Tabletop, "__init__", init)


def one_reading():
    """What one worked draft has read is another's too."""
    kept = {}
    return put(Worked, "_read", property(lambda _: kept))


def found_of_another(name):
    """What was looked at for the checks of one look is told of the next of a style."""
    kept, plain = {}, Checked.__dict__[name].func

    def told(self):
        # Of one worktable: a fresh one would be as wrong.
        key = self.measured.found, self.measured.worked.draft.id
        if key not in kept:
            kept[key] = plain(self)
        return kept[key]

    return put(Checked, name, property(told))


def each_lean(*works):
    """What is remembered of functions, each lean dropped in turn."""
    return {
        f"{work.__name__} {lean}": partial(without, work, number)
        for work in works
        for number, lean in enumerate(inspect.signature(work).parameters)
    }


TABLE = {
    **each_lean(Prepared, outlined, seams_of, best_fit, rest_of, _painted),
    "Scene._responses": lambda: answers_stay("_responses"),
    "table._ledger": lambda: stays("_ledger"),
    "table._written": lambda: stays("_written"),
    "table._pins": lambda: stays("_pins"),
}
DRAFT = {
    "Worked._read": one_reading,
    "Checked.skirt": lambda: found_of_another("skirt"),
    "Checked.problems": lambda: found_of_another("problems"),
}


def on_table(seed):
    """After how many steps a table is another than a fresh one, and in what."""
    boxed = []
    bot = SimpleNamespace(addWidget=boxed.append, waitExposed=lambda _: None)
    walk = table_walk.Walk(bot, seed)
    try:
        for number in range(1, STEPS + 1):
            walk.step()
            fresh = walk.fresh()
            one, other = table_walk.told(walk.stand), table_walk.told(fresh)
            if one != other:
                names = [name for name in other if one.get(name) != other[name]]
                return number, names[:2]
            if walk.stand.picture() != fresh.picture():
                return number, "the picture"
    except Exception as fault:  # noqa: BLE001  what is stale may break anything
        return len(walk.done), f"{type(fault).__name__}: {fault}"[:70]
    finally:
        for widget in boxed:
            widget.close()
            widget.deleteLater()
        QApplication.processEvents()
    return None


def on_draft(seed):
    """The same of a worktable."""
    walk = memory_walk.Walk(seed, shelf=("straight", "half-circle-yoke"))
    try:
        walk.go()
    except memory_walk.WentStale as stale:
        return len(walk.done), str(stale).partition(" after ")[0]
    except Exception as fault:  # noqa: BLE001  what is stale may break anything
        return len(walk.done), f"{type(fault).__name__}: {fault}"[:70]
    return None


def main():
    """Print for each fault which walk shows it."""
    program = QApplication.instance() or QApplication([])
    wanted = sys.argv[1:]
    for walked, faults in ((on_table, TABLE), (on_draft, DRAFT)):
        for name, fault in faults.items():
            if wanted and name not in wanted:
                continue
            begun, found = time.process_time(), None
            for seed in SEEDS:
                with fault():
                    found = walked(seed)
                if found is not None:
                    break
            shown = (
                f"seed {seed}, step {found[0]}: {found[1]}" if found else "NOT FOUND"
            )
            print(
                f"{name:24} {shown} ({time.process_time() - begun:.0f} s)", flush=True
            )
    program.processEvents()


if __name__ == "__main__":
    main()
