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
from barkwright.season.weatherfiles.limits import limits
from barkwright.season.weatherfiles.merging import chosen, merged
from barkwright.season.weatherfiles.opening import Source, content_of, sources_of
from barkwright.season.weatherfiles.part import Part
from barkwright.season.weatherfiles.recognise import read_part


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
    parts, notes, errors = _parts(sources, units)
    if errors or not parts:
        return Reading(None, tuple(errors))
    id_, error = chosen(parts, station)
    if id_ is None:
        return Reading(None, (error,) if error else ())
    return _record([part for part in parts if id_ in part.stations], id_, notes)


def _parts(sources: Sequence[Source], units: str | None) -> tuple[list[Part], list[Diagnostic], list[Diagnostic]]:
    """What each file holds; notes on files left out; errors."""
    parts, notes, errors = [], [], []
    left = limits().most_bytes_in_all
    for source in sources:
        content, fault = content_of(source, left)
        if content is None:
            errors.append(fault)
            continue
        left -= len(content)
        part = read_part(content, source.path, units)
        if not part.errors:
            parts.append(part)
        elif source.in_folder and (part.kind == "" or part.errors[0].code == "empty"):
            notes.append(_left_out(part))
        else:
            errors += part.errors
    if not parts and not errors:
        errors = [_nothing(notes)]
    return parts, notes, [error for error in errors if error]


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
        return Reading(
            None, (Diagnostic("error", "empty", message, whole, hint="look at the readings, or leave them out"),)
        )
    said = [note for part in parts for note in part.notes]
    doubts += gap_notes(days, one.first, one.last)
    found = [*notes, *said, *_flags(parts), *one.notes, *(_placed(note, whole) for note in doubts)]
    kind = " and ".join(dict.fromkeys(part.kind for part in parts))
    return Reading(Weather(one.station, kind, files, days, tuple(found)), ())


def _flags(parts: Sequence[Part]) -> list[Diagnostic]:
    """What flags said of readings, counted over all files."""
    total: Counter[str] = Counter()
    for part in parts:
        total.update(part.tally)
    where = Place(parts[0].file, 1, 1)
    return [
        Diagnostic("note", "weather-read", f"{count:,} {'day' if count == 1 else 'days'} with {what}", where)
        for what, count in sorted(total.items())
        if count
    ]


def _placed(note: Diagnostic, where: Place) -> Diagnostic:
    return note if note.where else replace(note, where=where)


def _left_out(part: Part) -> Diagnostic:
    error = part.errors[0]
    return replace(error, severity="warning", message=f"{error.message}; the file is left out")


def _nothing(notes: Sequence[Diagnostic]) -> Diagnostic:
    return replace(notes[0], severity="error")
