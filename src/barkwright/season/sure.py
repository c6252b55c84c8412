"""How sure the dates of this place's flights are, and why: our own judgement, from what they rest on."""

from __future__ import annotations

from typing import Literal

from barkwright.record import dataclass
from barkwright.season.doubts import doubts_of
from barkwright.season.flight import calendar_flight, coming_flight, finish_by, flight_year
from barkwright.season.numbers import FLIGHT
from barkwright.season.site import Season
from barkwright.season.weatherflight import dated_by_weather, usable, weather_dates

Level = Literal["not sure", "fairly sure", "well founded"]
LEVELS: tuple[Level, ...] = ("not sure", "fairly sure", "well founded")


@dataclass(frozen=True, slots=True)
class Sure:
    """How sure something is, and why, as a clause for the client."""

    level: Level
    why: str


def sure_of_dates(season: Season) -> Sure:
    """How sure the dates of the flights here are."""
    return _of_weather(season) if dated_by_weather(season) else _of_calendar(season)


def weakest(*levels: Level) -> Level:
    """A chain is as sure as its weakest part."""
    return min(levels, key=LEVELS.index)


def _of_weather(season: Season) -> Sure:
    assert season.weather is not None
    count = len(usable(season))
    years = f"{count} {'year' if count == 1 else 'years'}"
    rests = f"they rest on {years} of daily weather of {season.weather.station.name}"
    codes = {note.code for note in doubts_of(season)}
    if count < FLIGHT["few_years"]:
        return Sure("not sure", f"{rests}, fewer than {FLIGHT['few_years']:g}")
    if "outside-range" in codes:
        return Sure("not sure", f"{rests}, by a model that nobody has tested this far east")
    beside = [note.message for note in season.notes if note.code == "weather-station" and note.severity == "warning"]
    if beside:
        named = f"the weather station {season.weather.station.name}"
        return Sure("fairly sure", f"{rests}, but {' and '.join(beside).replace(named, 'that station')}")
    if season.weather.station.latitude is None or season.rise_m is None:
        return Sure("fairly sure", f"{rests}, a station whose place or height beside the site is not known")
    flight = flight_year(season, coming_flight(season, season.on))
    earlier = (finish_by(flight) - finish_by(calendar_flight(season, flight.year))).days
    dates = weather_dates(season, flight.year)
    if dates is not None and dates.kind == "years" and earlier > FLIGHT["apart_days"]:
        return Sure("fairly sure", f"{rests}, but the regional calendar is much earlier")
    return Sure("well founded", f"{rests}, and every caution is counted in")


def _of_calendar(season: Season) -> Sure:
    region = season.region
    if region.known in ("read", "secondary"):
        return Sure("fairly sure", f"they are those of a published calendar for the whole of {region.name}")
    how = "from memory" if region.known == "from memory" else "common practice without a source"
    return Sure("not sure", f"they are those of a calendar that is {how} ({region.name})")
