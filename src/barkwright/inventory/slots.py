"""The shape of the inventory, read off its model: which keys each part has, and what may stand under them."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from functools import cache
from typing import Any, Literal, get_args, get_origin

from barkwright.inventory.measure import Bounds, CapacityOfKind, Measure
from barkwright.inventory.part import Record
from barkwright.record import dataclass
from barkwright.yamldoc import Loc

Mark = Measure | Bounds | CapacityOfKind


@dataclass(frozen=True, slots=True)
class Slot:
    """What may stand under a key."""

    record: type[Record] | None
    many: bool  # a list of them
    types: frozenset[type]  # of str, bool, int, float, Decimal, date
    words: tuple[str, ...]
    mark: Mark | None
    required: bool

    def expected(self, system: str) -> str:
        """What may stand here, for people: "one of white, black", "a day like 2026-10-31"."""
        if self.record is not None:
            needed = [key for key, slot in slots(self.record).items() if slot.required]
            return ("a list of entries" if self.many else "a part") + (f" with {', '.join(needed)}" if needed else "")
        said = [text for kind, text in _SAID.items() if kind in self.types]
        if isinstance(self.mark, Measure):
            said = [f"{self.mark.expected(system)}"]
        elif isinstance(self.mark, Bounds) and said:
            said = [f"{said[0]}, {self.mark.expected}"]
        if self.words:
            one = "" if len(self.words) == 1 or said else "one of "
            said.append(one + ", ".join(self.words))
        return ", or ".join(said)


_SAID: dict[type, str] = {
    bool: "true or false",
    date: "a day like 2026-10-31",
    int: "a whole number",
    float: "a number",
    Decimal: "an amount of money like 310 or 310.50",
    str: "text",
}


@cache
def slots(record: type[Record]) -> dict[str, Slot]:
    """The keys of a part of the inventory, as written in the file, in order."""
    return {
        field.alias or name: _slot(field.annotation, field.metadata, field.is_required())
        for name, field in record.model_fields.items()
        if not field.exclude  # what no file holds
    }


def slot_at(record: type[Record], at: Loc) -> Slot | None:
    """The slot of the value at `at` below a part of type `record`; None where no such key exists."""
    part: type[Record] | None = record
    found: Slot | None = None
    for step in at:
        if isinstance(step, int):
            continue
        found = slots(part).get(step) if part is not None else None
        if found is None:
            return None
        part = found.record
    return found


def records(record: type[Record], under: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], type[Record]]]:
    """Every part of the inventory with the keys that lead to it."""
    yield under, record
    for key, slot in slots(record).items():
        if slot.record is not None:
            yield from records(slot.record, (*under, key))


def _slot(annotation: Any, metadata: list[Any], required: bool) -> Slot:
    parts = list(_options(annotation))
    many = any(get_origin(part) is tuple for part in parts)
    options = [one for part in parts for one in (_options(get_args(part)[0]) if get_origin(part) is tuple else (part,))]
    record = next((one for one in options if isinstance(one, type) and issubclass(one, Record)), None)
    words = tuple(str(word) for one in options if get_origin(one) is Literal for word in get_args(one))
    mark = next((one for one in metadata if isinstance(one, Mark)), None)
    return Slot(record, many, frozenset(one for one in options if one in _SAID), words, mark, required)


def _options(annotation: Any) -> Iterator[Any]:
    if get_origin(annotation) in (None, tuple, Literal):
        if annotation is not type(None):
            yield annotation
    else:
        for part in get_args(annotation):
            yield from _options(part)
