"""The record of onsets: on which days a flight began, or would have begun, in the years that one knows of."""

from __future__ import annotations

from datetime import date, timedelta

from barkwright.record import dataclass
from barkwright.season.flight import calendar_flight, flight_year
from barkwright.season.site import Season
from barkwright.season.weatherflight import dated_by_weather, weather_dates


@dataclass(frozen=True, slots=True)
class Onsets:
    """One flight as often as years are known: the first day of each, all as days of the flight's own year."""

    days: tuple[date, ...]  # in order; at least one
    years: int  # on record; 0: the one date of a calendar, which tells nothing of how years differ


def onsets_of(season: Season, year: int) -> Onsets:
    """What the daily record makes of the flight of a year, or the calendar where that dates flights here."""
    dates = weather_dates(season, year) if dated_by_weather(season) else None
    if dates is None:
        flight = flight_year(season, year)
        return Onsets((flight.onset if flight.rule == "calendar" else calendar_flight(season, year).onset,), 0)
    found = [_moved(one.onset, year) for one in dates.springs if one.onset is not None]
    return Onsets(tuple(sorted(found)), len(found))


def _moved(day: date, year: int) -> date:
    """The same day of another year, counted from 1 March."""
    return date(year, 3, 1) + timedelta(days=(day - date(day.year, 3, 1)).days)
