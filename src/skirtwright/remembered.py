"""What was worked before, kept for as long as all it leans on is the same.

There is no other way here to keep what was worked from one look to the next. What
never changes may keep what is read off it (`cached_property`), and what leans on its
arguments alone may be kept by them (`lru_cache`).
"""

from __future__ import annotations

from collections.abc import Callable, Hashable
from typing import Any, Generic, TypeVar, TypeVarTuple

T = TypeVar("T")
Leans = TypeVarTuple("Leans")


class Remembered(Generic[T, *Leans]):
    """The answers of one function, each worked anew when what it leans on changed.

    The function is handed what it leans on and nothing else, so that nothing it leans
    on can be left unsaid; it must be of a module, and what it is handed frozen.

    One rule of sameness: the same object, or an equal one. An answer that comes out
    equal stays the same object, so that what leans on it need not be compared in full.

    What was not asked for in the last two rounds is forgotten.

    Args:
        work: gives the answer for what it leans on.
        told: called with the key, what the last answer leaned on, if there was one,
            and what the next one leans on, each time an answer is worked.
    """

    def __init__(
        self,
        work: Callable[[*Leans], T],
        told: Callable[[Any, tuple[Any, ...], tuple[Any, ...]], None] | None = None,
    ) -> None:
        self._work = work
        self._told = told
        self._kept: dict[Hashable, tuple[tuple[*Leans], T]] = {}
        self._before: dict[Hashable, tuple[tuple[*Leans], T]] = {}

    def of(self, key: Hashable, *leans: *Leans) -> T:
        """The answer for what it leans on.

        Args:
            key: which answer it is; the last for each key is kept.
            leans: everything it leans on.
        """
        kept = self.last(key)
        if kept is None or kept[0] != leans:
            if self._told is not None:
                self._told(key, kept[0] if kept else (), leans)
            made = self._work(*leans)
            if kept is not None and made == kept[1] and type(made) is type(kept[1]):
                made = kept[1]
            kept = leans, made
        self._kept[key] = kept
        return kept[1]

    def keep(self, key: Hashable) -> None:
        """Have an answer kept as if it were asked for; nothing it leans on changed."""
        kept = self.last(key)
        if kept is not None:
            self._kept[key] = kept

    def last(self, key: Hashable) -> tuple[tuple[*Leans], Any] | None:
        """What the last answer leaned on, and the answer; None if there is none."""
        return self._kept.get(key) or self._before.get(key)

    def next_round(self) -> None:
        """Begin a round: what was not asked for in the last one goes after this."""
        self._before, self._kept = self._kept, {}
