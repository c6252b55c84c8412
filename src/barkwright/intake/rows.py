"""What each row of a field sheet says about a tree, in the words of the inventory; or why it cannot be used."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace

from barkwright.intake.assign import Column
from barkwright.intake.cells import Comma, DayOrder, Unread, commas_of, day_order, is_missing, size, stems
from barkwright.intake.columns import LENGTHS, UNUSED, dictionary
from barkwright.intake.facts import facts_of
from barkwright.intake.kinds import kind_of
from barkwright.intake.understood import Sheet
from barkwright.record import dataclass


@dataclass(frozen=True, slots=True)
class Row:
    """A tree of the sheet: `facts` are inventory keys and values as written; `left_out` says why it is none."""

    line: int
    id: str
    facts: tuple[tuple[str, str], ...]
    left_out: str | None = None
    lines: tuple[int, ...] = ()  # the rows it was made of, where they are several


@dataclass(frozen=True, slots=True)
class Read:
    """All rows of a sheet, and what was taken for granted in them."""

    rows: tuple[Row, ...]
    notes: tuple[str, ...]


@dataclass(slots=True)
class _Reader:
    sheet: Sheet
    commas: Mapping[int, Comma]
    orders: Mapping[int, DayOrder]
    notes: Counter[str]

    def row(self, line: int, cells: Sequence[str]) -> Row:
        """One row; its id is made later."""
        said = {one.meaning: cells[one.index] for one in reversed(self.sheet.columns) if one.meaning != UNUSED}
        species, why = self.species(said)
        facts: dict[str, str] = {"species": species} if species else {}
        dirt: list[str] = []
        for column in self.sheet.columns:
            if column.meaning != UNUSED and dictionary().meanings[column.meaning].kind in LENGTHS:
                why = self.measured(column, cells[column.index], facts, dirt) or why
        more, reason = facts_of(self.sheet, cells, self.orders, self.notes, dirt)
        facts.update(more)
        down = facts.get("status") in ("logs", "stump") or "butt" in facts
        if why is None and not down and not ({"dbh", "girth"} & facts.keys()):
            dead = facts.get("note", "").startswith("dead")
            why = "no diameter was measured" + (": it may be dead and down" if dead else "")
        why = why or reason
        return Row(line, "", tuple(facts.items()), why)

    def species(self, said: Mapping[str, str]) -> tuple[str | None, str | None]:
        """The kind of spruce, or why it is none."""
        name = said.get("species", "")
        kind = kind_of(said.get("code", ""), "" if is_missing(name) else name)
        if kind.species is None and kind.unnamed and self.sheet.species:
            if "species" in said or "code" in said:
                self.notes[f"species: {self.sheet.species}, as you said, where the sheet does not say the kind"] += 1
            return self.sheet.species, None
        if kind.taken:
            self.notes[f"species: {kind.taken}"] += 1
        return kind.species, None if kind.species else kind.reason

    def measured(self, column: Column, cell: str, facts: dict[str, str], dirt: list[str]) -> str | None:
        """Put a size into the facts; why the row cannot be used, if so."""
        near = dictionary().meanings[column.meaning].kind == "near"
        if column.meaning == "dbh" and re.match(r"[gG]\s*\d", cell):
            return self.measured(replace(column, meaning="girth"), cell[1:].strip(), facts, dirt)
        if is_missing(cell) or (near and not re.search(r"\d", cell)):
            if cell and not near and cell not in ("-", "."):
                self.notes[f"'{column.name}': '{cell}' is taken as not measured"] += 1
            return None
        try:
            parts = stems(cell) if column.meaning == "dbh" else (cell,)
            sizes = [size(part, self.commas.get(column.index, "unclear")) for part in parts]
        except Unread as fault:
            if near or column.meaning in ("height", "broken_at"):
                if not near:
                    return f"{column.name}: {fault}"
                dirt.append(f"{column.name}: {cell}")
                return None
            return f"{column.name}: {fault}"
        numbers = [(number, unit or column.unit or "") for number, unit in sizes if number != "0"]
        if len(numbers) < len(sizes):
            self.notes[f"'{column.name}': 0 is taken as not measured"] += 1
        written = [_written(number, unit) for number, unit in numbers]
        if written and column.meaning in facts:
            facts[column.meaning] += "|" + "|".join(written)
        elif written:
            facts[column.meaning] = "|".join(written)
        return None


def tree_rows(sheet: Sheet) -> Read:
    """The rows of a sheet as trees, every tree with an id of its own; rows of logs joined to the tree they are of."""
    columns = [one for one in sheet.columns if one.meaning != UNUSED]
    kinds = {one.index: dictionary().meanings[one.meaning].kind for one in columns}
    by_column = {n: [cells[n] for _, cells in sheet.layout.records] for n in kinds}
    commas = {
        n: commas_of(cell for cell in by_column[n] if "," in cell) for n, kind in kinds.items() if kind in LENGTHS
    }
    orders = {n: day_order(by_column[n]) for n, kind in kinds.items() if kind == "day"}
    reader = _Reader(sheet, commas, orders, Counter())
    rows = [reader.row(line, cells) for line, cells in sheet.layout.records]
    names = _names(sheet)
    rows = [replace(row, id=name) for row, name in zip(rows, names, strict=True)]
    rows = _each_stem(_with_logs(rows, reader.notes), reader.notes)
    rows = _unique(_once(rows, dict(sheet.layout.records)), reader.notes)
    notes = [text if count == 1 else f"{text} ({count:,} rows)" for text, count in reader.notes.items()]
    return Read(tuple(rows), tuple(notes))


def _written(number: str, unit: str) -> str:
    if unit == "dm":
        return f"{float(number) / 10:.6g} m"
    return f"{number} {unit}".strip()


def _names(sheet: Sheet) -> list[str]:
    """What each row's tree is called in the sheet."""
    of = {one.meaning: one.index for one in reversed(sheet.columns)}
    records = sheet.layout.records
    tree = next((n for n, name in enumerate(sheet.layout.names) if name.casefold() == "tree"), None)
    if "subplot" in of and tree is not None:
        short = [f"{_whole(cells[of['subplot']])}-{_whole(cells[tree])}" for _, cells in records]
        if "plot" not in of or len(set(short)) == len(short):
            return short
        return [f"{_whole(cells[of['plot']])}-{one}" for one, (_, cells) in zip(short, records, strict=True)]
    column = of.get("id", of.get("tag"))
    if column is None:
        return [""] * len(records)
    return [_whole(cells[column]) for _, cells in records]


def _whole(text: str) -> str:
    return re.sub(r"^(\d+)\.0+$", r"\1", text)


def _with_logs(rows: Sequence[Row], notes: Counter[str]) -> list[Row]:
    """Rows of logs become one tree for each id, its logs in the order of the sheet."""
    out: list[Row] = []
    piles: dict[str, int] = {}
    for row in rows:
        facts = dict(row.facts)
        if row.left_out or "butt" not in facts:
            if facts.pop("top", None) or facts.pop("length", None):
                notes["a log without its thick end is not used"] += 1
            out.append(replace(row, facts=tuple(facts.items())))
            continue
        log, why = _log(facts)
        if why:
            out.append(replace(row, left_out=why))
            continue
        at = piles.get(row.id) if row.id else None
        if at is None:
            facts.setdefault("status", "logs")
            facts["logs"] = log
            if row.id:
                piles[row.id] = len(out)
            out.append(replace(row, facts=tuple(facts.items()), lines=(row.line,)))
        else:
            first = dict(out[at].facts)
            if first["species"] != facts["species"]:
                out.append(replace(row, left_out=f"the other logs of {row.id} are {first['species']}"))
                continue
            first["logs"] += f", {log}"
            if facts.get("note") and facts["note"] not in first.get("note", ""):
                first["note"] = f"{first['note']}; {facts['note']}" if first.get("note") else facts["note"]
            out[at] = replace(out[at], facts=tuple(first.items()), lines=(*out[at].lines, row.line))
    return out


def _log(facts: dict[str, str]) -> tuple[str, str | None]:
    butt, top, length = facts.pop("butt"), facts.pop("top", None), facts.pop("length", None)
    if not top or not length:
        return "", "a log needs its thick end, its thin end and its length"
    count = f", count: {facts.pop('count')}" if "count" in facts else ""
    return f"{{butt: {butt}, top: {top}, length: {length}{count}}}", None


def _each_stem(rows: Sequence[Row], notes: Counter[str]) -> list[Row]:
    """A row with several diameters becomes as many trees."""
    out = []
    for row in rows:
        facts = dict(row.facts)
        parts = facts.get("dbh", "").split("|")
        if len(parts) < 2:
            out.append(row)
            continue
        notes["rows with several diameters become a tree for each stem, with the same height"] += 1
        lines = (row.line,) * len(parts)
        for number, part in enumerate(parts, 1):
            name = f"{row.id or f'row-{row.line}'}-stem-{number}"
            out.append(replace(row, id=name, facts=tuple({**facts, "dbh": part}.items()), lines=lines))
    return out


def _once(rows: Sequence[Row], cells: Mapping[int, Sequence[str]]) -> list[Row]:
    """The rows, one that says word for word what a row with its id before it says left out."""
    first: dict[tuple[str, tuple[str, ...]], int] = {}
    out = []
    for row in rows:
        before = first.setdefault((row.id, tuple(cells[row.line])), row.line) if row.id else row.line
        why = f"it is row {before} again, word for word; if it is another tree, give it an id of its own"
        out.append(row if row.left_out or before == row.line else replace(row, left_out=why))
    return out


def _unique(rows: Sequence[Row], notes: Counter[str]) -> list[Row]:
    """Every tree with an id of its own, fit to stand before a slash; what was changed stays readable in its tag."""
    seen: defaultdict[str, int] = defaultdict(int)
    taken = {fit_id(row.id) for row in rows}
    out = []
    for row in rows:
        fit = fit_id(row.id) or f"row-{row.line}"
        seen[fit] += 1
        name = fit
        if seen[fit] > 1:
            name = f"{fit}-row-{row.line}"
            while name in taken:
                name += "a"
            taken.add(name)
            if not row.left_out:
                notes["an id stands in more than one row: the later trees have the row's number in theirs"] += 1
        facts = dict(row.facts)
        if row.id and fit != row.id and "tag" not in facts:
            facts["tag"] = row.id
        out.append(replace(row, id=name, facts=tuple(facts.items())))
    return out


def fit_id(text: str) -> str:
    """An id without what an id may not hold; empty where nothing is left of it."""
    fit = re.sub(r"[/,;:\s]+", "-", text).strip("-")
    return fit if any(one.isalnum() for one in fit) and len(fit) <= 30 else ""
