"""Flights dated from daily weather: one year's own dates, or those of an early year out of all on record."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from datetime import date, timedelta
from functools import lru_cache
from typing import TYPE_CHECKING, Literal

from barkwright.record import dataclass
from barkwright.season.emergence import model
from barkwright.season.numbers import FLIGHT
from barkwright.season.springs import Spring, last_read, prior_of, spring_of, thin, warm_days, years_read
from barkwright.season.year import Caution, FlightYear, in_words
from barkwright.sources import Citation, cite

if TYPE_CHECKING:
    from barkwright.season.site import Season
    from barkwright.season.weather import Weather

Kind = Literal["own", "so far", "years"]


@dataclass(frozen=True, slots=True)
class WeatherDates:
    """How a flight was dated from weather.

    kind : own: that year's record; so far: this year's record to `last`, continued as each year on record went on;
        years: the years on record as they were.
    """

    kind: Kind
    springs: tuple[Spring, ...]  # the years that count, one or many; onset, median and end known
    last: date  # last day read of the year itself, or of the record
    middle_half: date  # half emergence in the middle one of them
    middle_onset: date
    onset: date
    half: date
    end: date
    prior_taken: bool = False  # the year before is not on record: that with the fewest warm days stands in for it


def dated_by_weather(season: Season) -> bool:
    """Does daily weather date this site's flights, by the user's word or because enough years are on record?"""
    count = len(usable(season))
    return season.rule != "calendar" and count >= (1 if season.rule == "weather" else FLIGHT["least_years"])


def usable(season: Season) -> tuple[Spring, ...]:
    """The years on record that date a flight, in order; none without daily weather."""
    if season.weather is None:
        return ()
    return tuple(
        read.spring for read in years_read(season.weather, season.on) if read.spring is not None and not read.left_out
    )


@lru_cache(maxsize=512)
def weather_dates(season: Season, year: int) -> WeatherDates | None:
    """The dates of a year's flight by weather; None where no year on record dates one."""
    springs = usable(season)
    if season.weather is None or not springs:
        return None
    own = next((one for one in springs if one.year == year), None)
    if own is not None:
        return _of("own", (own,), date(year, 12, 31), year)
    if year == season.on.year:
        last = last_read(season.weather, year, season.on)
        prior = None if last is None else prior_of(season.weather, year, last)
        continued = () if last is None else _continued(season, springs, last, prior)
        if last is not None and continued:
            return _of("so far", continued, last, year, prior_taken=prior is None)
    return _of("years", springs, max(season.weather.days), year)


def weather_flight(season: Season, year: int) -> FlightYear | None:
    """The flight of a year by weather, with what each caution costs; None where no year on record dates one."""
    dates = weather_dates(season, year)
    if dates is None or season.weather is None:
        return None
    margin = int(FLIGHT["margin_days"])
    return FlightYear(
        year=year,
        onset=dates.onset,
        half=dates.half,
        end=dates.end,
        margin_days=margin,
        basis=_basis(season.weather, dates),
        citations=_citations(),
        rule="weather",
        cautions=(
            Caution(
                f"the model has missed by up to {FLIGHT['miss_days']:g} days, so the first beetles are put before its "
                f"half emergence by as much, but after the fifth warm day from 1 April",
                (dates.middle_half - dates.middle_onset).days,
            ),
            *_early(dates),
            Caution("the margin before the first beetles", margin),
        ),
    )


def early_one(days: Sequence[date], share: float, year: int) -> date:
    """The day before which a share of the days fall [date in `year`], rounded to the earlier day. Ours.

    Days of several years are compared by how long after 1 March of their own year they come.
    """
    after = sorted((day - date(day.year, 3, 1)).days for day in days)
    at = share * (len(after) - 1)
    low, part = int(at), at - int(at)
    value = after[low] if part == 0 else after[low] + part * (after[low + 1] - after[low])
    return date(year, 3, 1) + timedelta(days=math.floor(value + 1e-9))


def _of(kind: Kind, springs: tuple[Spring, ...], last: date, year: int, prior_taken: bool = False) -> WeatherDates:
    few = len(springs) < FLIGHT["few_years"]
    early, late = (0.0, 1.0) if few else (FLIGHT["early_share"], FLIGHT["late_share"])

    def pick(of: Callable[[Spring], date | None], share: float) -> date:
        return early_one([day for one in springs if (day := of(one)) is not None], share, year)

    onset, half = pick(lambda one: one.onset, early), pick(lambda one: one.median, early)
    return WeatherDates(
        kind=kind,
        springs=springs,
        last=last,
        middle_half=pick(lambda one: one.median, 0.5),
        middle_onset=pick(lambda one: one.onset, 0.5),
        onset=onset,
        half=max(onset, half),
        end=max(onset, half, pick(lambda one: one.end, late)),
        prior_taken=prior_taken,
    )


def _continued(season: Season, springs: tuple[Spring, ...], last: date, prior: int | None) -> tuple[Spring, ...]:
    """The flights that come of this year's warm days up to `last`, and then of those of each year on record.

    With the year before unknown, the fewest warm days of any year before stand in: they make the earliest flight.
    """
    weather, year = season.weather, last.year
    if weather is None or not_continued(weather, year, last):
        return ()
    if prior is None:
        prior = min(one.prior_warm_days for one in springs)
    so_far = warm_days(weather, year, last)
    after = (last.month, last.day)
    made = (
        spring_of(
            year, (*so_far, *(d for d in warm_days(weather, one.year, date(one.year, 12, 31)) if d > after)), prior
        )
        for one in springs
    )
    return tuple(one for one in made if one.onset is not None)


def not_continued(weather: Weather, year: int, last: date) -> str | None:
    """Why this year's record up to `last` has too few readings to be continued, or None when it has enough."""
    return thin(weather, min(FLIGHT.day("spring", year), last), min(last, FLIGHT.day("summer_end", year)))


def _early(dates: WeatherDates) -> tuple[Caution, ...]:
    if dates.kind == "own":
        return ()
    count, days = len(dates.springs), (dates.middle_onset - dates.onset).days
    if count < FLIGHT["few_years"]:
        early = f"the earliest of {_years(count)}"
    else:
        early = f"an early year (one in {1 / FLIGHT['early_share']:.0f})"
    return (Caution(f"{early} in place of the middle one", days),)


def _basis(weather: Weather, dates: WeatherDates) -> str:
    count, few, name = len(dates.springs), FLIGHT["few_years"], weather.station.name
    first, last = (which(one.year for one in dates.springs) for which in (min, max))
    if dates.kind == "own":
        return f"Reckoned from the daily weather of {name} in {first}."
    thin_record = "" if count >= few else f" The record is thin: fewer than {few:g} years."
    if dates.kind == "so far":
        so_far = f"this year's record to {in_words(dates.last)}"
        taken = ""
        if dates.prior_taken:
            taken = (
                f" {dates.last.year - 1} is not on record in full: the coolest year before a flight stands in for it."
            )
        return (
            f"Daily weather of {name}: {so_far}, continued as each of {_years(count)} on record went on."
            f"{taken}{thin_record}"
        )
    span = f"in {first}" if count == 1 else f"in {count} years from {first} to {last}"
    return f"Daily weather of {name} {span}.{thin_record}"


def _years(count: int) -> str:
    return f"{count} {'year' if count == 1 else 'years'}"


def _citations() -> tuple[Citation, ...]:
    return (*(cite(text) for text in model().cite), *FLIGHT.whole["miss_days"].citations)
