"""What may be lifted by hand, reckoned from the weights of this plan's own logs."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from barkwright.output.measures import KG_PER_LB
from barkwright.output.words import number
from barkwright.record import dataclass
from barkwright.sources import cite
from barkwright.treatment.lifting import log_pickup_limit_lb, pair_pickup_limit_lb, widest_liftable_in
from barkwright.units import CM_PER_IN

if TYPE_CHECKING:
    from barkwright.output.view import View
    from barkwright.stem.pieces import Piece


@dataclass(frozen=True, slots=True)
class Lifting:
    """Limits of weight, the sizes of wood that weigh as much, and how many logs weigh more than two may lift."""

    one_lb: float
    two_lb: float
    log_length_ft: float
    widest_log_in: float  # across the middle, of a log of that length that one person may lift
    fuel_length_ft: float | None  # None: nothing is cut to fuel
    widest_fuel_in: float | None
    logs: int
    too_heavy_for_one: int
    too_heavy_for_two: int


def lifting_of(view: View) -> Lifting | None:
    """What the hands on this site may lift; None where no log is worked."""
    logs = [
        piece
        for piece in view.pieces.values()
        if piece.kind == "log" and (way := view.way(piece.id)) is not None and way.method != "leave"
    ]
    if not logs:
        return None
    one, two, dense = log_pickup_limit_lb(), pair_pickup_limit_lb(), max(map(_pounds_per_ft3, logs))
    cutting = view.plan.inventory.cutting
    split = any((way := view.way(piece.id)) is not None and way.method == "split" for piece in logs)
    fuel = cutting.fuel_length_in / 12 if split else None
    return Lifting(
        one,
        two,
        cutting.log_length_ft,
        widest_liftable_in(one, cutting.log_length_ft, dense),
        fuel,
        widest_liftable_in(one, fuel, dense) if fuel else None,
        len(logs),
        sum(piece.lift_lb > one for piece in logs),
        sum(piece.lift_lb > two for piece in logs),
    )


def _pounds_per_ft3(log: Piece) -> float:
    """Weight of a log by its bulk over bark, a cone cut off [lb/ft3]."""
    butt, top = log.butt_dob_in / 12, log.top_dob_in / 12
    return log.lift_lb / (math.pi / 12 * log.length_ft * (butt * butt + butt * top + top * top))


def hand_lifting(view: View) -> str:
    """Roll, winch or lift: in plain words, limits rounded down."""
    found = lifting_of(view)
    if found is None:
        return ""
    view.cited.extend((cite("niosh94-110, lifting equation"), cite("hse-l23, team handling")))
    view.bases["lifting-one"], view.bases["lifting-two"] = "published", "from memory"
    long, wide = view.units.feet(found.log_length_ft), _down_across(view, found.widest_log_in)
    said = (
        f"One person lifts at most {_down_weight(view, found.one_lb)} off the ground, two together "
        f"{_down_weight(view, found.two_lb)} (from memory; how one stands to it is ours). "
        f"Logs over {wide} across and {long} long: roll or winch them, or let a machine lift them."
    )
    if found.fuel_length_ft is not None and found.widest_fuel_in is not None:
        rounds = view.units.inches(found.fuel_length_ft * 12)
        said += f" Rounds of {rounds}: roll those over {_down_across(view, found.widest_fuel_in)} across."
    return f"{said} {_how_many(found)}"


def _how_many(found: Lifting) -> str:
    if found.logs == 1:
        return "That is the one log here." if found.too_heavy_for_one else "The one log here is lighter."
    if found.too_heavy_for_one == found.logs:
        two = "and for two" if found.too_heavy_for_two == found.logs else f"and {found.too_heavy_for_two} for two"
        return f"All {found.logs} logs here are too heavy for one {two}."
    return (
        f"Of the {found.logs} logs here {found.too_heavy_for_one} are too heavy for one and "
        f"{found.too_heavy_for_two} for two."
    )


def _down_weight(view: View, pounds: float) -> str:
    return f"{math.floor(pounds * KG_PER_LB)} kg" if view.units.metric else f"{math.floor(pounds)} lb"


def _down_across(view: View, inches: float) -> str:
    return f"{number(math.floor(inches * CM_PER_IN))} cm" if view.units.metric else f"{number(math.floor(inches))} in"
