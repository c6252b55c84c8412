"""The mean year of a place, day by day: from its own daily weather, else from the nearest climate normals."""

from __future__ import annotations

from datetime import date
from functools import lru_cache

from barkwright.record import dataclass
from barkwright.season.days import LEAP_DAY, YEAR_DAYS, by_day, day_index
from barkwright.season.normals import Normals, nearest_normals
from barkwright.season.numbers import DRYING
from barkwright.season.site import Season
from barkwright.season.weather import Day, Weather
from barkwright.sources import Citation, cite
from barkwright.units import FT_PER_M


@dataclass(frozen=True, slots=True)
class Climate:
    """Means by day of a leap year, 1 January first, and where they are from."""

    temp_c: tuple[float, ...]
    rh_pct: tuple[float, ...] | None  # None: nobody near measured it
    name: str  # of the temperatures, in a few words: "the climate normals of Banff"
    words: str  # the same with how far off, and the humidity's source
    citations: tuple[Citation, ...]


@lru_cache(maxsize=16)
def climate_of(season: Season) -> Climate | None:
    """The mean year of a place; None where there is neither enough weather nor a station near enough."""
    weather = season.weather
    temps = _means(weather, "temp", season.on) if weather else None
    rhs = _means(weather, "rh", season.on) if weather else None
    name = words = damp_words = f"the daily weather of {weather.station.name}" if weather else ""
    cited: list[Citation] = []
    if temps is None:
        near = normals_of(season)
        if near is None:
            return None
        temps, name, words = by_day(near.mean_c), near.name, near.words
        cited.append(cite(near.station.source))
    if rhs is None:
        damp = normals_of(season, need_rh=True)
        if damp is not None and damp.rh_pct is not None and damp.station.humidity is not None:
            same = f"the typical year of {damp.station.name}" in words
            rhs, damp_words = (
                by_day(damp.rh_pct),
                words if same else f"a typical year of {damp.station.name} ({damp.where})",
            )
            cited.append(cite(damp.station.humidity))
    if rhs is not None and damp_words != words:
        words = f"the temperatures of {words} and the humidity of {damp_words}"
    return Climate(temps, rhs, name, words, tuple(dict.fromkeys(cited)))


def normals_of(season: Season, need_rh: bool = False) -> Normals | None:
    """The climate normals nearest to the site."""
    metres = None if season.elevation_ft is None else season.elevation_ft / FT_PER_M
    return nearest_normals(season.latitude, season.longitude, metres, need_rh)


def mean_c(day: Day) -> float | None:
    """Mean of a day's highest and lowest temperature [degrees C]; None where one of them is missing."""
    return None if day.tmax_c is None or day.tmin_c is None else (day.tmax_c + day.tmin_c) / 2


def _means(weather: Weather, what: str, on: date) -> tuple[float, ...] | None:
    sums, counts = [0.0] * YEAR_DAYS, [0] * YEAR_DAYS
    for when, day in weather.days.items():
        value = mean_c(day) if what == "temp" else day.rh_pct
        if value is not None and when <= on:
            at = day_index(when)
            sums[at] += value
            counts[at] += 1
    if any(count < DRYING["fewest_years"] for at, count in enumerate(counts) if at != LEAP_DAY):
        return None
    means = [total / max(count, 1) for total, count in zip(sums, counts, strict=True)]
    means[LEAP_DAY] = (means[LEAP_DAY - 1] + means[LEAP_DAY + 1]) / 2
    return tuple(means)
