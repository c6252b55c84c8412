"""From downloaded weather files to the daily record of one station, or to everything that is wrong with them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from functools import cache

from barkwright.diagnostics import Diagnostic, Place
from barkwright.record import dataclass
from barkwright.season.weather import Weather
from barkwright.season.weatherfiles.doubts import cleared
from barkwright.season.weatherfiles.gaps import gap_notes
from barkwright.season.weatherfiles.merging import chosen, merged
from barkwright.season.weatherfiles.opening import sources_of
from barkwright.season.weatherfiles.part import Part
from barkwright.season.weatherfiles.parts import parts_of
from barkwright.season.weatherfiles.scale import climate_notes


@dataclass(frozen=True, slots=True)
class Reading:
    """The record, or None where there is none to be had; and what is wrong or worth knowing."""

    weather: Weather | None
    diagnostics: tuple[Diagnostic, ...]


@cache
def read_weather(paths: tuple[str, ...], units: str | None = None, station: str | None = None) -> Reading:
    """The daily record in some files and folders (paths as they can be opened), read once.

    units : "imperial" or "metric", for a file that does not state its own
    station : id or name of the station to read, where the files hold several
    """
    sources, faults = sources_of(paths)
    if faults:
        return Reading(None, faults)
    parts, notes, errors = parts_of(sources, units)
    if errors or not parts:
        return Reading(None, tuple(errors))
    id_, error = chosen(parts, station)
    if id_ is None:
        return Reading(None, (error,) if error else ())
    return _record([part for part in parts if id_ in part.stations], id_, notes)


def _record(parts: Sequence[Part], id_: str, notes: list[Diagnostic]) -> Reading:
    one = merged(parts, id_)
    days, doubts = cleared(one.days, one.places)
    errors = tuple(doubt for doubt in doubts if doubt.severity == "error")
    files = tuple(part.file for part in parts)
    whole = Place(files[0], 1, 1)
    if errors:
        return Reading(None, tuple(_placed(error, whole) for error in errors))
    if not any(day.tmax_c is not None or day.tmin_c is not None for day in days.values()):
        message = "no temperature is left in the weather files"
        empty = Diagnostic("error", "empty", message, whole, hint="look at the readings, or leave them out")
        return Reading(None, (empty, *(_placed(doubt, whole) for doubt in doubts)))
    said = [note for part in parts for note in part.notes]
    doubts += [*climate_notes(days), *gap_notes(days, one.first, one.last)]
    found = [*notes, *said, *_flags(parts, id_), *one.notes, *(_placed(note, whole) for note in doubts)]
    kind = " and ".join(dict.fromkeys(part.kind for part in parts))
    return Reading(Weather(one.station, kind, files, days, tuple(found)), ())


def _flags(parts: Sequence[Part], id_: str) -> list[Diagnostic]:
    """What flags said of the readings of a station, counted over all files."""
    total: Counter[str] = Counter()
    for part in parts:
        total.update(part.tally.get(id_, {}))
    where = Place(parts[0].file, 1, 1)
    return [
        Diagnostic("note", "weather-read", f"{count:,} {'day' if count == 1 else 'days'} with {what}", where)
        for what, count in sorted(total.items())
        if count
    ]


def _placed(note: Diagnostic, where: Place) -> Diagnostic:
    return note if note.where else replace(note, where=where)
