"""The fields of a step read where it stands: texts into closures over the values."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
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
from skirtwright.draft.step import Read, Reads, Step
from skirtwright.measures.units import Unit
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


_LETTERS_A_STEP: Final = 50
"""To read so much of a working is as much work as a step."""


@dataclass(init=False, eq=False)
class BoundStep:
    """A step whose fields are bound to the names above it.

    Two are equal when their fields come to the same for the same values: the texts are
    the same, and so is all that a text is read by.

    Attributes:
        unit: of its bare numbers.
        turn: what `i` is in it, or None.
        leans_on: every name a field needs, each once.
        kinds: the kind of each of those.
        fields: each field's closure over the values.
        results: the full names the step gives a value to.
        kind: the kind of its result where that is a number.
    """

    step: Final[Step]
    unit: Final[Unit]
    turn: Final[int | None]
    leans_on: Final[tuple[str, ...]]
    kinds: Final[tuple[Kind | None, ...]]
    fields: Final[Mapping[str, Callable[[Mapping[str, Any]], Any]]]
    results: Final[tuple[str, ...]]
    kind: Final[Kind | None]

    def __init__(
        self,
        step: Step,
        unit: Unit,
        turn: int | None,
        leans_on: tuple[str, ...],
        kinds: tuple[Kind | None, ...],
        fields: Mapping[str, Callable[[Mapping[str, Any]], Any]],
        results: tuple[str, ...],
        kind: Kind | None,
    ) -> None:
        self.step = step
        self.unit = unit
        self.turn = turn
        self.leans_on = leans_on
        self.kinds = kinds
        self.fields = fields
        self.results = results
        self.kind = kind

    @property
    def _read_by(self) -> tuple[object, ...]:
        return self.step, self.unit, self.turn, self.leans_on, self.kinds

    def __eq__(self, other: object) -> bool:
        """The same texts read by the same."""
        return isinstance(other, BoundStep) and self._read_by == other._read_by

    def __hash__(self) -> int:
        """Of the same."""
        return hash(self._read_by)


class _Kept(NamedTuple):
    """A text as it was read.

    Attributes:
        read: the text, bound.
        kind: what comes of it, where that is a number.
        kinds: those of the names it leans on.
    """

    read: Read
    kind: Kind | None
    kinds: tuple[Kind | None, ...]


def read_text(text: str, how: Reads, scope: StandingScope) -> tuple[Read, Kind | None]:
    """One text of a field, bound; the same text in another field is not bound again.

    Of the two halves of a skirt the second has what the first has, by other names.

    Raises:
        BadInput, NotFound: it cannot be read here.
    """
    spend("steps", len(text) // _LETTERS_A_STEP)
    if scope.standing.prefixes or "[" in text or "girth" in text:
        # It hangs on the turn, on how many there are, or on all that stands above.
        return _read_here(text, how, scope)
    names = scope.names
    key = (text, how, scope.unit)
    kept: _Kept | None = names.read.get(key)
    if kept is None or not _is_as_read(kept, scope):
        kept = _of_other_half(text, how, scope) if isinstance(text, HalfText) else None
        if kept is None:
            read, kind = _read_here(text, how, scope)
            kept = _Kept(read, kind, _kinds(read, names))
        names.read[key] = kept
    return kept.read, kept.kind


def _kinds(read: Read, names: Names) -> tuple[Kind | None, ...]:
    return tuple(map(names.kind, read.leans_on))


def _is_as_read(kept: _Kept, scope: StandingScope) -> bool:
    """Whether a text comes to the same here: all that it leans on stands above."""
    return all(map(scope.is_above, kept.read.leans_on)) and kept.kinds == _kinds(
        kept.read, scope.names
    )


def _of_other_half(text: HalfText, how: Reads, scope: StandingScope) -> _Kept | None:
    """A text as it was bound for the other half; None where it was not, or is unlike.

    It is worked by the other half's names, each with the value of its own; where it
    cannot be, it is bound for itself, so that what is told names its own half.
    """
    names = scope.names
    kept: _Kept | None = names.read.get((text.other, how, scope.unit))
    if kept is None:
        return None
    other, call = kept.read, text.from_other
    own = tuple(call.get(name, name) for name in other.leans_on)
    pairs = tuple(zip(other.leans_on, own, strict=True))
    known = all(
        (mine in names.kinds and scope.is_above(mine)) or mine == name
        for name, mine in pairs
    )
    kinds = tuple(map(names.kind, own))
    if kinds != kept.kinds or not known:
        return None

    def work(values: Mapping[str, Any]) -> Any:
        seen = {name: values[mine] for name, mine in pairs if mine in values}
        try:
            return other.work(seen)
        except (KeyError, SkirtwrightError):
            return _read_here(text, how, scope)[0].work(values)

    return _Kept(Read(own, work), kept.kind, kinds)


def _read_here(text: str, how: Reads, scope: StandingScope) -> tuple[Read, Kind | None]:
    """One text, bound where it stands."""
    if how in _WANTED:
        bound = bind(parse_working(text), scope, _WANTED[how])
        return Read.of(bound), bound.kind
    if how is Reads.WHETHER:
        return Read.of(bind(parse_condition(text), scope)), None
    place = bind_place(parse_place(text), scope)
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


def bind_step(step: Step, scope: StandingScope, results: tuple[str, ...]) -> BoundStep:
    """A step with all its fields bound where it stands.

    Args:
        results: the full names it gives a value to.

    Raises:
        BadInput, NotFound: a field cannot be read here.
    """
    leans_on: dict[str, None] = {}
    fields: dict[str, Callable[[Mapping[str, Any]], Any]] = {}
    kind: Kind | None = None
    for name, how in type(step).reading().items():
        work, leans, found = _bind_any(getattr(step, name), how, scope)
        fields[name] = work
        leans_on.update(dict.fromkeys(leans))
        if how is Reads.FIGURE and found is not None:
            kind = found
    return BoundStep(
        step,
        scope.unit,
        scope.standing.turn,
        tuple(leans_on),
        tuple(map(scope.names.kind, leans_on)),
        fields,
        results,
        kind,
    )


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
