"""Fields as numbers. What is not wholly a number is a fault, never another number."""

from __future__ import annotations

import re
from collections.abc import Callable

from barkwright.record import dataclass

NUMBER = re.compile(r"[-+]?(?:[0-9]{1,9}(?:\.[0-9]{0,20})?|\.[0-9]{1,20})")  # programs write 17 digits
MISSING = frozenset(
    ("", "m", "na", "n/a", "nan", "null", "none", "-", "--", "missing", "-9999", "-9999.0", "9999", "9999.9")
)

Convert = Callable[[float], float]


class BadNumberError(ValueError):
    """A field is neither a number nor one of the signs for a missing one."""


@dataclass(frozen=True, slots=True)
class Column:
    """A column that is read: what it holds, where it stands, and where its flag does."""

    quantity: str  # a field of Day
    index: int
    name: str  # as in the header
    flag: int | None = None
    blank: str = ""  # what an empty field without a flag counts as


def number(raw: str) -> float | None:
    """The number in a field, None where the field says that there is none."""
    text = raw.strip().replace("\N{MINUS SIGN}", "-")
    if NUMBER.fullmatch(text):
        return None if text in MISSING else float(text)
    if text.casefold() in MISSING:
        return None
    raise BadNumberError(raw)


def same(value: float) -> float:
    """The value itself."""
    return value


def times(factor: float) -> Convert:
    """The conversion that multiplies by a factor."""
    return lambda value: value * factor


def from_fahrenheit(value: float) -> float:
    """Degrees Fahrenheit as degrees Celsius."""
    return (value - 32) / 1.8


def coordinate(raw: str) -> float | None:
    """A number about the station, None where there is none or it cannot be read: nothing is computed from a guess."""
    try:
        return number(raw)
    except BadNumberError:
        return None
