"""What a person can lift: the revised NIOSH lifting equation, for screening. Inches and pounds."""

from __future__ import annotations

import math

from barkwright.treatment.limits import LIMITS

IN_PER_FT = 12
LOAD_CONSTANT_LB = 51.0  # [niosh94-110]


def multipliers(
    horizontal_in: float, vertical_in: float, travel_in: float, twist_deg: float = 0.0
) -> tuple[float, float, float, float]:
    """Horizontal, vertical, distance and asymmetry multipliers of the lifting equation.

    horizontal_in : H, hands from the ankles [in]; vertical_in : V, hands above the floor [in]; travel_in : D, vertical
    way [in]; twist_deg : A [deg].  Beyond H 25, V 70, D 70 or A 135 the multiplier is 0: the lift is not to be made.
    Source: [niosh94-110].
    """
    hm = 0.0 if horizontal_in > 25 else 10 / max(horizontal_in, 10)
    vm = 0.0 if vertical_in > 70 else 1 - 0.0075 * abs(vertical_in - 30)
    dm = 0.0 if travel_in > 70 else 0.82 + 1.8 / max(travel_in, 10)
    am = 0.0 if twist_deg > 135 else 1 - 0.0032 * twist_deg
    return hm, vm, dm, am


def recommended_weight_lb(
    horizontal_in: float,
    vertical_in: float,
    travel_in: float,
    frequency: float,
    coupling: float,
    twist_deg: float = 0.0,
) -> float:
    """Recommended weight limit [lb] of a two-handed lift by one healthy adult.

    frequency : FM [0..1]; coupling : CM [0.9..1]; others as `multipliers`.  Screening only: the equation excludes
    slippery footing, carrying and one-handed work, all of which the woods have.
    Source: [niosh94-110] RWL = LC HM VM DM AM FM CM.
    """
    hm, vm, dm, am = multipliers(horizontal_in, vertical_in, travel_in, twist_deg)
    return LOAD_CONSTANT_LB * hm * vm * dm * am * frequency * coupling


def log_pickup_limit_lb() -> float:
    """Weight of a short log that one person should pick up off the ground [lb].

    Source: [niosh94-110] at H 15, V 15, D 25 in, rare lifts, poor grip; the posture is ours.
    """
    return recommended_weight_lb(15, 15, 25, 1.0, 0.90)


def pair_pickup_limit_lb() -> float:
    """Weight of a log that two people who lift together should pick up off the ground [lb].

    Source: [hse-l23] team handling, two thirds of what both lift alone, from memory; the limit of one as above.
    """
    return 2 * LIMITS["pair_lift_share"] * log_pickup_limit_lb()


def widest_liftable_in(limit_lb: float, length_ft: float, pounds_per_ft3: float) -> float:
    """Diameter [in] at which a round log of this length weighs as much as may be lifted.

    limit_lb : weight that may be lifted [lb]; length_ft : of the log [ft]; pounds_per_ft3 : green wood with bark.
    Source: geometry of a cylinder.

    >>> round(widest_liftable_in(24.2, 5.55, 50), 1)
    4.0
    """
    return IN_PER_FT * math.sqrt(4 * limit_lb / (math.pi * length_ft * pounds_per_ft3))
