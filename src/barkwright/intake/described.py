"""Options that describe a site and its trees, as an inventory."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from barkwright.intake.sheet import Sheet, equipment, flow, log_record, pairs, removal_record, words

Options = Mapping[str, Any]  # by the name of the option, as the command line hands them on; missing is None

_SITE = (
    "latitude", "longitude", "elevation", "region", "weather_units", "weather_station", "flight_dates",
    "nearest_live_spruce", "machine_access",
)  # fmt: skip
_TREE = (
    "species", "status", "where", "dbh", "girth", "diameter", "height", "attacked", "attack", "felled_on", "down_since",
)  # fmt: skip
_OPEN = {  # what is written where a line is left to be filled in
    "found": "{insect: spruce-beetle, stages: [larvae], looked: [base, sunny, shaded], seen: 2026-10-20}",
    "height": "72 ft",
}


def one_tree_sheet(options: Options, units: str) -> Sheet:
    """The options of one tree as an inventory."""
    return inventory_sheet({"name": "one tree", **options}, [options], units)


def inventory_sheet(
    site: Options,
    trees: Sequence[Options],
    units: str,
    head: Sequence[str] = (),
    beside: Mapping[str, str] | None = None,
) -> Sheet:
    """An inventory of trees on one site. `head` are lines of comment; `beside` the comments beside keys."""
    sheet = Sheet(beside=beside or {})
    for line in head:
        sheet.add(f"# {line}".rstrip())
    sheet.add("barkwright: 1")
    _site(sheet, site, units)
    sheet.add("trees:")
    for number, tree in enumerate(trees, 1):
        _tree(sheet, tree, number)
    _means(sheet, site)
    return sheet


def _site(sheet: Sheet, options: Options, units: str) -> None:
    sheet.add("site:")
    sheet.put(2, "name", options["name"], "--name")
    sheet.put(2, "units", units, "--units")
    for key in _SITE:
        _put_or_open(sheet, 2, key, options)
    diggable = options.get("diggable")
    if diggable is not None:
        sheet.add("  ground:")
        sheet.put(4, "diggable", diggable, "--diggable")
    permit, window = options.get("burn_permit"), options.get("burn_window")
    if permit is not None or window is not None:
        sheet.add("  burning:")
        sheet.put(4, "permit", permit, "--burn-permit")
        if window is not None:
            first, _, last = window.partition("..")
            sheet.add(f"    windows: [{flow({'from': first, 'to': last})}]", "--burn-window")


def _tree(sheet: Sheet, options: Options, number: int) -> None:
    sheet.add(f"  - id: T{number}")
    for key in _TREE:
        _put_or_open(sheet, 4, key, options)
    stood = options.get("stood_at_attack")
    sheet.put(4, "stood_at_attack", {"true": True, "false": False}.get(stood or "", stood), "--stood-at-attack")
    _found(sheet, options)
    near = pairs(options.get("near") or (), "--near")
    if near:
        sheet.add("    near:", "--near")
        for key, value in near:
            sheet.put(6, key, value, "--near")
    hazards = [word for value in options.get("hazard") or () for word in words(value) or ()]
    sheet.put(4, "hazards", hazards, "--hazard")
    if options.get("removal") is not None:
        sheet.add(f"    removal: {flow(removal_record(options['removal']))}", "--removal")
    sheet.put(4, "not_before", options.get("not_before"), "--not-before")
    if options.get("log"):
        sheet.add(sheet.with_comment("    logs:", "logs"), "--log")
        for spec in options["log"]:
            sheet.add(f"      - {flow(log_record(spec))}", "--log")


def _found(sheet: Sheet, options: Options) -> None:
    found = {
        "insect": options.get("insect"), "stages": words(options.get("found")), "looked": words(options.get("looked")),
        "exit_holes": options.get("exit_holes"), "crown": options.get("crown"), "seen": options.get("seen"),
    }  # fmt: skip
    if any(value is not None for value in found.values()):
        sheet.add("    found:")
        for key, value in found.items():
            sheet.put(6, key, value, {"stages": "--found"}.get(key, _name(key)))
    else:
        sheet.open(4, "found", _OPEN["found"])


def _means(sheet: Sheet, options: Options) -> None:
    rate = options.get("rate")
    sheet.add("crew:")
    sheet.add("  - name: the people on site")
    for key in ("people", "hours_per_day"):
        sheet.put(4, key, options.get(key), _name(key))
    for key in ("days", "skills"):
        sheet.put(4, key, words(options.get(key)), _name(key))
    sheet.put(4, "rate", rate, "--rate")
    sheet.put(4, "unpaid", rate is None or None, "--rate")
    if options.get("own") or options.get("rent"):
        sheet.add("equipment:")
        for option, owned in (("own", True), ("rent", False)):
            for spec in options.get(option) or ():
                sheet.add(f"  - {flow(equipment(spec, owned))}", f"--{option}")
    if options.get("start") is not None:
        sheet.add("calendar:")
        sheet.put(2, "start", options["start"], "--start")
    sheet.put(0, "currency", options.get("currency"), "--currency")
    if options.get("budget") is not None:
        sheet.add("limits:")
        sheet.put(2, "budget", options["budget"], "--budget")
    if options.get("avoid") or options.get("prefer"):
        sheet.add("wishes:")
        sheet.put(2, "avoid", words(options.get("avoid")), "--avoid")
        sheet.put(2, "prefer", words(options.get("prefer")), "--prefer")


def _put_or_open(sheet: Sheet, indent: int, key: str, options: Options) -> None:
    """The key with its value; where comments are wanted and it has to be known, a line to be filled in."""
    value = options.get(key)
    if value is None and key in _wanted(options):
        sheet.open(indent, key, _OPEN.get(key, ""))
    else:
        sheet.put(indent, key, value, _name(key))


def _wanted(options: Options) -> tuple[str, ...]:
    status = options.get("status")
    if status is None:
        return ("latitude", "longitude")
    if status in ("logs", "stump"):
        return ("diameter",) if status == "stump" else ()
    return ("height",) if options.get("dbh") else ("girth", "height")


def _name(key: str) -> str:
    return "--" + key.replace("_", "-")
