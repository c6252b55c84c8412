"""Which column of a sheet means what, where several claim the same and where a name says nothing."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from itertools import islice

from barkwright.intake.cells import is_missing, yes
from barkwright.intake.columns import UNUSED, asks_down, dictionary, named
from barkwright.intake.grid import bare, sheet_limits
from barkwright.intake.kinds import names_spruce
from barkwright.intake.layout import Layout
from barkwright.record import dataclass


@dataclass(frozen=True, slots=True)
class Doubt:
    """What cannot be told from the sheet. A grave one would change sizes; `map` settles it."""

    text: str
    map: str = ""
    grave: bool = False


@dataclass(frozen=True, slots=True)
class Column:
    """A column's meaning and unit, and why that is thought. `sure`: 3 said by the user, 2 certain, 1 likely."""

    index: int
    name: str
    meaning: str
    unit: str | None
    sure: int
    why: str


MOST_COUNTED = 1_000  # rows in which two columns differ; ours
_SIZES = ("dbh", "girth", "height", "stump_diameter", "broken_at", "butt", "top", "length")
_PUBLIC = {"plt cn": "plot", "subp": "subplot", "agentcd": "agent", "standing dead cd": "standing_dead", "spcd": "code"}


def public_table(names: tuple[str, ...]) -> bool:
    """Is it the public forest inventory's own tree table, or one made from it? Its sizes are in inches and feet."""
    there = set(map(bare, names))
    return {"spcd", "dia"} <= there and bool({"statuscd", "subp", "plt cn"} & there)


def assigned(
    layout: Layout, told: Mapping[str, tuple[str, str | None]], one_species: bool
) -> tuple[tuple[Column, ...], tuple[Doubt, ...], tuple[str, ...]]:
    """The meaning of every column; what is in doubt about them; what is worth saying.

    told : meaning and unit of columns as the user said, the meaning empty where only the unit was said
    """
    columns = [_column(layout, n, name, told) for n, name in enumerate(layout.names)]
    public = public_table(layout.names)
    if public:
        columns = [_public(one) if one.sure < 3 else one for one in columns]
    if not one_species and not any(one.meaning in ("species", "code") for one in columns):
        columns = [_by_cells(layout, one) if one.meaning == UNUSED and one.sure < 3 else one for one in columns]
    doubts: list[Doubt] = []
    for meaning in dict.fromkeys(one.meaning for one in columns):
        rivals = [one for one in columns if one.meaning == meaning]
        if meaning != UNUSED and len(rivals) > 1:
            columns, more = _settled(layout, columns, rivals)
            doubts += more
    doubts += [doubt for one in columns if (doubt := _doubt(layout, one, public))]
    return tuple(columns), tuple(doubts), ()


def samples_of(layout: Layout, index: int, most: int = 3) -> tuple[str, ...]:
    """A few different cells of a column."""
    found: dict[str, None] = {}
    for _, cells in layout.records:
        if cells[index] and not is_missing(cells[index]):
            found[cells[index]] = None
            if len(found) == most:
                break
    return tuple(found)


def cells_of(layout: Layout, index: int) -> list[str]:
    """The cells of a column that say something."""
    return [cells[index] for _, cells in layout.records if not is_missing(cells[index])]


def _column(layout: Layout, index: int, name: str, told: Mapping[str, tuple[str, str | None]]) -> Column:
    under = layout.units[index]
    known = named(name)
    if name in told and told[name][0]:
        meaning, unit = told[name]
        own = known.unit if known is not None and known.meaning == meaning else None
        return Column(index, name, meaning, unit or under or own, 3, "as you said")
    if known is None:
        return Column(index, name, UNUSED, None, 0, "no word of it is known")
    if known.meaning == UNUSED:
        return Column(index, name, UNUSED, None, 0, "not needed")
    unit = (told[name][1] if name in told else None) or under or known.unit
    why = "its name" if known.sure == 2 else "a name like it"
    return Column(index, name, known.meaning, unit, 3 if name in told else known.sure, why)


def _public(column: Column) -> Column:
    text = bare(column.name)
    if text in _PUBLIC:
        return replace(column, meaning=_PUBLIC[text], sure=2, why="public inventory")
    return column


def _by_cells(layout: Layout, column: Column) -> Column:
    cells = cells_of(layout, column.index)[: sheet_limits().sample_rows]
    if cells and sum(map(names_spruce, cells)) >= 0.7 * len(cells):
        return replace(column, meaning="species", sure=2, why="its cells")
    return column


def _settled(layout: Layout, columns: list[Column], rivals: list[Column]) -> tuple[list[Column], list[Doubt]]:
    """One column for a meaning: the user's, else one with a unit, else the one named best; the rest are not used."""
    meaning = rivals[0].meaning
    words = [bare(word) for word in dictionary().meanings[meaning].words]

    def rank(one: Column) -> tuple[int, bool, int, int]:
        text = re.sub(r" \d+$", "", bare(one.name))
        return -one.sure, not one.unit, words.index(text) if text in words else 99, one.index

    said = [one for one in rivals if one.sure == 3]
    if meaning == "note" or len(said) > 1:
        return columns, []
    first, *rest = sorted(rivals, key=rank)
    doubts = []
    for other in rest:
        stems, doubt = _second(layout, first, other) if meaning == "dbh" else (False, _lost(layout, first, other))
        if doubt is not None:
            doubts.append(doubt)
        if not stems:
            why = f"'{first.name}' says it"
            columns = [replace(one, meaning=UNUSED, why=why, sure=0) if one is other else one for one in columns]
    return columns, doubts


def _second(layout: Layout, first: Column, other: Column) -> tuple[bool, Doubt | None]:
    """Is a second column of diameters further stems of the same tree?"""
    both = [
        (cells[first.index], cells[other.index])
        for _, cells in layout.records
        if not is_missing(cells[first.index]) and not is_missing(cells[other.index])
    ]
    if not both or all(_same(one, two) for one, two in both):
        return False, None
    if len(both) < sheet_limits().both_filled * len(layout.records):
        text = f"'{other.name}' is taken for the second stem of a tree, where it is filled in ({len(both)} rows)"
        return True, Doubt(text, f"{other.name}=-")
    text = f"'{first.name}' and '{other.name}' are both filled in: the same stem measured twice, or two stems?"
    return False, Doubt(
        f"{text} Only the first is read; for two stems: --map '{other.name}=dbh'", f"{other.name}=-", True
    )


def _same(one: str, two: str) -> bool:
    if one == two:
        return True
    try:
        return abs(float(one.replace(",", ".")) - float(two.replace(",", "."))) < 0.01
    except ValueError:
        return False


def _lost(layout: Layout, first: Column, other: Column) -> Doubt | None:
    """A word about a second column that says something where the first does not, or something else."""
    odd = (
        number
        for number, (_, cells) in enumerate(layout.records)
        if cells[first.index] != cells[other.index]
        and not is_missing(cells[other.index])
        and bare(cells[first.index]) != bare(cells[other.index])
        and not _same(cells[first.index], cells[other.index])
    )
    differ = sum(1 for _ in islice(odd, MOST_COUNTED))
    known = first.meaning in ("id", "status", "species", "code", "measured")
    if not differ or (known and cells_of(layout, first.index)):
        return None
    often = f"{differ:,} or more" if differ == MOST_COUNTED else f"{differ:,}"
    text = f"'{first.name}' and '{other.name}' seem to say the same and differ in {often} rows: '{first.name}' is read"
    return Doubt(text, f"{other.name}=note")


def _doubt(layout: Layout, column: Column, public: bool) -> Doubt | None:
    if column.meaning == UNUSED:
        return None
    if column.sure == 1:
        says = dictionary().meanings[column.meaning].says
        grave = column.meaning in _SIZES
        settles = f"{column.name}={column.meaning}" + (f":{column.unit}" if column.unit and grave else "")
        return Doubt(f"'{column.name}' is taken for: {says}", settles if grave else f"{column.name}=-", grave)
    if column.meaning == "status" and asks_down(column.name):
        down = sum(yes(cell) is True for cell in cells_of(layout, column.index))
        text = (
            f"'{column.name}' says that {down} tree{'s are' if down != 1 else ' is'} down, not how: taken as "
            "windthrown; write felled, logs or stump in its place where it was cut"
        )
        return Doubt(text) if down else None
    years = set(cells_of(layout, column.index)) if column.meaning == "measured" and not public else set()
    if len(years) > 1 and bare(column.name) != "measyear":
        text = (
            f"'{column.name}' is taken for the year of measuring and goes into the note, not for the year of the attack"
        )
        return Doubt(text, f"{column.name}=attacked")
    return None
