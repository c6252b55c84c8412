"""Daily summaries as ordered from the US national archive: the units were chosen with the order and are not stated."""

from __future__ import annotations

from collections.abc import Sequence

from barkwright.diagnostics import Diagnostic
from barkwright.season.weatherfiles.faults import Faults
from barkwright.season.weatherfiles.ncei import form_of, said
from barkwright.season.weatherfiles.part import Part, Tallies, drafts, part_of, refused
from barkwright.season.weatherfiles.scale import Reading, believable, readings, told
from barkwright.season.weatherfiles.table import Table
from barkwright.season.weatherfiles.values import Convert, from_fahrenheit, same, times
from barkwright.units import CM_PER_IN, KM_PER_MILE

KIND = "NCEI daily summaries"
SCALES: dict[str, dict[str, Convert]] = {
    "imperial": {
        "tmax_c": from_fahrenheit,
        "tmin_c": from_fahrenheit,
        "precip_mm": times(10 * CM_PER_IN),
        "snow_cm": times(CM_PER_IN),
        "gust_kmh": times(KM_PER_MILE),
        "wind_kmh": times(KM_PER_MILE),
    },
    "metric": {
        "tmax_c": same,
        "tmin_c": same,
        "precip_mm": same,
        "snow_cm": times(0.1),  # in mm
        "gust_kmh": times(3.6),
        "wind_kmh": times(3.6),
    },
}
UNITS_IN_WORDS = {"imperial": "F, inches and miles an hour", "metric": "C, millimetres and metres a second"}
SAY = "say which with weather_units: imperial (F, in, mph) or metric (C, mm, m/s), as chosen when the file was ordered"


def is_summaries(names: Sequence[str]) -> bool:
    """Is this the header of daily summaries? `names` are in upper case."""
    return "STATION" in names and "DATE" in names and ("TMAX" in names or "TMIN" in names)


def read_summaries(table: Table, names: Sequence[str], units: str | None) -> Part:
    """The file's days, in units that the user stated or that alone can be; refused where they cannot be told."""
    faults, tally = Faults(table.file), Tallies()
    form = form_of(table, names, KIND)
    found = drafts(table, form, faults, tally)
    held = readings(found)
    if units:
        against = believable(held, SCALES[units]["tmax_c"])
        if against:
            message = f"weather_units says {units}, but read so, {against}"
            return refused(table, KIND, "weather-units", message, "leave weather_units out, or look at the file")
        note = f"units are not stated in the file; as you said, they are {UNITS_IN_WORDS[units]}"
    else:
        units, why = told(held)
        if units is None and held:
            return refused(
                table, KIND, "weather-units", f"the units are not stated and cannot be told: {why}", _say(held)
            )
        note = f"units are not stated in the file; taken to be {UNITS_IN_WORDS[units or 'metric']}: {why}"
    part = part_of(table, form, faults, tally, found, SCALES[units or "metric"])
    part.notes.append(Diagnostic("note", "weather-units", note, table.place()))
    part.notes += said(table, names)
    return part


def _say(held: Sequence[Reading]) -> str:
    """The hint, and for whole numbers in the hundreds what they probably are."""
    values = [value for one in held for value in (one.tmax, one.tmin) if value is not None]
    if values and max(values) > 140 and all(value == int(value) for value in values):
        return "these look like tenths of a degree: download them again with units=metric"
    return SAY
