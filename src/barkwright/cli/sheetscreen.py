"""What the columns of a field sheet are taken for, shown once, to be confirmed or changed."""

from __future__ import annotations

import sys
import textwrap
from collections.abc import Callable, Sequence
from dataclasses import replace

import click

from barkwright.cli import voice
from barkwright.cli.errors import FAILED, WRONG_USE, StopError, UserStopError
from barkwright.intake.assign import Column, samples_of
from barkwright.intake.columns import UNUSED
from barkwright.intake.understood import Asked, BadMapError, Sheet, has_unit, unused

QUESTION = "Is that right? Enter: yes. q: quit. To change: COLUMN=MEANING[:UNIT]"
WIDTHS = (18, 12, 4, 19)
WIDE = 80
CELLS = 17  # letters of the cells shown


def confirmed(read: Callable[[Asked], Sheet], asked: Asked, name: str, yes: bool, ask: bool = True) -> Sheet:
    """The sheet as the user wants it read: asked at a terminal, by what is certain elsewhere.

    Ends the command where a doubt would change sizes and nobody can be asked.
    """
    sheet = read(asked)
    if not ask or not _can_ask(name):
        _unasked(sheet, yes)
        return sheet
    while True:
        for line in screen(sheet, name):
            click.echo(voice.plain(line), err=True)
        answer = click.prompt("", default="", show_default=False, prompt_suffix="> ", err=True).strip()
        if answer.casefold() in ("", "y", "yes"):
            return sheet
        if answer.casefold() in ("q", "quit", "n", "no"):
            raise UserStopError(
                "stopped: nothing was written", FAILED, "--map 'COLUMN=MEANING:UNIT' says it beforehand"
            )
        try:
            changed = replace(asked, maps=(*asked.maps, answer.strip("`'\"")))
            sheet, asked = read(changed), changed
        except BadMapError as fault:
            click.echo(voice.plain(f"  {fault}"), err=True)


def _unasked(sheet: Sheet, yes: bool) -> None:
    """Say the doubts; end the command if one is grave and was not accepted beforehand."""
    if rest := unused_columns(sheet):
        voice.say(f"not used: {rest}")
    grave = [doubt for doubt in sheet.doubts if doubt.grave]
    for doubt in sheet.doubts:
        settles = f"; else --map '{doubt.map}'" if doubt.map and not doubt.grave else ""
        line = f"doubt: {doubt.text}{settles}"
        if doubt.grave and not yes:
            click.echo(voice.plain(line), err=True)
        else:
            voice.say(line)
    if grave and not yes:
        said = "".join(f" --map '{doubt.map}'" for doubt in grave)
        count = "one thing" if len(grave) == 1 else f"{len(grave)} things"
        hint = f"say it, as here or with another unit or meaning:{said}"
        raise StopError(f"{count} about the sizes in the sheet cannot be told", WRONG_USE, voice.plain(hint))


def screen(sheet: Sheet, name: str) -> list[str]:
    """The columns with what they mean, and the doubts; lines of at most 80 letters where names allow."""
    rows = len(sheet.layout.records)
    lines = [f"{name}: {rows:,} row{'s' * (rows != 1)} below the names of the columns in row {sheet.layout.line}.", ""]
    lines.append(_columns(("column", "means", "unit", "known by"), "cells"))
    lines += [_line(sheet, one) for one in sheet.columns if one.meaning != UNUSED]
    if rest := unused_columns(sheet):
        lines += ["", *textwrap.wrap(f"not used: {rest}", WIDE, subsequent_indent="  ")]
    if sheet.doubts:
        lines += ["", "In doubt:"]
        for number, doubt in enumerate(sheet.doubts, 1):
            lines += textwrap.wrap(f"{number}. {doubt.text}", WIDE, initial_indent="  ", subsequent_indent="     ")
            lines += [f"     to settle it: {doubt.map}"] if doubt.map else []
    for note in sheet.notes[:6]:
        lines += textwrap.wrap(f"- {note}", WIDE, subsequent_indent="  ")
    return [*lines, "", QUESTION]


def unused_columns(sheet: Sheet) -> str:
    """The names of the columns that are not read; nothing where all are."""
    rest = [one.name for one in unused(sheet)]
    listed = ", ".join(_fitted(one, 24).rstrip() for one in rest[:12])
    return listed + (f" and {len(rest) - 12} more" if len(rest) > 12 else "")


def _line(sheet: Sheet, one: Column) -> str:
    doubtful = any(doubt.grave and doubt.map.startswith(f"{one.name}=") for doubt in sheet.doubts)
    unit = (one.unit or "?") + ("?" if doubtful and one.unit else "") if has_unit(one) else ""
    cells = ", ".join(samples_of(sheet.layout, one.index))
    meaning = one.meaning.lstrip(".+").replace("_", " ")
    return _columns((one.name, meaning, unit, one.why), _fitted(cells, CELLS).rstrip())


def _columns(parts: Sequence[str], last: str) -> str:
    return "  ".join((*(_fitted(part, wide) for part, wide in zip(parts, WIDTHS, strict=True)), last))


def _fitted(text: str, wide: int) -> str:
    return text.ljust(wide) if len(text) <= wide else text[: wide - 2] + ".."


def _can_ask(name: str) -> bool:
    ends = (sys.stdin, sys.stderr)
    return name != "-" and all(one is not None and not one.closed and one.isatty() for one in ends)
