"""Sessions killed in the middle of saving, keeping and upgrading.

A child process says before and after each thing it does; it is killed at a random
moment, and what lies on disk is held against what it had said.
"""

from __future__ import annotations

import os
import random
import signal
import time
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from skirtwright.draft import styles
from skirtwright.job import autosave, file
from skirtwright.job.edits import set_title
from skirtwright.job.job import Job, new_job
from skirtwright.job.saving import companion, sweep

ORDERS = 12
LONGEST = 0.06
"""Seconds until a kill."""

KINDS = ("saving", "keeping", "upgrading")


@dataclass
class Tally:
    """What was found: how often each thing happened, and each fault in words."""

    happened: Counter[str] = field(default_factory=Counter)
    faults: list[str] = field(default_factory=list)


@dataclass
class Said:
    """What the child had done when it was killed, and what it was at.

    Attributes:
        saved: the versions that are surely on disk, the last first; None for none.
        kept: the version surely kept; None for none.
        at: what it had begun; empty for nothing.
        version: of that.
    """

    saved: list[int | None]
    kept: int | None = None
    at: str = ""
    version: int = -1

    def hear(self, line: str) -> None:
        """One line of the child's: `begin` or `end`, what, and which version."""
        when, what, number = line.split()
        self.at, self.version = (what, int(number)) if when == "begin" else ("", -1)
        if when == "begin":
            return
        if what == "save":
            self.saved.insert(0, int(number))
        else:
            self.kept = int(number) if what == "keep" else None


class Killing:
    """Kills children one after another.

    Attributes:
        tally: what was found.
        save: how an order is saved; another way shows that damage is seen.
    """

    def __init__(self, folder: Path, old: Path, seed: int) -> None:
        self.tally = Tally()
        self.save: Callable[[Job, Path], None] = file.save
        self._folder, self._old = folder, old
        self._chance = random.Random(seed)
        base = new_job(styles.style(styles.first()))
        self._orders = [set_title(base, f"version {n}").job for n in range(ORDERS)]
        self._texts = {id(job): file.written(job) for job in self._orders}
        texts = self._texts.values()
        self._contents = {text.encode(): n for n, text in enumerate(texts)}
        self._contents[old.read_bytes()] = -1

    def kill(self, times: int) -> Tally:
        """Kill children; each begins where the last stopped, or with an old file."""
        for number in range(times):
            kind = KINDS[number % len(KINDS)]
            path = self._folder / kind / "order.skirt"
            path.parent.mkdir(exist_ok=True)
            self._begin(kind, path)
            said = Said([self._number(path), self._number(companion(path, "before"))])
            kept = autosave.kept_for(path)
            said.kept = self._number(kept.place) if kept else None
            self._run(kind, path, said)
            self._look(kind, path, said)
        return self.tally

    def _begin(self, kind: str, path: Path) -> None:
        if kind == "upgrading":
            companion(path, "before").unlink(missing_ok=True)
            path.write_bytes(self._old.read_bytes())
        elif not path.exists() or self._number(path) < 0:
            for job in self._orders[:2]:
                file.save(job, path)

    def _run(self, kind: str, path: Path, said: Said) -> None:
        reading, writing = os.pipe()
        child = os.fork()
        if child == 0:
            try:
                os.close(reading)
                self._work(kind, path, lambda line: os.write(writing, line.encode()))
            finally:
                os._exit(1)
        os.close(writing)
        with os.fdopen(reading) as lines:
            first = lines.readline()
            time.sleep(self._chance.uniform(0, LONGEST))
            os.kill(child, signal.SIGKILL)
            os.waitpid(child, 0)
            for line in (first, *lines):
                if line.endswith("\n"):
                    said.hear(line)
                    self.tally.happened[" ".join(line.split()[:2])] += 1
        self.tally.happened[f"killed while {kind}"] += 1

    def _work(self, kind: str, path: Path, tell: Callable[[str], object]) -> None:
        """In the child: save or keep one version after another until the end."""
        # What takes long is not what is tried here.
        file.written = autosave.written = lambda job: self._texts[id(job)]
        session = autosave.Session(path)
        for number in self._versions():
            job = self._orders[number]
            deeds: dict[str, Callable[[], object]] = {
                "keep": lambda job=job: session.keep(job),
                "save": lambda job=job: self.save(job, path),
                "forget": session.forget,
            }
            if kind == "saving":
                deeds.pop("keep")
            if kind == "keeping" and number % 4:
                deeds = {"keep": deeds["keep"]}
            for what, do in deeds.items():
                tell(f"begin {what} {number}\n")
                do()
                tell(f"end {what} {number}\n")

    def _versions(self) -> Iterator[int]:
        start = self._chance.randrange(ORDERS)
        while True:
            start = (start + 1) % ORDERS
            yield start

    # Looking

    def _look(self, kind: str, path: Path, said: Said) -> None:
        saving, keeping = said.at == "save", said.at in ("keep", "forget")
        at: list[int | None] = [said.version] if said.at else []
        self._expect(kind, "the file", path, said.saved[:1] + at * saving)
        before = said.saved[1:2] + said.saved[:1] * saving
        self._expect(kind, "the version before", companion(path, "before"), before)
        listed = {kept.place for kept in autosave.left_behind()}
        there = set(self._folder.rglob("*.autosave"))
        for place in there - listed:
            self.tally.faults.append(f"{kind}: {place.name} is not listed")
        place = autosave.beside(path)
        if said.kept is not None and said.at != "forget":
            self._expect(kind, "kept work", place, [said.kept] + at * keeping)
        elif place in there and not keeping:
            self.tally.faults.append(f"{kind}: kept work is still there")
        self._sweep(path.parent)

    def _expect(
        self, kind: str, what: str, place: Path, wanted: list[int | None]
    ) -> None:
        found = self._number(place)
        if found not in wanted:
            self.tally.faults.append(f"{kind}: {what} is {found} instead of {wanted}")

    def _number(self, place: Path) -> int | None:
        """Which version lies there: -1 the old file, -2 what cannot be read."""
        try:
            content = place.read_bytes()
        except FileNotFoundError:
            return None
        return self._contents.get(content, -2)

    def _sweep(self, folder: Path) -> None:
        parts = list(folder.glob("*-part"))
        self.tally.happened["parts left and swept"] += len(parts)
        for part in parts:
            os.utime(part, (1e9, 1e9))
        sweep(folder)
        self.tally.faults += [f"{p.name} stays" for p in folder.glob("*-part")]


def naive(job: Job, path: Path) -> None:
    """How an order must not be saved."""
    path.write_text(file.written(job), "utf-8")
