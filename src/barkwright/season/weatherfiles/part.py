"""One file's readings: rows of numbers as written, then days in the units of the program."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import field, replace
from datetime import date

from barkwright.diagnostics import Code, Diagnostic
from barkwright.record import dataclass
from barkwright.season.weather import Day, Station
from barkwright.season.weatherfiles.dates import day_of, style_of
from barkwright.season.weatherfiles.faults import Faults
from barkwright.season.weatherfiles.table import Table, rows
from barkwright.season.weatherfiles.values import BadNumberError, Column, Convert, number

QUANTITIES = ("tmax_c", "tmin_c", "precip_mm", "snow_cm", "gust_kmh", "wind_kmh", "rh_pct", "thunder")
FALLEN = ("precip_mm", "snow_cm")  # T for a trace may stand in these

Tallies = dict[str, Counter[str]]  # days by what a flag said of a reading, by station id
Look = Callable[[Column, str, str, "Counter[str]"], str]


@dataclass(frozen=True, slots=True)
class Form:
    """Where everything stands in the table of one format."""

    kind: str  # in words
    date: int
    columns: tuple[Column, ...]
    station: Callable[[Sequence[str]], Station]  # the station of a row
    look: Look | None = None  # what a field counts as that has a flag, or begins with <


@dataclass(slots=True)
class Draft:
    """One row: numbers by quantity, in the units of the file."""

    line: int
    day: str
    station: Station
    numbers: list[float | None]


@dataclass(frozen=True, slots=True)
class Row:
    """One day of one station, and the line it stands in."""

    day: date
    line: int
    readings: Day


@dataclass(slots=True)
class Part:
    """What one file holds, by station id; or the errors because of which it holds nothing."""

    file: str
    kind: str
    stations: dict[str, Station] = field(default_factory=dict)
    rows: dict[str, list[Row]] = field(default_factory=dict)
    notes: list[Diagnostic] = field(default_factory=list)
    errors: list[Diagnostic] = field(default_factory=list)
    tally: Tallies = field(default_factory=dict)  # by station id


def drafts(table: Table, form: Form, faults: Faults, tallies: Tallies) -> list[Draft]:
    """Every sound row of the table as numbers. A field that is no number is a fault, and missing."""
    found = []
    for line, row in rows(table, faults):
        station = form.station(row)
        tally = tallies.setdefault(station.id, Counter())
        numbers: list[float | None] = [None] * len(QUANTITIES)
        for column in form.columns:
            raw = row[column.index]
            flag = "" if column.flag is None else row[column.flag]
            if form.look and (flag or raw[:1] == "<"):
                raw = form.look(column, raw, flag, tally)
            elif not raw and not flag:
                raw = column.blank
            if not raw:
                continue
            if column.quantity in FALLEN and raw.strip() in ("T", "t"):
                raw = "0"
                tally[f"a trace of {column.name}, taken as 0"] += 1
            try:
                numbers[QUANTITIES.index(column.quantity)] = number(raw)
            except BadNumberError:
                _bad_number(table, faults, line, column, raw)
        found.append(Draft(line, row[form.date].strip(), station, numbers))
    return found


def part_of(
    table: Table,
    form: Form,
    faults: Faults,
    tally: Tallies,
    found: Sequence[Draft],
    scale: Mapping[str, Convert],
) -> Part:
    """The rows with their dates read and their numbers in the program's units."""
    part = Part(table.file, form.kind, tally=tally)
    style = style_of(dict.fromkeys(draft.day for draft in found))
    if style.undecided or style.both:
        why = "some have the day first and some the month" if style.both else "day or month may come first"
        part.errors.append(_error(table, "weather-dates", f"the dates cannot be told: {why}", "write them 2021-01-31"))
        return part
    if style.note:
        part.notes.append(Diagnostic("note", "weather-dates", f"dates are read {style.note}", table.place()))
    convert = [scale.get(quantity) for quantity in QUANTITIES]
    for draft in found:
        day = day_of(draft.day, style)
        if day is None:
            message = f"{draft.day[:40]!r} is no date, so the row is left out"
            faults.add("a bad date", draft.line, table.column(draft.line, form.date), message, draft.day)
            continue
        numbers = [
            value if value is None or turn is None else turn(value)
            for value, turn in zip(draft.numbers, convert, strict=True)
        ]
        tmax, tmin, precip, snow, gust, wind, rh, thunder = numbers
        part.stations.setdefault(draft.station.id, draft.station)
        heard = None if thunder is None else thunder > 0
        row = Row(day, draft.line, Day(tmax, tmin, precip, snow, gust, wind, rh, heard))
        part.rows.setdefault(draft.station.id, []).append(row)
    _weighed(table, faults, part)
    return part


def refused(table: Table, kind: str, code: Code, message: str, hint: str) -> Part:
    """A part that holds nothing but the error."""
    return Part(table.file, kind, errors=[_error(table, code, message, hint)])


def _weighed(table: Table, faults: Faults, part: Part) -> None:
    part.notes += faults.diagnostics()
    if faults.mostly and faults.rows:
        message = f"{len(faults.lines):,} of {faults.rows:,} rows are at fault: this is no record of weather"
        part.errors.append(_error(table, "weather-file", message, "download the file again"))
        part.errors += [replace(fault, severity="error") for fault in faults.shown[:3]]
    elif not part.rows:
        part.errors.append(_error(table, "empty", "the file has a header and no whole row", "download it again"))


def _bad_number(table: Table, faults: Faults, line: int, column: Column, raw: str) -> None:
    hint = "write decimals with a point" if "," in raw else None
    message = f"{column.name} {raw.strip()[:40]!r} is no number, so this reading is missing"
    faults.add("a bad number", line, table.column(line, column.index), message, raw, hint)


def _error(table: Table, code: Code, message: str, hint: str) -> Diagnostic:
    return Diagnostic("error", code, message, table.place(), hint=hint)
