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


def fits_from(
    capacities: tuple[tuple[Kind, float], ...], height_of_ft: Callable[[float], float]
) -> tuple[tuple[Kind, float, float], ...]:
    """Kind, working capacity [in] and the height from which the stem fits that machine [ft], for each machine.

    height_of_ft : the height at which the stem has a diameter outside bark; below it the stem is thicker.
    """
    return tuple((kind, capacity_in, height_of_ft(capacity_in)) for kind, capacity_in in capacities)


def cut_points(fits: tuple[tuple[Kind, float, float], ...], from_ft: float, to_ft: float) -> tuple[CutPoint, ...]:
    """For each machine of `fits_from`, how much of the piece between two heights [ft] is too thick for it."""
    return tuple(
        CutPoint(kind, capacity_in, height_ft, min(max(height_ft - from_ft, 0.0), to_ft - from_ft))
        for kind, capacity_in, height_ft in fits
    )
