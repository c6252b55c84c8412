"""A number that is not known exactly: low, likely and high, and the mean that plans use."""

from __future__ import annotations

from barkwright.record import dataclass


@dataclass(frozen=True, slots=True)
class Spread:
    """Low, likely and high of one quantity, in the unit that the field holding it names."""

    low: float
    likely: float
    high: float

    def __post_init__(self) -> None:
        if not self.low <= self.likely <= self.high:
            raise ValueError(f"a spread runs low <= likely <= high, not {self.low}, {self.likely}, {self.high}")

    @classmethod
    def exactly(cls, value: float) -> Spread:
        """The spread of a known value."""
        return cls(value, value, value)

    @property
    def mean(self) -> float:
        """PERT mean, (low + 4 likely + high) / 6, in the spread's own unit. Common practice, no source."""
        return (self.low + 4 * self.likely + self.high) / 6

    def __add__(self, other: Spread) -> Spread:
        return Spread(self.low + other.low, self.likely + other.likely, self.high + other.high)

    def __mul__(self, factor: float) -> Spread:
        return Spread(self.low * factor, self.likely * factor, self.high * factor)


NOTHING = Spread(0.0, 0.0, 0.0)
