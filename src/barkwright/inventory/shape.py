"""The shape of the inventory: which keys each part has, what stands under them; amounts become plain numbers."""

from __future__ import annotations

import difflib
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from typing import Any, Literal, cast, get_args, get_origin

from barkwright.diagnostics import Code, Diagnostic
from barkwright.inventory.kinds import capacities
from barkwright.inventory.measure import Bounds, CapacityOfKind, Measure, plain
from barkwright.inventory.model import Kind, Record
from barkwright.units import UNITS, NoAmountError, convert, parse_amount
from barkwright.yamldoc import Document, Loc, Node


@dataclass(frozen=True, slots=True)
class Slot:
    """What may stand under a key."""

    record: type[Record] | None
    many: bool  # a list of them
    text: bool
    words: tuple[str, ...]
    mark: Measure | Bounds | CapacityOfKind | None


@cache
def slots(record: type[Record]) -> dict[str, Slot]:
    """The keys of a part of the inventory, as written in the file, in order."""
    return {field.alias or name: _slot(field.annotation, field.metadata) for name, field in record.model_fields.items()}


def _slot(annotation: Any, metadata: list[Any]) -> Slot:
    many = get_origin(annotation) is tuple
    options = list(_options(get_args(annotation)[0] if many else annotation))
    if not many and any(get_origin(option) is tuple for option in options):
        many = True
        options = [part for option in options for part in _options(get_args(option)[0] if get_args(option) else option)]
    record = next((o for o in options if isinstance(o, type) and issubclass(o, Record)), None)
    words = tuple(str(word) for option in options if get_origin(option) is Literal for word in get_args(option))
    marks = (Measure, Bounds, CapacityOfKind)
    mark = next((m for m in metadata if isinstance(m, marks)), None)
    return Slot(record, many, str in options, words, mark)


def _options(annotation: Any) -> Iterator[Any]:
    origin = get_origin(annotation)
    if origin is None or origin is tuple or origin is Literal:
        if annotation is not type(None):
            yield annotation
    else:
        for part in get_args(annotation):
            yield from _options(part)


@dataclass(slots=True)
class Shaper:
    """Walks a document along the shape of the model; what it finds wrong is gathered with its place."""

    document: Document
    system: str
    found: list[Diagnostic] = field(default_factory=list)
    places: set[Loc] = field(default_factory=set)  # faulty values, so that nobody reports them twice

    def record(self, node: Node, record: type[Record], at: Loc) -> Any:
        """The plain data of a part, with unknown keys left out (and reported) and units resolved."""
        if node.kind != "mapping":
            self.fault("bad-value", at, "expected keys with values here", hint=f"keys: {', '.join(slots(record))}")
            return None
        known = slots(record)
        data = {}
        for key, value in node.value.items():
            here = (*at, key)
            slot = known.get(key)
            if slot is None:
                self._unknown(key, here, tuple(known), node)
            elif value.value is None:
                self.fault("missing-value", here, f"'{key}' has no value", hint="fill it in or delete the line")
            else:
                data[key] = self._value(value, slot, here, node)
        return data

    def fault(self, code: Code, at: Loc, message: str, value: str | None = None, hint: str | None = None) -> None:
        """Report an error at a value."""
        self.places.add(at)
        self.found.append(Diagnostic("error", code, message, self.document.place(at), value=value, hint=hint))

    def _value(self, node: Node, slot: Slot, at: Loc, parent: Node) -> Any:
        if not slot.many:
            return self._one(node, slot, at, parent)
        if node.kind != "list":
            hint = f"write [{node.text}]" if node.kind == "scalar" else "start each entry with a dash"
            self.fault("bad-value", at, "expected a list", node.text or None, hint)
            return None
        return [self._one(item, slot, (*at, number), parent) for number, item in enumerate(node.value)]

    def _one(self, node: Node, slot: Slot, at: Loc, parent: Node) -> Any:
        if slot.record is not None:
            return self.record(node, slot.record, at)
        if node.kind != "scalar":
            self.fault("bad-value", at, f"expected one value, not a {node.kind}")
            return None
        if slot.mark is not None and node.text not in slot.words:
            return self._number(node, slot, at, parent)
        if slot.text and not isinstance(node.value, bool):
            return node.text  # ids and names are text: 7 is "7", 007 is "007"
        return node.value

    def _number(self, node: Node, slot: Slot, at: Loc, parent: Node) -> Any:
        mark = slot.mark
        if isinstance(mark, Bounds):
            if isinstance(node.value, (int, float)) and not isinstance(node.value, bool):
                if not mark.low <= node.value <= mark.high:
                    message = f"{at[-1]} {node.text} is out of range: expected {mark.expected}"
                    self.fault("out-of-range", at, message, node.text)
                    return None
            return node.value
        if isinstance(mark, CapacityOfKind):
            return self._capacity(node, at, parent)
        if not isinstance(mark, Measure):
            return node.value
        return self._measure(node, mark, slot.words, at)

    def _measure(self, node: Node, mark: Measure, words: tuple[str, ...], at: Loc) -> Any:
        key, unit = at[-1], mark.unit(self.system)
        expected = mark.expected(self.system) + (f", or {' or '.join(words)}" if words else "")
        if isinstance(node.value, bool):
            self.fault("bad-value", at, f"{key} is not a number: {node.text}; expected {expected}", node.text)
            return None
        try:
            amount = parse_amount(node.text)
            written = amount.unit or unit
            inside = convert(amount.number, written, mark.inside)
        except NoAmountError as error:
            message = f"{key} '{node.text}' {error.message}; expected {expected}"
            self.fault("bad-value", at, message, node.text, _near_word(node.text, words) or error.hint)
            return None
        except ValueError:
            kind = UNITS[mark.inside][0]
            self.fault("wrong-unit", at, f"{key} '{node.text}' is no {kind}; expected {expected}", node.text)
            return None
        if not mark.low <= inside <= mark.high:
            shown = node.text if amount.unit else f"{node.text} {unit}"
            message = f"{key} {shown} is out of range: expected {expected}"
            self.fault("out-of-range", at, message, node.text, _unit_slip(amount.number, mark, unit, bool(amount.unit)))
            return None
        return inside

    def _capacity(self, node: Node, at: Loc, parent: Node) -> Any:
        kind = parent.value.get("kind")
        known = capacities().get(cast(Kind, kind.text)) if kind else None
        if known is None:
            return None  # the kind is reported
        if known.capacity is None:
            self.fault("bad-value", at, f"a {kind.text} has no capacity", node.text, "delete this key")
            return None
        return self._measure(node, known.measure, (), at)

    def _unknown(self, key: str, at: Loc, known: tuple[str, ...], node: Node) -> None:
        near = difflib.get_close_matches(key, [k for k in known if k not in node.value], 1, 0.6)
        hint = f"did you mean '{near[0]}'?" if near else f"keys that may stand here: {', '.join(known)}"
        where = self.document.key_place(at)
        self.found.append(Diagnostic("error", "unknown-key", f"unknown key '{key}'", where, value=key, hint=hint))


def _near_word(text: str, words: tuple[str, ...]) -> str | None:
    near = difflib.get_close_matches(text.casefold(), words, 1, 0.6)
    return f"did you mean '{near[0]}'?" if near else None


def _unit_slip(number: Any, mark: Measure, unit: str, has_unit: bool) -> str | None:
    if has_unit:
        return None
    for other in ("cm", "in", "m", "ft", "mm", "km"):
        if other != unit and UNITS[other][0] == UNITS[mark.inside][0]:
            inside = convert(number, other, mark.inside)
            if mark.low <= inside <= mark.high:
                here = plain(round(convert(number, other, unit), 1))
                return f"if it was measured in {other}, write '{plain(float(number))} {other}' ({here} {unit})"
    return None
