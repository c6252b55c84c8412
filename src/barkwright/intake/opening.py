"""From the bytes of a file to the sheet of trees in it."""

from __future__ import annotations

import difflib

from barkwright.intake.csvtable import grid_of, text_of
from barkwright.intake.exceltable import is_workbook, worksheets
from barkwright.intake.grid import Grid, NoTableError
from barkwright.intake.layout import worth
from barkwright.intake.understood import Asked, Sheet, understood

LIKE_TREES = 1.5  # as in layout: a table with names of so many columns


def open_sheet(content: bytes, asked: Asked, worksheet: str | None = None) -> Sheet:
    """The sheet in a CSV file or a workbook, with all that was recognised in it.

    Raises NoTableError where it is none, BadMapError where a --map does not fit, NoExcelError without the library.
    """
    if not content.strip():
        raise NoTableError("the file is empty", "name a file with one row a tree")
    if is_workbook(content):
        return understood(_chosen(worksheets(content), worksheet), asked)
    if worksheet is not None:
        raise NoTableError("the file is no workbook: it has no worksheets", "leave --worksheet out")
    text, notes = text_of(content)
    return understood(grid_of(text, notes, worth), asked)


def _chosen(grids: tuple[Grid, ...], wanted: str | None) -> Grid:
    """The worksheet that was named, or the one that looks most like trees."""
    names = ", ".join(f"'{grid.name[:40]}'" for grid in grids)
    if not grids:
        raise NoTableError("the workbook is empty", "name a workbook with one row a tree")
    if wanted is not None:
        for grid in grids:
            if grid.name.casefold() == wanted.strip().casefold():
                return grid
        near = difflib.get_close_matches(wanted, [grid.name for grid in grids], 1, 0.6)
        hint = f"did you mean '{near[0]}'?" if near else f"worksheets: {names}"
        raise NoTableError(f"the workbook has no worksheet '{wanted[:40]}'", hint)
    best = max(grids, key=lambda grid: (worth(grid), len(grid.rows)))
    note = (f"worksheet '{best.name}' is read",) if len(grids) > 1 else ()
    others = [grid for grid in grids if grid is not best and worth(grid) >= LIKE_TREES]
    doubt = tuple(
        f"worksheet '{grid.name}' ({len(grid.rows):,} rows) looks like trees too; not read: --worksheet '{grid.name}'"
        for grid in others
    )
    return Grid(best.name, best.rows, (*note, *best.notes), (*best.doubts, *doubt))
