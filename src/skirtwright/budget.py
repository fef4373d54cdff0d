"""How much work any draft, file or drawing may ask for; every bound stands here.

A file comes from anyone, and a few hundred characters can ask for a million steps. So
the loops that a file can lengthen count what they do with `spend`, inside `bounded`,
which refuses in a sentence once more was asked for than any skirt needs. The bounds
are several times what the largest style of the shelf spends, left and right apart.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, nullcontext
from contextvars import ContextVar
from typing import Any, Final, Literal

from skirtwright.problems import Refused

# Of a file that is read.

LARGEST: Final = 5_000_000
"""Bytes of a file."""

DEEPEST: Final = 20
"""Lists and objects inside one another."""

MOST_VALUES: Final = 40_000
"""Entries of one document, all told."""

LONGEST_TEXT: Final = 20_000
"""Characters of one text, such as her notes."""

LONGEST_NAME: Final = 200
"""Characters of a name, a title or a key."""

LONGEST_SENTENCE: Final = 500
"""Characters of what a style says of itself; a step may say it often."""

LONGEST_QUOTED: Final = 80
"""Characters of what is quoted in a sentence."""

# Of a draft.

MOST_TURNS: Final = 100
"""A group repeats at most this often."""

MOST_LISTED: Final = 200
"""Amounts, choices, pieces, seams or pulls of a draft."""

REACH: Final = 20_000.0
"""How far from where it begins a draft may go, mm: four times the largest amount."""

Counted = Literal["steps", "points", "bytes"]

MOST: dict[Counted, int] = {
    "steps": 15_000,
    "points": 200_000,
    "bytes": 100_000_000,
}
"""Of one piece of work: steps worked or read, points found, bytes written."""

EACH_ALTERED, MOST_ALTERED = 40_000, 10
"""Points more for each alteration of a fitting, and for how many: each is a search that
we write into the draft ourselves, and the whole draft is drawn again within it."""

MOST_SECONDS = 10.0
"""Of the processor; the last bound, for what is not counted."""

_BETWEEN_LOOKS: Final = 256
"""How often something is counted before the clock is looked at."""

STOPPED: Final = "budget.stopped"
"""The code of what somebody stopped."""


class _Ended(Exception):
    """Work that has to stop: no member of our family, so that no step takes it."""

    def __init__(self, code: str, **values: Any) -> None:
        super().__init__(code)
        self.code, self.values = code, values


class Spent:
    """What a piece of work has cost so far.

    Args:
        stopped: asked now and then; work ends where it says so.

    Attributes:
        steps, points, bytes: counted.
    """

    def __init__(self, stopped: Callable[[], bool] | None = None) -> None:
        self.stopped = stopped
        self.steps = self.points = self.bytes = 0
        self.most_points = MOST["points"]
        self._until = time.thread_time() + MOST_SECONDS
        self._looks = 0
        self._ours = False

    def spend(self, what: Counted, count: int) -> None:
        """Count some work, and end it where that is too much."""
        if what == "points":
            self.points += count
            if self.points > self.most_points:
                self._end(what)
        elif what == "steps":
            self.steps += count
            if self.steps > MOST[what]:
                self._end(what)
        else:
            self.bytes += count
            if self.bytes > MOST[what]:
                self._end(what)
        self._looks += 1
        if self._looks % _BETWEEN_LOOKS == 0:
            self.look_up()

    def _end(self, what: Counted) -> None:
        raise _Ended("budget.too_much", most=MOST[what], what=f"budget.{what}")

    def look_up(self) -> None:
        """End the work where it was stopped or took too long."""
        if self.stopped is not None and self.stopped():
            raise _Ended(STOPPED)
        if not self._ours and time.thread_time() > self._until:
            raise _Ended("budget.too_long", most=MOST_SECONDS)

    @contextmanager
    def own_search(self) -> Iterator[None]:
        """See the function of this name."""
        began, self._ours = time.thread_time(), True
        try:
            yield
        finally:
            self._ours = False
            self._until += time.thread_time() - began


_running: ContextVar[Spent | None] = ContextVar("_running", default=None)
_stopper: ContextVar[Callable[[], bool] | None] = ContextVar("_stopper", default=None)
_in_hand: Final = _running.get


def spend(what: Counted, count: int = 1) -> None:
    """Count work done for the piece of work in hand, if it is bounded.

    Args:
        what: which count it goes to.
    """
    spent = _in_hand()
    if spent is not None:
        spent.spend(what, count)


def look_up() -> None:
    """End the piece of work in hand, if it is bounded, where it is stopped or too long.

    For work that is not counted.
    """
    spent = _running.get()
    if spent is not None:
        spent.look_up()


def allow_altered(count: int) -> None:
    """Let the work in hand find as many points more as so many alterations take."""
    spent = _running.get()
    if spent is not None:
        more = EACH_ALTERED * min(count, MOST_ALTERED)
        spent.most_points = MOST["points"] + more


@contextmanager
def own_search(size: int, most: int) -> Iterator[None]:
    """A search whose tries we count ourselves: its time is not held against a file.

    It can still be stopped.

    Args:
        size: of what is searched.
        most: up to this size; of a larger one the time is the file's own.
    """
    spent = _running.get()
    with spent.own_search() if spent and size <= most else nullcontext():
        yield


@contextmanager
def stoppable(stopped: Callable[[], bool]) -> Iterator[None]:
    """Let every bounded work inside be stopped, each bounded by itself.

    Args:
        stopped: as in `bounded`.
    """
    token = _stopper.set(stopped)
    try:
        yield
    finally:
        _stopper.reset(token)


@contextmanager
def bounded(stopped: Callable[[], bool] | None = None) -> Iterator[Spent]:
    """Bound the work inside; work inside bounded work counts with the outer.

    Args:
        stopped: asked now and then; where it is true the work ends.

    Yields:
        What is spent.

    Raises:
        Refused: it asks for too much, or was stopped; nothing of it is kept.
    """
    outer = _running.get()
    if outer is not None:
        yield outer
        return
    spent = Spent(stopped or _stopper.get())
    token = _running.set(spent)
    try:
        yield spent
    except _Ended as ended:
        raise Refused(ended.code, **ended.values) from None
    except (RecursionError, MemoryError):
        raise Refused("budget.too_deep") from None
    finally:
        _running.reset(token)
