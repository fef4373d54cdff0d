"""One instruction of a draft, and how its fields are read.

A step is a frozen record with three duties: what it leans on (read from
its fields), how it draws (`draw`, a pure function of the values of its fields), and
how it says itself (the sentence `step.<kind>` of the catalogue). A new kind is one
class, one sentence and one test table.

What a field holds is told by its annotation:

==============  ==========================================  =================
annotation      written as                                  reaches `draw` as
==============  ==========================================  =================
``Length``      a working with a length                     mm
``Ratio``       a working with a plain number               number
``Degrees``     a working with an angle                     degrees
``Figure``      a working of any kind                       number
``Whether``     a condition                                 bool
``PlaceOf``     a place                                     Point
``LineOf``      the name of a line, an edge or a mark       Chain
``ShapeOf``     the name of anything drawn                  Point or Chain
``PanelOf``     the name of a panel                         Panel
``SpotOf``      a place, with the edge it was named on      Spot
anything else   as it stands                                as it stands
==============  ==========================================  =================

Lists, and lists of lists, of these are read item by item into tuples.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from enum import Enum
from functools import cache
from types import MappingProxyType
from typing import Annotated, Any, ClassVar, NamedTuple

from skirtwright.draft.shapes.panel import Panel
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.point import Point
from skirtwright.measures.records import Record, fields_of
from skirtwright.measures.working_kinds import Bound
from skirtwright.problems import Problem

Value = float | Point | Chain | Panel
"""What a step can draw: a number, a point, a line or a panel."""


class Reads(Enum):
    """How a field is read."""

    # Each is the one object of its kind, and is looked up by it thousands of times.
    __hash__ = object.__hash__

    LENGTH = "length"
    RATIO = "ratio"
    DEGREES = "degrees"
    FIGURE = "figure"
    WHETHER = "whether"
    PLACE = "place"
    SPOT = "spot"
    LINE = "line"
    SHAPE = "shape"
    PANEL = "panel"


Length = Annotated[str, Reads.LENGTH]
Ratio = Annotated[str, Reads.RATIO]
Degrees = Annotated[str, Reads.DEGREES]
Figure = Annotated[str, Reads.FIGURE]
Whether = Annotated[str, Reads.WHETHER]
PlaceOf = Annotated[str, Reads.PLACE]
SpotOf = Annotated[str, Reads.SPOT]
LineOf = Annotated[str, Reads.LINE]
ShapeOf = Annotated[str, Reads.SHAPE]
PanelOf = Annotated[str, Reads.PANEL]


class Step(Record):
    """What every kind of step has."""

    step: str
    kind: str

    rewrites: ClassVar[str | None] = None
    """The field that names the panel this kind draws anew, or None."""

    makes: ClassVar[tuple[str, ...]] = ()
    """Fields that name further things this kind makes; `draw` then gives a mapping."""

    edge_fields: ClassVar[tuple[str, ...]] = ("edge", "to", "stays", "across")
    """Fields that name edges of its panel, where it has them."""

    draw: ClassVar[Callable[..., Value | Problem | Mapping[str, Value] | None]]

    def results(self) -> tuple[str, ...]:
        """The names this step gives a value to."""
        if not (self.rewrites or self.makes):
            return (self.step,)
        first = (getattr(self, self.rewrites),) if self.rewrites else ()
        return first + tuple(getattr(self, field) for field in self.makes)

    @property
    def gives_number(self) -> bool:
        """Whether a number comes of it, whose kind is known once it is bound."""
        figures = _figures(type(self))
        return any(isinstance(getattr(self, name), str) for name in figures)

    def texts(self) -> Iterator[str]:
        """What stands in the fields that are read."""
        return (repr(getattr(self, name)) for name in self.reading())

    def written(self) -> Step:
        """It itself: see `LaterStep`."""
        return self

    def parts(self, of_panel: tuple[str, ...]) -> tuple[str, ...] | None:
        """The names of edges and marks that the panel it draws may have.

        Args:
            of_panel: those of the panel it is drawn from.

        Returns:
            None where it draws no panel.
        """
        return of_panel if self.rewrites else None

    @classmethod
    def on_edges(cls) -> tuple[tuple[str, str], ...]:
        """Fields that name edges of a panel as plain text, each with the panel's."""
        known = fields_of(cls)
        if "panel" not in known:
            return ()
        return tuple((name, "panel") for name in cls.edge_fields if name in known)

    @classmethod
    def reading(cls) -> Mapping[str, Reads]:
        """How each field of this kind is read; plain fields are left out."""
        known = _known_readings.get(cls)
        if known is None:
            known = _known_readings[cls] = MappingProxyType(dict(_readings(cls)))
        return known


class EdgeStep(Step):
    """A step that draws a panel anew at one of its edges."""

    panel: PanelOf
    edge: str

    rewrites: ClassVar[str | None] = "panel"


class LaterStep:
    """A step of one half of a skirt, like the style's but for its names.

    It is bound and drawn as that is, by the names of its half, and written out where
    it is asked for.

    Args:
        own: what the style's names are called in its half.
        first: the same of the first half; None where it is itself of that.
        from_first: what the first half's names are called in the second.
    """

    def __init__(
        self,
        like: Step,
        step: str,
        results: tuple[str, ...],
        own: Mapping[str, str],
        first: LaterStep | None,
        from_first: Mapping[str, str],
        write: Callable[[], Step],
    ) -> None:
        self.like = like
        self.own = own
        self.first = first
        self.from_first = from_first
        self._results = results
        self.step = step
        self.rewrites = like.rewrites
        self.gives_number = like.gives_number
        self._write = write
        self._written: Step | None = None

    def __eq__(self, other: object) -> bool:
        """The same of the same style; what it leans on is compared by what binds it."""
        return isinstance(other, LaterStep) and self._told == other._told

    def __hash__(self) -> int:
        """Of the same."""
        return hash(self.step)

    @property
    def _told(self) -> tuple[Any, ...]:
        return self.like, self.step, self._results

    def results(self) -> tuple[str, ...]:
        """The names it gives a value to."""
        return self._results

    def written(self) -> Step:
        """The step itself."""
        if self._written is None:
            self._written = self._write()
        return self._written


@cache
def _figures(kind: type[Step]) -> tuple[str, ...]:
    return tuple(n for n, how in kind.reading().items() if how is Reads.FIGURE)


_known_readings: dict[type[Step], Mapping[str, Reads]] = {}


def _readings(kind: type[Step]) -> Iterator[tuple[str, Reads]]:
    for name, field in fields_of(kind).items():
        how = _reads_as(field.annotation, field.metadata)
        if how is not None:
            yield name, how


def _reads_as(annotation: Any, metadata: tuple[Any, ...]) -> Reads | None:
    for item in metadata:
        if isinstance(item, Reads):
            return item
    found = [
        how
        for inner in getattr(annotation, "__args__", ())
        if (how := _reads_as(inner, getattr(inner, "__metadata__", ()))) is not None
    ]
    return found[0] if found else None


class Read(NamedTuple):
    """A field bound to what stands above: its value from the values of names."""

    leans_on: tuple[str, ...]
    work: Callable[[Mapping[str, Any]], Any]

    @classmethod
    def of(cls, bound: Bound) -> Read:
        """A working as a read field."""
        return cls(bound.leans_on, bound.work)
