"""What the flight dates rest on, and what would make them surer."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from barkwright.output.measures import Units
from barkwright.output.order_basis import note_lines
from barkwright.output.words import amount, day, listing
from barkwright.record import dataclass
from barkwright.season.distance import miles_apart
from barkwright.season.doubts import doubts_of, left_out
from barkwright.units import FT_PER_M

if TYPE_CHECKING:
    from datetime import date

    from barkwright.output.asking import Asked
    from barkwright.plan import FlightPlan
    from barkwright.season.site import Season

CLOSE = 1.0  # nearer than this no distance is given [mi]


@dataclass(frozen=True, slots=True)
class StationBeside:
    """The weather station as the site sees it; None where the files or the site do not say."""

    name: str
    id: str
    kind: str
    first: date
    last: date
    miles: float | None
    above_ft: float | None  # the site above the station; negative below it


def station_beside(season: Season) -> StationBeside | None:
    """The station whose record is used, how far off it is and how much higher or lower the site lies."""
    weather = season.weather
    if weather is None or not weather.days:
        return None
    station = weather.station
    above = None if season.rise_m is None else season.rise_m * FT_PER_M
    days = [one for one in weather.days if one <= season.on] or list(weather.days)
    return StationBeside(
        station.name, station.id, weather.kind, min(days), max(days), miles_apart(season, station), above
    )


def rests_lines(plan: FlightPlan, units: Units) -> list[str]:
    """The station, and every doubt of the dates and of the brood, each once."""
    season = plan.season
    station = station_beside(season)
    skipped = left_out(season)
    said = [note for note in (*season.notes, *doubts_of(season)) if note not in skipped]
    notes = [replace(note, subject=None) for note in said]
    notes += [note for brood in plan.broods for note in brood.notes]
    lines = [*([_station(station, units)] if station else []), *note_lines(notes)]
    ours = "Ours: the margin before the first beetles, the fifth warm day, the early year, and how sure each thing is."
    if plan.flights[0].rule == "calendar":
        ours = "Ours: the margin before the first day of the calendar, the day half way, and how sure each thing is."
    return [units.sentence(line) for line in dict.fromkeys((*lines, ours))]


def better_lines(plan: FlightPlan, asked: Sequence[Asked], units: Units) -> list[str]:
    """What to look at to know better, the nearest first."""
    return [units.sentence(line) for line in dict.fromkeys(_better(plan, asked))]


def _better(plan: FlightPlan, asked: Sequence[Asked]) -> Iterator[str]:
    season = plan.season
    if asked:
        numbers = listing([str(one.number) for one in asked])
        yield f"Under the bark: question{'s' if len(asked) > 1 else ''} {numbers} above."
    if season.weather is None and season.rule != "calendar":
        yield (
            "At the weather of a station nearby: with its daily files under weather: in the site the flight is dated "
            "for this place and not for its region."
        )
    for note in (*season.notes, *doubts_of(season)):
        if note.hint:
            yield f"{note.hint[0].upper()}{note.hint[1:].rstrip('.')}."


def _station(station: StationBeside, units: Units) -> str:
    where = []
    if station.miles is not None:
        near = station.miles < CLOSE
        where.append("close to the site" if near else f"{amount(station.miles, 'mile')} from the site")
    if station.above_ft is not None:
        way = "below" if station.above_ft > 0 else "above"
        where.append(f"{units.feet(abs(station.above_ft))} {way} {'it' if where else 'the site'}")
    place = f", {listing(where)}" if where else ", whose place is not known"
    return f"Weather: {station.name}{place}; {station.kind}, used from {day(station.first)} to {day(station.last)}."
