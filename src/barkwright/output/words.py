"""How things are said: dates, hours, money, sizes and the names of pieces, each formatted in this one place.

Inside, wood is in inches, feet and pounds; here, and nowhere before, it becomes what the reader asked for.
Quantities round half up, hours and weights to lift round up, deadlines are whole days and are never moved later.
"""

from __future__ import annotations

import math
from datetime import date
from decimal import Decimal

from barkwright.costs.currency import decimals
from barkwright.season.year import MONTHS as MONTH_NAMES
from barkwright.treatment.listing import listing as listing
from barkwright.units import half_up

DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS = tuple(name[:3] for name in MONTH_NAMES)


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


def exact_money(value: Decimal, currency: str) -> str:
    """Money as finely as it is counted, half up: USD 1,240.50; -USD 30.00; JPY 1,240."""
    rounded = half_up(value, decimals(currency))
    return f"{'-' if rounded < 0 else ''}{currency} {abs(rounded):,}"
