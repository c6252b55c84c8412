"""Where in a table the names of the columns stand, where the trees are, and what is written around them."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from functools import cache
from typing import Literal

from barkwright.intake.columns import UNUSED, dictionary, named, unit_word
from barkwright.intake.grid import Grid, NoTableError, bare, sheet_limits
from barkwright.record import dataclass

_SIZES = ("dbh", "girth", "stump_diameter", "butt", "height")
_FILLER = {"", "-", "text", "y/n", "yes/no", "yyyy", "date", "year", "no", "#", "code", "words"}
Aside = Literal["totals", "the example", "the names of the columns again", "only a remark"]


@dataclass(frozen=True, slots=True)
class Layout:
    """The names of the columns, the unit under each if one stands there, and the rows below that may be trees."""

    line: int
    names: tuple[str, ...]
    units: tuple[str | None, ...]
    records: tuple[tuple[int, tuple[str, ...]], ...]
    asides: tuple[tuple[int, Aside], ...]  # rows below the names that are no trees
    notes: tuple[str, ...]


def worth(grid: Grid) -> float:
    """How much a table looks like trees: the names that are known in its best row."""
    return max((_score(cells) for _, cells in grid.rows[: sheet_limits().header_rows]), default=0.0)


def laid_out(grid: Grid, mapped: Sequence[str] = ()) -> Layout:
    """The parts of a table. `mapped` are names that the user has given a meaning. Raises NoTableError."""
    if not grid.rows:
        raise NoTableError("the table has no rows", "name a file with one row a tree")
    told = {bare(name) for name in mapped}
    top = grid.rows[: sheet_limits().header_rows]
    scores = [_score(cells) + sum(bare(cell) in told for cell in cells if cell) for _, cells in top]
    best = max(range(len(top)), key=lambda n: (scores[n], -n))
    if scores[best] < 1.5:
        what = ", ".join(f"'{cell[:30]}'" for cell in top[0][1][:6])
        message = f"no row names the columns of trees; the first row is {what}"
        raise NoTableError(
            message, "name the columns in one row, like tree, species, dbh, height; or say it: --map 'COLUMN=dbh:cm'"
        )
    line, cells = top[best]
    width = max(len(row) for _, row in grid.rows[best:])
    names = _unique((*cells, *[""] * (width - len(cells))))
    below = grid.rows[best + 1 :]
    units: tuple[str | None, ...] = (None,) * width
    notes = [f"{_rows([number for number, _ in top[:best]])} above the names of the columns: not read"] if best else []
    if below and _is_units(below[0][1]):
        units = tuple(unit_word(cell) for cell in _wide(below[0][1], width))
        notes.append(f"row {below[0][0]} holds the units")
        below = below[1:]
    records, asides = _parted(below, cells, names, width)
    for kind in dict.fromkeys(kind for _, kind in asides):
        which = [number for number, one in asides if one == kind]
        notes.append(f"{_rows(which)}: {kind}, no tree")
    return Layout(line, names, units, records, asides, tuple(notes))


def _score(cells: Sequence[str]) -> float:
    filled = [cell for cell in cells if cell]
    if not filled or sum(bool(re.fullmatch(r"[\d.,\s-]+", cell)) for cell in filled) * 3 > len(filled):
        return 0.0
    found: dict[str, float] = {}
    for cell in filled[:300]:
        one = named(cell, close=False)
        if one is not None and one.meaning != UNUSED:
            found[one.meaning] = 1.0
    return sum(found.values()) if any(size in found for size in _SIZES) else 0.3 * sum(found.values())


def _unique(cells: Sequence[str]) -> tuple[str, ...]:
    seen: Counter[str] = Counter()
    names = []
    for number, cell in enumerate(cells, 1):
        name = cell or f"column {number}"
        seen[bare(name)] += 1
        names.append(name if seen[bare(name)] == 1 else f"{name} ({seen[bare(name)]})")
    return tuple(names)


def _is_units(cells: Sequence[str]) -> bool:
    inner = [re.sub(r"^[(\[]|[)\]]$", "", cell.strip()) for cell in cells]
    return any(unit_word(cell) for cell in inner if cell) and all(
        unit_word(cell) or cell.casefold() in _FILLER for cell in inner
    )


def _parted(
    rows: Sequence[tuple[int, tuple[str, ...]]], head: Sequence[str], names: Sequence[str], width: int
) -> tuple[tuple[tuple[int, tuple[str, ...]], ...], tuple[tuple[int, Aside], ...]]:
    species = [
        n for n, name in enumerate(names) if (one := named(name)) is not None and one.meaning in ("species", "code")
    ]
    records, asides = [], []
    for number, cells in rows:
        kind = _aside(cells, head, species)
        if kind is None:
            records.append((number, _wide(cells, width)))
        else:
            asides.append((number, kind))
    return tuple(records), tuple(asides)


def _aside(cells: tuple[str, ...], head: Sequence[str], species: Sequence[int]) -> Aside | None:
    first = next(cell for cell in cells if cell)
    if cells == tuple(head[: len(cells)]) and len(cells) > 1:
        return "the names of the columns again"
    if bare(first).startswith(("example", "exemple", "beispiel", "ejemplo", "exempel", "eksempel", "esimerkki")):
        return "the example"
    if first.startswith(("#", "//")) and not any(char.isdigit() for cell in cells[1:] for char in cell):
        return "only a remark" if len([cell for cell in cells if cell]) == 1 and " " in first else None
    if any(n < len(cells) and cells[n] for n in species):
        return None
    return "totals" if _is_total(first) else None


def _is_total(cell: str) -> bool:
    text = bare(cell)
    return text in _totals() or any(text.startswith(f"{word} ") for word in _totals() if len(word) > 2)


@cache
def _totals() -> frozenset[str]:
    return frozenset(map(bare, dictionary().totals))


def _wide(cells: tuple[str, ...], width: int) -> tuple[str, ...]:
    return cells if len(cells) == width else (*cells, *[""] * (width - len(cells)))


def _rows(numbers: Sequence[int]) -> str:
    if len(numbers) == 1:
        return f"row {numbers[0]}"
    listed = ", ".join(map(str, numbers[:5]))
    return f"rows {listed}" + (f" and {len(numbers) - 5} more" if len(numbers) > 5 else "")
