"""GHCN-Daily files of one station: tenths of degrees, millimetres and metres a second, each with its attributes."""

from __future__ import annotations

from collections.abc import Sequence

from barkwright.diagnostics import Diagnostic
from barkwright.season.weatherfiles.faults import Faults
from barkwright.season.weatherfiles.ncei import form_of, said
from barkwright.season.weatherfiles.part import Part, Tallies, drafts, part_of, refused
from barkwright.season.weatherfiles.scale import against_tenths, readings
from barkwright.season.weatherfiles.table import Table
from barkwright.season.weatherfiles.values import Convert, times

KIND = "GHCN-Daily station file"
TENTHS: dict[str, Convert] = {
    "tmax_c": times(0.1),
    "tmin_c": times(0.1),
    "precip_mm": times(0.1),
    "snow_cm": times(0.1),  # mm, not tenths
    "gust_kmh": times(0.36),
    "wind_kmh": times(0.36),
}


def is_ghcn(names: Sequence[str]) -> bool:
    """Is this the header of a station file? They have attributes, and the date before the name."""
    attributes = any(f"{name}_ATTRIBUTES" in names for name in ("TMAX", "TMIN"))
    order = list(names)
    return attributes and order[:2] == ["STATION", "DATE"]


def read_ghcn(table: Table, names: Sequence[str], units: str | None) -> Part:
    """The file's days. Readings that failed the archive's quality check are left out and counted."""
    faults, tally = Faults(table.file), Tallies()
    form = form_of(table, names, KIND)
    found = drafts(table, form, faults, tally)
    against = None if units == "metric" else against_tenths(readings(found))
    if against:
        message = f"a GHCN-Daily station file holds tenths of a degree C, and read so, {against}"
        hint = "download the file again; or, if they are tenths of a degree, say weather_units: metric"
        return refused(table, KIND, "weather-units", message, hint)
    part = part_of(table, form, faults, tally, found, TENTHS)
    part.notes += said(table, names)
    part.notes.append(Diagnostic("note", "weather-units", "temperatures are in tenths of a degree C", table.place()))
    return part
