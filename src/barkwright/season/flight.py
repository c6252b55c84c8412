"""When the beetles fly: onset, half and end of each year's flight, and the dates that follow from them."""

from __future__ import annotations

from datetime import date, timedelta
from functools import lru_cache

from barkwright.season.regions import Region
from barkwright.season.site import Season
from barkwright.season.weatherflight import dated_by_weather, weather_flight
from barkwright.season.year import Caution, FlightYear

_HOW_KNOWN = {
    "read": "",
    "secondary": " The source was seen only as others quote it.",
    "from memory": " These dates are from memory: ask your local forester.",
    "common practice, no source": " These dates are common practice without a source: ask your local forester.",
}


@lru_cache(maxsize=512)
def flight_year(season: Season, year: int) -> FlightYear:
    """The flight of one year at this place, by daily weather where that dates flights here, else by the calendar."""
    found = weather_flight(season, year) if dated_by_weather(season) else None
    return found or calendar_flight(season, year)


def beside(season: Season, year: int) -> FlightYear | None:
    """The same flight by the rule that was not taken; None where there is no other."""
    if flight_year(season, year).rule == "weather":
        return calendar_flight(season, year)
    return weather_flight(season, year)


def calendar_flight(season: Season, year: int) -> FlightYear:
    """The flight of one year by the regional calendar.

    It gives onset and end. Half is taken half way between them (ours): no calendar gives it.
    """
    region = season.region
    onset, end = day_of(region.onset, year), day_of(region.end, year)
    return FlightYear(
        year=year,
        onset=onset,
        half=onset + (end - onset) // 2,
        end=end,
        margin_days=season.margin_days,
        basis=_basis(region, season.given),
        citations=region.citations,
        cautions=(Caution("the margin before the first day of the calendar", season.margin_days),),
        local=region.local,
    )


def finish_by(flight: FlightYear) -> date:
    """The day by which work against this flight should be done: onset less the margin (ours)."""
    return flight.onset - timedelta(days=flight.margin_days)


def too_late(flight: FlightYear) -> date:
    """The day on which half have flown; until then work still stops the share that is not yet out."""
    return flight.half


def coming_flight(season: Season, on: date) -> int:
    """The year of the flight that is under way or comes next: this year's until it has ended, then the next."""
    return on.year if on <= flight_year(season, on.year).end else on.year + 1


def day_of(month_day: str, year: int) -> date:
    """The day written as month-day ("05-21") in a year. Raises ValueError for a day that the year does not have."""
    month, day = month_day.split("-")
    return date(year, int(month), int(day))


def _basis(region: Region, given: bool) -> str:
    near = "the nearest region that has one" if region.points else "because no nearer region has one"
    chosen = "the region you named" if given else near
    if region.local:
        return f"Local flight calendar of {region.name}, {chosen}: {region.words}. It rests on: {region.source}."
    return f"Flight calendar of {region.name}, {chosen}: {region.words}.{_HOW_KNOWN[region.known]}"
