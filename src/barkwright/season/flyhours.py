"""Hours warm enough for beetles to fly, month by month."""

from __future__ import annotations

from collections import defaultdict
from datetime import date

from barkwright.record import dataclass
from barkwright.season.climate import normals_of
from barkwright.season.daylight import daylight_hours
from barkwright.season.days import LEAP_YEAR
from barkwright.season.hourly import book, hours_above, hours_above_sine
from barkwright.season.site import Season

MIDDLE = 15  # day of the month whose daylight stands for the month's


@dataclass(frozen=True, slots=True)
class FlyMonth:
    """Mean hours a day above the temperature of flight; two courses of the day's temperature bound it."""

    month: int
    low_h: float
    high_h: float


@dataclass(frozen=True, slots=True)
class FlyHours:
    """The months with such hours, and what they rest on, in words."""

    months: tuple[FlyMonth, ...]
    from_c: float
    rests_on: str


def fly_hours(season: Season) -> FlyHours | None:
    """Hours warm enough to fly, by the place's daily weather, else by the mean days of the nearest climate normals.

    None where neither is there. A mean day has fewer such hours than the days it is the mean of, in cool months.
    """
    ranges: dict[int, list[tuple[float, float]]] = defaultdict(list)
    rests = ""
    if season.weather is not None:
        rests = f"the daily weather of {season.weather.station.name}"
        for day, reading in season.weather.days.items():
            if day <= season.on and reading.tmin_c is not None and reading.tmax_c is not None:
                ranges[day.month].append((reading.tmin_c, reading.tmax_c))
    if len(ranges) < 12:
        near = normals_of(season)
        if near is None:
            return None
        rests = near.words
        ranges = {month: [pair] for month, pair in enumerate(zip(near.min_c, near.max_c, strict=True), 1)}
    months = [_month(season, month, ranges[month]) for month in range(1, 13)]
    return FlyHours(tuple(one for one in months if one.high_h > 0), book().fly_from_c, rests)


def _month(season: Season, month: int, ranges: list[tuple[float, float]]) -> FlyMonth:
    threshold = book().fly_from_c
    daylight = daylight_hours(season.latitude, season.longitude, date(LEAP_YEAR, month, MIDDLE))
    wave = sum(hours_above_sine(*pair, threshold) for pair in ranges) / len(ranges)
    curve = sum(hours_above(*pair, threshold, daylight) for pair in ranges) / len(ranges)
    return FlyMonth(month, min(wave, curve), max(wave, curve))
