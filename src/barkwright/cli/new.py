"""`new`: an inventory to begin with, by questions, empty or from a field sheet; trees added to one; blank sheets."""

from __future__ import annotations

import os
from typing import Any

import click

from barkwright.cli import files
from barkwright.cli.errors import DONE, WRONG_USE, StopError
from barkwright.cli.options import Shared, apart, gather, shared

_WITH_SHEET = ("into", "maps", "species", "worksheet", "yes")


@click.command(short_help="Start an inventory, by questions or from a field sheet; print a blank sheet.")
@click.option("--from", "table", metavar="FILE", help="A field sheet: CSV or Excel, whatever its columns are called.")
@click.option("--into", metavar="SITE", help="Add the trees of the field sheet to this inventory.")
@click.option(
    "--map",
    "maps",
    multiple=True,
    metavar="COLUMN=MEANING[:UNIT]",
    help="What a column is: 'Omkrets=girth:cm'; 'X=-' is not read. Again for more.",
)
@click.option("--species", metavar="NAME", help="Kind of spruce where the field sheet does not say it.")
@click.option("--worksheet", metavar="NAME", help="Worksheet of a workbook.  [default: the one most like trees]")
@click.option("--yes", "-y", is_flag=True, help="Take the field sheet as it is understood, without asking.")
@click.option("--sheet", "blank", is_flag=True, help="A blank field sheet: --format html for paper, csv for a phone.")
@click.option("--rows", type=click.IntRange(1, 200), metavar="NUMBER", help="Trees on it.  [default: 20]")
@click.option("--name", metavar="TEXT", help="What the place is called.")
@click.option("--latitude", "--lat", type=float, metavar="DEGREES", help="North of the equator; needed with --from.")
@click.option("--longitude", "--lon", type=float, metavar="DEGREES", help="West is negative; needed with --from.")
@click.option("--elevation", type=float, metavar="NUMBER", help="Above the sea: feet, or m with --units metric.")
@click.option("--ask/--no-ask", default=None, help="Ask at a terminal, or never.  [default: ask]")
@shared(formats=("text", "html", "csv"))
def new(ask: bool | None, **options: Any) -> int:
    """Start an inventory by questions at a terminal; elsewhere print one that asks line by line.

    With --from it lists the spruce of a field sheet, and in comments what was left out and why. What its columns mean
    is shown and asked once; without a terminal only what is certain goes through. --into adds the trees to an
    inventory, changes nothing else in it and keeps it beside as it was. Otherwise nothing is overwritten: -o takes the
    name of a new file.
    """
    from barkwright.intake.starter import Start, starter_text

    given, common = apart(options)
    asked = gather(**common)
    _agree(given, asked)
    if not given["into"] and asked.output not in ("-", "") and os.path.lexists(asked.output):
        raise StopError(f"{asked.output!r} is there already", WRONG_USE, "choose another name; nothing was written")
    place = {key: given[key] for key in ("name", "latitude", "longitude", "elevation")}
    if given["table"] is None and not given["blank"] and ask is not False:
        from barkwright.cli.asking import at_terminal
        from barkwright.cli.asking_new import new_by_questions

        if at_terminal():
            return new_by_questions(place, asked)
    units: Any = "metric" if asked.units == "metric" else "imperial"
    start = Start(place["name"], place["latitude"], place["longitude"], units, place["elevation"])
    if given["blank"]:
        return _blank(start.units, given["rows"] or 20, start.name, asked)
    if given["table"] is None:
        files.write(starter_text(start), asked.output)
        return DONE
    from barkwright.cli.from_sheet import Wanted, from_sheet

    wanted = Wanted(given["table"], ask is not False, **{key: given[key] for key in _WITH_SHEET})
    return from_sheet(wanted, start, asked)


def _agree(given: dict[str, Any], asked: Shared) -> None:
    """Refuse options that do not go together."""
    add = "add --sheet for a blank field sheet"
    if given["blank"] and given["table"]:
        raise StopError("--sheet makes a blank sheet, --from reads a filled one", WRONG_USE, "take one of them")
    if given["rows"] is not None and not given["blank"]:
        raise StopError("--rows goes with --sheet", WRONG_USE, add)
    if asked.format != "text" and not given["blank"]:
        raise StopError(f"--format {asked.format} goes with --sheet", WRONG_USE, add)
    alone = [f"--{key.removesuffix('s') if key == 'maps' else key}" for key in _WITH_SHEET if given[key]]
    if alone and given["table"] is None:
        raise StopError(f"{alone[0]} goes with --from", WRONG_USE, "name the field sheet: --from FILE")
    if given["table"] is not None and not given["into"] and None in (given["latitude"], given["longitude"]):
        hint = "add --latitude and --longitude of the place, in degrees: --latitude 43.5 --longitude -110.2"
        raise StopError("a table of trees does not say where the place is", WRONG_USE, hint)


def _blank(units: str, rows: int, place: str | None, asked: Shared) -> int:
    from barkwright.cli.site import as_table
    from barkwright.output.blank_sheet import blank_csv, blank_html, blank_text

    if asked.format == "csv":
        files.write(as_table(blank_csv(units), asked), asked.output)
    elif asked.format == "html":
        files.write(blank_html(units, rows, place), asked.output)
    else:
        files.write(blank_text(units, rows, place), asked.output)
    return DONE
