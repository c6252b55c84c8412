"""What the daily tables of the US national archive share: the station's columns, the attributes, the wind columns."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence

from barkwright.diagnostics import Diagnostic
from barkwright.season.weather import Station
from barkwright.season.weatherfiles.part import FALLEN, Form
from barkwright.season.weatherfiles.table import Table
from barkwright.season.weatherfiles.values import Column, coordinate

ELEMENTS = {
    "TMAX": "tmax_c",
    "TMIN": "tmin_c",
    "PRCP": "precip_mm",
    "SNOW": "snow_cm",
    "AWND": "wind_kmh",
    "RHAV": "rh_pct",
    "WT03": "thunder",
}
GUSTS = ("WSF5", "WSFG", "WSFI")  # fastest 5 seconds, peak gust, instantaneous
SLOW_GUST = "WSF2"  # fastest 2 minutes
SAID = {"P": "missing and presumed to be 0", "L": "that may belong to the day before"}  # from memory


def form_of(table: Table, names: Sequence[str], kind: str) -> Form:
    """Where the elements stand in a table. `names` are in upper case."""
    wanted = dict(ELEMENTS)
    gust = next((name for name in (*GUSTS, SLOW_GUST) if name in names), None)
    if gust:
        wanted[gust] = "gust_kmh"
    columns = tuple(
        Column(quantity, names.index(name), name, _flag(names, name), "0" if name == "WT03" else "")
        for name, quantity in wanted.items()
        if name in names
    )
    return Form(kind, names.index("DATE"), columns, _stations(names), look)


def look(column: Column, raw: str, flag: str, tally: Counter[str]) -> str:
    """Attributes are measurement, quality and source flag: a reading with a quality flag failed the archive's check."""
    if not raw.strip():
        return ""
    measured, _, rest = flag.partition(",")
    failed = rest.partition(",")[0].strip()
    if failed:
        tally[f"{column.name} that failed the archive's own check (flag {failed}), left out"] += 1
        return ""
    measured = measured.strip()
    if measured == "T" and column.quantity in FALLEN:
        tally[f"a trace of {column.name} (flag T), taken as 0"] += 1
        return "0"
    if measured in SAID:
        tally[f"{column.name} {SAID[measured]} (flag {measured}), kept"] += 1
    return raw


def said(table: Table, names: Sequence[str]) -> list[Diagnostic]:
    """Notes on what the columns mean for the days."""
    notes = []
    if SLOW_GUST in names and not any(name in names for name in GUSTS):
        notes.append("gusts are the fastest 2 minutes (WSF2), for want of gusts: true gusts are stronger")
    if "TOBS" in names:
        notes.append("readings may be taken in the morning (TOBS): then the Tmax of a day may be of the day before")
    return [Diagnostic("note", "weather-read", one, table.place()) for one in notes]


def _flag(names: Sequence[str], name: str) -> int | None:
    return names.index(f"{name}_ATTRIBUTES") if f"{name}_ATTRIBUTES" in names else None


def _stations(names: Sequence[str]) -> Callable[[Sequence[str]], Station]:
    keys = [name for name in ("STATION", "NAME", "LATITUDE", "LONGITUDE", "ELEVATION") if name in names]
    at = [names.index(name) for name in keys]
    seen: dict[tuple[str, ...], Station] = {}

    def station(row: Sequence[str]) -> Station:
        key = tuple(row[index] for index in at)
        if key not in seen:
            written = dict(zip(keys, key, strict=True))
            seen[key] = Station(
                written.get("STATION", "").strip(),
                written.get("NAME", "").strip(),
                *(coordinate(written.get(name, "")) for name in ("LATITUDE", "LONGITUDE", "ELEVATION")),
            )
        return seen[key]

    return station
