"""The chipper of a site, and how much of a piece is too thick for it."""

from __future__ import annotations

from barkwright.inventory.model import Inventory
from barkwright.record import dataclass
from barkwright.stem.pieces import Piece
from barkwright.treatment.limits import LIMITS


@dataclass(frozen=True, slots=True)
class Chipper:
    """The chipper that takes the thickest wood."""

    maker_in: float | None
    working_in: float
    feed: str  # hand winch loader unknown


def chipper_of(inventory: Inventory) -> Chipper | None:
    """The chipper with the largest working capacity [in]; where none is given, the maker's figure times a share."""
    found = []
    for one in inventory.equipment:
        if one.kind == "chipper" and (one.working_capacity or one.capacity):
            working = one.working_capacity or float(one.capacity or 0) * LIMITS["chipper_working_share"]
            found.append(Chipper(one.capacity, working, one.feed or "unknown"))
    return max(found, key=lambda one: one.working_in, default=None)


def short_butt_ft(piece: Piece, chipper: Chipper) -> float:
    """Length of the piece that is too thick for the chipper all day [ft], 0 where all of it fits."""
    lengths = [
        one.short_butt_ft
        for one in piece.cut_points
        if one.equipment == "chipper" and one.capacity_in == chipper.working_in
    ]
    if lengths:
        return min(lengths)
    if piece.butt_dob_in <= chipper.working_in:
        return 0.0
    if piece.top_dob_in >= chipper.working_in or piece.butt_dob_in == piece.top_dob_in:
        return piece.length_ft
    return piece.length_ft * (piece.butt_dob_in - chipper.working_in) / (piece.butt_dob_in - piece.top_dob_in)
