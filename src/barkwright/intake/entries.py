"""A tree of a field sheet as one line of an inventory."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from barkwright.intake.rows import Row

BARE = {"imperial": ("in", "ft"), "metric": ("cm", "m")}
_FOUND = ("insect", "stages", "looked", "exit_holes", "crown", "seen")
_NEAR = ("line", "building", "road", "neighbour")
_BARK = {"bark_left": "left_percent", "bark_condition": "condition"}
_ORDER = (
    "where",
    "tag",
    "count",
    "species",
    "status",
    "dbh",
    "girth",
    "height",
    "broken_at",
    "diameter",
    "attacked",
    "attack",
)
_DAYS = ("felled_on", "down_since", "stood_at_attack", "not_before")
_TEXTS = ("where", "tag", "note")
_PLAIN = re.compile(r"[A-Za-z][A-Za-z0-9 ._-]*[A-Za-z0-9]|[A-Za-z]|0|[1-9][0-9]*|[0-9]+-[0-9-]*[0-9]")
_WITH_UNIT = re.compile(r"([0-9.]+) (in|ft|cm|m|mm)")


def entry(row: Row, units: str) -> str:
    """The tree in the flow style of YAML: {id: T1, species: white, dbh: 16.5}. Sizes in other units carry theirs."""
    facts = {"attacked": "unknown"} | dict(row.facts)
    if "stump_diameter" in facts:
        facts["diameter"] = facts.pop("stump_diameter")
    parts = [f"id: {quoted(row.id)}"]
    parts += [f"{key}: {_value(key, facts[key], units)}" for key in _ORDER if key in facts]
    parts += [_group("found", {key: facts[key] for key in _FOUND if key in facts}, units)]
    parts += [_group("near", {key: facts[key] for key in _NEAR if key in facts}, units)]
    parts += [f"hazards: {facts['hazards']}"] if "hazards" in facts else []
    parts += [f"{key}: {facts[key]}" for key in _DAYS if key in facts]
    parts += [_group("bark", {_BARK[key]: facts[key] for key in _BARK if key in facts}, units)]
    parts += [f"logs: [{_WITH_UNIT.sub(lambda one: _sized(one, units), facts['logs'])}]"] if "logs" in facts else []
    parts += [f"note: {quoted(facts['note'])}"] if "note" in facts else []
    return f"{{{', '.join(part for part in parts if part)}}}"


def quoted(text: str) -> str:
    """The text as YAML reads it back: bare where nothing in it can mislead, else in quotes."""
    if _PLAIN.fullmatch(text) and text.casefold() not in ("true", "false", "null", "yes", "no", "on", "off"):
        return text
    return "'" + text.replace("'", "''") + "'"


def left_out_lines(rows: Sequence[Row]) -> list[str]:
    """What was left out, a line a row."""
    return [f"row {row.line}, {row.id}: {row.left_out}" for row in rows if row.left_out]


def _group(key: str, facts: Mapping[str, str], units: str) -> str:
    inside = ", ".join(f"{one}: {_value(one, text, units)}" for one, text in facts.items())
    return f"{key}: {{{inside}}}" if inside else ""


def _value(key: str, text: str, units: str) -> str:
    if key in _TEXTS:
        return quoted(text)
    whole = _WITH_UNIT.fullmatch(text)
    if whole:
        return _sized(whole, units)
    return text if re.fullmatch(r"[\w.\[\], -]+", text) else quoted(text)


def _sized(found: re.Match[str], units: str) -> str:
    return found[1] if found[2] in BARE[units] else found[0]
