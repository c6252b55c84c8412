"""Flight calendars by region, as the program ships them."""

from __future__ import annotations

from datetime import date
from typing import Literal

from barkwright import datafile
from barkwright.record import dataclass
from barkwright.sources import Citation, cite

Known = Literal["read", "secondary", "from memory", "common practice, no source"]


@dataclass(frozen=True, slots=True)
class Region:
    """A flight calendar: month-day of onset and end, the source's own words, and how well they are known."""

    id: str
    name: str
    words: str
    onset: str  # month-day
    end: str  # month-day
    known: Known
    points: tuple[tuple[float, float], ...]  # latitude, longitude [degrees]
    cite: str | None = None
    local: bool = False  # of the user's own
    source: str | None = None  # of a local one, in the user's words, or its basis

    @property
    def citations(self) -> tuple[Citation, ...]:
        """Where the calendar comes from; empty when nobody published it."""
        return (cite(self.cite),) if self.cite else ()


@dataclass(frozen=True, slots=True)
class Regions:
    """All flight calendars, and how one is picked."""

    checked_on: date
    margin_days: int  # days taken off a calendar onset for finish-by
    nearest_within_miles: float
    generic: str
    regions: tuple[Region, ...]


def regions() -> Regions:
    """Every flight calendar that the program ships."""
    return datafile.load("season/regions.yaml", Regions)
