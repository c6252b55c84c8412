"""Environment Canada's daily files, with or without byte order mark, degree signs and the preamble of older copies."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence

from barkwright.diagnostics import Diagnostic
from barkwright.season.weather import Station
from barkwright.season.weatherfiles.faults import Faults
from barkwright.season.weatherfiles.part import QUANTITIES, Draft, Form, Part, Tallies, drafts, part_of, refused
from barkwright.season.weatherfiles.table import Table, cells
from barkwright.season.weatherfiles.values import Column, coordinate

KIND = "Environment Canada daily file"
STATED = "the file states its own units: weather_units is not used"
PREFIXES = {
    "tmax_c": "max temp (",
    "tmin_c": "min temp (",
    "precip_mm": "total precip (",
    "snow_cm": "total snow (",
    "gust_kmh": "spd of max gust (",
}
UNITS = {"tmax_c": "c", "tmin_c": "c", "precip_mm": "mm", "snow_cm": "cm", "gust_kmh": "km/h"}
# Meanings of the flags: the legend of the files, from memory.
FLAGS = {
    "E": "estimated",
    "^": "based on incomplete data",
    "\N{DAGGER}": "checked only in a first pass",
    "T": "a trace, taken as 0",
}
UNSURE = {"C": "of uncertain amount", "L": "that may or may not have fallen", "A": "summed over several days",
          "F": "summed over several days and estimated", "N": "missing", "Y": "missing"}  # fmt: skip
GUST = QUANTITIES.index("gust_kmh")
UNWRITTEN = -8888.0
SILENT = "no gust and no flag, taken as 0: gusts are written from 31 km/h up"


def is_canada(names: Sequence[str]) -> bool:
    """Is this the header of a daily file? `names` are in lower case."""
    return "date/time" in names and all(
        any(name.startswith(PREFIXES[q]) for name in names) for q in ("tmax_c", "tmin_c")
    )


def read_canada(table: Table, names: Sequence[str], units: str | None) -> Part:
    """The file's days. Missing stays missing; estimated readings are kept and counted; a trace is 0."""
    faults, tally = Faults(table.file), Tallies()
    columns = tuple(
        _column(table, names, quantity, start) for quantity, start in PREFIXES.items() if _at(names, start) >= 0
    )
    odd = next((one for one in columns if not one.name.lower().rstrip(" )").endswith(UNITS[one.quantity])), None)
    if odd:
        message = f"the column {odd.name} is in another unit than these files have"
        return refused(table, KIND, "weather-units", message, "download the file again, and leave its header as it is")
    about = _preamble(table)
    place = {
        key: names.index(key) for key in ("climate id", "station name", "latitude (y)", "longitude (x)") if key in names
    }
    seen: dict[tuple[str, ...], Station] = {}

    def station(row: Sequence[str]) -> Station:
        key = tuple(row[index] for index in place.values())
        if key not in seen:
            written = about | {name: row[index] for name, index in place.items()}
            name = written.get("station name", "").strip()
            seen[key] = Station(
                written.get("climate id", written.get("climate identifier", "")).strip() or name,
                name,
                coordinate(written.get("latitude (y)", written.get("latitude", ""))),
                coordinate(written.get("longitude (x)", written.get("longitude", ""))),
                coordinate(written.get("elevation", "")),
            )
        return seen[key]

    form = Form(KIND, names.index("date/time"), columns, station, _look)
    found = drafts(table, form, faults, tally)
    _silent_gusts(found, tally)
    part = part_of(table, form, faults, tally, found, {})
    if units:
        part.notes.append(Diagnostic("note", "weather-units", STATED, table.place()))
    return part


def _at(names: Sequence[str], start: str) -> int:
    return next((index for index, name in enumerate(names) if name.startswith(start)), -1)


def _column(table: Table, names: Sequence[str], quantity: str, start: str) -> Column:
    index = _at(names, start)
    flag = f"{start.removesuffix(' (')} flag"
    blank = f"{UNWRITTEN:g}" if quantity == "gust_kmh" else ""
    return Column(quantity, index, table.header[index], names.index(flag) if flag in names else None, blank)


def _look(column: Column, raw: str, flag: str, tally: Counter[str]) -> str:
    flag = flag.strip()
    if raw[:1] == "<" and column.quantity == "gust_kmh" and raw[1:].strip().isdigit():
        tally["gust below the reporting limit, taken as 0"] += 1
        return "0"
    if flag == "M":
        return ""
    what = column.name.partition(" (")[0]
    if flag in UNSURE:
        if column.quantity in ("precip_mm", "snow_cm") and flag in "CLAF":
            tally[f"{what} {UNSURE[flag]} (flag {flag}), taken as missing"] += 1
            return ""
        return raw
    if flag == "T" and column.quantity in ("precip_mm", "snow_cm"):
        tally[f"{what} {FLAGS['T']} (flag T)"] += 1
        return raw if raw.strip() else "0"
    if flag and raw.strip():
        tally[f"{what} {FLAGS.get(flag, 'of a kind not known here')} (flag {flag}), kept"] += 1
    return raw


def _silent_gusts(found: Sequence[Draft], tallies: Tallies) -> None:
    """Gusts are only written from 31 km/h up: a blank without a flag is a day below, where the year has any gust.

    So the glossary of the files, from memory; at Banff CS the blanks take over from "<31" on one day of July 2018.
    """
    years = {(draft.station.id, _year(draft)) for draft in found if (draft.numbers[GUST] or 0.0) > 0}
    for draft in found:
        if draft.numbers[GUST] == UNWRITTEN:
            read = draft.numbers[0] is not None or draft.numbers[1] is not None
            draft.numbers[GUST] = 0.0 if read and (draft.station.id, _year(draft)) in years else None
            tallies[draft.station.id][SILENT] += draft.numbers[GUST] is not None


def _year(draft: Draft) -> str:
    found = re.search(r"[0-9]{4}", draft.day)
    return found[0] if found else ""


def _preamble(table: Table) -> dict[str, str]:
    """What older copies say of the station above the header, by name in lower case."""
    pairs = (cells(line, table.delimiter) for line in table.lines[: table.header_at])
    return {pair[0].strip().casefold(): pair[1] for pair in pairs if pair and len(pair) >= 2}
