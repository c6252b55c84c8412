"""What the flight dates of a site rest on less firmly than one would wish."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import TYPE_CHECKING

from barkwright.diagnostics import Code, Diagnostic, Severity
from barkwright.season.numbers import FLIGHT
from barkwright.season.site import Season
from barkwright.season.springs import last_read, years_read
from barkwright.season.weatherflight import dated_by_weather, not_continued, usable
from barkwright.season.year import in_words

if TYPE_CHECKING:
    from barkwright.season.weather import Weather


def doubts_of(season: Season) -> tuple[Diagnostic, ...]:
    """Notes on the rule that dates the flights, and on the years behind it."""
    by_rule = _of_model(season) if dated_by_weather(season) else _of_calendar(season)
    return (*_picked(season), *by_rule, *_of_record(season))


def left_out(season: Season) -> tuple[Diagnostic, ...]:
    """A note on each year of the record that dates no flight."""
    if season.weather is None:
        return ()
    name = season.weather.station.name
    return tuple(
        _said("note", "weather-thin", f"{read.year} of {name} dates no flight: {read.left_out}")
        for read in years_read(season.weather, season.on)
        if read.left_out
    )


def _picked(season: Season) -> Iterator[Diagnostic]:
    if season.given:
        return
    name = season.region.name
    if season.miles is None:
        why = "no calendar town lies within reach"
    else:
        why = f"its nearest calendar town is {season.miles:.0f} miles away"
    if dated_by_weather(season):
        message = f"no region is given, so the flight calendar beside the weather is that of {name}: {why}"
    else:
        message = f"no region is given, so the flight calendar of {name} is used: {why}"
    hint = "put region: in the site to choose another; a local forester knows when the beetles fly"
    yield Diagnostic("note", "assumption", message, subject="site", value=season.region.id, hint=hint)


def _of_calendar(season: Season) -> Iterator[Diagnostic]:
    if season.elevation_ft is not None:
        message = (
            f"the flight calendar of {season.region.name} holds for the whole region: it is not shifted for the site's "
            f"height of {season.elevation_ft:,.0f} ft"
        )
        yield _said("note", "assumption", message)
    if season.weather is None and season.rule == "weather":
        message = "flight_dates is weather, and no daily weather is named, so the calendar dates the flights"
        yield _said("warning", "weather-thin", message, "name files of a station nearby under weather: in the site")
    if season.weather is not None and season.rule != "calendar":
        count = len(usable(season))
        least = FLIGHT["least_years" if season.rule != "weather" else "few_years"]
        few = "no year" if not count else "only 1 year" if count == 1 else f"only {count} years"
        message = (
            f"{few} of the weather record of {season.weather.station.name} can date a flight, fewer than the "
            f"{least:g} that it takes, so the calendar dates the flights"
        )
        hint = "to take them all the same write flight_dates: weather" if count else "add daily files of more years"
        yield _said("warning", "weather-thin", message, hint)


def _of_model(season: Season) -> Iterator[Diagnostic]:
    assert season.weather is not None
    count = len(usable(season))
    if count < FLIGHT["few_years"]:
        message = (
            f"the weather record of {season.weather.station.name} dates flights of {count} "
            f"{'year' if count == 1 else 'years'} only: it is thin, so the earliest of them is planned for"
        )
        yield _said("warning", "weather-thin", message, "add daily files of more years, or of a station with more")
    if season.longitude > FLIGHT["fitted_east_of"]:
        message = (
            "the flight model was fitted in Utah, Colorado and Alaska and tested in western Canada: how well it holds "
            "this far east nobody has published"
        )
        yield _said("note", "outside-range", message, "ask a local forester when the beetles fly")


def _of_record(season: Season) -> Iterator[Diagnostic]:
    weather = season.weather
    if weather is None:
        return
    name = weather.station.name
    yield from left_out(season)
    last = max(weather.days)
    lack = _lack_this_year(season, weather)
    if lack:
        message = f"this year's record of {name} moves no date, though it has begun: {lack}"
        yield _said("warning", "weather-thin", message, "fill in those days by another file of the station")
    if last > season.on:
        message = f"readings of {name} after {in_words(season.on)}, the day of the plan, are not used"
        yield _said("note", "assumption", message)
    elif (season.on - last).days > FLIGHT["stale_days"] and _in_season(season.on):
        message = f"the weather record of {name} ends on {in_words(last)}: this spring is not in it"
        yield _said("note", "weather-thin", message, "this year's file moves the dates of this year's flight")


def _lack_this_year(season: Season, weather: Weather) -> str | None:
    """Why this year's readings do not date this year's flight, where the years before do it in their place."""
    last = last_read(weather, season.on.year, season.on)
    begun = FLIGHT.day("spring", season.on.year) <= season.on < FLIGHT.day("summer_end", season.on.year)
    if last is None or not begun or not dated_by_weather(season):
        return None
    return not_continued(weather, season.on.year, last)


def _in_season(on: date) -> bool:
    return FLIGHT.day("spring", on.year) <= on <= FLIGHT.day("season_end", on.year)


def _said(severity: Severity, code: Code, message: str, hint: str | None = None) -> Diagnostic:
    return Diagnostic(severity, code, message, subject="site", hint=hint)
