"""Where a stem grows thinner than the machines at hand take."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from barkwright.inventory.kinds import working_share
from barkwright.inventory.model import Equipment, Kind
from barkwright.stem.pieces import CutPoint

BY_DIAMETER: tuple[Kind, ...] = ("chipper", "portable-sawmill")  # kinds whose capacity is a diameter


def working_capacities(equipment: Iterable[Equipment]) -> tuple[tuple[Kind, float], ...]:
    """What each machine that is limited by diameter takes all day [in], in the order of the list, each once.

    The user's working capacity; where it is missing, the default share of the maker's figure.
    """
    found: dict[tuple[Kind, float], None] = {}
    for machine in equipment:
        if machine.kind not in BY_DIAMETER:
            continue
        if machine.working_capacity is not None:
            found[machine.kind, machine.working_capacity] = None
        elif machine.capacity is not None:
            found[machine.kind, machine.capacity * working_share(machine.kind)] = None
    return tuple(found)


def cut_points(
    capacities: tuple[tuple[Kind, float], ...], from_ft: float, to_ft: float, height_of_ft: Callable[[float], float]
) -> tuple[CutPoint, ...]:
    """For each machine, the height from which the stem fits it, and how much of a piece is too thick for it.

    height_of_ft : the height at which the stem has a diameter outside bark; below it the stem is thicker.
    """
    points = []
    for kind, capacity_in in capacities:
        height = height_of_ft(capacity_in)
        points.append(CutPoint(kind, capacity_in, height, min(max(height - from_ft, 0.0), to_ft - from_ft)))
    return tuple(points)
