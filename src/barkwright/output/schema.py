"""JSON Schemas of the inventory and of every JSON output, made from the records themselves."""

from __future__ import annotations

import json
from typing import Any

from pydantic import TypeAdapter
from typing_extensions import TypedDict

from barkwright.inventory.model import Inventory
from barkwright.output import json_types as shapes

DIALECT = "https://json-schema.org/draft/2020-12/schema"
RESULTS: dict[str, type[Any]] = {
    "order": shapes.OrderResult,
    "tree": shapes.OrderResult,
    "tally": shapes.TallyResult,
    "flight": shapes.FlightResult,
    "check": shapes.CheckResult,
    "sources": shapes.SourcesResult,
}
NAMES = ("inventory", *RESULTS)
AMOUNT = {"type": "string", "pattern": "[0-9]", "description": "a number with its unit, such as '16.5 in' or '42 cm'"}


def schema(name: str) -> dict[str, Any]:
    """The schema of one file format; `name` is one of NAMES."""
    body = _inventory() if name == "inventory" else _envelope(name)
    return {"$schema": DIALECT, "$id": f"barkwright:{name}:1", **body}


def schema_text(name: str | None) -> str:
    """One schema, or all of them by name."""
    whole = schema(name) if name else {each: schema(each) for each in NAMES}
    return json.dumps(whole, indent=1, sort_keys=True, ensure_ascii=False) + "\n"


def _inventory() -> dict[str, Any]:
    made = Inventory.model_json_schema(by_alias=True)
    for record in [made, *made["$defs"].values()]:
        for name, prop in record.get("properties", {}).items():
            record["properties"][name] = _with_units(prop)
    return made


def _with_units(prop: dict[str, Any]) -> dict[str, Any]:
    """Where the model has a number, a file may also have text that carries its own unit."""
    if prop.get("type") == "number":
        rest = {key: value for key, value in prop.items() if key in ("default", "title", "description")}
        number = {key: value for key, value in prop.items() if key not in rest}
        return {"anyOf": [number, AMOUNT], **rest}
    options = prop.get("anyOf", [])
    if any(option.get("type") == "number" for option in options) and AMOUNT not in options:
        return {**prop, "anyOf": [*options, AMOUNT]}
    return prop


def _envelope(name: str) -> dict[str, Any]:
    keys = {
        "format": int,
        "program": shapes.ProgramRecord,
        "command": str,
        "on": str,
        "diagnostics": list[shapes.DiagnosticRecord],
        "result": RESULTS[name] | None,
    }
    envelope: Any = TypedDict("Envelope", keys)  # type: ignore[misc]
    envelope.__doc__ = f"What 'barkwright {name} --format json' prints."
    made = TypeAdapter(envelope).json_schema()
    for record in [made, *made.get("$defs", {}).values()]:
        if record.get("type") == "object":
            record["additionalProperties"] = False
    return made
