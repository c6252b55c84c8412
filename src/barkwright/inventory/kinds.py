"""What the capacity of each kind of equipment means, and in which unit it is written."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from barkwright.datafile import load
from barkwright.inventory.measure import Measure
from barkwright.inventory.model import Kind
from barkwright.record import dataclass


@dataclass(frozen=True, slots=True)
class Capacity:
    """What the capacity of a kind is; units of the file by system, the unit inside, the share taken all day."""

    capacity: str | None  # what is measured, in words; None: this kind has no capacity
    unit: str = ""
    metric: str = ""
    inside: str = ""
    range: tuple[float, float] = (0.0, 0.0)  # in the inside unit
    share: float = 1.0  # of the maker's figure that it really takes all day; ours

    @property
    def measure(self) -> Measure:
        """The mark of a capacity of this kind."""
        return Measure(self.unit, self.metric, self.inside, *self.range)


@dataclass(frozen=True, slots=True)
class Kinds:
    """data/inventory/equipment.yaml."""

    checked_on: str
    kinds: dict[Kind, Capacity]


@cache
def capacities() -> Mapping[Kind, Capacity]:
    """What capacity means, by kind of equipment."""
    return load("inventory/equipment.yaml", Kinds).kinds


def working_share(kind: Kind) -> float:
    """Share of the maker's capacity that this kind really takes all day, where the user does not say. Ours."""
    return capacities()[kind].share
