"""Machines and tools: which are there on which days, and what an hour of each costs."""

from __future__ import annotations

from barkwright.inventory.model import Equipment
from barkwright.record import dataclass


@dataclass(frozen=True, slots=True)
class Machine:
    """One entry of the equipment list, by day index of the calendar."""

    place: int  # in the inventory's list
    kind: str
    label: str
    hired: bool  # has a rent; else it is there whenever it is needed
    count: int
    first: int
    last: int
    capacity: float | None  # working capacity in the unit of the kind
    strongest: bool  # no other of its kind takes more
    running: float  # what an hour costs beside the rent [currency/h]
    hourly: float  # the same with the rent spread over a full day [currency/h]
    entry: Equipment

    def takes(self, thickest_in: float) -> bool:
        """Does it take wood that thick? The strongest of a kind does all that its ways allow."""
        if self.kind != "chipper" or self.strongest or self.capacity is None:
            return True
        return thickest_in <= self.capacity


def label(entry: Equipment) -> str:
    """The name that the user gave, or the kind with its capacity."""
    if entry.name:
        return entry.name
    words = entry.kind.replace("-", " ")
    return words if entry.capacity is None or entry.kind != "chipper" else f"{words}, {entry.capacity:g} in"
