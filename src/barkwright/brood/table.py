"""The decision table: attack year and what was seen under the bark decide brood, stage and flight."""

from __future__ import annotations

from datetime import date
from functools import cache
from typing import Literal

from barkwright import datafile
from barkwright.brood.finding import BroodLevel, Confidence, Stage
from barkwright.record import dataclass
from barkwright.sources import Basis, Grade, Reason, cite

Look = Literal[
    "adults",
    "larvae",
    "pupae",
    "larvae-unsure",
    "nothing",
    "larvae-last-year",
    "adults-last-year",
    "nothing-last-year",
    "not-looked",
]
Holes = Literal["none", "some", "many", "not-said"]
OLD = 4  # springs; 4 stands for 4 or more


@dataclass(frozen=True, slots=True)
class Row:
    """One row of data/brood/attack_table.yaml; the file's head says what each field means."""

    id: str
    springs: tuple[int, ...]
    look: tuple[Look, ...]
    brood: BroodLevel
    flight: int  # 0 the coming flight, 1 the one after it
    stage: Stage
    confidence: Confidence
    look_next: bool
    because: str
    grade: Grade
    basis: Basis = "published"
    cite: tuple[str, ...] = ()
    exit_holes: tuple[Holes, ...] = ("none", "some", "many", "not-said")
    bole: BroodLevel | None = None


@dataclass(frozen=True, slots=True)
class Table:
    """The whole table."""

    checked_on: date
    rows: tuple[Row, ...]


def table() -> Table:
    """The decision table that the program ships."""
    return datafile.load("brood/attack_table.yaml", Table)


@cache
def row_for(springs: int, look: Look, exit_holes: Holes) -> Row:
    """The one row that fits.

    springs : int    coming flight season less the attack year; 4 and more are one case [years]
    Raises LookupError when no row or more than one fits, which the tests prove never happens.
    """
    found = rows_for(springs, look, exit_holes)
    if len(found) != 1:
        raise LookupError(
            f"{len(found)} rows of the attack table fit {springs} springs, {look}, exit holes {exit_holes}"
        )
    return found[0]


def rows_for(springs: int, look: Look, exit_holes: Holes) -> tuple[Row, ...]:
    """Every row that fits, in the order of the file."""
    return tuple(
        row
        for row in table().rows
        if min(springs, OLD) in row.springs and look in row.look and exit_holes in row.exit_holes
    )


@cache
def reason_of(row: Row, attacked: int, flight: int, year_known: bool) -> Reason:
    """The row's sentence with its years filled in."""
    when = f"Attacked in {attacked}"
    if not year_known:
        when = f"If attacked in {attacked}{' or earlier' if OLD in row.springs else ''}"
    because = row.because.format(when=when, flight=flight)
    return Reason(row.id, because, row.grade, tuple(cite(text) for text in row.cite), row.basis)
