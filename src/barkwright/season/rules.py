"""The numbers of the rules by which dates are taken from weather: data/season/flight.yaml."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from barkwright import datafile
from barkwright.record import dataclass
from barkwright.sources import Citation, cite


@dataclass(frozen=True, slots=True)
class Number:
    """One number, its unit, and what it rests on."""

    value: float | str
    unit: str
    what: str
    checked_on: date
    sources: tuple[str, ...] = ()
    basis: str | None = None

    @property
    def citations(self) -> tuple[Citation, ...]:
        """Where it comes from; empty for one of our own."""
        return tuple(cite(source) for source in self.sources)


def numbers() -> Mapping[str, Number]:
    """All of them, by name."""
    return datafile.load("season/flight.yaml", dict[str, Number])


def number(name: str) -> float:
    """One that is a number, in its unit."""
    return float(numbers()[name].value)


def day_in(name: str, year: int) -> date:
    """One that is a day of the year, in `year`."""
    return date.fromisoformat(f"{year}-{numbers()[name].value}")
