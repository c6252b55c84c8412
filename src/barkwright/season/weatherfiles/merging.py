"""From the parts of several files to the rows of one station, day by day."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from datetime import date

from barkwright.diagnostics import Diagnostic, Place
from barkwright.record import dataclass
from barkwright.season.weather import Day, Station
from barkwright.season.weatherfiles.limits import limits
from barkwright.season.weatherfiles.part import Part, Row

SHOWN_STATIONS = 12
FIELDS = ("tmax_c", "tmin_c", "precip_mm", "snow_cm", "gust_kmh", "wind_kmh", "rh_pct", "thunder")


@dataclass(slots=True)
class Merged:
    """The days of one station out of all files, in order, and what was said on the way."""

    station: Station
    days: dict[date, Day]
    places: dict[date, Place]
    first: date  # of the files' rows, whether they hold a reading or not
    last: date
    notes: list[Diagnostic]


def chosen(parts: Sequence[Part], asked: str | None) -> tuple[str | None, Diagnostic | None]:
    """The id of the station to read: the only one, or the one asked for by id or name; else an error that lists all."""
    stations = {id_: station for part in parts for id_, station in part.stations.items()}
    if asked is not None:
        key = asked.strip().casefold()
        found = [one.id for one in stations.values() if key in (one.id.casefold(), one.name.casefold())]
        if len(found) == 1:
            return found[0], None
        problem = f"{len(found)} stations are named" if found else "no station in the weather files is"
        hint = f"weather_station is one of: {_listed(stations.values())}"
        return None, Diagnostic("error", "weather-which", f"{problem} '{asked}'", value=asked, hint=hint)
    if len(stations) == 1:
        return next(iter(stations)), None
    message = f"the weather files hold {len(stations)} stations: {_listed(stations.values())}"
    hint = "name one with weather_station, by its id or name"
    return None, Diagnostic("error", "weather-which", message, hint=hint)


def merged(parts: Sequence[Part], id_: str) -> Merged:
    """All rows of one station. A day in several rows is kept where they agree, else left out and said."""
    station = _station([part.stations[id_] for part in parts if id_ in part.stations])
    rows: dict[date, list[tuple[Part, Row]]] = {}
    for part in parts:
        for row in part.rows.get(id_, ()):
            rows.setdefault(row.day, []).append((part, row))
    days: dict[date, Day] = {}
    same: list[date] = []
    different: list[date] = []
    for day in sorted(rows):
        held = rows[day]
        one = held[0][1].readings if len(held) == 1 else _joined([row.readings for _, row in held])
        if len(held) > 1:
            (same if one is not None else different).append(day)
        if one is not None:
            days[day] = one
    notes = []
    if same:
        notes.append(_twice("note", f"{dates(same)}: in several rows that agree, taken once", rows[same[0]]))
    if different:
        notes.append(_twice("warning", f"{dates(different)}: in rows that differ, left out", rows[different[0]]))
    places = {day: Place(held[0][0].file, held[0][1].line, 1) for day, held in rows.items()}
    return Merged(station, days, places, min(rows), max(rows), notes)


def dates(days: Sequence[date]) -> str:
    """So many days, the first of them by date: "3 days (2021-05-01, 2021-05-02, 2021-05-09)"."""
    most = limits().shown_dates
    more = f" and {len(days) - most:,} more" if len(days) > most else ""
    return f"{len(days):,} {'day' if len(days) == 1 else 'days'} ({', '.join(map(str, days[:most]))}{more})"


def _joined(held: Sequence[Day]) -> Day | None:
    """One day of several rows: None where two of them have different numbers for the same thing."""
    joined = {}
    for name in FIELDS:
        values = {value for one in held if (value := getattr(one, name)) is not None}
        if len(values) > 1:
            return None
        joined[name] = next(iter(values), None)
    return Day(**joined)


def _twice(severity: str, message: str, held: Sequence[tuple[Part, Row]]) -> Diagnostic:
    part, row = held[1]
    where = Place(part.file, row.line, 1)
    if severity == "note":
        return Diagnostic("note", "weather-duplicate", message, where)
    return Diagnostic("warning", "weather-duplicate", message, where, hint="keep the row that is right")


def _station(held: Sequence[Station]) -> Station:
    """One station of what several files say: the first that says something."""
    first = held[0]
    for name in ("name", "latitude", "longitude", "elevation_m"):
        value = next((said for one in held if (said := getattr(one, name)) not in (None, "")), getattr(first, name))
        first = dataclasses.replace(first, **{name: value})
    return first


def _listed(stations: object) -> str:
    every = sorted({(one.id, one.name) for one in stations})  # type: ignore[attr-defined]
    shown = "; ".join(id_ if name in ("", id_) else f"{id_} ({name})" for id_, name in every[:SHOWN_STATIONS])
    return shown + (f" and {len(every) - SHOWN_STATIONS} more" if len(every) > SHOWN_STATIONS else "")
