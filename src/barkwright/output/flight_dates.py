"""When beetles fly here: by which rule and why, what each caution costs in days, and what the other rule says."""

from __future__ import annotations

from collections.abc import Container, Iterator, Sequence
from datetime import timedelta
from typing import TYPE_CHECKING

from barkwright.output.blocks import Card, Para, Table
from barkwright.output.measures import Units
from barkwright.output.words import amount, day
from barkwright.season.flight import beside, finish_by
from barkwright.season.numbers import FLIGHT
from barkwright.season.weatherflight import usable, weather_dates

if TYPE_CHECKING:
    from barkwright.season.site import Season
    from barkwright.season.year import FlightYear

BY = {"weather": "daily weather", "calendar": "the regional calendar"}


def flight_blocks(
    season: Season, flights: Sequence[FlightYear], to_beat: Container[int], units: Units
) -> Iterator[Para | Table | Card]:
    """The dates of the flights and where they come from; only a flight to beat has a day to be done by."""
    rows = tuple(
        (
            str(one.year),
            day(finish_by(one)) if one.year in to_beat else "nothing due",
            *(day(when) for when in (one.onset, one.half, one.end)),
        )
        for one in flights
    )
    yield Table(("Flight", "Be done by", "First beetles", "Half are out", "Over"), rows, "lllll")
    yield Para(" ".join(dict.fromkeys(units.sentence(flight.basis) for flight in flights)))
    yield Para(rule_why(season, flights[0].rule))
    told: set[tuple[tuple[str, int], ...]] = set()
    for flight in flights:
        costs = tuple((caution.what, caution.days) for caution in flight.cautions)
        if costs not in told:
            told.add(costs)
            yield Card(f"How the day of {flight.year} is reckoned", (chain(season, flight, units),))
    other = [Para(text) for flight in flights if (text := other_rule(season, flight))]
    if other:
        yield Card("What the other rule says", tuple(other))


def chain(season: Season, flight: FlightYear, units: Units) -> Table:
    """How the day to be done by is reckoned: from where it starts, less what each caution takes, to where it ends."""
    at = finish_by(flight) + timedelta(days=sum(caution.days for caution in flight.cautions))
    rows = [(_start(season, flight), "", day(at))]
    for caution in flight.cautions:
        at -= timedelta(days=caution.days)
        what = units.sentence(caution.what)
        rows.append((what[0].upper() + what[1:], f"-{caution.days}" if caution.days else "0", day(at)))
    rows.append(("So be done by", "", day(at)))
    return Table(("", "Days", "Gives"), tuple(rows), "lrl", wrap=0)


def other_rule(season: Season, flight: FlightYear) -> str | None:
    """What the other rule says of the same flight, and how far apart the two are."""
    other = beside(season, flight.year)
    if other is None:
        return None
    return (
        f"{BY[other.rule].capitalize()} has the first beetles of {flight.year} on {day(other.onset)}: be done by "
        f"{day(finish_by(other))}, {_apart(flight, other)}."
    )


def other_in_short(season: Season, flight: FlightYear) -> str | None:
    """The same as a clause: the regional calendar says Tue 18 May 2027, 27 days later."""
    other = beside(season, flight.year)
    if other is None:
        return None
    return f"{BY[other.rule]} says {day(finish_by(other))}, {_apart(flight, other)}"


def _apart(flight: FlightYear, other: FlightYear) -> str:
    apart = (finish_by(other) - finish_by(flight)).days
    return f"{amount(abs(apart), 'day')} {'later' if apart > 0 else 'earlier'}" if apart else "the same day"


def rule_why(season: Season, rule: str) -> str:
    """Why this rule dates the flights."""
    count, least = len(usable(season)), FLIGHT["least_years"]
    if rule == season.rule:
        return f"Dated by {BY[rule]}, because the site says flight_dates: {rule}."
    if rule == "weather":
        return (
            f"Dated by daily weather, because {amount(count, 'year')} on record can date a flight and {least:g} are "
            "enough; flight_dates: calendar in the site takes the calendar instead."
        )
    if season.weather is None:
        return "Dated by the regional calendar, because the site names no daily weather."
    few = f"only {amount(count, 'year')}" if count else "no year"
    return f"Dated by the regional calendar, because {few} on record can date a flight."


def _start(season: Season, flight: FlightYear) -> str:
    if flight.rule == "calendar":
        return "The first day of the calendar"
    dates = weather_dates(season, flight.year)
    if dates is None or dates.kind == "own":
        return "Half of the beetles are out, by that year's own weather"
    count = len(dates.springs)
    if dates.kind == "so far":
        return f"Half of the beetles are out, if this year goes on as the middle one of {amount(count, 'year')} did"
    which = "in the only year" if count == 1 else f"in the middle one of {count} years"
    return f"Half of the beetles are out, {which}"
