"""Limits that rules and days are held against: data/treatment/limits.yaml."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from functools import cache

from barkwright.datafile import load
from barkwright.record import dataclass
from barkwright.stem.pieces import Piece


@dataclass(frozen=True, slots=True)
class Limit:
    """A limit that facts are built with: one record of data/treatment/limits.yaml."""

    value: float | str
    unit: str
    what: str
    checked_on: date
    sources: tuple[str, ...] = ()
    basis: str | None = None
    note: str | None = None


@cache
def limits() -> Mapping[str, Limit]:
    """data/treatment/limits.yaml by name."""
    return load("treatment/limits.yaml", dict[str, Limit])


def limit(name: str) -> float:
    """A limit that is a number, in the unit that its name ends in."""
    return float(limits()[name].value)


def month_day(name: str, year: int) -> date:
    """A limit that is a day of the year, in `year`."""
    return date.fromisoformat(f"{year}-{limits()[name].value}")


def cure_days(piece: Piece) -> int:
    """Days that this wood lies before it burns well [days]; thicker wood takes longer. Common practice, no source."""
    small = piece.butt_dob_in <= limit("cure_small_in")
    return int(limit("cure_small_days" if small else "cure_large_days"))
