"""`tree`: the whole job for one tree, from options instead of a file."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import click

from barkwright.cli import files
from barkwright.cli.options import ORDER, Shared, apart, gather, shared, table_of, table_option
from barkwright.cli.site import known_names, print_order, refuse, sound
from barkwright.cli.weather import beside, with_weather

if TYPE_CHECKING:
    from barkwright.intake.sheet import Sheet

OPTIONS: tuple[tuple[tuple[str, ...], dict[str, Any]], ...] = (
    (("--species",), {"metavar": "NAME", "help": "white, engelmann, sitka, black ...  [required]"}),
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
    (("--latitude", "--lat"), {"metavar": "DEGREES", "help": "North of the equator.  [required]"}),
    (("--longitude", "--lon"), {"metavar": "DEGREES", "help": "West is negative.  [required]"}),
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

HINT = "Describe the tree by options, or give the command at a terminal: then it asks."
REQUIRED = ("species", "latitude", "longitude")


def _all_options(command: Callable[..., Any]) -> Callable[..., Any]:
    for names, settings in reversed(OPTIONS):
        command = click.option(*names, **settings)(command)
    return command


@click.command(short_help="The whole job for one tree, without a file.")
@_all_options
@click.option("--ask/--no-ask", default=None, help="Ask for the rest, or never.  [default: ask what is required]")
@table_option
@shared(formats=ORDER)
def tree(table: str | None, save: str | None, ask: bool | None, **options: Any) -> int:
    """Print the work order for one tree that is described by options, or by answers to questions.

    At a terminal it asks for what is missing, one thing at a time. Bare sizes are inches and feet, or cm and m with
    --units metric; a size may carry its own unit.
    """
    from barkwright.intake.described import one_tree_sheet
    from barkwright.intake.sheet import OPTIONS_FILE, SpecError, written
    from barkwright.inventory.reading import read_inventory
    from barkwright.output.view import FROM_OPTIONS

    answers, common = apart(options)
    asked = gather(**common)
    rows = table_of(table, asked)
    made_from, keep = save or FROM_OPTIONS, save
    asking = _asks(ask, answers)
    if asking:
        from barkwright.cli.asking import not_yet, say_next
    try:
        sheet = one_tree_sheet(answers, asked.units or "imperial")
    except SpecError as fault:
        raise click.BadParameter(str(fault), param_hint=f"'{fault.option}'") from None
    if asking:
        sheet, made_from = _asked_for(_given(answers), asked, save)
        keep = made_from
    inventory, found = read_inventory(sheet.text, OPTIONS_FILE, asked.on, known_names())
    found = sheet.by_option(found)
    if inventory is None:
        if asking:
            return not_yet(made_from)
        raise refuse(found, asked, "tree", "")
    if answers["weather"]:
        inventory, said = with_weather(inventory, sheet.text, OPTIONS_FILE, answers["weather"])
        found = sound((*found, *sheet.by_option(said)), asked, "tree")
    if keep is not None and (answers["weather"] or not asking):
        kept, faults = beside(answers["weather"], keep)
        files.write(sheet.with_line("  units:", f"  weather: {written(kept)}" if kept else None), keep)
        found = (*found, *faults)
    code = print_order(inventory, found, made_from, asked, "tree", keep, table=rows)
    if asking:
        say_next(made_from)
    return code


def _asks(ask: bool | None, answers: dict[str, Any]) -> bool:
    """Is somebody to be asked? Only at a terminal; without being told to, only where something required is missing."""
    from barkwright.cli.asking import at_terminal

    missing = [name for name in REQUIRED if answers[name] is None]
    if ask is not False and (ask or missing) and at_terminal():
        return True
    if missing:
        context = click.get_current_context()
        option = next(one for one in context.command.params if one.name == missing[0])
        raise click.MissingParameter(HINT, context, option)
    return False


def _given(answers: dict[str, Any]) -> dict[str, Any]:
    """The options that were given, without those that stand there by default."""
    source, context = click.core.ParameterSource, click.get_current_context()
    return {
        name: value
        for name, value in answers.items()
        if value is not None and context.get_parameter_source(name) not in (source.DEFAULT, source.DEFAULT_MAP)
    }


def _asked_for(given: dict[str, Any], asked: Shared, save: str | None) -> tuple[Sheet, str]:
    from barkwright.cli.asking import ask_all
    from barkwright.intake.interview import Interview

    units = asked.units or "imperial"
    _, sheet, name = ask_all(Interview("tree", asked.on, units, given), save)
    return sheet, name
