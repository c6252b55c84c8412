"""One sentence of our own for every error that the model finds."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from barkwright.diagnostics import Code
from barkwright.inventory.measure import Bounds
from barkwright.inventory.model import Inventory
from barkwright.inventory.nearest import nearest_word
from barkwright.inventory.report import Report
from barkwright.inventory.slots import Slot, slot_at
from barkwright.units import NoAmountError, parse_amount
from barkwright.yamldoc import Document, Loc, Node

_YES = {"yes", "y", "on", "ja", "oui", "1", "true"}
_NO = {"no", "n", "off", "nein", "non", "0", "false"}
_COUNTS = {
    "one": "1", "two": "2", "three": "3", "four": "4", "five": "5", "six": "6", "seven": "7", "eight": "8", "nine": "9",
    "ten": "10", "eleven": "11", "twelve": "12",
}  # fmt: skip
_NUMBERS: frozenset[type] = frozenset({int, float, Decimal})


def report_model_errors(errors: Iterable[Mapping[str, Any]], report: Report) -> None:
    """Report the model's errors, each value once; those at values already reported are left out.

    `errors` are pydantic's, whose `loc` may name branches of a union that are no step in the file.
    """
    for error in errors:
        if report.full:
            return
        if error["type"] == "missing":
            _missing(error["loc"], report)
        else:
            at = in_file(error["loc"], report.document)
            if at not in report.faulty:
                _wrong(at, report)


def in_file(loc: Loc, document: Document) -> Loc:
    """The steps of a pydantic location that are steps in the file."""
    node = document.root
    for number, part in enumerate(loc):
        inside = node.value
        listed = isinstance(inside, list) and isinstance(part, int) and 0 <= part < len(inside)
        if not listed and not (isinstance(inside, dict) and part in inside):
            return loc[:number]
        node = inside[part]
    return loc


def _missing(loc: Loc, report: Report) -> None:
    if any(loc[:n] in report.faulty for n in range(1, len(loc) + 1)) or in_file(loc, report.document) == loc:
        return
    key = loc[-1]
    slot = slot_at(Inventory, loc)
    parent = ".".join(step for step in loc[:-1] if isinstance(step, str) and step != loc[0]) or None
    inside = f" under '{parent}'" if parent and len(loc) > 2 and not isinstance(loc[-2], int) else ""
    colon = ":" if slot and slot.record is None else ","
    hint = f"add {key}{colon} {slot.expected(report.system)}" if slot else None
    report.error("missing-key", loc[:-1], f"the key '{key}' is missing{inside}", hint)
    report.faulty.discard(loc[:-1])  # more keys may be missing there


def _wrong(at: Loc, report: Report) -> None:
    node = report.document.node(at)
    slot = slot_at(Inventory, at)
    key = next((str(step) for step in reversed(at) if isinstance(step, str)), "inventory")
    if slot is None:
        report.error("bad-value", at, f"{key} cannot be read")
        return
    written = f"'{node.text}'" if node.kind == "scalar" else f"a {node.kind}"
    code, problem, hint = _explain(node, slot)
    if key == "barkwright" and len(at) == 1:
        code, problem, hint = "bad-version", "is no format this program knows", "write barkwright: 1"
    if key == "species" and hint is None:
        hint = "trees that are no spruce are no host: leave them out"
    long = hint is not None and len(slot.words) > 12
    expected = "" if long else f"; expected {slot.expected(report.system)}"
    report.error(code, at, f"{key} {written} {problem}{expected}", hint)


def _explain(node: Node, slot: Slot) -> tuple[Code, str, str | None]:
    """Code, what is wrong, and the hint for a scalar that does not fit its slot."""
    text = node.text.strip()
    low = text.casefold()
    if slot.words:
        near = nearest_word(text, slot.words)
        if near:
            return "bad-choice", "is not one of the words known here", f"did you mean '{near}'?"
    if bool in slot.types:
        meant = "true" if low in _YES else "false" if low in _NO else None
        return "bad-value", "is neither true nor false", f"write {meant}" if meant else None
    if date in slot.types:
        return "bad-date", *_explain_date(text)
    if slot.types & _NUMBERS:
        return "bad-number", *_explain_number(node, slot)
    if slot.words:
        return "bad-choice", "is not one of the words known here", None
    return "bad-value", "does not fit here", f"write it in quotes: '{text}'" if str in slot.types else None


def _explain_date(text: str) -> tuple[str, str | None]:
    if re.fullmatch(r"\d{4}-\d\d-\d\d", text):
        return "is no day of the calendar", "check the month and the day"
    for form in ("%Y/%m/%d", "%Y.%m.%d", "%Y-%m-%d", "%d.%m.%Y", "%b %d %Y", "%B %d %Y", "%d %b %Y", "%d %B %Y"):
        try:
            day = datetime.strptime(text.replace(",", "").split("T")[0].strip(), form).date()  # noqa: DTZ007
        except ValueError:
            continue
        return "is not written as year-month-day", f"write {day.isoformat()}"
    if re.fullmatch(r"\d{1,2}/\d{1,2}/\d{2,4}", text):
        return "is not written as year-month-day", "write the year first, then month, then day: 2026-10-31"
    return "is not a day", "write year-month-day, like 2026-10-31"


def _explain_number(node: Node, slot: Slot) -> tuple[str, str | None]:
    text = node.text.strip()
    if isinstance(node.value, float) and float not in slot.types and Decimal not in slot.types:
        whole = node.value == int(node.value)
        return "is not a whole number", f"write {int(node.value)}" if whole else _whole_hint(text, slot)
    if isinstance(slot.mark, Bounds) and slot.mark.unit == "degrees":
        return "is not a number of degrees", "write decimal degrees like 53.98; south and west are negative"
    counted = int in slot.types and isinstance(slot.mark, Bounds)
    try:
        amount = parse_amount(re.sub(r"^[^\d+.-]+|[^\d.]+$", "", text) if Decimal in slot.types else text)
    except NoAmountError as error:
        return ("is not a whole number", _whole_hint(text, slot)) if counted else (error.message, error.hint)
    number = float(amount.number)
    if counted:
        return "is not a plain number", f"write {int(number)}" if number == int(number) else _whole_hint(text, slot)
    return "is not a plain number", f"write {number:g}, without quotes" if node.quoted else f"write {number:g}"


def _whole_hint(text: str, slot: Slot) -> str:
    """What to write where a count or a year is asked for."""
    word = _COUNTS.get(text.casefold())
    leading = re.match(r"\d+", text)
    if word is None and leading and "." not in text:
        word = leading.group()
    year = isinstance(slot.mark, Bounds) and slot.mark.unit == "(a year)"
    if word is not None and not year:
        return f"write {word}"
    also = f", or {' or '.join(slot.words)}" if slot.words else ""
    return f"write a year like 2026{also}" if year else "write a whole number, like 2"
