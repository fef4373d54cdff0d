"""Records of the shelf, taken as they are: the tests have checked them.

What comes from a stranger is read by `strict_json`, which checks all of it. To check
our own styles every time the window opens, and to make ready what checks, would take
longer than to draw the first skirt.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from types import UnionType
from typing import Annotated, Any, TypeVar, Union, get_args, get_origin

from pydantic import BaseModel

_Model = TypeVar("_Model", bound=BaseModel)
_Take = Callable[[Any], Any]


@dataclass(frozen=True)
class TakenBy:
    """Beside the annotation of a field that may hold several kinds: what takes it."""

    take: _Take


def take(model: type[_Model], data: Mapping[str, Any]) -> _Model:
    """The record that `read_as` would make of the same data, were it checked.

    Args:
        model: what it is.
        data: from JSON known to be right.
    """
    fields = _fields(model)
    values = {}
    for key, item in data.items():
        name, taking = fields[key]
        values[name] = item if taking is None else taking(item)
    return model.model_construct(set(values), **values)


@cache
def _fields(model: type[BaseModel]) -> Mapping[str, tuple[str, _Take | None]]:
    """By the key each field has in JSON: its name, and what takes it."""
    return {
        field.alias or name: (name, _taking(field.annotation))
        for name, field in model.model_fields.items()
    }


def _taking(kind: Any) -> _Take | None:
    """What takes a value of this kind; None where it stays what JSON made of it."""
    parts = get_args(kind)
    if isinstance(kind, type) and issubclass(kind, BaseModel):
        return lambda data: take(kind, data)
    origin = get_origin(kind)
    if origin is Annotated:
        own = [part.take for part in parts if isinstance(part, TakenBy)]
        return own[0] if own else _taking(parts[0])
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
