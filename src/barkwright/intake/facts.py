"""What a row says beside sizes: status, attack, what was found, what stands near, dangers, days, remarks."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping, Sequence

from barkwright.intake.assign import Column
from barkwright.intake.cells import DayOrder, day, is_missing, word, word_list, words, year, yes
from barkwright.intake.columns import UNUSED, asks_down, dictionary
from barkwright.intake.kinds import spruce_codes
from barkwright.intake.understood import Sheet

_MARKS = re.compile(r"AGENTCD|standing dead")
_PLAIN = ("tag", "where")


def facts_of(
    sheet: Sheet, cells: Sequence[str], orders: Mapping[int, DayOrder], notes: Counter[str], dirt: list[str]
) -> tuple[dict[str, str], str | None]:
    """The facts of a row that are no sizes, keys and values of the inventory; and why the row cannot be used, if so.

    dirt : what could not be put into a key already; it goes into the note with what is found here
    """
    facts: dict[str, str] = {}
    remarks: list[str] = []
    why = None
    flags: dict[str, list[str]] = {"stages": [], "hazards": []}
    for column in sheet.columns:
        cell = cells[column.index] if column.meaning != UNUSED else ""
        kind = dictionary().meanings[column.meaning].kind if column.meaning != UNUSED else ""
        if not cell:
            continue
        if kind == "status":
            if asks_down(column.name):
                said = yes(cell)
                cell = cell if said is None else "windthrown" if said else "standing"
            why = _status(sheet, cells, cell, facts, remarks)
        elif kind == "flag":
            _flag(column, cell, flags, dirt)
        elif kind == "near" and not re.search(r"\d", cell):
            known = word(cell, words().near)
            if known:
                facts[column.meaning] = known
            elif not is_missing(cell):
                dirt.append(f"{column.name}: {cell}")
        elif column.meaning == "note":
            remarks += [part for part in re.split(r";\s*", cell) if part and not _MARKS.match(part)]
        elif column.meaning not in ("id", "measured") and not is_missing(cell):
            _fact(column, kind, cell, orders, facts, dirt)
    measured = sheet.column("measured")
    if measured is not None and sheet.column("status") is None and not is_missing(cells[measured.index]):
        remarks.insert(0, f"measured in {cells[measured.index]}")
    for key, found in flags.items():
        if found:
            old = facts.get(key, "").strip("[]").split(", ") if facts.get(key) else []
            facts[key] = f"[{', '.join(dict.fromkeys((*old, *found)))}]"
    for text in dirt:
        notes[f"a cell of '{text.split(':')[0]}' is kept in the note: it fits no word of the inventory"] += 1
    note = "; ".join(dict.fromkeys((*remarks, *dirt)))
    if note:
        facts["note"] = note
    return facts, why


def _fact(
    column: Column, kind: str, cell: str, orders: Mapping[int, DayOrder], facts: dict[str, str], dirt: list[str]
) -> None:
    value: str | None = None
    if column.meaning in _PLAIN:
        value = cell
    elif kind == "word":
        value = word(cell, getattr(words(), column.meaning))
    elif kind == "words":
        several = word_list(cell, getattr(words(), column.meaning))
        value = f"[{', '.join(several)}]" if several else None
        if column.meaning == "hazards" and yes(cell) is False:
            return
    elif kind == "year":
        value = year(cell)
    elif kind == "day":
        found = day(cell, orders.get(column.index, "unclear"))
        value = found.isoformat() if found else None
    elif kind == "count":
        value = re.sub(r"\.0+$", "", cell) if re.fullmatch(r"\d+(\.0+)?", cell) else None
        if value == "1":
            return
    elif kind == "share":
        number = re.fullmatch(r"(\d+(?:[.,]\d+)?)\s*%?", cell)
        value = number[1].replace(",", ".") if number else None
    elif kind == "answer":
        said = yes(cell)
        value = None if said is None else str(said).lower()
    else:
        return
    if value is None:
        dirt.append(f"{column.name}: {cell}")
    else:
        facts[column.meaning] = value


def _flag(column: Column, cell: str, flags: dict[str, list[str]], dirt: list[str]) -> None:
    said = yes(cell)
    if said:
        flags["hazards" if column.meaning[0] == "." else "stages"].append(column.meaning[1:])
    elif said is None:
        dirt.append(f"{column.name}: {cell}")


def _status(sheet: Sheet, cells: Sequence[str], cell: str, facts: dict[str, str], remarks: list[str]) -> str | None:
    """Put the status into the facts; why the row cannot be used, if so."""
    plain = re.sub(r"\.0+$", "", cell)
    if is_missing(plain):
        return None
    several = word_list(plain, words().status)
    if several is None:
        return f"status '{cell}' is not known: standing, windthrown, felled, logs or stump"
    places = [one for one in several if one not in ("alive", "dead")]
    if "gone" in places:
        return "it is no longer there"
    if len(places) > 1:
        return f"status '{cell}' says more than one thing"
    if places:
        facts["status"] = places[0]
    alive = next((one for one in several if one in ("alive", "dead")), None)
    if alive:
        remarks.insert(0, _alive(sheet, cells, alive))
    standing = sheet.column("standing_dead")
    if alive == "dead" and standing is not None and re.sub(r"\.0+$", "", cells[standing.index]) == "0":
        return "it is dead and down: measure it again as windthrown, or as logs"
    return None


def _alive(sheet: Sheet, cells: Sequence[str], alive: str) -> str:
    measured, agent = sheet.column("measured"), sheet.column("agent")
    when = re.sub(r"\.0+$", "", cells[measured.index]) if measured else ""
    code = re.sub(r"\.0+$", "", cells[agent.index]) if agent else ""
    cause = spruce_codes().agents.get(code) if alive == "dead" else None
    said = f"when measured in {when}" if when else "when measured"
    return f"{alive} {said}" + (f", cause noted: {cause}" if cause else "")
