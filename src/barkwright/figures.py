"""Lists of figures: data files that hold numbers by name, each with its unit and what it rests on."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from barkwright.datafile import load
from barkwright.record import dataclass
from barkwright.sources import Basis, Citation, cite


@dataclass(frozen=True, slots=True)
class Figure:
    """One number, or one day of the year as month-day, its unit, and what it rests on."""

    value: float | str
    unit: str
    checked_on: date
    what: str = ""
    sources: tuple[str, ...] = ()
    basis: Basis | None = None
    note: str | None = None

    @property
    def citations(self) -> tuple[Citation, ...]:
        """Where it comes from; empty for one of our own."""
        return tuple(cite(source) for source in self.sources)


class Figures:
    """A file of figures below the data folder; it is read when the first of them is asked for."""

    def __init__(self, path: str) -> None:
        self.path = path
        self._values: dict[str, float] = {}
        self._days: dict[str, tuple[int, int]] = {}

    @property
    def whole(self) -> Mapping[str, Figure]:
        """All of them, by name, with units and grounds."""
        return load(self.path, dict[str, Figure])

    def __getitem__(self, name: str) -> float:
        """One that is a number, in its unit. Raises KeyError for a name that the file does not hold."""
        value = self._values.get(name)
        if value is None:
            value = self._values[name] = float(self.whole[name].value)
        return value

    def day(self, name: str, year: int) -> date:
        """One that is a day of the year, in `year`."""
        found = self._days.get(name)
        if found is None:
            month, day = str(self.whole[name].value).split("-")
            found = self._days[name] = int(month), int(day)
        return date(year, *found)
