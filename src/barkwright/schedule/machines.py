"""Machines and tools: which are there on which days, and what an hour of each costs."""

from __future__ import annotations

from barkwright.inventory.model import Equipment, Kind
from barkwright.record import dataclass

STRONGEST = frozenset(("excavator", "backhoe", "truck", "trailer", "chip-truck"))
SIZES: dict[Kind, str] = {  # how the size of a machine stands beside its name
    "chipper": "{:g} in", "aerial-lift": "{:g} ft", "excavator": "digs {:g} ft", "backhoe": "digs {:g} ft",
}  # fmt: skip


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

    def takes(self, thickest_in: float, height_ft: float) -> bool:
        """Does it take wood that thick, and work that high? The strongest of a kind does all that its ways allow.

        What a digger reaches and a vehicle carries is judged, and its hours are reckoned, for the strongest: only that.
        """
        if self.strongest:
            return True
        if self.kind == "aerial-lift":
            return self.capacity is not None and height_ft <= self.capacity
        if self.kind == "chipper":
            return self.capacity is None or thickest_in <= self.capacity
        return self.kind not in STRONGEST


def label(entry: Equipment) -> str:
    """The name that the user gave, or the kind with its size where machines of that kind differ by it."""
    if entry.name:
        return entry.name
    words = entry.kind.replace("-", " ")
    size = SIZES.get(entry.kind)
    return words if entry.capacity is None or size is None else f"{words}, {size.format(entry.capacity)}"
