"""Records of daily weather made by hand."""

from __future__ import annotations

import itertools
from collections.abc import Mapping
from dataclasses import replace
from datetime import date, timedelta

from barkwright.inventory.model import Site
from barkwright.season.site import Season, season_of
from barkwright.season.weather import Day, Station, Weather

FINE = Day(tmax_c=5.0, tmin_c=-3.0, precip_mm=0.0, snow_cm=0.0, gust_kmh=0.0, wind_kmh=5.0)


def weather(days: Mapping[date, Day]) -> Weather:
    return Weather(Station("0", "HAND MADE"), "rows made by hand", ("by hand",), dict(sorted(days.items())), ())


def every_day(first: date, last: date, day: Day = FINE) -> dict[date, Day]:
    return {first + timedelta(days=offset): day for offset in range((last - first).days + 1)}


def month_days(month: int, *runs: tuple[int, Day], from_year: int = 2001) -> dict[date, Day]:
    """Days of one month, so many of each kind one after the other, over as many years as they take."""
    dates = (
        day
        for year in itertools.count(from_year)
        for day in every_day(date(year, month, 1), date(year + month // 12, month % 12 + 1, 1) - timedelta(days=1))
    )
    return {next(dates): day for count, day in runs for _ in range(count)}


def season(record: Weather | None, on: date = date(2026, 11, 26), latitude: float = 53.9) -> Season:
    site = Site.model_validate({"name": "any", "units": "imperial", "latitude": latitude, "longitude": -123.0})
    return replace(season_of(site, on), weather=record, rule="calendar")
