"""Walks a document along the shape of the inventory: unknown keys are reported, amounts become plain numbers."""

from __future__ import annotations

import re
from datetime import date
from fractions import Fraction
from typing import Any, cast

from barkwright.inventory.kinds import capacities
from barkwright.inventory.measure import YEARS, Bounds, CapacityOfKind, Measure, plain
from barkwright.inventory.model import Inventory, Kind
from barkwright.inventory.nearest import nearest_key, nearest_word
from barkwright.inventory.part import Record
from barkwright.inventory.report import Report
from barkwright.inventory.slots import Slot, records, slots
from barkwright.record import dataclass
from barkwright.units import UNITS, NoAmountError, convert, parse_amount
from barkwright.yamldoc import Loc, Node

_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")


def shape_inventory(report: Report) -> Any:
    """The plain data of the document, as the model wants it: known keys only, amounts in inside units."""
    return _Shaper(report).record(report.document.root, Inventory, ())


@dataclass(slots=True)
class _Shaper:
    report: Report

    def record(self, node: Node, record: type[Record], at: Loc) -> Any:
        known = slots(record)
        if not isinstance(node.value, dict):
            self.report.error("bad-value", at, f"expected keys with values: {', '.join(known)}")
            return None
        data = {}
        for key, value in node.value.items():
            if self.report.full:
                break
            here = (*at, key)
            slot = known.get(key)
            if slot is None:
                self._unknown(key, here, record, node)
            elif value.value is None:
                self.report.error("missing-value", here, f"'{key}' has no value", "fill it in or delete the line", True)
            else:
                data[key] = self._value(value, slot, here, node)
        return data

    def _value(self, node: Node, slot: Slot, at: Loc, parent: Node) -> Any:
        if not slot.many:
            return self._one(node, slot, at, parent)
        if not isinstance(node.value, list):
            hint = f"write [{node.text}]" if node.kind == "scalar" else "begin each entry with a dash"
            self.report.error("bad-value", at, f"'{at[-1]}' is a list", hint)
            return None
        return [
            self._one(item, slot, (*at, number), parent)
            for number, item in enumerate(node.value)
            if not self.report.full
        ]

    def _one(self, node: Node, slot: Slot, at: Loc, parent: Node) -> Any:
        if slot.record is not None:
            return self.record(node, slot.record, at)
        if node.kind != "scalar":
            expected = slot.expected(self.report.system)
            self.report.error("bad-value", at, f"{_key(at)} is a {node.kind}; expected one value: {expected}")
            return None
        if node.text in slot.words:
            return node.value if isinstance(node.value, int) else node.text
        if isinstance(slot.mark, Measure):
            return self._measure(node, slot, slot.mark, at)
        if isinstance(slot.mark, CapacityOfKind):
            return self._capacity(node, slot, at, parent)
        if isinstance(slot.mark, Bounds):
            return self._bounded(node, slot.mark, at)
        if str in slot.types and not isinstance(node.value, bool) and node.value is not None:
            return node.text  # ids and names are text: 7 is "7", 007 is "007"
        if isinstance(node.value, bool) and not slot.types & {bool, str}:
            return node.text  # or true would pass for 1
        if date in slot.types and not _DAY.fullmatch(node.text):
            return f"?{node.text}"  # or a number in text would pass for seconds since 1970
        if date in slot.types and not YEARS[0] <= int(node.text[:4]) <= YEARS[1]:
            expected = f"expected a day from {YEARS[0]} to {YEARS[1]}"
            self.report.error("out-of-range", at, f"{_key(at)} {node.text} is out of range: {expected}")
            return None
        return node.value

    def _bounded(self, node: Node, bounds: Bounds, at: Loc) -> Any:
        number = node.value
        is_number = isinstance(number, (int, float)) and not isinstance(number, bool)
        if is_number and not bounds.low <= number <= bounds.high:
            self.report.error("out-of-range", at, f"{_key(at)} {node.text} is out of range: expected {bounds.expected}")
            return None
        return number

    def _capacity(self, node: Node, slot: Slot, at: Loc, parent: Node) -> Any:
        kind = parent.value.get("kind")
        known = capacities().get(cast(Kind, kind.text)) if kind is not None else None
        if known is None:
            self.report.faulty.add(at)
            return None  # the kind itself is reported
        if known.capacity is None:
            self.report.error("bad-value", at, f"a {kind.text} has no capacity", "delete this line")
            return None
        return self._measure(node, slot, known.measure, at)

    def _measure(self, node: Node, slot: Slot, measure: Measure, at: Loc) -> Any:
        unit = measure.unit(self.report.system)

        def expected() -> str:
            return "expected " + ", or ".join((measure.expected(self.report.system), *slot.words))

        try:
            if isinstance(node.value, bool) or node.value is None:
                raise NoAmountError("is no number", "write a number, or a number with its unit")
            amount = parse_amount(node.text)
            inside = convert(amount.number, amount.unit or unit, measure.inside)
        except NoAmountError as error:
            near = nearest_word(node.text, slot.words)
            hint = f"did you mean '{near}'?" if near else error.hint
            if "unknown unit" in error.message:
                hint = f"units here: {', '.join(one for one in UNITS if UNITS[one][0] == UNITS[measure.inside][0])}"
            self.report.error("bad-number", at, f"{_key(at)} '{node.text}' {error.message}; {expected()}", hint)
            return None
        except ValueError:
            kind = UNITS[measure.inside][0]
            self.report.error("wrong-unit", at, f"{_key(at)} '{node.text}' is no {kind}; {expected()}")
            return None
        if not measure.low <= inside <= measure.high:
            shown = node.text if amount.unit else f"{node.text} {unit}"
            slip = None if amount.unit else _unit_slip(amount.number, measure, unit)
            self.report.error("out-of-range", at, f"{_key(at)} {shown} is out of range: {expected()}", slip)
            return None
        return inside

    def _unknown(self, key: str, at: Loc, record: type[Record], node: Node) -> None:
        known = tuple(slots(record))
        near = nearest_key(key, [one for one in known if one not in node.value])
        taken = nearest_key(key, known)
        if near:
            hint = f"did you mean '{near}'?"
        elif home := _home(key, at):
            hint = home
        else:
            hint = (
                f"'{taken}' is here already: keep one of them"
                if taken
                else f"keys that may stand here: {', '.join(known)}"
            )
        self.report.error("unknown-key", at, f"unknown key '{key}'", hint, True)
        self.report.faulty.discard(at)  # the rest of the part is sound


def _home(key: str, at: Loc) -> str | None:
    path = tuple(step for step in at[:-1] if isinstance(step, str))
    homes = [under for under, other in records(Inventory) if key in slots(other)]
    if not homes:
        return None
    home = next((under for under in homes if under[: len(path)] == path), homes[0])
    return f"'{key}' belongs under '{'.'.join(home)}'" if home else f"'{key}' belongs at the left margin"


def _key(at: Loc) -> str:
    return str(next(step for step in reversed(at) if isinstance(step, str)))


def _unit_slip(number: Fraction, measure: Measure, unit: str) -> str | None:
    for other in ("cm", "in", "m", "ft", "mm", "km"):
        if other != unit and UNITS[other][0] == UNITS[measure.inside][0]:
            inside = convert(number, other, measure.inside)
            if measure.low <= inside <= measure.high:
                here = plain(round(convert(number, other, unit), 1))
                return f"if that is {other}, write '{plain(float(number))} {other}', which is {here} {unit}"
    return None
