"""Days of a mean year: their numbers, and monthly means drawn out over them."""

from __future__ import annotations

from calendar import isleap, monthrange
from collections.abc import Sequence
from datetime import date

LEAP_YEAR = 2024
YEAR_DAYS = 366
LEAP_DAY = date(LEAP_YEAR, 2, 29).timetuple().tm_yday - 1


def day_index(day: date) -> int:
    """The place of a day in a leap year, 0 to 365: 1 March is the same in every year."""
    number = day.toordinal() - date(day.year, 1, 1).toordinal()
    return number + 1 if number >= LEAP_DAY and not isleap(day.year) else number


def by_day(months: Sequence[float]) -> tuple[float, ...]:
    """Monthly means drawn out over the days of a leap year, in a straight line from the middle of a month to the next.

    The mean of a month comes out a little flatter than it went in.
    """
    starts = [date(LEAP_YEAR, month, 1).timetuple().tm_yday - 1 for month in range(1, 13)]
    middles = [start + monthrange(LEAP_YEAR, month)[1] / 2 for month, start in enumerate(starts, 1)]
    middles = [middles[-1] - YEAR_DAYS, *middles, middles[0] + YEAR_DAYS]
    values = [months[-1], *months, months[0]]
    found: list[float] = []
    month = 0
    for day in range(YEAR_DAYS):
        at = day + 0.5
        while middles[month + 1] <= at:
            month += 1
        share = (at - middles[month]) / (middles[month + 1] - middles[month])
        found.append(values[month] + share * (values[month + 1] - values[month]))
    return tuple(found)
