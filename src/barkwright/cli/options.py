"""Options that several commands share, and what they turn into."""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Callable
from datetime import UTC, date, datetime
from typing import Any

import click

from barkwright.cli.errors import FAILED, WRONG_USE, StopError
from barkwright.record import dataclass

PLAIN = ("text", "json")
PAPER = ("text", "markdown", "html", "pdf", "json")  # forms of a result that is a page
TABLE = (*PAPER, "csv")  # of one that has tables as well
ORDER = (*TABLE, "ics")  # and of one with days
TABLES = ("pieces", "jobs", "costs")  # of a work order, a file each
NO_PDF = (
    "pip install 'barkwright[pdf]', and on Debian: apt install libpango-1.0-0 libpangoft2-1.0-0; "
    "or take --format html and print that from any browser"
)
DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")  # week dates and other ISO forms are more often slips than meant


@dataclass(frozen=True, slots=True)
class Shared:
    """What every command was asked: the date, the format, the units and where the product goes."""

    on: date
    format: str
    units: str | None
    output: str
    color: bool | None


class IsoDate(click.ParamType[date]):
    """A date as YYYY-MM-DD."""

    name = "date"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> date:
        """Read the text as a date, or refuse it."""
        if isinstance(value, date):
            return value
        from barkwright.inventory.measure import YEARS

        try:
            day = date.fromisoformat(str(value) if DAY.fullmatch(str(value)) else "")
        except ValueError:
            self.fail(f"{value!r} is not a date; write it as 2026-11-25", param, ctx)
        if not YEARS[0] <= day.year <= YEARS[1]:
            self.fail(f"{value!r} is not a day from {YEARS[0]} to {YEARS[1]}", param, ctx)
        return day


def shared(units: bool = True, formats: tuple[str, ...] = PAPER) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """Give a command the options that all have. It takes them as keyword arguments; `gather` makes them one record."""
    options = [
        click.option("--on", type=IsoDate(), metavar="YYYY-MM-DD", help="Plan as of this day.  [default: today]"),
        click.option(
            "--format",
            "format_",
            type=click.Choice(formats),
            default=formats[0],
            help="Form of the result.  [default: text]",
        ),
        click.option(
            "-o", "--output", default="-", metavar="FILE", help="Write the result to FILE, whole or not at all."
        ),
        click.option(
            "--color",
            type=click.Choice(("auto", "always", "never")),
            help="Colour of messages; the result never has any. NO_COLOR is honoured.",
        ),
    ]
    if units:
        options.append(
            click.option(
                "--units",
                type=click.Choice(("imperial", "metric")),
                help="Units of the text.  [default: those of the file]",
            )
        )

    def give(command: Callable[..., Any]) -> Callable[..., Any]:
        for option in reversed(options):
            command = option(command)
        return command

    return give


table_option = click.option(
    "--table",
    type=click.Choice(TABLES),
    metavar="TABLE",
    help="With --format csv: pieces, jobs or costs.  [default: pieces]",
)


def table_of(table: str | None, asked: Shared) -> str:
    """The table that was asked for; naming one for a form that has none is a slip."""
    if table is not None and asked.format != "csv":
        raise StopError("--table goes with --format csv", WRONG_USE, f"add --format csv, or leave --table {table} out")
    return table or TABLES[0]


def apart(options: dict[str, Any]) -> tuple[dict[str, Any], dict[str, Any]]:
    """A command's own options, and those that all commands share."""
    common = ("on", "format_", "output", "color", "units")
    return (
        {name: value for name, value in options.items() if name not in common},
        {name: value for name, value in options.items() if name in common},
    )


def gather(on: date | None, format_: str, output: str, color: str | None, units: str | None = None) -> Shared:
    """The shared options as one record. The clock is read here and nowhere else."""
    if format_ == "pdf":
        _can_make_pdf(output)
    return Shared(on or today(), format_, units, output, _color(color))


def today() -> date:
    """Today; or the day that SOURCE_DATE_EPOCH names, for results that have to come out the same again."""
    epoch = os.environ.get("SOURCE_DATE_EPOCH")
    if not epoch:
        return datetime.now().astimezone().date()
    try:
        return datetime.fromtimestamp(int(epoch), UTC).date()
    except (ValueError, OverflowError, OSError):
        hint = "leave it unset, or give the day with --on"
        raise StopError(f"SOURCE_DATE_EPOCH is {epoch!r}, not a number of seconds", WRONG_USE, hint) from None


def moment() -> str:
    """Day and minute now, for what is written down; the day of SOURCE_DATE_EPOCH where that is set."""
    if os.environ.get("SOURCE_DATE_EPOCH"):
        return today().isoformat()
    return datetime.now().astimezone().isoformat(timespec="minutes")


def _can_make_pdf(output: str) -> None:
    """End the command, before any planning, where no PDF can come of it."""
    if output == "-" and sys.stdout is not None and sys.stdout.isatty():
        raise StopError("a PDF is not for a terminal", WRONG_USE, "name a file: -o FILE, or send it on through a pipe")
    from barkwright.output.pdf import NoPdfError, library

    try:
        library()
    except NoPdfError as fault:
        raise StopError(str(fault), FAILED, NO_PDF) from None


def _color(asked: str | None) -> bool | None:
    if asked in ("always", "never"):
        return asked == "always"
    if asked is None and os.environ.get("NO_COLOR"):
        return False
    return None
