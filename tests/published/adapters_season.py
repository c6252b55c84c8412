"""Our sun and flight functions in the form in which the sources print their values. Nothing is computed here."""

from __future__ import annotations

import csv
from datetime import date, datetime, timedelta
from pathlib import Path

import made_weather

from barkwright.inventory.model import Site
from barkwright.season import daylight, emergence, hourly, springs
from barkwright.season.flight import flight_year
from barkwright.season.site import Season, season_of
from barkwright.season.spells import spells


def season(region: str, latitude: float = 54.0, longitude: float = -123.0) -> Season:
    site = Site.model_validate(
        {"name": "any", "units": "imperial", "latitude": latitude, "longitude": longitude, "region": region}
    )
    return season_of(site, date(2026, 1, 1))


def clock(latitude: float, longitude: float, day: str, event: str, ahead_h: float = 0.0, civil: bool = False) -> str:
    """The time to the nearest minute as the almanac prints it, in a zone `ahead_h` hours ahead of UTC."""
    return f"{_moment(latitude, longitude, day, event, ahead_h, civil) + timedelta(seconds=30):%H:%M}"


def seconds_of_day(latitude: float, longitude: float, day: str, event: str, ahead_h: float = 0.0) -> float:
    """The time in seconds after midnight, in a zone `ahead_h` hours ahead of UTC."""
    at = _moment(latitude, longitude, day, event, ahead_h, civil=False)
    return at.hour * 3600 + at.minute * 60 + at.second + at.microsecond / 1e6


def _moment(latitude: float, longitude: float, day: str, event: str, ahead_h: float, civil: bool) -> datetime:
    zenith = daylight.CIVIL_ZENITH_DEG if civil else daylight.SUNRISE_ZENITH_DEG
    at = daylight.sun_event(latitude, longitude, date.fromisoformat(day), event, zenith)
    assert isinstance(at, datetime)
    return at + timedelta(hours=ahead_h)


def flight_words(region: str) -> str:
    """Onset and end of a flight as parts of months."""
    flight = flight_year(season(region), 2027)
    return f"{_part(flight.onset)} to {_part(flight.end)}"


def flight_months(region: str) -> str:
    """Onset and end of a flight as whole months."""
    flight = flight_year(season(region), 2027)
    whole = flight.onset.day == 1 and (flight.end + timedelta(days=1)).day == 1
    return f"{flight.onset:%B} and {flight.end:%B}" if whole else f"{flight.onset} to {flight.end}"


def chips_draw(day: str) -> bool:
    at = date.fromisoformat(day)
    return spells(season("interior-plateau"), at, at)[0].chips_draw


def _part(day: date) -> str:
    part = "early" if day.day <= 10 else "mid" if day.day <= 20 else "late"
    return f"{part} {day:%B}"


def warm_days_to_half(prior_warm_days: int) -> int:
    return emergence.warm_days_until(0.5, emergence.one_year_parents(prior_warm_days))


def wave_half(mean: float, swing: float, span: float) -> int:
    """Day of the year of half emergence when two years in a row follow the same wave of temperature."""
    half = _wave(mean, swing, span).spring.median
    return (half - date(half.year, 1, 1)).days + 1


def wave_hours(mean: float, swing: float, span: float) -> int:
    return _wave(mean, swing, span).summer.hours


def _wave(mean: float, swing: float, span: float):
    weather = made_weather.of(made_weather.wave((2025, 2026), mean, swing, span))
    return springs.years_read(weather, date(2026, 12, 31))[-1]


def warm_hours(station: str, month: int, course: str) -> float:
    """Hours at or above 60 % of the range of a published mean day, by one of our two courses of temperature."""
    table = Path(__file__).parents[2] / "shared" / "published" / "hourly-temperature-profiles.csv"
    with table.open(encoding="utf-8") as lines:
        rows = list(csv.DictReader(line for line in lines if not line.startswith("#")))
    row = next(one for one in rows if one["station"] == station and int(one["month"]) == month)
    hours = [float(row[f"h{number:02d}"]) for number in range(1, 25)]
    low, top = min(hours), max(hours)
    threshold = low + 0.6 * (top - low)
    if course == "sine":
        return hourly.hours_above_sine(low, top, threshold)
    daylight_h = daylight.daylight_hours(float(row["latitude"]), float(row["longitude"]), date(2025, month, 15))
    return hourly.hours_above(low, top, threshold, daylight_h)
