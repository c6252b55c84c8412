"""The JSON Schema of the inventory file, for editors and other programs."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from barkwright.datafile import load
from barkwright.inventory.kinds import capacities
from barkwright.inventory.measure import Bounds, CapacityOfKind, Measure
from barkwright.inventory.model import Inventory
from barkwright.inventory.part import Record
from barkwright.inventory.slots import Slot, records, slots

DIALECT = "https://json-schema.org/draft/2020-12/schema"
ID = "urn:barkwright:inventory:1"
# A number with its unit, or a bare one in quotes, as `units.parse_amount` reads it.
AMOUNT = r"^\s*[-+]?[0-9½¼¾⅛⅜⅝⅞.]"
_DAY = r"^[0-9]{4}-[0-9]{2}-[0-9]{2}$"


def inventory_schema() -> dict[str, Any]:
    """The schema (draft 2020-12) of an inventory, with units and ranges; it knows no checks across records."""
    parts = {record.__name__: record for _, record in records(Inventory)}
    return {
        "$schema": DIALECT,
        "$id": ID,
        "title": "barkwright inventory",
        "$ref": "#/$defs/Inventory",
        "$defs": {name: _part(parts[name]) for name in sorted(parts)},
    }


def key_meanings() -> dict[str, dict[str, str]]:
    """What every key means, by part and key."""
    return load("inventory/keys.yaml", dict[str, dict[str, str]])


def _part(record: type[Record]) -> dict[str, Any]:
    said = key_meanings()[record.__name__]
    known = slots(record)
    schema: dict[str, Any] = {
        "type": "object",
        "description": re.sub(r"\s+", " ", record.__doc__ or "").strip(),
        "additionalProperties": False,
        "properties": {key: _key(said[key], slot) for key, slot in known.items()},
    }
    required = [key for key, slot in known.items() if slot.required]
    return schema | ({"required": required} if required else {})


def _key(said: str, slot: Slot) -> dict[str, Any]:
    options = list(_options(slot))
    one = options[0] if len(options) == 1 else {"anyOf": options}
    value = {"type": "array", "items": one} if slot.many else one
    if slot.record is not None and not slot.many:
        return {"description": said, "allOf": [value]}
    return {"description": f"{said}{_unit(slot)}"} | value


def _options(slot: Slot) -> Iterator[dict[str, Any]]:
    if slot.record is not None:
        yield {"$ref": f"#/$defs/{slot.record.__name__}"}
    if isinstance(slot.mark, (Measure, CapacityOfKind)):
        yield {"type": "number"}
        yield {"type": "string", "pattern": AMOUNT}
    else:
        bounds = slot.mark
        limits = {"minimum": bounds.low, "maximum": bounds.high} if isinstance(bounds, Bounds) else {}
        for kind, name in _NAMES.items():
            if any(one.__name__ == kind for one in slot.types):
                yield {"type": name} | (limits if name in ("number", "integer") else {})
        if any(one.__name__ in ("Decimal", "str") for one in slot.types):
            yield {"type": "number"} if str in slot.types else {"type": "string", "pattern": r"^[0-9]+(\.[0-9]+)?$"}
        if any(one.__name__ == "date" for one in slot.types):
            yield {"type": "string", "format": "date", "pattern": _DAY}
    if slot.words == ("1",):
        yield {"const": 1}
    elif slot.words:
        yield {"enum": list(slot.words)}


_NAMES = {"bool": "boolean", "int": "integer", "float": "number", "Decimal": "number", "str": "string"}


def _unit(slot: Slot) -> str:
    mark = slot.mark
    if isinstance(mark, Measure):
        if mark.imperial == mark.metric:
            return f"; {mark.imperial}, {mark.expected('imperial')}"
        both = f"{mark.expected('imperial')} or {mark.expected('metric')}"
        return f"; a bare number is in {mark.imperial} ({mark.metric} in a metric file); {both}"
    if isinstance(mark, Bounds):
        return f"; {mark.expected}"
    if isinstance(mark, CapacityOfKind):
        told = [f"{kind}: {one.capacity} [{one.unit}]" for kind, one in capacities().items() if one.capacity]
        return "; " + ", ".join(told)
    return ""
