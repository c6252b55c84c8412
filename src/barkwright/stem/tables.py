"""The stem stage's data: spruce coefficients with their published fallback, species and factors."""

from __future__ import annotations

from datetime import date
from functools import cache

from barkwright.datafile import load, rows
from barkwright.inventory.model import Species
from barkwright.record import dataclass
from barkwright.stem import nsvb
from barkwright.stem.curves import Curve

GROUP = "J5"  # Jenkins group 5, spruces


@dataclass(frozen=True, slots=True)
class SpeciesFacts:
    """One spruce of the inventory; see data/stem/species.yaml for the units."""

    spcd: int
    label: str
    wood_sg: float
    wood_mc: float
    bark_sg: float
    bark_mc: float
    bark_percent: float
    sampled_in: tuple[float, float]
    cite: tuple[str, ...]
    basis: str
    checked_on: date
    stands_in: str | None = None
    own: tuple[str, ...] = ()  # fields that are the user's own
    own_source: str | None = None  # what these rest on, in the user's words
    own_curve: Curve | None = None  # the user's own curve of height from diameter


@dataclass(frozen=True, slots=True)
class Factor:
    """One number of data/stem/factors.yaml."""

    value: float
    unit: str
    basis: str
    cite: tuple[str, ...]
    checked_on: date
    note: str | None = None


@dataclass(frozen=True, slots=True)
class Row:
    """One row of coefficients, and which published row it is."""

    table: str
    level: str  # "M130", "species" or "group 5"
    model: int
    a: float
    b: float
    c: float
    b1: float
    k_in: float
    alpha: float
    beta: float

    def total(self, dbh_in: float, height_ft: float, wood_density: float = 1.0) -> float:
        """The tree's quantity by this row, in the unit of its table."""
        return nsvb.tree_total(self.model, dbh_in, height_ft, self.a, self.b, self.c, self.b1, self.k_in, wood_density)


def shipped_species() -> dict[str, SpeciesFacts]:
    """Codes, densities and sampled diameters of every species, as the program ships them."""
    return load("stem/species.yaml", dict[str, SpeciesFacts])


def species_facts(species: Species, local: tuple[str, ...] = ()) -> SpeciesFacts:
    """The same of one species, with what the user's own files say of it."""
    if not local:
        return shipped_species()[species]
    from barkwright.stem.ownspecies import species_book

    return species_book(local).facts[species]


def factor(name: str) -> float:
    """The value of one factor, in the unit its record states. Raises KeyError for a name that is not there."""
    return factors()[name].value


@cache
def factors() -> dict[str, Factor]:
    """Every factor record by name."""
    return load("stem/factors.yaml", dict[str, Factor])


@cache
def coefficient_row(table: str, spcd: int, division: str | None) -> Row:
    """The row of a table for a species and ecodivision, by the published order of fallback.

    table : str              S1 wood, S2 bark, S3 both [ft3]; S4, S5 ratios; S6 bark, S7 branches, S9 foliage [dry lb].
    spcd : int               Federal species code, 90 to 98.
    division : str | None    Cleland ecodivision as "M130"; None: the species row.
    Order: species and division, species, Jenkins group 5, each table for itself.
    Source: [westfall2024] tables S1 to S9.  Raises KeyError for a table that is not there.
    """
    found = _rows()
    for key, level in ((str(spcd), division), (str(spcd), ""), (GROUP, "")):
        row = found.get((table, key, level)) if level is not None else None
        if row is not None:
            name = "group 5" if key == GROUP else level or "species"
            return _row(row, table, name)
    raise KeyError(f"table {table} has no row for a spruce")


@cache
def division_limit_in(spcd: int, division: str) -> float | None:
    """Thickest tree behind a division's own rows [in]; None: no limit is published."""
    for row in rows("stem/division_limits.csv"):
        if row["spcd"] == str(spcd) and row["division"] == division:
            return float(row["over_in"])
    return None


@cache
def _rows() -> dict[tuple[str, str, str], dict[str, str]]:
    return {(row["table"], row["spcd"], row["division"]): row for row in rows("stem/nsvb_spruce.csv")}


def _row(row: dict[str, str], table: str, level: str) -> Row:
    def value(name: str, default: float = 0.0) -> float:
        return float(row[name]) if row[name] else default

    return Row(
        table=table,
        level=level,
        model=int(row["model"]),
        a=value("a"),
        b=value("b"),
        c=value("c"),
        b1=value("b1"),
        k_in=value("k_in", 9.0),
        alpha=value("alpha"),
        beta=value("beta"),
    )
