"""How things are said: dates, hours, money, sizes and the names of pieces, each formatted in this one place.

Inside, wood is in inches, feet and pounds; here, and nowhere before, it becomes what the reader asked for.
Quantities round half up, hours and weights to lift round up, deadlines are whole days and are never moved later.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from itertools import groupby

from barkwright.units import CM_PER_IN, FT_PER_M, half_up

DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
KG_PER_LB = 0.45359237  # exact, international yard and pound agreement 1959
M3_PER_FT3 = 0.3048**3  # exact
M3_PER_CORD = 128 * M3_PER_FT3
M3_PER_YD3 = 27 * M3_PER_FT3

_AMOUNT = re.compile(
    r"(?P<low>\d[\d,]*(?:\.\d+)?)(?:(?P<to> to | by |-)(?P<high>\d[\d,]*(?:\.\d+)?))? "
    r"(?P<unit>cu ft|cu yd|sq ft|cords?|inch(?:es)?|in|feet|foot|ft|pounds?|lb|miles?|yd3|ft2|ft3)\b"
    r"(?! (?:(?:the|a|an)\b|[A-Z]))"
)
_NUMBER = re.compile(r"\d[\d,]*(?:\.\d+)?")
_BLANK = "\1"
_SIGN = re.compile(r"(?<=\d )(ft2|ft3|yd3)\b")
_SPOKEN = {"ft2": "sq ft", "ft3": "cu ft", "yd3": "cu yd"}
_METRIC = {
    unit: conversion
    for units, conversion in {
        ("in", "inch", "inches"): (CM_PER_IN, "cm", 0),
        ("ft", "foot", "feet"): (1 / FT_PER_M, "m", 1),
        ("sq ft", "ft2"): (0.3048**2, "m2", 1),
        ("cu ft", "ft3"): (M3_PER_FT3, "m3", 2),
        ("cu yd", "yd3"): (M3_PER_YD3, "m3", 1),
        ("cord", "cords"): (M3_PER_CORD, "m3 stacked", 1),
        ("lb", "pound", "pounds"): (KG_PER_LB, "kg", 0),
        ("mile", "miles"): (1.609344, "km", 1),
    }.items()
    for unit in units
}


def day(value: date) -> str:
    """Sat 14 Nov 2026."""
    return f"{DAYS[value.weekday()]} {value.day} {MONTHS[value.month - 1]} {value.year}"


def span(first: date, last: date) -> str:
    """Two dates as one phrase: Sat 14 Nov 2026, or Sat 14 - Sun 15 Nov 2026."""
    if first == last:
        return day(first)
    start = f"{DAYS[first.weekday()]} {first.day}"
    if first.year != last.year:
        start += f" {MONTHS[first.month - 1]} {first.year}"
    elif first.month != last.month:
        start += f" {MONTHS[first.month - 1]}"
    return f"{start} - {day(last)}"


def number(value: float | Decimal, digits: int = 0) -> str:
    """Rounded half up, thousands marked: 1,240."""
    return f"{half_up(value, digits):,}"


def amount(value: float, one: str, many: str | None = None, digits: int = 0) -> str:
    """A count or measure with its noun: 1 tree, 4 trees."""
    text = number(value, digits)
    return f"{text} {one if text == '1' else many or one + 's'}"


def hours(value: float) -> str:
    """Hours for a crew, rounded up: 25 min, 2.5 h, 14 h."""
    if value <= 0:
        return "0 h"
    minutes = math.ceil(round(value * 60, 6))
    if minutes <= 55:
        return f"{max(5, -(-minutes // 5) * 5)} min"
    if value < 10:
        halves = math.ceil(round(value * 2, 6))
        return f"{halves / 2:g} h"
    return f"{math.ceil(round(value, 6)):,} h"


def hours_between(low: float, high: float) -> str:
    """The spread of hours as a phrase: 2-4.5 h."""
    start, end = hours(low), hours(high)
    if start == end:
        return start
    if start.split()[-1] == end.split()[-1]:
        return f"{start.split()[0]}-{end}"
    return f"{start} - {end}"


def money(value: Decimal, currency: str) -> str:
    """Whole units of money, half up: USD 1,240; -USD 30."""
    rounded = half_up(value)
    return f"{'-' if rounded < 0 else ''}{currency} {abs(rounded):,}"


def shape(text: str) -> str:
    """The text with its amounts blanked out: two texts of one shape differ only in their amounts."""
    return _NUMBER.sub(_BLANK, text)


def merged(texts: Sequence[str]) -> str | None:
    """One sentence for texts that differ only in their amounts, with ranges; None if they differ in more.

    Amounts come out as a crew needs them: whole from ten up, otherwise to one decimal.
    """
    shapes = {shape(text) for text in texts}
    if len(shapes) != 1:
        return None
    out = shapes.pop()
    for found in zip(*(_NUMBER.findall(text) for text in texts), strict=True):
        values = [float(value.replace(",", "")) for value in found]
        low, high = min(values), max(values)
        out = out.replace(_BLANK, _brief(low, found[0]) if low == high else f"{_brief(low)} to {_brief(high)}", 1)
    return out


def _brief(value: float, written: str = ".") -> str:
    if "." not in written:
        return written
    return (
        number(value) if value >= 10 else f"{half_up(value, 1 if value >= 1 else 2):f}".rstrip("0").rstrip(".") or "0"
    )


def tools(kinds: Iterable[str]) -> list[str]:
    """Equipment as a crew says it: chain saw, drawknife."""
    return [kind.replace("-", " ") for kind in kinds]


def listing(parts: Sequence[str], last: str = "and") -> str:
    """a; a and b; a, b and c."""
    if len(parts) <= 1:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} {last} {parts[-1]}"


def runs(numbers: Iterable[int]) -> str:
    """1-4, 6."""
    ordered = sorted(set(numbers))
    out: list[str] = []
    for _, group in groupby(enumerate(ordered), key=lambda pair: pair[1] - pair[0]):
        members = [value for _, value in group]
        out.append(str(members[0]) if len(members) == 1 else f"{members[0]}-{members[-1]}")
    return ", ".join(out)


def part_names(parts: Iterable[str]) -> str:
    """The parts of one tree, without its id: logs 1-4, stump and top."""
    named = list(dict.fromkeys(parts))
    logs = [int(part) for part in named if part.isdigit()]
    others: list[str] = [part for part in ("stump", "top", "limbs") if part in named]
    others += [part for part in named if not part.isdigit() and part not in others]
    text = [f"log{'s' if len(logs) > 1 else ''} {runs(logs)}"] if logs else []
    return listing(text + others)


def piece_names(ids: Iterable[str]) -> str:
    """Pieces as a crew says them: T3 logs 1-4 and stump; T4 log 1. Like parts of several trees are said once."""
    by_tree: dict[str, list[str]] = {}
    for piece in ids:
        tree, _, part = piece.rpartition("/")
        by_tree.setdefault(tree or piece, []).append(part)
    same: dict[str, list[str]] = {}
    for tree, parts in by_tree.items():
        same.setdefault(part_names(parts), []).append(tree)
    return "; ".join(f"{tree_names(trees)} {parts}".strip() for parts, trees in same.items())


def tree_names(ids: Iterable[str]) -> str:
    """T1, T4-T9: runs of ids that differ only in a closing number are shortened from three on."""
    out: list[str] = []
    plain = list(dict.fromkeys(ids))
    position = 0
    while position < len(plain):
        end = position
        while end + 1 < len(plain) and _follows(plain[end], plain[end + 1]):
            end += 1
        if end - position >= 2:
            out.append(f"{plain[position]}-{plain[end]}")
        else:
            out.extend(plain[position : end + 1])
        position = end + 1
    return ", ".join(out)


def _follows(one: str, two: str) -> bool:
    first, second = re.fullmatch(r"(.*?)(\d+)", one), re.fullmatch(r"(.*?)(\d+)", two)
    if not first or not second or first[1] != second[1]:
        return False
    return int(second[2]) == int(first[2]) + 1 and (len(second[2]) == len(first[2]) or not first[2].startswith("0"))


def printable(text: str) -> str:
    """The text with every control character shown as an escape, so that a file cannot steer a terminal."""
    return "".join(
        char if char.isprintable() or char == "\n" else char.encode("unicode_escape").decode("ascii") for char in text
    )


@dataclass(frozen=True, slots=True)
class Units:
    """The reader's units. Arguments are in the program's own units, named by the method."""

    metric: bool = False

    def inches(self, value: float) -> str:
        """A diameter or other small length [in]."""
        return f"{half_up(value * CM_PER_IN)} cm" if self.metric else f"{half_up(value, 1)} in"

    def ends(self, butt_in: float, top_in: float) -> str:
        """Both ends of a log, outside bark [in]."""
        if self.metric:
            return f"{half_up(butt_in * CM_PER_IN)} to {half_up(top_in * CM_PER_IN)} cm"
        return f"{half_up(butt_in, 1)} to {half_up(top_in, 1)} in"

    def feet(self, value: float, digits: int = 0) -> str:
        """A height, length or distance [ft]."""
        return f"{half_up(value / FT_PER_M, 1)} m" if self.metric else f"{half_up(value, digits):,} ft"

    def square_feet(self, value: float) -> str:
        """An area [ft2]."""
        return f"{number(value * 0.3048**2, 1)} m2" if self.metric else f"{number(value)} sq ft"

    def cubic_feet(self, value: float) -> str:
        """Solid volume [ft3]."""
        return f"{number(value * M3_PER_FT3, 2)} m3" if self.metric else f"{number(value, 1)} cu ft"

    def cords(self, value: float) -> str:
        """Stacked wood [cord of 128 ft3]."""
        if self.metric:
            return f"{number(value * M3_PER_CORD, 1)} m3 stacked"
        text = number(value, 1 if value >= 1 else 2)
        return f"{text} cord{'s' if value > 1 else ''}"

    def yards(self, value: float) -> str:
        """Loose or bank volume [yd3]."""
        return f"{number(value * M3_PER_YD3, 1)} m3" if self.metric else f"{number(value, 1)} cu yd"

    def pounds(self, value: float) -> str:
        """A weight [lb], to two figures upward when it may have to be lifted."""
        shown = value * KG_PER_LB if self.metric else value
        step = 10 if shown >= 100 else 5 if shown >= 20 else 1
        return f"{math.ceil(round(shown / step, 9)) * step:,} {'kg' if self.metric else 'lb'}"

    def sentence(self, text: str) -> str:
        """A sentence written in inches and feet, as it is or with its amounts turned metric."""
        if self.metric:
            return _AMOUNT.sub(self._convert, text)
        return _SIGN.sub(lambda found: _SPOKEN[found[1]], text)

    def _convert(self, found: re.Match[str]) -> str:
        factor, unit, digits = _METRIC[found["unit"]]
        low = number(float(found["low"].replace(",", "")) * factor, digits)
        if found["high"] is None:
            return f"{low} {unit}"
        return f"{low}{found['to']}{number(float(found['high'].replace(',', '')) * factor, digits)} {unit}"
