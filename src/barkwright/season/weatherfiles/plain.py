"""A plain table of our own: one row a day, the unit in the name of each column, the station in comment lines.

# station: Heron Lake
# latitude: 53.98
# longitude: -123.02
# elevation_ft: 2350
date,tmax_c,tmin_c,precip_mm,snow_cm,gust_kmh,wind_kmh,rh_pct
2025-04-01,6.5,-3.0,0,0,35,12,55
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from barkwright.diagnostics import Diagnostic
from barkwright.season.weather import Station
from barkwright.season.weatherfiles.faults import Faults
from barkwright.season.weatherfiles.part import Form, Part, Tallies, drafts, part_of, refused
from barkwright.season.weatherfiles.scale import against_stated, readings
from barkwright.season.weatherfiles.table import Table
from barkwright.season.weatherfiles.values import Column, Convert, coordinate, from_fahrenheit, same, times
from barkwright.units import CM_PER_IN, FT_PER_M, KM_PER_MILE

KIND = "plain daily table"
UNNAMED = "unnamed"
KMH_PER_KNOT = 1.852  # exact
SPEEDS: dict[str, Convert] = {
    "kmh": same, "mph": times(KM_PER_MILE), "ms": times(3.6), "kn": times(KMH_PER_KNOT),
}  # fmt: skip
TEMPERATURES: dict[str, Convert] = {"c": same, "f": from_fahrenheit}
COLUMNS: dict[str, tuple[str, dict[str, Convert]]] = {  # name without its unit -> quantity, unit -> conversion
    "tmax": ("tmax_c", TEMPERATURES),
    "tmin": ("tmin_c", TEMPERATURES),
    "precip": ("precip_mm", {"mm": same, "in": times(10 * CM_PER_IN)}),
    "snow": ("snow_cm", {"cm": same, "mm": times(0.1), "in": times(CM_PER_IN)}),
    "gust": ("gust_kmh", SPEEDS),
    "wind": ("wind_kmh", SPEEDS),
    "rh": ("rh_pct", {"pct": same}),
}
UNITS = {
    "imperial": {"tmax": "f", "tmin": "f", "precip": "in", "snow": "in", "gust": "mph", "wind": "mph", "rh": "pct"},
    "metric": {"tmax": "c", "tmin": "c", "precip": "mm", "snow": "cm", "gust": "kmh", "wind": "kmh", "rh": "pct"},
}


def is_plain(names: Sequence[str]) -> bool:
    """Is this the header of a plain table? `names` are in lower case."""
    return "date" in names and any(re.match(r"tm(ax|in)([ _]|$)", name) for name in names)


def read_plain(table: Table, names: Sequence[str], units: str | None) -> Part:
    """The table's days. `units` stand in for units that the names of its columns leave out."""
    faults, tally = Faults(table.file), Tallies()
    columns, scale, unread = [], {}, []
    names = tuple(name.replace(" ", "_").replace("/", "") for name in names)
    for index, name in enumerate(names):
        what, _, unit = name.partition("_")
        if what == "thunder" and not unit:
            columns.append(Column("thunder", index, name))
        elif what in COLUMNS:
            quantity, known = COLUMNS[what]
            unit = unit or (UNITS[units][what] if units else "")
            if unit not in known or quantity in scale:
                twice = quantity in scale
                message = f"{what} stands in two columns" if twice else f"the column {name} does not say its unit"
                return refused(table, KIND, "weather-units", message, f"name it {_names(what)}")
            scale[quantity] = known[unit]
            columns.append(Column(quantity, index, name))
        elif name and name != "date":
            unread.append(name)
    station = _station(table)
    form = Form(KIND, names.index("date"), tuple(columns), lambda _: station)
    found = drafts(table, form, faults, tally)
    turns = {scale[name] for name in ("tmax_c", "tmin_c") if name in scale}
    against = against_stated(readings(found), *turns) if len(turns) == 1 else None
    if against:
        stated, other = ("F", "tmax_c and tmin_c") if turns == {from_fahrenheit} else ("C", "tmax_f and tmin_f")
        message = f"the temperatures are said to be in {stated}, but read so, {against}"
        return refused(table, KIND, "weather-units", message, f"name the columns {other} if they are")
    part = part_of(table, form, faults, tally, found, scale)
    if unread:
        message = f"columns not read: {', '.join(name[:40] for name in unread[:8])}"
        part.notes.append(Diagnostic("note", "weather-read", message, table.place()))
    return part


def _names(what: str) -> str:
    return " or ".join(f"{what}_{unit}" for unit in COLUMNS[what][1])


def _station(table: Table) -> Station:
    about = {}
    for line in table.lines[: table.header_at]:
        key, _, value = line.lstrip("# \t").partition(":")
        about[key.strip().casefold()] = value.strip().rstrip(",;\t")
    feet = coordinate(about.get("elevation_ft", ""))
    name = about.get("station", "") or UNNAMED
    return Station(
        name,
        name,
        coordinate(about.get("latitude", "")),
        coordinate(about.get("longitude", "")),
        coordinate(about.get("elevation_m", "")) if feet is None else feet / FT_PER_M,
    )
