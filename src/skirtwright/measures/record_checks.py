"""Records of strangers checked, by pydantic; it is loaded where there is one.

What a record is stands in `records`, which hands on all that is needed of it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache
from types import UnionType
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import (
    BaseModel,
    ConfigDict,
    Field,
    GetCoreSchemaHandler,
    StrictBool,
    StrictFloat,
    StrictInt,
    TypeAdapter,
    create_model,
)
from pydantic_core import CoreSchema, core_schema

_models: dict[type, type[BaseModel]] = {}


def checked(kind: Any, data: Any) -> Any:
    """Data as a record of a kind.

    Raises:
        pydantic.ValidationError: it is not what it is to be.
        SkirtwrightError: the record's own checks refuse it.
    """
    return _adapter(kind).validate_python(data)


@cache
def _adapter(kind: Any) -> TypeAdapter[Any]:
    return TypeAdapter(kind)


def model_of(kind: Any, fields: Mapping[str, Any]) -> type[BaseModel]:
    """The model of pydantic that checks the fields of a kind of record."""
    if kind not in _models:
        defined: dict[str, Any] = {n: _defined(field) for n, field in fields.items()}
        config = ConfigDict(extra="forbid", populate_by_name=True, strict=kind.strict)
        _models[kind] = create_model(
            kind.__name__,
            __config__=config,
            __doc__=kind.__doc__,
            __module__=kind.__module__,
            **defined,
        )
    return _models[kind]


def _defined(field: Any) -> tuple[Any, Any]:
    """A field as pydantic defines one."""
    annotation = _strictly(field.annotation)
    for beside in field.metadata:
        annotation = Annotated[annotation, beside]
    rules = dict(field.rules)
    if not field.is_required():
        rules["default"] = field.default
    return annotation, Field(alias=field.alias, **rules)


_STRICT = {bool: StrictBool, int: StrictInt, float: StrictFloat}


def _strictly(annotation: Any) -> Any:
    """What holds no text such as "yes" or "33" for an answer or a number."""
    of, inner = get_origin(annotation), tuple(map(_strictly, get_args(annotation)))
    if of in (dict, Union, UnionType):
        return (Union if of is UnionType else of)[inner]
    return _STRICT.get(annotation, annotation)


def read_by(
    of: Any,
    check: Callable[[Any, Callable[[Any], Any]], Any],
    handler: GetCoreSchemaHandler,
) -> CoreSchema:
    """How pydantic reads a value with a function.

    Args:
        check: reads it, handed the value and that check.
    """
    return core_schema.no_info_wrap_validator_function(
        check, handler.generate_schema(of)
    )
