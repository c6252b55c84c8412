"""From plain data (dicts, lists, text, numbers) to records, tuples and dates, by the types that the records name.

It converts and trusts: it is for the files that the program ships, which the tests hold against the same types with
pydantic. What a user writes goes through pydantic itself.
"""

from __future__ import annotations

import dataclasses
import sys
from collections.abc import Callable, Mapping
from datetime import date
from decimal import Decimal
from functools import cache
from types import NoneType, UnionType
from typing import Any, Union, get_args, get_origin

Build = Callable[[Any], Any]


@cache
def builder(kind: Any) -> Build:
    """The function that makes a `kind` of plain data. It raises TypeError where a record's keys do not fit it."""
    origin, args = get_origin(kind), get_args(kind)
    if dataclasses.is_dataclass(kind):
        return _record(kind)
    if origin is tuple:
        return _tuple(args)
    if origin in (dict, Mapping):
        value = builder(args[1])
        return lambda data: {key: value(part) for key, part in data.items()}
    if origin in (Union, UnionType):
        return _either(args)
    if hasattr(kind, "model_validate"):
        return lambda data: kind.model_validate(data)
    return _SCALARS.get(kind, _same)


def _record(kind: Any) -> Build:
    names = vars(sys.modules[kind.__module__])  # quicker than get_type_hints: a record's types stand in its own module
    hints: dict[str, Any] = {field.name: field.type for field in dataclasses.fields(kind)}
    parts = {name: builder(eval(hint, names) if isinstance(hint, str) else hint) for name, hint in hints.items()}
    return lambda data: kind(**{key: parts.get(key, _same)(value) for key, value in data.items()})


def _tuple(args: tuple[Any, ...]) -> Build:
    if args[1:] == (...,):
        each = builder(args[0])
        return lambda data: tuple(each(part) for part in data)
    parts = tuple(map(builder, args))
    return lambda data: tuple(build(part) for build, part in zip(parts, data, strict=True))


def _either(args: tuple[Any, ...]) -> Build:
    """One of several types: None stays None, a number becomes a float where that is one of them."""
    some = [one for one in args if one is not NoneType]
    if len(some) == 1:
        build = builder(some[0])
        return lambda data: None if data is None else build(data)
    if float in some and int not in some:
        return lambda data: float(data) if type(data) is int else data
    return _same


def _same(data: Any) -> Any:
    return data


_SCALARS: dict[Any, Build] = {date: date.fromisoformat, float: float, Decimal: lambda data: Decimal(str(data))}
