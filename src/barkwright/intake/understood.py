"""A field sheet as it is understood: which column means what, in which unit, how sure that is, and what is in doubt."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from barkwright.intake.assign import Column, assigned, public_table, samples_of
from barkwright.intake.columns import LENGTHS, UNUSED, dictionary, is_strange, parse_map, split_unit
from barkwright.intake.grid import Grid, NoTableError, bare
from barkwright.intake.layout import Layout, laid_out
from barkwright.intake.sizes import Doubt, with_units
from barkwright.record import dataclass

_NEEDED = ("dbh", "girth", "stump_diameter", "butt")


@dataclass(frozen=True, slots=True)
class Asked:
    """What the user has said about a sheet."""

    maps: tuple[str, ...] = ()
    species: str | None = None
    units: str | None = None  # metric or imperial, where the user said so


@dataclass(frozen=True, slots=True)
class Sheet:
    """A table with the meaning of its columns."""

    grid: Grid
    layout: Layout
    columns: tuple[Column, ...]
    doubts: tuple[Doubt, ...]
    notes: tuple[str, ...]
    species: str | None

    def column(self, meaning: str) -> Column | None:
        """The first column of a meaning."""
        return next(self.columns_of(meaning), None)

    def columns_of(self, meaning: str) -> Iterator[Column]:
        """All columns of a meaning, in their order."""
        return (one for one in self.columns if one.meaning == meaning)


class BadMapError(ValueError):
    """A --map that does not fit the sheet."""


def understood(grid: Grid, asked: Asked) -> Sheet:
    """What a table means, by the names and the cells of its columns and by what the user says.

    Raises NoTableError where it is no table of trees, BadMapError where `maps` does not fit it.
    """
    layout = laid_out(grid, [one.rpartition("=")[0] for one in asked.maps])
    names = {split_unit(name)[0]: name for name in reversed(layout.names)}
    names |= {bare(name): name for name in layout.names} | {name: name for name in layout.names}
    told: dict[str, tuple[str, str | None]] = {}
    for text in asked.maps:
        try:
            name, meaning, unit = parse_map(text, names)
        except ValueError as fault:
            raise BadMapError(str(fault)) from None
        old = told.get(name, ("", None))
        told[name] = (meaning or old[0], unit or old[1])
    columns, doubts, notes = assigned(layout, told, asked.species is not None)
    if not any(one.meaning in _NEEDED for one in columns):
        raise NoTableError(
            f"no column is a diameter or a girth: {_listed(layout.names)}",
            "say which: --map 'COLUMN=dbh:cm', or girth",
            layout.line,
        )
    if asked.species is None and not any(one.meaning in ("species", "code") for one in columns):
        raise NoTableError(
            f"no column names the species: {_listed(layout.names)}",
            "say which: --map 'COLUMN=species'; or for all trees: --species white",
            layout.line,
        )
    strange = sum(map(is_strange, layout.names)) >= 2
    columns, more = with_units(layout, columns, asked.units, strange, public_table(layout.names))
    notes = (*grid.notes, *layout.notes, *notes)
    return Sheet(grid, layout, columns, (*(Doubt(text) for text in grid.doubts), *doubts, *more), notes, asked.species)


def unused(sheet: Sheet) -> tuple[Column, ...]:
    """The columns that are not read, those without any cell left out."""
    return tuple(one for one in sheet.columns if one.meaning == UNUSED and samples_of(sheet.layout, one.index))


def has_unit(column: Column) -> bool:
    """Is it a column of sizes?"""
    return column.meaning != UNUSED and dictionary().meanings[column.meaning].kind in LENGTHS


def with_grid_note(sheet: Sheet, note: str) -> Sheet:
    """The sheet with something more to say about it."""
    return replace(sheet, notes=(note, *sheet.notes))


def _listed(names: Sequence[str]) -> str:
    return ", ".join(f"'{name[:30]}'" for name in names[:8]) + (" and more" if len(names) > 8 else "")
