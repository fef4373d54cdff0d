"""What a working may see where it stands: the names above it and their kinds."""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any, Final

from skirtwright.budget import spend
from skirtwright.draft.shapes.panel import Panel
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.point import Point
from skirtwright.measures.units import Unit
from skirtwright.measures.working_kinds import BoundPlace, Kind, Values
from skirtwright.problems import BadInput, NotFound, nearest

AS_WRITTEN: Final[Mapping[str, str]] = MappingProxyType({})

GIVEN: Final = "given:"
"""Before the name of an amount or a measurement: whether she gave it herself."""


@dataclass
class Names:
    """The names known so far, in order of the draft; grows while a draft is bound.

    Attributes:
        kinds: each name with its kind; None for what is drawn. Ask `kind`: of a number
            whose working has not been read yet a plain number stands here.
        unread: reads the working of such a number; no kind where it cannot be read.
        since: the place in the draft from which a name is known; given ones always are.
        choices: each choice with its options.
        counts: how often each repeated group runs.
        read: what was read here before, by `step_fields.read_text`.
    """

    kinds: dict[str, Kind | None] = field(default_factory=dict)
    choices: dict[str, tuple[str, ...]] = field(default_factory=dict)
    counts: dict[str, int] = field(default_factory=dict)
    read: dict[Any, Any] = field(default_factory=dict, compare=False, repr=False)
    unread: dict[str, Callable[[], Kind | None]] = field(
        default_factory=dict, compare=False, repr=False
    )
    since: dict[str, int] = field(default_factory=dict, compare=False, repr=False)

    def kind(self, name: str) -> Kind | None:
        """The kind of a name.

        Raises:
            NotFound: it is a number whose working cannot be read.
        """
        if name in self.unread:
            kind = self.unread.pop(name)()
            if kind is None:
                del self.kinds[name]
                near = nearest(name, self.kinds, 0.5)
                raise NotFound("draft.no_name", name, name=name, nearest=near)
            self.kinds[name] = kind
        return self.kinds.get(name)

    def copy(self) -> Names:
        """The same, as far as they are known now."""
        return Names(dict(self.kinds), dict(self.choices), dict(self.counts))


@dataclass(frozen=True)
class Standing:
    """Where a step stands: inside which turns of which repeated groups.

    Attributes:
        prefixes: the prefixes under which names are looked for, innermost first.
        turn: the number of the innermost turn, or None.
    """

    prefixes: tuple[str, ...] = ()
    turn: int | None = None

    @property
    def prefix(self) -> str:
        """The prefix of names made here."""
        return self.prefixes[0] if self.prefixes else ""


class StandingScope:
    """The scope of a working: see `skirtwright.measures.working_kinds.Scope`.

    Attributes:
        before: the place in the draft above which names are seen.
        own: what half of a skirt it is in calls the names of a text that is as the
            style has it.
    """

    names: Final[Names]
    unit: Final[Unit]
    standing: Final[Standing]
    before: Final[int]
    own: Final[Mapping[str, str]]

    def __init__(
        self,
        names: Names,
        unit: Unit,
        standing: Standing = Standing(),
        before: int = sys.maxsize,
        own: Mapping[str, str] = AS_WRITTEN,
    ) -> None:
        self.names = names
        self.unit = unit
        self.standing = standing
        self.before = before
        self.own = own

    def in_half(self, own: Mapping[str, str]) -> StandingScope:
        """The same for texts whose names a half calls its own."""
        return StandingScope(self.names, self.unit, self.standing, self.before, own)

    def called(self, word: str) -> str:
        """What stands here for the first word of a name as it is written."""
        return self.own.get(word, word)

    def index(self, name: str) -> int:
        """The number of this turn, which is all `i` may mean.

        Raises:
            BadInput: it is another name, or nothing is repeated here.
        """
        if name != "i" or self.standing.turn is None:
            raise BadInput("draft.no_turn", name, name=name)
        return self.standing.turn

    def last(self, prefix: str) -> int:
        """How many turns a repeated group has.

        Raises:
            NotFound: none of that name is repeated.
        """
        for before in (*self.standing.prefixes, ""):
            if before + prefix in self.names.counts:
                return self.names.counts[before + prefix]
        raise NotFound("draft.not_repeated", prefix, name=prefix)

    def find(self, path: str) -> tuple[str, str]:
        """The known base of a flat path, and the rest.

        Raises:
            NotFound: none is known above; the nearest is told.
        """
        parts = path.split(".")
        for before in (*self.standing.prefixes, ""):
            for size in range(len(parts), 0, -1):
                base = before + ".".join(parts[:size])
                if base in self.names.kinds and self.is_above(base):
                    return base, ".".join(parts[size:])
        # Each of them is held against the name.
        spend("steps", len(self.names.kinds) // 5)
        raise NotFound(
            "draft.no_name",
            path,
            name=path,
            nearest=nearest(path, self.names.kinds, 0.5),
        )

    def is_above(self, base: str) -> bool:
        """Whether a known name is given or made above this place."""
        return self.names.since.get(base, -1) < self.before

    def kind_of(self, base: str) -> Kind:
        """The kind of a number.

        Raises:
            BadInput: it is drawn, no number.
        """
        kind = self.names.kind(base)
        if kind is None:
            raise BadInput("draft.not_a_number", base, name=base)
        return kind

    def options_of(self, choice: str) -> tuple[str, ...]:
        """The options of a choice.

        Raises:
            BadInput: it is no choice.
        """
        if choice not in self.names.choices:
            raise BadInput("draft.not_a_choice", choice, name=choice)
        return self.names.choices[choice]

    def drawn(self) -> tuple[str, ...]:
        """All that stands above and is no number, panels among it."""
        choices = self.names.choices
        return tuple(
            name
            for name, kind in self.names.kinds.items()
            if kind is None and name not in choices and self.is_above(name)
        )

    def measure(
        self, function: str, places: tuple[BoundPlace, ...]
    ) -> Callable[[Values], float]:
        """What measures the drawing."""
        if function == "apart":
            first, second = (place_reader(place) for place in places)
            return lambda values: first(values).to(second(values))
        (place,) = places
        if not place.base:
            return _girth_of_all(place.rest, self.drawn())
        line = line_reader(place)
        return lambda values: line(values).length

    def given(self, name: str) -> str:
        """The name of what tells whether she gave an amount or measurement herself."""
        return GIVEN + name


def _girth_of_all(mark: str, names: tuple[str, ...]) -> Callable[[Values], float]:
    def girth(values: Values) -> float:
        shapes = [
            panel.mark(mark)
            for name in names
            if isinstance(panel := values.get(name), Panel)
        ]
        found = [m.shape for m in shapes if m and isinstance(m.shape, Chain)]
        if not found:
            raise NotFound("draft.no_mark", mark, mark=mark)
        whole = 0.0
        for shape in found:
            whole += shape.length
        return whole

    return girth


def shape_reader(place: BoundPlace) -> Callable[[Values], Any]:
    """What a bare name means: the value itself, or a part of a panel."""
    base, rest = place.base, place.rest
    if not rest:
        return lambda values: values[base]

    def part(values: Values) -> Any:
        panel = values[base]
        if not isinstance(panel, Panel):
            raise NotFound("draft.no_part", base, part=rest, known="")
        return panel.part(rest)

    return part


def line_reader(place: BoundPlace) -> Callable[[Values], Chain]:
    """A line, an edge or a mark that is a line."""
    shape = shape_reader(place)
    name = f"{place.base}.{place.rest}" if place.rest else place.base

    def line(values: Values) -> Chain:
        found = shape(values)
        if not isinstance(found, Chain):
            raise BadInput("draft.not_a_line", name, name=name)
        return found

    return line


def place_reader(place: BoundPlace) -> Callable[[Values], Point]:
    """A point, or a place on a line, an edge or a mark."""
    if place.how is None:
        shape = shape_reader(place)
        name = f"{place.base}.{place.rest}" if place.rest else place.base

        def point(values: Values) -> Point:
            found = shape(values)
            if not isinstance(found, Point):
                raise BadInput("draft.not_a_point", name, name=name)
            return found

        return point
    line = line_reader(place)
    if place.how == "start":
        return lambda values: line(values).start
    if place.how == "end":
        return lambda values: line(values).end
    if place.how == "mark":
        return _at_mark(place, line)
    return _at_distance(place, line)


def _at_distance(
    place: BoundPlace, line: Callable[[Values], Chain]
) -> Callable[[Values], Point]:
    how, argument = place.how, place.argument

    def at(values: Values) -> Point:
        chain = line(values)
        if how == "middle" or argument is None:
            return chain.at(chain.length / 2)
        amount = float(argument.work(values))
        distance = amount * chain.length if how == "share" else amount
        if not -1e-6 <= distance <= chain.length + 1e-6:
            raise BadInput(
                "draft.beyond_the_edge",
                place.rest,
                edge=place.rest or place.base,
                distance=distance,
                length=chain.length,
            )
        return chain.at(distance)

    return at


def _at_mark(
    place: BoundPlace, line: Callable[[Values], Chain]
) -> Callable[[Values], Point]:
    def at(values: Values) -> Point:
        chain, panel = line(values), values[place.base]
        shape = panel.part(place.mark) if isinstance(panel, Panel) else None
        if shape is None:
            raise NotFound("draft.no_mark", place.mark, mark=place.mark)
        ends = [shape] if isinstance(shape, Point) else [shape.start, shape.end]
        closest = min((chain.nearest(end) for end in ends), key=lambda near: near[1])
        return chain.at(closest[0])

    return at
