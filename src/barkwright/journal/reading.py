"""From the text of a journal to its entries, or to everything that is wrong with it."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from datetime import date

from pydantic import ValidationError

from barkwright.diagnostics import Diagnostic
from barkwright.inventory.nearest import nearest_key
from barkwright.inventory.sentences import in_file
from barkwright.journal.entries import COMMON, MAY, NEEDS, VERSION, Entry, Journal
from barkwright.yamldoc import Document, Loc, read_document

KEYS = ("barkwright-journal", "site", "entries")
MOST_FAULTS = 500  # told of one journal, and at most a tenth of that of one entry; ours
_WRITE = {
    "date": "a day like 2026-10-31", "pieces": "a list like [T3/1, T3/2]", "id": "a whole number",
    "stages": "a list like [larvae]", "looked": "a list like [base, sunny]", "undoes": "the number of an entry",
    "hours": "a number of hours like 3.5",
}  # fmt: skip
EMPTY = "nothing is recorded in it: delete the file, or put the last one that was sound in its place"
BEGIN = "a journal is written by 'barkwright done'; take the last one that was sound, or mend the line"


def read_journal(text: str, file: str) -> tuple[Journal | None, tuple[Diagnostic, ...]]:
    """The journal in `text`, or None if anything in it is an error; and all there is to say about it, in file order."""
    document, found = read_document(text, file)
    if document is None:
        return None, tuple(replace(one, hint=EMPTY) if one.code == "empty" else one for one in found)
    faults = list(_head(document))
    entries: list[Entry] = []
    listed = document.data.get("entries") if isinstance(document.data, dict) else None
    for number, _ in enumerate(listed if isinstance(listed, list) else ()):
        if len(faults) >= MOST_FAULTS:
            break
        entry, wrong = _entry(document, number)
        faults += wrong
        if entry is not None:
            entries.append(entry)
    faults += _numbers(document, entries) if not faults else ()
    if faults:
        return None, tuple(sorted(faults, key=lambda one: (one.where.line, one.where.column) if one.where else (0, 0)))
    return Journal(tuple(entries)), ()


def still_to_come(journal: Journal, text: str, file: str, on: date) -> tuple[Diagnostic, ...]:
    """Entries dated after the day, and after they were written down: they do not count until then."""
    late = [
        (number, one)
        for number, one in enumerate(journal.entries)
        if one.on > on and one.did != "undone" and one.on.isoformat() > one.recorded[:10]
    ]
    document = read_document(text, file)[0] if late else None
    said = "which is still to come: it does not count yet"
    return tuple(
        Diagnostic(
            "warning",
            "entry-in-future",
            f"entry {one.id} is dated {one.on}, {said}",
            document.place(("entries", number, "date")) if document else None,
            hint="correct its date; work is recorded when it is done",
        )
        for number, one in late
    )


def _head(document: Document) -> Iterator[Diagnostic]:
    data = document.data
    if not isinstance(data, dict):
        yield _error(document, (), "odd-shape", "this is no journal: it has no barkwright-journal: 1", BEGIN)
        return
    for key in [key for key in data if key not in KEYS][: MOST_FAULTS // 10]:
        near = nearest_key(key, KEYS)
        hint = f"did you mean '{near}'?" if near else f"keys are {', '.join(KEYS)}"
        yield Diagnostic("error", "unknown-key", f"unknown key '{key}'", document.key_place((key,)), hint=hint)
    if data.get(KEYS[0]) != VERSION or isinstance(data.get(KEYS[0]), bool):
        said = document.written((KEYS[0],)) if KEYS[0] in data else None
        message = f"'{said}' is no format of a journal that this program knows" if said else f"{KEYS[0]} is missing"
        yield _error(document, (KEYS[0],), "bad-version", message, f"write {KEYS[0]}: {VERSION}")
    if "entries" in data and data["entries"] is not None and not isinstance(data["entries"], list):
        yield _error(document, ("entries",), "odd-shape", "entries is a list", "begin each entry with - id:")


def _entry(document: Document, number: int) -> tuple[Entry | None, list[Diagnostic]]:
    at: Loc = ("entries", number)
    node = document.node(at)
    if not isinstance(node.value, dict):
        return None, [_error(document, at, "odd-shape", f"entry {number + 1} has no keys", "begin it with - id:")]
    try:
        entry = Entry.model_validate_json(json.dumps(node.data))
    except ValidationError as errors:
        found: dict[Loc, Diagnostic] = {}
        for one in errors.errors(include_url=False, include_context=True, include_input=False)[: MOST_FAULTS // 10]:
            where = in_file(("entries", number, *one["loc"]), document)[2:]
            where = where if one["type"] != "missing" else (*where, str(one["loc"][-1]))
            found.setdefault(where, _wrong(document, number, where, one["type"], one.get("ctx") or {}))
        return None, list(found.values())
    known = COMMON | NEEDS[entry.did] | MAY[entry.did]
    faults = [
        Diagnostic(
            "error", "unknown-key", f"entry {entry.id}: '{key}' does not belong to an entry that says {entry.did}",
            document.key_place((*at, key)), hint=f"its keys are {', '.join(sorted(known))}",
        )
        for key in node.value
        if key not in known
    ]  # fmt: skip
    faults += [
        _error(
            document,
            at,
            "missing-key",
            f"entry {entry.id}: {key} is missing",
            f"add {key}: {_WRITE.get(key, '')}".rstrip(),
        )
        for key in sorted(NEEDS[entry.did])
        if key not in node.value or node.data[key] in (None, [])
    ]
    return (None if faults else entry), faults


def _wrong(document: Document, number: int, loc: Loc, kind: str, context: dict[str, object]) -> Diagnostic:
    at: Loc = ("entries", number, *loc)
    key = next((str(step) for step in reversed(loc) if isinstance(step, str)), "entry")
    if kind == "missing":
        return _error(document, at[:-1], "missing-key", f"entry {number + 1}: {key} is missing", f"add {key}:")
    if kind == "extra_forbidden":
        keys = [field.alias or name for name, field in Entry.model_fields.items()]
        near = nearest_key(key, keys)
        hint = f"did you mean '{near}'?" if near else f"keys are {', '.join(keys)}"
        return Diagnostic(
            "error", "unknown-key", f"entry {number + 1}: unknown key '{key}'", document.key_place(at), hint=hint
        )
    node = document.node(at)
    written = f"'{node.text}'" if node.kind == "scalar" and node.text else f"a {node.kind}"
    words = str(context.get("expected", "")).replace("'", "").replace(" or ", ", ")
    expected = f"one of {words}" if words else _WRITE.get(key, "something else")
    message = f"entry {number + 1}: {key} {written} does not fit here; expected {expected}"
    return _error(document, at, "bad-value", message, BEGIN)


def _numbers(document: Document, entries: list[Entry]) -> Iterator[Diagnostic]:
    """Numbers are taken once, and an entry takes back one that stands before it."""
    seen: dict[int, Entry] = {}
    undone: dict[int, int] = {}
    for number, entry in enumerate(entries):
        at: Loc = ("entries", number)
        if entry.id in seen:
            hint = "give the later one the next free number"
            yield _error(document, (*at, "id"), "duplicate-id", f"two entries have the number {entry.id}", hint)
        seen[entry.id] = entry
        if entry.undoes is None:
            continue
        target = seen.get(entry.undoes)
        if target is None or target.did == "undone":
            message = f"entry {entry.id} takes back {entry.undoes}, which is no entry before it that can be taken back"
            yield _error(document, (*at, "undoes"), "unknown-name", message, "correct the number")
        elif entry.undoes in undone:
            message = f"entry {entry.undoes} is taken back twice, by {undone[entry.undoes]} and {entry.id}"
            yield _error(document, (*at, "undoes"), "duplicate-id", message, "delete the later one")
        undone.setdefault(entry.undoes, entry.id)


def _error(document: Document, at: Loc, code: str, message: str, hint: str) -> Diagnostic:
    node = document.node(at)
    value = node.text if node.kind == "scalar" and node.text else None
    return Diagnostic("error", code, message, document.place(at), None, value, hint)  # type: ignore[arg-type]
