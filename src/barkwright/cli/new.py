"""`new`: an inventory to begin with, empty or made from a table of trees."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import click

from barkwright.cli import files, voice
from barkwright.cli.errors import DONE, WRONG_USE, StopError
from barkwright.cli.options import gather, shared
from barkwright.cli.site import refuse, show


@click.command(short_help="Start an inventory, empty or from a table of trees.")
@click.option("--from", "table", metavar="FILE.csv", help="A table: species, dbh, height; or a public tree table.")
@click.option("--name", metavar="TEXT", help="What the place is called.")
@click.option("--latitude", "--lat", type=float, metavar="DEGREES", help="North of the equator; needed with --from.")
@click.option("--longitude", "--lon", type=float, metavar="DEGREES", help="West is negative; needed with --from.")
@click.option("--elevation", type=float, metavar="NUMBER", help="Above the sea: feet, or m with --units metric.")
@click.option("--ask/--no-ask", default=None, help="Ask at a terminal, or never.  [default: ask]")
@shared(formats=("text",))
def new(
    table: str | None,
    name: str | None,
    latitude: float | None,
    longitude: float | None,
    elevation: float | None,
    ask: bool | None,
    **options: Any,
) -> int:
    """Start an inventory by questions at a terminal; elsewhere print one that asks line by line.

    With --from it lists the spruce of a table, and in comments what was left out and why. Nothing is overwritten:
    -o takes the name of a new file.
    """
    from barkwright.intake.starter import Start, starter_text

    asked = gather(**options)
    if asked.output not in ("-", "") and os.path.exists(asked.output):
        raise StopError(f"{asked.output!r} is there already", WRONG_USE, "choose another name; nothing was written")
    if table is None and ask is not False:
        from barkwright.cli.asking import at_terminal
        from barkwright.cli.asking_new import new_by_questions

        if at_terminal():
            given = {"name": name, "latitude": latitude, "longitude": longitude, "elevation": elevation}
            return new_by_questions(given, asked)
    if name is None and table is not None:
        name = Path(table).stem.replace("_", " ").strip(" -") or "trees of a table"
    start = Start(name, latitude, longitude, "metric" if asked.units == "metric" else "imperial", elevation)
    if table is None:
        files.write(starter_text(start), asked.output)
        return DONE
    if latitude is None or longitude is None:
        hint = "add --latitude and --longitude of the place, in degrees: --latitude 43.5 --longitude -110.2"
        raise StopError("a table of trees does not say where the place is", WRONG_USE, hint)
    from barkwright.intake.fieldsheet import inventory_text
    from barkwright.yamldoc import decode

    content, shown = files.read_bytes(table)
    rows, found = decode(content, shown)
    if rows is None:
        raise refuse(found, asked, "new", "")
    text, found = inventory_text(rows, shown, start, asked.on)
    if text is None:
        raise refuse(found, asked, "new", rows)
    show([one for one in found if one.severity != "note"], asked)
    left = sum(one.code == "left-out" for one in found)
    if left:
        voice.say(f"{left} rows were left out; the comments at the end of the inventory say why.")
    files.write(text, asked.output)
    return DONE
