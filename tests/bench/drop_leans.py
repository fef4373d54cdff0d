"""Faults put into what is remembered: each stated lean dropped in turn.

A walk over all drafts must go stale for each. What is dropped is dropped here, in the
comparison of what an answer leaned on; the program knows nothing of it.

Run: python tests/bench/drop_leans.py [FUNCTION ...]
"""

from __future__ import annotations

import inspect
import os
import sys
import time
from collections import Counter
from pathlib import Path

# In the source alone can a method be replaced.
os.environ["SKIRTWRIGHT_PURE"] = "1"
sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from memory_walk import Walk, WentStale
from skirtwright.draft.working.one_pass import OnePass
from skirtwright.remembered import Remembered

SHELF = ("straight", "mermaid", "half-circle-yoke")
WALKS = ((1, ()), (1, SHELF), (2, SHELF), (3, SHELF))
"""A seed and styles each: first the drafts made for the walk alone, as the quickest."""

plain = Remembered.of


def name_of(kept, leans):
    """What is remembered, by the function that works it; of checks, by the check."""
    return worked_by(kept, leans).__name__


def worked_by(kept, leans):
    """The function that works an answer; of checks, the check."""
    work = kept._work
    return leans[0] if work.__name__ == "_found" else work


def stated(kept, leans):
    """The leans by the names the function gives them: those it takes many of as one."""
    work = worked_by(kept, leans)
    names = [] if work is kept._work else ["check"]
    for name, parameter in inspect.signature(work).parameters.items():
        if parameter.kind is parameter.VAR_POSITIONAL:
            return names + [f"*{name}"] * (len(leans) - len(names))
        names.append(name)
    return names


def only_difference(kept, key, leans):
    """The one lean in which an answer's leans differ from the last ones, or None."""
    last = kept.last(key)
    if last is None or len(last[0]) != len(leans) or last[0] == leans:
        return None
    pairs = zip(last[0], leans, stated(kept, leans), strict=False)
    names = [name for old, new, name in pairs if (old,) != (new,)]
    return names[0] if len(names) == 1 else None


def counting(seen):
    """Counts for each lean how often an answer was worked anew for it alone."""

    def of(self, key, *leans):
        name = name_of(self, leans)
        parts = key if isinstance(key, tuple) else (key,)
        for lean, said in zip(leans, stated(self, leans), strict=False):
            told_by_key = any(lean is part for part in (key, *parts))
            seen.setdefault((name, said), 0)
            if told_by_key:
                seen[name, said] = None
        said = only_difference(self, key, leans)
        if said is not None and seen[name, said] is not None:
            seen[name, said] += 1
        return plain(self, key, *leans)

    return of


def without(dropped):
    """What is remembered without one of its leans."""

    def of(self, key, *leans):
        said = only_difference(self, key, leans)
        if said is not None and (name_of(self, leans), said) == dropped:
            leans = self.last(key)[0]
        return plain(self, key, *leans)

    return of


def walked(seed, shelf, of):
    """After how many changes a walk goes stale, and how; None when it does not."""
    Remembered.of = of
    walk = Walk(seed, shelf=shelf)
    try:
        walk.go()
    except WentStale as stale:
        return len(walk.done), str(stale).partition(" after ")[0]
    except Exception as fault:  # noqa: BLE001  a stale panel may break anything
        return len(walk.done), f"{type(fault).__name__}: {fault}"[:60]
    finally:
        Remembered.of = plain
    return None


def found_before_stated(seed, shelf):
    """Another fault: what was found before is asked for ahead of what is stated."""
    find = OnePass._find

    def faulty(self, path):
        if self.memory.found.last(path) is None:
            find(self, path)
        else:
            self._seek(path, self.bound.groups[path].name)

    OnePass._find = faulty
    try:
        return walked(seed, shelf, plain)
    finally:
        OnePass._find = find


def row(name, said, alone):
    """How a lean that was dropped was found missing, in words, and what that counts."""
    if alone is None:
        return "its key tells it", "told by the key"
    if not alone:
        return "no walk changed it alone", "never alone"
    for seed, shelf in WALKS:
        found = walked(seed, shelf, without((name, said)))
        if found is not None:
            where = f"seed {seed}" if shelf else "made for it"
            return f"{where}, change {found[0]}: {found[1]}", "found"
    return "NOT FOUND", "missed"


def main():
    """Print for each lean how it was found missing."""
    wanted, seen, outcomes = sys.argv[1:], {}, Counter()
    for seed, shelf in WALKS:
        assert walked(seed, shelf, counting(seen)) is None
    print(f"{'what is remembered':18}{'lean':12}{'alone':>7}  found by")
    for (name, said), alone in sorted(seen.items()):
        if wanted and name not in wanted:
            continue
        begun = time.process_time()
        shown, outcome = row(name, said, alone)
        outcomes[outcome] += 1
        took = time.process_time() - begun
        print(f"{name:18}{said:12}{alone or '':>7}  {shown} ({took:.0f} s)", flush=True)
    print("found before stated:", found_before_stated(*WALKS[1]))
    print(dict(outcomes))


if __name__ == "__main__":
    main()
