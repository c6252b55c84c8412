"""JSON Schemas of the inventory and of every JSON output, made from the records themselves."""

from __future__ import annotations

import json
from typing import Any

from pydantic import TypeAdapter
from typing_extensions import TypedDict

from barkwright.inventory.schema import inventory_schema
from barkwright.output import json_done, json_follow, json_local, json_options, json_quote, json_results, json_types
from barkwright.output.local_schema import local_schema

DIALECT = "https://json-schema.org/draft/2020-12/schema"
RESULTS: dict[str, type[Any]] = {
    "order": json_results.OrderResult,
    "options": json_options.OptionsResult,
    "tree": json_results.OrderResult,
    "quote": json_quote.QuoteResult,
    "tally": json_results.TallyResult,
    "flight": json_results.FlightResult,
    "flight-after": json_follow.FollowResult,
    "why": json_results.WhyResult,
    "check": json_local.CheckResult,
    "done": json_done.DoneResult,
    "sources": json_results.SourcesResult,
}
NAMES = ("inventory", "local", *RESULTS)


def schema(name: str) -> dict[str, Any]:
    """The schema of one file format; `name` is one of NAMES."""
    if name == "inventory":
        return inventory_schema()
    if name == "local":
        return {"$schema": DIALECT, **local_schema()}
    body = _envelope(name)
    return {"$schema": DIALECT, "$id": f"barkwright:{name}:1", **body}


def schema_text(name: str | None) -> str:
    """One schema, or all of them by name."""
    whole = schema(name) if name else {each: schema(each) for each in NAMES}
    return json.dumps(whole, indent=1, sort_keys=True, ensure_ascii=False) + "\n"


def _envelope(name: str) -> dict[str, Any]:
    keys = {
        "format": int,
        "program": json_types.ProgramRecord,
        "command": str,
        "on": str,
        "diagnostics": list[json_types.DiagnosticRecord],
        "result": RESULTS[name] | None,
    }
    envelope: Any = TypedDict("Envelope", keys)  # type: ignore[misc]
    envelope.__doc__ = f"What 'barkwright {name.replace('-', ' --')} --format json' prints."
    made = TypeAdapter(envelope).json_schema()
    for record in [made, *made.get("$defs", {}).values()]:
        if record.get("type") == "object":
            record["additionalProperties"] = False
    return made
