"""The season as a strip of weeks: how warm they were on record, when beetles flew in them, and the dates to come."""

from __future__ import annotations

from collections.abc import Container, Iterable, Sequence
from datetime import date, timedelta
from typing import Literal

from barkwright.record import dataclass
from barkwright.season.emergence import model
from barkwright.season.flight import finish_by
from barkwright.season.numbers import FLIGHT
from barkwright.season.site import Season
from barkwright.season.springs import Spring
from barkwright.season.weather import Weather
from barkwright.season.weatherflight import usable
from barkwright.season.year import FlightYear

What = Literal["now", "finish by", "first beetles", "half out", "over"]
MOST_WEEKS = 126  # two strips of a page's width; a flight farther off is left out
WEEK = timedelta(days=7)


@dataclass(frozen=True, slots=True)
class Mark:
    """A day that stands on the strip."""

    what: What
    day: date
    flight: int | None  # year of the flight; None for the plan's own day


@dataclass(frozen=True, slots=True)
class Week:
    """One week from a Monday on. None where nothing on record tells."""

    first: date
    warm_days: float | None  # mean over the readings on record of these days of the year [days a week]
    own_warm_days: int | None  # of this very week, as far as it is on record [days]
    years_flying: int | None  # years on record in which beetles were flying in these days
    marks: tuple[Mark, ...]  # in order of their days


@dataclass(frozen=True, slots=True)
class Strip:
    """Weeks in a row, and on how many years the counts rest."""

    weeks: tuple[Week, ...]
    years: int  # on record that date a flight
    flying_before: bool  # did a flight begin before the first week, and last into it?


def strip_of(season: Season, flights: Sequence[FlightYear], to_beat: Container[int]) -> Strip:
    """The weeks from the plan's date to the end of the last flight; of a flight under way, from early spring on.

    to_beat : Container    Years of the flights that some work must beat: only these have a day to be done by.
    """
    springs = usable(season)
    marks = _marks(season, flights, to_beat)
    last = max((mark.day for mark in marks), default=season.on)
    first = monday(_start(season, flights))
    count = min((monday(last) - first) // WEEK + 1, MOST_WEEKS)
    mondays = (first + number * WEEK for number in range(count))
    flying = any(flight.onset < first <= flight.end for flight in flights)
    return Strip(tuple(_week(day, season, springs, marks) for day in mondays), len(springs), flying)


def monday(day: date) -> date:
    """The first day of the week that holds a day."""
    return day - timedelta(days=day.weekday())


def _start(season: Season, flights: Iterable[FlightYear]) -> date:
    """The plan's day, or the spring before it where a flight of this year has a record so far."""
    on, weather = season.on, season.weather
    spring = FLIGHT.day("spring", on.year)
    if spring >= on or weather is None or all(flight.year != on.year for flight in flights):
        return on
    return spring if any(spring <= day <= on for day in weather.days) else on


def _marks(season: Season, flights: Iterable[FlightYear], to_beat: Container[int]) -> tuple[Mark, ...]:
    found = [Mark("now", season.on, None)]
    for flight in flights:
        if flight.year in to_beat:
            found.append(Mark("finish by", finish_by(flight), flight.year))
        found += [
            Mark("first beetles", flight.onset, flight.year),
            Mark("half out", flight.half, flight.year),
            Mark("over", flight.end, flight.year),
        ]
    return tuple(sorted(found, key=lambda mark: mark.day))


def _week(first: date, season: Season, springs: Sequence[Spring], marks: Iterable[Mark]) -> Week:
    days = [first + timedelta(days=number) for number in range(7)]
    weather = season.weather
    flying = sum(any(_flew(spring, day) for day in days) for spring in springs)
    return Week(
        first=first,
        warm_days=None if weather is None else _mean_warm(weather, days, season.on),
        own_warm_days=None if weather is None else _own_warm(weather, days, season.on),
        years_flying=flying if springs else None,
        marks=tuple(mark for mark in marks if days[0] <= mark.day <= days[-1]),
    )


def _mean_warm(weather: Weather, days: Sequence[date], on: date) -> float | None:
    years = range(min(weather.days).year, min(max(weather.days), on).year + 1) if weather.days else ()
    read = [
        warm
        for year in years
        for day in days
        if (then := _in_year(day, year)) is not None and then <= on and (warm := _warm(weather, then)) is not None
    ]
    return 7 * sum(read) / len(read) if read else None


def _own_warm(weather: Weather, days: Sequence[date], on: date) -> int | None:
    read = [warm for day in days if day <= on and (warm := _warm(weather, day)) is not None]
    return sum(read) if read else None


def _warm(weather: Weather, day: date) -> bool | None:
    reading = weather.days.get(day)
    return None if reading is None or reading.tmax_c is None else reading.tmax_c >= model().warm_day_c


def _flew(spring: Spring, day: date) -> bool:
    then = _in_year(day, spring.year)
    return then is not None and None not in (spring.onset, spring.end) and spring.onset <= then <= spring.end  # type: ignore[operator]


def _in_year(day: date, year: int) -> date | None:
    """The same day of the year in another year; None for 29 February where there is none."""
    try:
        return day.replace(year=year)
    except ValueError:
        return None
