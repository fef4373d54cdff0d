"""Records: what is saved or typed in, as frozen values with named fields.

A record is a class with annotated fields. What comes from a stranger is checked, by
pydantic, which is loaded for that alone (`record_checks`); what is ours is taken as it
is: the tests have checked it. To check our own styles every time the window opens, and
to load and make ready what checks, would take longer than to draw the first skirt.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from types import UnionType
from typing import (
    Annotated,
    Any,
    ClassVar,
    Self,
    TypeVar,
    Union,
    dataclass_transform,
    get_args,
    get_origin,
    get_type_hints,
)

_Record = TypeVar("_Record", bound="Record")
_Take = Callable[[Any], Any]
_MISSING: Any = object()

_SINGLE = (str, int, float, type(None))
"""Most of what is written; to ask whether one of these is a mapping takes long."""


@dataclass(frozen=True)
class _Ruled:
    """A field with more than a default: see `ruled`."""

    default: Any
    alias: str | None
    rules: Mapping[str, Any]


def ruled(*, default: Any = _MISSING, alias: str | None = None, **rules: float) -> Any:
    """A field whose values are bounded, or that is called otherwise in JSON.

    Args:
        default: what it is where it is not stated; it must be, where there is none.
        alias: its key in JSON.
        rules: bounds by pydantic's names: `ge`, `le`, `min_length`, `max_length`.
    """
    return _Ruled(default, alias, rules)


@dataclass(frozen=True)
class ReadBy:
    """Beside the annotation of a field: how its values are read from JSON and written.

    Attributes:
        of: what a stranger's value is checked as.
        check: reads a stranger's value; it is handed the value and that check.
        take: reads a value of ours.
        write: the value as JSON has it.
    """

    of: Any
    check: Callable[[Any, _Take], Any]
    take: _Take | None = None
    write: _Take | None = None

    def __get_pydantic_core_schema__(self, _: Any, handler: Any) -> Any:
        """What pydantic asks of an annotation."""
        from skirtwright.measures.record_checks import read_by

        return read_by(self.of, self.check, handler)


@dataclass(frozen=True)
class FieldOf:
    """A field of a kind of record.

    Attributes:
        metadata: what stands beside that.
        default: where it is not stated; nothing where it must be.
        rules: bounds of its values.
    """

    annotation: Any
    metadata: tuple[Any, ...]
    default: Any
    alias: str | None
    rules: Mapping[str, Any]

    def is_required(self) -> bool:
        """Whether it must be stated."""
        return self.default is _MISSING


class _Kind(type):
    """What every class of records is: mypy asks it, not its values, for a hash."""


@dataclass_transform(
    kw_only_default=True, frozen_default=True, field_specifiers=(ruled,)
)
class Record(metaclass=_Kind):
    """What every record has; `Record(...)` checks its fields, as a stranger's are.

    Attributes:
        strict: whether a stranger's value must be of the very kind that is wanted.
    """

    strict: ClassVar[bool] = False
    _rules: ClassVar[Mapping[str, _Ruled]] = {}

    def __init_subclass__(cls, *, strict: bool = False) -> None:
        super().__init_subclass__()
        cls.strict = strict
        own = {n: v for n, v in vars(cls).items() if isinstance(v, _Ruled)}
        cls._rules = {**cls._rules, **own}
        for name, rule in own.items():
            delattr(cls, name)
            if rule.default is not _MISSING:
                setattr(cls, name, rule.default)

    def __init__(self, **values: Any) -> None:
        """A record of these fields.

        Raises:
            pydantic.ValidationError: they are not what they are to be.
            SkirtwrightError: the record's own checks refuse them.
        """
        vars(self).update(vars(self.model_validate(values)))

    @classmethod
    def model_validate(cls, data: Any) -> Self:
        """A stranger's data as a record.

        Raises:
            pydantic.ValidationError: it is not what it is to be.
            SkirtwrightError: the record's own checks refuse it.
        """
        from skirtwright.measures.record_checks import checked

        made: Self = checked(cls, data)
        return made

    @classmethod
    def model_json_schema(cls) -> dict[str, Any]:
        """The schema of its JSON."""
        from skirtwright.measures.record_checks import model_of

        return model_of(cls, fields_of(cls)).model_json_schema()

    @classmethod
    def model_construct(cls, **values: Any) -> Self:
        """A record of fields that are known to be right, by their names."""
        made = cls.__new__(cls)
        vars(made).update(values)
        return made

    def refuse(self) -> None:
        """Refuse what a single field does not show to be wrong.

        Raises:
            SkirtwrightError: the fields do not go together.
        """

    def replace(self, **changes: Any) -> Self:
        """The same with other values in some of its fields; they are not checked."""
        return self.model_construct(**{**vars(self), **changes})

    @property
    def model_fields_set(self) -> frozenset[str]:
        """The names of the fields that are stated; the rest are at their defaults."""
        return frozenset(vars(self))

    def model_dump(
        self,
        *,
        by_alias: bool = False,
        exclude_unset: bool = False,
        exclude_defaults: bool = False,
    ) -> dict[str, Any]:
        """Its fields, and those of the records within it, as plain values.

        Args:
            by_alias: by the keys they have in JSON.
            exclude_unset: only those that are stated.
            exclude_defaults: only those that are not at their defaults.
        """

        def plain(value: Any) -> Any:
            if isinstance(value, Record):
                return value.model_dump(
                    by_alias=by_alias,
                    exclude_unset=exclude_unset,
                    exclude_defaults=exclude_defaults,
                )
            return value

        found = {}
        for name, field in fields_of(type(self)).items():
            value = getattr(self, name)
            left_out = exclude_unset and name not in vars(self)
            if not left_out and not (exclude_defaults and value == field.default):
                key = field.alias if by_alias and field.alias else name
                found[key] = _written_items(value, _writing(type(self), name) or plain)
        return found

    def model_dump_json(self, **how: bool) -> str:
        """The same, as JSON; `how` as for `model_dump`."""
        return json.dumps(self.model_dump(**how), ensure_ascii=False)

    def __iter__(self) -> Iterator[tuple[str, Any]]:
        """Each field with its value."""
        return ((name, getattr(self, name)) for name in fields_of(type(self)))

    def __eq__(self, other: object) -> bool:
        """Equal fields, stated or by default."""
        if type(self) is not type(other):
            return NotImplemented
        mine, theirs = vars(self), vars(other)
        return mine == theirs or all(
            getattr(self, name, _MISSING) == getattr(other, name, _MISSING)
            for name in {**mine, **theirs}
        )

    def __hash__(self) -> int:
        """Of all fields; some hold what has none."""
        return hash((type(self), *(value for _, value in self)))

    def __repr__(self) -> str:
        fields = ", ".join(f"{name}={value!r}" for name, value in self)
        return f"{type(self).__name__}({fields})"

    def __setattr__(self, name: str, value: Any) -> None:
        """A record is frozen."""
        raise AttributeError(f"{type(self).__name__}.{name} is frozen")

    @classmethod
    def __get_pydantic_core_schema__(cls, _: Any, handler: Any) -> Any:
        """What pydantic asks of a class it does not know."""
        from skirtwright.measures.record_checks import model_of, read_by

        def read(raw: Any, check: _Take) -> Any:
            if isinstance(raw, cls):
                return raw
            model = check(raw)
            stated = {name: getattr(model, name) for name in model.model_fields_set}
            record = cls.model_construct(**stated)
            record.refuse()
            return record

        return read_by(model_of(cls, fields_of(cls)), read, handler)


@cache
def fields_of(kind: type[Record]) -> Mapping[str, FieldOf]:
    """The fields of a kind of record by name, those of what it is based on first."""
    found = {}
    for name, hint in get_type_hints(kind, include_extras=True).items():
        if get_origin(hint) is ClassVar or hint is ClassVar:
            continue
        parts = get_args(hint) if get_origin(hint) is Annotated else (hint,)
        default = getattr(kind, name, _MISSING)
        rule = kind._rules.get(name, _Ruled(default, None, {}))  # noqa: SLF001
        found[name] = FieldOf(parts[0], parts[1:], default, rule.alias, rule.rules)
    return found


def take(kind: type[_Record], data: Mapping[str, Any]) -> _Record:
    """The record that `read_as` would make of the same data, were it checked."""
    takes = _takes(kind)
    values = {}
    for key, item in data.items():
        name, taking = takes[key]
        values[name] = item if taking is None else taking(item)
    return kind.model_construct(**values)


@cache
def _takes(kind: type[Record]) -> Mapping[str, tuple[str, _Take | None]]:
    """By the key each field has in JSON: its name, and what takes it."""
    return {
        field.alias or name: (name, _taking(field.annotation, field.metadata))
        for name, field in fields_of(kind).items()
    }


def _taking(kind: Any, beside: Iterable[Any] = ()) -> _Take | None:
    """What takes a value of this kind; None where it stays what JSON made of it."""
    own = [part.take for part in beside if isinstance(part, ReadBy)]
    if own:
        return own[0]
    parts = get_args(kind)
    if isinstance(kind, type) and issubclass(kind, Record):
        return lambda data: take(kind, data)
    origin = get_origin(kind)
    if origin is Annotated:
        return _taking(parts[0], parts[1:])
    if origin is tuple:
        return _taking_tuple(parts)
    if origin is dict:
        return _taking_values(_taking(parts[1]))
    if origin in (Union, UnionType):
        return _taking_one_of(parts)
    return None


def _taking_tuple(parts: tuple[Any, ...]) -> _Take:
    taking = _taking(parts[0])
    return tuple if taking is None else lambda data: tuple(map(taking, data))


def _taking_values(taking: _Take | None) -> _Take | None:
    if taking is None:
        return None
    return lambda data: {key: taking(item) for key, item in data.items()}


def _taking_one_of(parts: tuple[Any, ...]) -> _Take | None:
    """Told apart by their shape in JSON: an object, or a list, or neither."""
    shapes = {
        list if get_origin(part) is tuple else dict: taking
        for part in _plainest(parts)
        if (taking := _taking(part)) is not None
    }

    def take_shape(data: Any) -> Any:
        taking = shapes.get(type(data))
        return data if taking is None else taking(data)

    return take_shape if shapes else None


def _plainest(parts: tuple[Any, ...]) -> Iterator[Any]:
    for part in parts:
        yield get_args(part)[0] if get_origin(part) is Annotated else part


@cache
def _writing(kind: type[Record], name: str) -> _Take | None:
    """What writes the values in a field, where its annotation says."""
    field = fields_of(kind)[name]
    beside = [*field.metadata, *_all_beside(field.annotation)]
    ways = (part.write for part in beside if isinstance(part, ReadBy))
    return next(filter(None, ways), None)


def _all_beside(kind: Any) -> Iterator[Any]:
    for part in get_args(kind):
        if get_origin(part) is Annotated:
            yield from get_args(part)[1:]
        yield from _all_beside(part)


def _written_items(value: Any, write: _Take) -> Any:
    """Everything in lists and objects, written."""
    if isinstance(value, _SINGLE):
        return write(value)
    if isinstance(value, Mapping):
        return {key: _written_items(item, write) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return type(value)(_written_items(item, write) for item in value)
    return write(value)
