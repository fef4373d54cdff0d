"""What a tree is bound to: kinds, the scope of a draft, and what comes of binding."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Final, NamedTuple, Protocol

from skirtwright.measures.units import Unit
from skirtwright.measures.working_trees import HowPlaced

Values = Mapping[str, Any]
"""Flat names to values: lengths mm, angles degrees, a choice its option."""

Work = Callable[[Values], Any]


class Kind(NamedTuple):
    """What a number measures, as exponents: an area is `Kind(2)`."""

    length: float = 0.0
    angle: float = 0.0
    truth: bool = False


NUMBER: Final = Kind()
LENGTH: Final = Kind(length=1.0)
ANGLE: Final = Kind(angle=1.0)
TRUTH: Final = Kind(truth=True)


class Bound(NamedTuple):
    """A working ready for work.

    Attributes:
        kind: what comes of it.
        leans_on: the flat names it needs, each once, in the order met.
        work: gives the number (mm, degrees or plain), or True or False. Raises
            Refused when the result is not finite.
    """

    kind: Kind
    leans_on: tuple[str, ...]
    work: Callable[[Values], Any]


class BoundPlace(NamedTuple):
    """A place with its name split and its argument ready for work.

    Attributes:
        base: the name as the draft knows it, such as `front`; empty for the bare mark
            of `girth(hip)`.
        rest: what is asked of it, such as `dart[1].left`; may be empty.
        argument: the distance (mm) or the share; else None.
        mark: the mark's flat name when `how` is `mark`.
        leans_on: the base, and what the argument leans on.
    """

    base: str
    rest: str
    how: HowPlaced | None = None
    argument: Bound | None = None
    mark: str = ""
    leans_on: tuple[str, ...] = ()


class Scope(Protocol):
    """What a working may see, at the step where it stands."""

    @property
    def unit(self) -> Unit:
        """The draft's unit, which a bare number beside a length takes."""

    def index(self, name: str) -> int:
        """The value of `i` in the group being repeated; BadInput when there is none."""

    def last(self, prefix: str) -> int:
        """How many there are of the flat name `prefix`; NotFound when it is unknown."""

    def called(self, word: str) -> str:
        """What stands here for the first word of a name as it is written."""

    def find(self, path: str) -> tuple[str, str]:
        """A flat path split into the known base name and the rest, "" when none.

        Raises NotFound with the nearest name when no base is known.
        """

    def kind_of(self, base: str) -> Kind:
        """The kind of a number by this name; BadInput when it is no number."""

    def options_of(self, choice: str) -> tuple[str, ...]:
        """The options of a choice; BadInput when the name is no choice."""

    def drawn(self) -> tuple[str, ...]:
        """What is drawn above: what `girth` of a bare mark leans on."""

    def measure(
        self, function: str, places: tuple[BoundPlace, ...]
    ) -> Callable[[Values], float]:
        """What measures the drawing: `walk`, `apart` or `girth` of these places."""

    def given(self, name: str) -> str:
        """The name of what tells whether the person set this amount herself."""
