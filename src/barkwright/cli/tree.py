"""`tree`: the whole job for one tree, from options instead of a file."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import click

from barkwright.cli import files
from barkwright.cli.one_tree import (
    OPTIONS_FILE,
    Sheet,
    equipment,
    flow,
    log_record,
    pairs,
    removal_record,
    words,
    written,
)
from barkwright.cli.options import ORDER, gather, shared, table_of, table_option
from barkwright.cli.site import known_names, print_order, refuse, sound
from barkwright.cli.weather import beside, with_weather

OPTIONS: tuple[tuple[tuple[str, ...], dict[str, Any]], ...] = (
    (("--species",), {"required": True, "metavar": "NAME", "help": "white, engelmann, sitka, black ..."}),
    (("--dbh",), {"metavar": "SIZE", "help": "Across, outside bark, at 4.5 ft: 16.5, or '42 cm'."}),
    (("--girth",), {"metavar": "SIZE", "help": "Or around the stem at that height."}),
    (("--diameter",), {"metavar": "SIZE", "help": "Of a stump: across the cut."}),
    (("--height",), {"metavar": "SIZE", "help": "72, or '22 m'. Estimated when left out."}),
    (("--status",), {"default": "standing", "metavar": "WORD", "help": "standing, windthrown, felled, logs or stump."}),
    (("--where",), {"help": "Where it is, in your words."}),
    (("--attacked",), {"default": "unknown", "metavar": "YEAR", "help": "Summer of the attack, unknown, or never."}),
    (("--attack",), {"metavar": "WORD", "help": "mass, strip, pitched-out or not-sure."}),
    (("--insect",), {"metavar": "WORD", "help": "spruce-beetle, engraver, other or not-sure."}),
    (("--found",), {"metavar": "LIST", "help": "Seen under the bark: larvae,pupae,adults or none."}),
    (("--looked",), {"metavar": "LIST", "help": "base,sunny,shaded; down wood: top,side,bottom."}),
    (("--exit-holes",), {"metavar": "WORD", "help": "none, some or many."}),
    (("--crown",), {"metavar": "WORD", "help": "green, yellow-green, dropping or bare."}),
    (("--seen",), {"metavar": "DATE", "help": "Day of that look."}),
    (("--near",), {"multiple": True, "metavar": "WHAT=FAR", "help": "line=out-of-reach, building=80ft ..."}),
    (("--hazard",), {"multiple": True, "metavar": "WORD", "help": "lean, hung-up, dead-top, decay, root-plate ..."}),
    (("--removal",), {"metavar": "BY,HOURS", "help": "As a professional said: crane,6 or fell,3,900 with the price."}),
    (("--not-before",), {"metavar": "DATE", "help": "First day on which it may come down."}),
    (("--felled-on",), {"metavar": "DATE", "help": "Day it was felled."}),
    (("--down-since",), {"metavar": "DATE", "help": "Day it blew down."}),
    (("--stood-at-attack",), {"type": click.Choice(("true", "false", "unknown")), "help": "Did it stand then?"}),
    (("--log",), {"multiple": True, "metavar": "B,T,L", "help": "A measured log: butt, top, length. Repeat."}),
    (("--latitude", "--lat"), {"required": True, "metavar": "DEGREES", "help": "North of the equator."}),
    (("--longitude", "--lon"), {"required": True, "metavar": "DEGREES", "help": "West is negative."}),
    (("--elevation",), {"metavar": "SIZE", "help": "Above the sea."}),
    (("--region",), {"metavar": "NAME", "help": "Flight calendar; the nearest is taken and named."}),
    (("--weather",), {"multiple": True, "metavar": "PATH", "help": "Daily weather files or folders. Repeat."}),
    (("--weather-units",), {"metavar": "WORD", "help": "imperial or metric, where a file does not say."}),
    (("--weather-station",), {"metavar": "NAME", "help": "Id or name, where the files hold several."}),
    (("--flight-dates",), {"metavar": "WORD", "help": "weather or calendar: which rule dates the flights."}),
    (("--nearest-live-spruce",), {"metavar": "FAR", "help": "From the working spot."}),
    (("--machine-access/--no-machine-access",), {"default": None, "help": "Can a machine reach the wood?"}),
    (("--diggable/--not-diggable",), {"default": None, "help": "Can one dig there?"}),
    (("--burn-permit",), {"metavar": "WORD", "help": "unknown, held, not-needed or refused."}),
    (("--burn-window",), {"metavar": "FROM..TO", "help": "When burning is open: 2026-10-15..2027-03-31."}),
    (("--people",), {"default": "2", "metavar": "NUMBER", "help": "Hands.  [default: 2]"}),
    (("--hours-per-day",), {"default": "6", "metavar": "HOURS", "help": "On site, each.  [default: 6]"}),
    (("--days",), {"default": "sat,sun", "metavar": "LIST", "help": "Days of work.  [default: sat,sun]"}),
    (("--skills",), {"default": "saw", "metavar": "LIST", "help": "saw,felling,climbing,machine ...  [default: saw]"}),
    (("--rate",), {"metavar": "MONEY", "help": "Pay per person-hour; unpaid when left out."}),
    (("--own",), {"multiple": True, "metavar": "TOOL", "help": "You have: drawknife, 'chipper 6 in'. Repeat."}),
    (("--rent",), {"multiple": True, "metavar": "MACHINE", "help": "To rent: 'chipper 9 in 310/day'. Repeat."}),
    (("--start",), {"metavar": "DATE", "help": "First day of work."}),
    (("--budget",), {"metavar": "MONEY", "help": "What you can pay at most."}),
    (("--currency",), {"metavar": "CODE", "help": "Such as USD or CAD."}),
    (("--avoid",), {"metavar": "LIST", "help": "Methods not wanted: burn,bury ..."}),
    (("--prefer",), {"metavar": "LIST", "help": "Methods liked: split ..."}),
    (("--save",), {"metavar": "FILE", "help": "Also write these answers to FILE, as an inventory for 'order'."}),
)  # fmt: skip


SITE_LINES = 4  # of the sheet, down to the units


def _all_options(command: Callable[..., Any]) -> Callable[..., Any]:
    for names, settings in reversed(OPTIONS):
        command = click.option(*names, **settings)(command)
    return command


@click.command(short_help="The whole job for one tree, without a file.")
@_all_options
@table_option
@shared(formats=ORDER)
def tree(
    on: Any,
    format_: str,
    output: str,
    color: str | None,
    units: str | None,
    table: str | None,
    save: str | None,
    **answers: Any,
) -> int:
    """Print the work order for one tree that is described by options.

    Bare sizes are inches and feet, or cm and m with --units metric; a size may carry its own unit.
    """
    from barkwright.inventory.reading import read_inventory
    from barkwright.output.view import FROM_OPTIONS

    asked = gather(on, format_, output, color, units)
    rows = table_of(table, asked)
    sheet = inventory_sheet(answers, asked.units or "imperial")
    inventory, found = read_inventory(sheet.text, OPTIONS_FILE, asked.on, known_names())
    found = sheet.by_option(found)
    if inventory is None:
        raise refuse(found, asked, "tree", "")
    if answers["weather"]:
        inventory, said = with_weather(inventory, sheet.text, OPTIONS_FILE, answers["weather"])
        found = sound((*found, *sheet.by_option(said)), asked, "tree")
    if save is not None:
        kept, faults = beside(answers["weather"], save)
        files.write(sheet.with_line(SITE_LINES, f"  weather: {written(kept)}" if kept else None), save)
        found = (*found, *faults)
    return print_order(inventory, found, save or FROM_OPTIONS, asked, "tree", save, table=rows)


def inventory_sheet(answers: dict[str, Any], units: str) -> Sheet:
    """The options as an inventory."""
    sheet = Sheet()
    sheet.add("barkwright: 1")
    _site(sheet, answers, units)
    _tree(sheet, answers)
    _means(sheet, answers)
    return sheet


def _site(sheet: Sheet, answers: dict[str, Any], units: str) -> None:
    sheet.add("site:")
    sheet.add("  name: one tree")
    sheet.add(f"  units: {units}")
    for key in (
        "latitude",
        "longitude",
        "elevation",
        "region",
        "weather_units",
        "weather_station",
        "flight_dates",
        "nearest_live_spruce",
        "machine_access",
    ):
        sheet.put(2, key, answers[key], _name(key))
    if answers["diggable"] is not None:
        sheet.add("  ground:")
        sheet.put(4, "diggable", answers["diggable"], "--diggable")
    if answers["burn_permit"] is not None or answers["burn_window"] is not None:
        sheet.add("  burning:")
        sheet.put(4, "permit", answers["burn_permit"], "--burn-permit")
        if answers["burn_window"] is not None:
            first, _, last = answers["burn_window"].partition("..")
            sheet.add(f"    windows: [{flow({'from': first, 'to': last})}]", "--burn-window")


def _tree(sheet: Sheet, answers: dict[str, Any]) -> None:
    sheet.add("trees:")
    sheet.add("  - id: T1")
    for key in (
        "species",
        "status",
        "where",
        "dbh",
        "girth",
        "diameter",
        "height",
        "attacked",
        "attack",
        "felled_on",
        "down_since",
    ):
        sheet.put(4, key, answers[key], _name(key))
    stood = answers["stood_at_attack"]
    sheet.put(4, "stood_at_attack", {"true": True, "false": False}.get(stood, stood), "--stood-at-attack")
    found = {
        "insect": (answers["insect"], "--insect"), "stages": (words(answers["found"]), "--found"),
        "looked": (words(answers["looked"]), "--looked"), "exit_holes": (answers["exit_holes"], "--exit-holes"),
        "crown": (answers["crown"], "--crown"), "seen": (answers["seen"], "--seen"),
    }  # fmt: skip
    if any(value is not None for value, _ in found.values()):
        sheet.add("    found:")
        for key, (value, option) in found.items():
            sheet.put(6, key, value, option)
    near = pairs(answers["near"], "--near")
    if near:
        sheet.add("    near:", "--near")
        for key, value in near:
            sheet.put(6, key, value, "--near")
    hazards = [word for value in answers["hazard"] for word in words(value) or ()]
    sheet.put(4, "hazards", hazards, "--hazard")
    if answers["removal"] is not None:
        sheet.add(f"    removal: {flow(removal_record(answers['removal']))}", "--removal")
    sheet.put(4, "not_before", answers["not_before"], "--not-before")
    if answers["log"]:
        sheet.add("    logs:", "--log")
        for spec in answers["log"]:
            sheet.add(f"      - {flow(log_record(spec))}", "--log")


def _means(sheet: Sheet, answers: dict[str, Any]) -> None:
    sheet.add("crew:")
    sheet.add("  - name: the people on site")
    sheet.put(4, "people", answers["people"], "--people")
    sheet.put(4, "hours_per_day", answers["hours_per_day"], "--hours-per-day")
    sheet.put(4, "days", words(answers["days"]), "--days")
    sheet.put(4, "skills", words(answers["skills"]), "--skills")
    sheet.put(4, "rate", answers["rate"], "--rate")
    sheet.put(4, "unpaid", answers["rate"] is None or None, "--rate")
    if answers["own"] or answers["rent"]:
        sheet.add("equipment:")
        for option, owned in (("own", True), ("rent", False)):
            for spec in answers[option]:
                sheet.add(f"  - {flow(equipment(spec, owned))}", f"--{option}")
    if answers["start"] is not None:
        sheet.add("calendar:")
        sheet.put(2, "start", answers["start"], "--start")
    sheet.put(0, "currency", answers["currency"], "--currency")
    if answers["budget"] is not None:
        sheet.add("limits:")
        sheet.put(2, "budget", answers["budget"], "--budget")
    if answers["avoid"] or answers["prefer"]:
        sheet.add("wishes:")
        sheet.put(2, "avoid", words(answers["avoid"]), "--avoid")
        sheet.put(2, "prefer", words(answers["prefer"]), "--prefer")


def _name(key: str) -> str:
    return "--" + key.replace("_", "-")
