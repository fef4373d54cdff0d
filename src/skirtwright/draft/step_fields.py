"""The fields of a step read where it stands: texts into closures over the values."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Final, NamedTuple

from skirtwright.budget import spend
from skirtwright.draft.names import (
    Names,
    StandingScope,
    line_reader,
    place_reader,
    shape_reader,
)
from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.shapes.spot import Spot
from skirtwright.draft.step import LaterStep, Read, Reads, Step
from skirtwright.measures.working_binding import bind, bind_place
from skirtwright.measures.working_halves import HalfText
from skirtwright.measures.working_kinds import (
    ANGLE,
    LENGTH,
    NUMBER,
    BoundPlace,
    Kind,
)
from skirtwright.measures.working_parsing import (
    parse_condition,
    parse_place,
    parse_working,
)
from skirtwright.problems import BadInput, SkirtwrightError

_WANTED: Final = {
    Reads.LENGTH: LENGTH,
    Reads.RATIO: NUMBER,
    Reads.DEGREES: ANGLE,
    Reads.FIGURE: None,
}


Fields = Mapping[str, Callable[[Mapping[str, Any]], Any]]

_LETTERS_A_STEP: Final = 50
"""To read so much of a working is as much work as a step."""


class BoundStep:
    """A step whose fields are bound to the names above it.

    Two are equal when their fields come to the same for the same values: the texts are
    the same, and so is all that a text is read by.

    Attributes:
        source: the step, or that of a half before it is written out.
        leans_on: every name a field needs, each once.
        kinds: the kind of each of those.
        results: the full names the step gives a value to.
        kind: the kind of its result where that is a number.
        first: the path of the same step in the first half of a skirt, and it; what
            that draws from values this one draws from the same. None for others.
    """

    source: Final[Step | LaterStep]
    scope: Final[StandingScope]
    leans_on: Final[tuple[str, ...]]
    kinds: Final[tuple[Kind | None, ...]]
    results: Final[tuple[str, ...]]
    kind: Final[Kind | None]
    first: Final[tuple[str, BoundStep] | None]
    _fields: Final[Fields]

    def __init__(
        self,
        source: Step | LaterStep,
        scope: StandingScope,
        leans_on: tuple[str, ...],
        results: tuple[str, ...],
        kind: Kind | None,
        fields: Fields,
        first: tuple[str, BoundStep] | None = None,
    ) -> None:
        self.source = source
        self.scope = scope
        self.leans_on = leans_on
        self.kinds = _kinds(leans_on, scope.names)
        self.results = results
        self.kind = kind
        self._fields = fields
        self.first = first

    @property
    def step(self) -> Step:
        """The step itself."""
        return self.source.written()

    @property
    def fields(self) -> Fields:
        """Each field's closure over the values."""
        return self._fields if self.first is None else self.own().fields

    def own(self) -> BoundStep:
        """A step of a half bound as it is written out, which can tell of itself."""
        return bind_step(self.step, self.scope, self.results)

    def draw(self, leans: tuple[Any, ...]) -> Any:
        """What it draws from the values of what it leans on, None where one has none.

        Raises:
            KeyError, SkirtwrightError, ValueError, ArithmeticError: it cannot be drawn.
        """
        by = self if self.first is None else self.first[1]
        pairs = zip(by.leans_on, leans, strict=True)
        values = {name: value for name, value in pairs if value is not None}
        drawing = by.source.like if isinstance(by.source, LaterStep) else by.source
        return drawing.draw(**{n: work(values) for n, work in by._fields.items()})

    @property
    def _read_by(self) -> tuple[object, ...]:
        scope = self.scope
        return self.source, scope.unit, scope.standing.turn, self.leans_on, self.kinds

    def __eq__(self, other: object) -> bool:
        """The same texts read by the same."""
        return isinstance(other, BoundStep) and self._read_by == other._read_by

    def __hash__(self) -> int:
        """Of the same."""
        return hash(self._read_by)


class _Kept(NamedTuple):
    """A text as it was read.

    Attributes:
        kind: what comes of it, where that is a number.
        kinds: those of the names it leans on.
    """

    read: Read
    kind: Kind | None
    kinds: tuple[Kind | None, ...]


def read_text(text: str, how: Reads, scope: StandingScope) -> tuple[Read, Kind | None]:
    """One text of a field, bound; the same text in another field is not bound again.

    Raises:
        BadInput, NotFound: it cannot be read here.
    """
    spend("steps", len(text) // _LETTERS_A_STEP)
    if scope.standing.prefixes or "[" in text or "girth" in text:
        # It hangs on the turn, on how many there are, or on all that stands above.
        return _read_here(text, how, scope)
    names = scope.names
    key = (text, how, scope.unit, id(scope.own))
    kept: _Kept | None = names.read.get(key)
    if kept is None or not _is_as_read(kept, scope):
        read, kind = _read_here(text, how, scope)
        kept = names.read[key] = _Kept(read, kind, _kinds(read.leans_on, names))
    return kept.read, kept.kind


def _kinds(leans_on: tuple[str, ...], names: Names) -> tuple[Kind | None, ...]:
    return tuple(map(names.kind, leans_on))


def _is_as_read(kept: _Kept, scope: StandingScope) -> bool:
    """Whether a text comes to the same here: all that it leans on stands above."""
    leans_on = kept.read.leans_on
    return all(map(scope.is_above, leans_on)) and kept.kinds == _kinds(
        leans_on, scope.names
    )


def _read_here(text: str, how: Reads, scope: StandingScope) -> tuple[Read, Kind | None]:
    """One text, bound where it stands; that of a half as the style has it."""
    whole = text
    if isinstance(text, HalfText):
        whole, scope = text.whole, scope.in_half(text.own)
    if how in _WANTED:
        bound = bind(parse_working(whole), scope, _WANTED[how])
        return Read.of(bound), bound.kind
    if how is Reads.WHETHER:
        return Read.of(bind(parse_condition(whole), scope)), None
    place = bind_place(parse_place(whole), scope)
    return Read(place.leans_on, _drawn_reader(place, how, text)), None


def _drawn_reader(
    place: BoundPlace, how: Reads, text: str
) -> Callable[[Mapping[str, Any]], Any]:
    if how is Reads.PLACE:
        return place_reader(place)
    if how is Reads.SPOT:
        point = place_reader(place)
        return lambda values: Spot(point(values), place.rest)
    if place.how is not None:
        if how is Reads.SHAPE:
            return place_reader(place)
        raise BadInput("draft.not_a_line", text, name=text)
    if how is Reads.LINE:
        return line_reader(place)
    shape = shape_reader(place)
    if how is Reads.SHAPE:
        return shape

    def panel(values: Mapping[str, Any]) -> Panel:
        found = shape(values)
        if not isinstance(found, Panel):
            raise BadInput("draft.not_a_panel", text, name=text)
        return found

    return panel


def bind_step(
    step: Step | LaterStep,
    scope: StandingScope,
    results: tuple[str, ...],
    first: tuple[str, BoundStep] | None = None,
) -> BoundStep:
    """A step with all its fields bound where it stands.

    Args:
        first: the path of the same step in the first half of a skirt, and it.

    Raises:
        BadInput, NotFound: a field cannot be read here.
    """
    if isinstance(step, LaterStep):
        try:
            return (first and _as_first(step, scope, results, first)) or _bind_fields(
                step, step.like, scope, scope.in_half(step.own), results
            )
        except SkirtwrightError:
            # What is told of it names its own half.
            step = step.written()
    return _bind_fields(step, step, scope, scope, results)


def _as_first(
    step: LaterStep,
    scope: StandingScope,
    results: tuple[str, ...],
    first: tuple[str, BoundStep],
) -> BoundStep | None:
    """A step bound as that of the first half was; None where it is unlike."""
    _, like = first
    call = step.from_first
    pairs = [(name, call.get(name, name)) for name in like.leans_on]
    names = scope.names
    if any("[" in name for name in like.leans_on) or any(
        "girth" in text for text in step.like.texts()
    ):
        # It hangs on the turns of a group of its half, or on all that stands above.
        return None
    if not all(
        (mine in names.kinds and scope.is_above(mine)) or mine == name
        for name, mine in pairs
    ):
        return None
    leans_on = tuple([mine for _, mine in pairs])
    bound = BoundStep(step, scope, leans_on, results, like.kind, {}, first)
    return bound if bound.kinds == like.kinds else None


def _bind_fields(
    source: Step | LaterStep,
    step: Step,
    scope: StandingScope,
    of_fields: StandingScope,
    results: tuple[str, ...],
) -> BoundStep:
    leans_on: dict[str, None] = {}
    fields: dict[str, Callable[[Mapping[str, Any]], Any]] = {}
    kind: Kind | None = None
    for name, how in type(step).reading().items():
        work, leans, found = _bind_any(getattr(step, name), how, of_fields)
        fields[name] = work
        leans_on.update(dict.fromkeys(leans))
        if how is Reads.FIGURE and found is not None:
            kind = found
    return BoundStep(source, scope, tuple(leans_on), results, kind, fields)


def _bind_any(
    raw: Any, how: Reads, scope: StandingScope
) -> tuple[Callable[[Mapping[str, Any]], Any], tuple[str, ...], Kind | None]:
    if raw is None:
        return lambda _: None, (), None
    if isinstance(raw, str):
        read, kind = read_text(raw, how, scope)
        return read.work, read.leans_on, kind
    if isinstance(raw, dict):
        read_all = {key: _bind_any(item, how, scope) for key, item in raw.items()}
        works = {key: item[0] for key, item in read_all.items()}
        leans = tuple(name for item in read_all.values() for name in item[1])
        return lambda v: {key: work(v) for key, work in works.items()}, leans, None
    read_list = [_bind_any(item, how, scope) for item in raw]
    work_list = [item[0] for item in read_list]
    leans = tuple(name for item in read_list for name in item[1])
    return lambda v: tuple(work(v) for work in work_list), leans, None
