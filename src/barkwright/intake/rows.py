"""Rows of a field sheet: which columns mean what, and what each row says about a tree."""

from __future__ import annotations

import csv
import re
from collections import Counter
from collections.abc import Mapping, Sequence
from functools import cache

from barkwright.datafile import load
from barkwright.inventory.nearest import nearest_key
from barkwright.record import dataclass
from barkwright.units import NoAmountError, parse_amount

# What a row can say -> columns that say it, in any letter case, the most telling first.
_COLUMNS: dict[str, tuple[str, ...]] = {
    "id": ("tree_id", "id", "tag", "tree"),
    "plot": ("plt_cn",),
    "subplot": ("subp",),
    "number": ("tree",),
    "code": ("species_code", "spcd"),
    "species": ("species", "spp"),
    "dbh": ("dbh_in", "dia", "dbh", "dbh_cm", "diameter"),
    "height": ("height_ft", "ht", "height", "height_m"),
    "state": ("statuscd", "status"),
    "agent": ("agentcd",),
    "standing": ("standing_dead_cd",),
    "note": ("note", "notes", "comment"),
    "year": ("measyear", "year"),
}
_NEEDED = ("dbh",)


@dataclass(frozen=True, slots=True)
class Codes:
    """data/intake/codes.yaml."""

    checked_on: str
    basis: str
    spruce: dict[str, str]
    spruce_names: dict[str, str]
    other: dict[str, str]
    agents: dict[str, str]


@dataclass(frozen=True, slots=True)
class Row:
    """One row of the sheet in the inventory's words; `left_out` says why it is no tree of the inventory."""

    line: int
    id: str
    species: str
    dbh: str  # with its unit if the column names one
    height: str | None
    alive: bool | None
    note: str
    left_out: str | None


def read_rows(text: str) -> tuple[tuple[Row, ...], str | None]:
    """The rows of a CSV table, and what is wrong with the table as a whole, if so. Ids are unique and short."""
    plain = text.removeprefix("\ufeff")
    head = plain.split("\n", 1)[0]
    separator = max(",;\t", key=head.count)
    reader = csv.DictReader(plain.splitlines(), delimiter=separator)
    try:
        columns = _columns(reader.fieldnames or ())
    except csv.Error as error:
        return (), _unreadable(error, 1)
    missing = [name for name in _NEEDED if name not in columns]
    if missing or not ({"code", "species"} & columns.keys()):
        return (), "the first line names no column for species and diameter"
    try:
        records = [(reader.line_num, {name: _clean(row.get(columns[name])) for name in columns}) for row in reader]
    except csv.Error as error:
        return (), _unreadable(error, reader.line_num + 1)
    units = {name: _unit(columns.get(name, "")) for name in ("dbh", "height")}
    if columns.get("code", "").casefold() == "spcd":  # the public forest inventory's own table
        units = {"dbh": " in", "height": " ft"}
    rows = [_row(line, record, units) for line, record in records if any(record.values())]
    return tuple(_with_ids(rows, [record for _, record in records if any(record.values())])), None


def _unreadable(error: csv.Error, line: int) -> str:
    if "field limit" in str(error):
        return f"a cell in line {line} has more than {csv.field_size_limit():,} letters: is a quote open there?"
    return f"line {line} cannot be read as a table: {error}"


def _columns(names: Sequence[str]) -> dict[str, str]:
    by_name = {name.strip().casefold(): name for name in names if name}
    found: dict[str, str] = {}
    for meaning, known in _COLUMNS.items():
        column = next((one for one in known if one in by_name), None)
        if column is None and meaning in ("id", "species", "dbh", "height"):
            column = next((one for one in by_name if nearest_key(one, [meaning]) and one not in found.values()), None)
        if column is not None:
            found[meaning] = by_name[column]
    return found


def _unit(column: str) -> str:
    ending = re.search(r"_(cm|mm|m|in|ft)$", column.casefold())
    return f" {ending.group(1)}" if ending else ""


def _row(line: int, record: Mapping[str, str], units: Mapping[str, str]) -> Row:
    code = _number(record.get("code", ""))
    species, why = _species(code, record.get("species", ""))
    dbh, height = _number(record.get("dbh", "")), _number(record.get("height", ""))
    state = _number(record.get("state", "")).casefold()
    alive = True if state in ("1", "live", "alive") else False if state in ("2", "dead") else None
    if why is None and not dbh:
        why = "no diameter was measured" + (": it may be dead and down" if alive is False else "")
    elif why is None and not (_is_amount(dbh) and _is_amount(height or "1")):
        why = f"'{dbh}' and '{height}' are no diameter and height"
    elif why is None and alive is False and _number(record.get("standing", "")) == "0":
        why = "it is dead and down: measure it again as windthrown, or as logs"
    note = "; ".join(part for part in (_state_words(alive, record), _own_note(record.get("note", ""))) if part)
    measured = f"{dbh}{units['dbh']}", f"{height}{units['height']}" if height else None
    return Row(line, record.get("id", ""), species, measured[0], measured[1], alive, note, why)


def _species(code: str, name: str) -> tuple[str, str | None]:
    codes = _codes()
    low = re.sub(r"\s+", " ", name.casefold())
    known = codes.spruce.get(code) or codes.spruce_names.get(low) or codes.spruce_names.get(f"{low} spruce")
    if known:
        return known, None
    said = name or codes.other.get(code) or (f"species code {code}" if code else "no species given")
    if "spruce" in said.casefold():
        return said, f"{said}: the kind of spruce must be known"
    return said, f"{said} is no spruce" if name or code else "no species is given"


def _state_words(alive: bool | None, record: Mapping[str, str]) -> str:
    if alive is None:
        return ""
    year = _number(record.get("year", ""))
    when = f"when measured in {year}" if year else "when measured"
    agent = _codes().agents.get(_number(record.get("agent", "")))
    return f"{'alive' if alive else 'dead'} {when}" + (f", cause noted: {agent}" if agent and not alive else "")


def _own_note(note: str) -> str:
    """The note without what its codes say already."""
    return "; ".join(part for part in re.split(r";\s*", note) if part and not re.match(r"AGENTCD|standing dead", part))


def _with_ids(rows: Sequence[Row], records: Sequence[Mapping[str, str]]) -> list[Row]:
    short = [_short(record) for record in records]
    full = [f"{_number(r['plot'])}-{one}" if r.get("plot") else one for r, one in zip(records, short, strict=True)]
    names = short if len(set(short)) == len(short) else full
    seen: Counter[str] = Counter()
    out = []
    for row, name in zip(rows, names, strict=True):
        one = re.sub(r"[/,;:\s]+", "-", name) or f"row-{row.line}"
        seen[one] += 1
        unique = one if seen[one] == 1 else f"{one}-row-{row.line}"
        out.append(Row(row.line, unique, row.species, row.dbh, row.height, row.alive, row.note, row.left_out))
    return out


def _short(record: Mapping[str, str]) -> str:
    if record.get("subplot") and record.get("number"):
        return f"{_number(record['subplot'])}-{_number(record['number'])}"
    return _number(record.get("id", ""))


def _clean(cell: str | None) -> str:
    return re.sub(r"[^\x20-\x7e\xa1-\u024f\u2010-\u2027]", " ", cell or "").strip()


def _is_amount(text: str) -> bool:
    try:
        parse_amount(text)
    except NoAmountError:
        return False
    return True


def _number(text: str) -> str:
    """A number without the float dust of a spreadsheet: 93.0 -> 93, 6.1000000000000005 -> 6.1; other text as it is."""
    plain = text.strip()
    return f"{float(plain):.6g}" if re.fullmatch(r"\d+\.\d+", plain) else plain


@cache
def _codes() -> Codes:
    return load("intake/codes.yaml", Codes)
