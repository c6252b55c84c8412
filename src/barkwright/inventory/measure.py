"""What a number in the inventory measures: its unit in the file, its unit inside, the range that is possible."""

from __future__ import annotations

from barkwright.record import dataclass
from barkwright.units import convert

YEARS = (1950, 2200)  # first and last year of any day in an inventory, and of the day that is planned for; ours


@dataclass(frozen=True, slots=True)
class Measure:
    """Marks a field as a measured number. Units of a bare number by the file's system; range in the inside unit."""

    imperial: str
    metric: str
    inside: str
    low: float
    high: float

    def unit(self, system: str) -> str:
        """Unit of a bare number in a file whose units are `system` (imperial or metric)."""
        return self.metric if system == "metric" else self.imperial

    def expected(self, system: str) -> str:
        """The range in the file's own units: "0.5 to 100 in"."""
        unit = self.unit(system)
        low, high = (plain(round(convert(bound, self.inside, unit), 2)) for bound in (self.low, self.high))
        return f"{low} to {high} {unit}"


@dataclass(frozen=True, slots=True)
class Bounds:
    """Marks a field as a plain number without unit of its own, within a range."""

    low: float
    high: float
    unit: str = ""

    @property
    def expected(self) -> str:
        """The range: "-90 to 90 degrees north"."""
        return f"{plain(self.low)} to {plain(self.high)} {self.unit}".strip()


@dataclass(frozen=True, slots=True)
class CapacityOfKind:
    """Marks a field whose unit depends on the `kind` beside it; see data/inventory/equipment.yaml."""


def plain(number: float) -> str:
    """A number without needless digits: 16.5, 100, 0.25."""
    return f"{number:.6g}" if abs(number) < 1e6 else f"{number:.0f}"
