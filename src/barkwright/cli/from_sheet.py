"""`new --from`: a field sheet becomes an inventory, or more trees of one."""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from barkwright.cli import files, voice
from barkwright.cli.errors import DONE, FAILED, WRONG_USE, StopError
from barkwright.cli.options import Shared
from barkwright.cli.site import refuse
from barkwright.record import dataclass

if TYPE_CHECKING:
    from barkwright.intake.fieldsheet import Filled
    from barkwright.intake.starter import Start

_MOST_TOLD = 8  # rows that were left out, on standard error; the inventory lists them all


@dataclass(frozen=True, slots=True)
class Wanted:
    """What was asked about a field sheet."""

    table: str
    ask: bool
    into: str | None
    maps: tuple[str, ...]
    species: str | None
    worksheet: str | None
    yes: bool


def from_sheet(wanted: Wanted, start: Start, asked: Shared) -> int:
    """Read the sheet, have it confirmed, write the inventory or add to one."""
    from barkwright.cli.into import add_into, read_target
    from barkwright.intake.adding import units_of
    from barkwright.intake.fieldsheet import inventory_text

    target = read_target(wanted.into, asked) if wanted.into else None
    content, shown = files.read_bytes(wanted.table)
    made, notes = _read(wanted, content, shown, units_of(target[0]) if target else start.units, asked)
    _tell((*notes, *made.notes, made.summary()))
    if wanted.into and target:
        return add_into(wanted.into, *target, made, os.path.basename(shown), asked)
    if start.name is None:
        start = replace(start, name=Path(wanted.table).stem.replace("_", " ").strip(" -") or "trees of a table")
    _tell_left(made)
    files.write(inventory_text(made, shown, start, asked.on), asked.output)
    if asked.output != "-":
        _tell((f"written to {asked.output!r}; next: barkwright check {asked.output}",))
    return DONE


def _read(wanted: Wanted, content: bytes, shown: str, units: str, asked: Shared) -> tuple[Filled, tuple[str, ...]]:
    """The trees of the sheet and what is worth saying about it; ends the command where it cannot be read."""
    from barkwright.cli.sheetscreen import confirmed
    from barkwright.diagnostics import Diagnostic, Place
    from barkwright.intake.exceltable import NoExcelError
    from barkwright.intake.fieldsheet import filled
    from barkwright.intake.grid import NoTableError
    from barkwright.intake.opening import open_sheet
    from barkwright.intake.understood import Asked, BadMapError

    said = Asked(wanted.maps, _kind(wanted.species), asked.units)
    silent = wanted.yes or not wanted.ask
    try:
        sheet = confirmed(
            lambda one: open_sheet(content, one, wanted.worksheet), said, wanted.table, wanted.yes, not silent
        )
        return filled(sheet, units, asked.on), sheet.notes
    except BadMapError as fault:
        raise StopError(f"--map: {fault}", WRONG_USE, "give the column as it is called in the sheet") from None
    except NoExcelError:
        hint = "pip install 'barkwright[excel]', or save the worksheet as CSV in the spreadsheet program"
        raise StopError("an Excel workbook needs a library that is not installed", FAILED, hint) from None
    except NoTableError as fault:
        found = Diagnostic("error", "bad-table", fault.message, Place(shown, fault.line, 1), hint=fault.hint)
        raise refuse((found,), asked, "new", "") from None


def _tell(notes: Sequence[str]) -> None:
    from barkwright.output.names import shortened

    for note in notes:
        voice.say(shortened(f"note: {note}"))


def _tell_left(made: Filled) -> None:
    from barkwright.intake.entries import left_out_lines
    from barkwright.output.names import shortened

    left = left_out_lines(made.left)
    for line in left[:_MOST_TOLD]:
        voice.say(shortened(f"left out: {line}"))
    if len(left) > _MOST_TOLD:
        voice.say(f"and {len(left) - _MOST_TOLD:,} more; the comments at the end of the inventory say why each")


def _kind(species: str | None) -> str | None:
    from barkwright.intake.kinds import kind_of, spruce_codes

    if species is None:
        return None
    kind = kind_of("", species).species
    if kind is None:
        known = ", ".join(spruce_codes().spruce_names)
        raise StopError(f"--species '{species}' is no kind of spruce", WRONG_USE, f"kinds: {known}")
    return kind
