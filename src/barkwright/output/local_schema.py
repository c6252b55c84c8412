"""The JSON Schema of a file of local knowledge, for editors: made from the same bounds and lists as the checks."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, get_args

from barkwright.costs.proxies import KEYS as MACHINE_KEYS
from barkwright.costs.proxies import MOST as MOST_MONEY
from barkwright.costs.proxies import YEARS
from barkwright.inventory.model import Kind, Species
from barkwright.ownentry import BASES, LONGEST
from barkwright.season.ownregions import KEYS as REGION_KEYS
from barkwright.season.ownregions import MOST_POINTS
from barkwright.stem.ownspecies import NUMBERS, PARAMETERS
from barkwright.stem.ownwords import NAMES
from barkwright.treatment.rates import LEAST, MOST, rate_book
from barkwright.treatment.rulebook import OwnRuleRecord

Schema = dict[str, Any]
TEXT: Schema = {"type": "string", "minLength": 1, "maxLength": LONGEST}
SAYS: Schema = {
    "source": {**TEXT, "description": "where it comes from, in your own words"},
    "basis": {"enum": list(BASES), "description": "in place of a source: ours is your own knowledge"},
    "note": TEXT,
}
RESTS = [{"required": ["source"]}, {"required": ["basis"]}]  # one of the two


def local_schema() -> Schema:
    """The schema of a file that a site names under `local`."""
    rules = OwnRuleRecord.model_json_schema(by_alias=True)
    parts: Schema = {
        "rules": {
            "type": "array",
            "description": "rules of your own: another id adds one, the id of a shipped rule takes its place",
            "items": {key: value for key, value in rules.items() if key != "$defs"},
        },
        "regions": {"type": "array", "description": "flight calendars", "items": _region()},
        "species": _by_name({name: _species() for name in get_args(Species)}, "only the fields given are replaced"),
        "rates": _by_name(_figures("rates"), "low, likely and high in the unit of the shipped rate"),
        "settings": _by_name(_figures("settings"), "a value in the unit of the shipped one"),
        "machine_rates": {
            "type": "object",
            "description": "what an hour of a machine costs its owner, by the code of the rate",
            "additionalProperties": _machine_rate(),
        },
    }
    return {
        "$id": "barkwright:local:1",
        "title": "Local knowledge of a barkwright site",
        "$defs": rules.get("$defs", {}),
        **_object(parts, ()),
    }


def _object(properties: Mapping[str, Any], required: tuple[str, ...]) -> Schema:
    found: Schema = {"type": "object", "properties": dict(properties), "additionalProperties": False}
    return {**found, "required": list(required)} if required else found


def _entry(properties: Mapping[str, Any], required: tuple[str, ...]) -> Schema:
    return {**_object({**properties, **SAYS}, required), "anyOf": RESTS}


def _by_name(entries: Mapping[str, Any], description: str) -> Schema:
    return {**_object(entries, ()), "description": description}


def _number(least: float, most: float, description: str) -> Schema:
    return {"type": "number", "minimum": least, "maximum": most, "description": description}


def _region() -> Schema:
    day = {"type": "string", "pattern": "^[0-9]{2}-[0-9]{2}$", "description": "month-day, like 05-21"}
    kinds: Schema = {
        "id": {"type": "string", "pattern": "^[a-z0-9][a-z0-9-]*$"}, "name": TEXT, "words": TEXT, "onset": day,
        "end": day, "points": {
            "type": "array", "maxItems": MOST_POINTS, "description": "towns that find it: [latitude, longitude]",
            "items": {"type": "array", "items": {"type": "number"}, "minItems": 2, "maxItems": 2},
        },
    }  # fmt: skip
    return _entry({key: kinds[key] for key in REGION_KEYS}, ("id", "name", "words", "onset", "end"))


def _species() -> Schema:
    fields: Schema = {
        key: _number(least, most, f"{NAMES[key]}: {unit}") for key, (least, most, unit) in NUMBERS.items()
    }
    fields["height"] = _object(
        {
            "form": {"enum": list(PARAMETERS)},
            "p": {"type": "array", "items": {"type": "number"}, "minItems": 2, "maxItems": 3},
        },
        ("form", "p"),
    )
    return _entry(fields, ())


def _figures(part: str) -> Schema:
    book = rate_book()
    needed = ("low", "likely", "high") if part == "rates" else ("value",)
    return {
        name: _entry(
            {**{key: _number(LEAST, MOST, entry.title) for key in needed}, "unit": {"const": entry.unit}}, needed
        )
        for name, entry in (book.rates if part == "rates" else book.settings).items()
    }


def _machine_rate() -> Schema:
    kinds: Schema = {
        "kind": {"enum": list(get_args(Kind))}, "class": TEXT,
        "up_to": _number(0, MOST_MONEY, "the largest capacity that it holds for"),
        "per_hour": _number(0, MOST_MONEY, "money an hour"),
        "currency": {"type": "string", "pattern": "^[A-Z]{3}$"},
        "year": {"type": "integer", "minimum": YEARS[0], "maximum": YEARS[1]},
    }  # fmt: skip
    return _entry({key: kinds[key] for key in MACHINE_KEYS}, ("per_hour", "currency", "year"))
