"""How fast a chipper works, from its engine and the mass of what it is fed."""

from __future__ import annotations

KW_PER_HP = 0.745699872  # mechanical horsepower, exact to the digits printed


def chip_minutes_per_tonne(piece_t: float, power_kw: float) -> float:
    """Pure chipping time of one green tonne.

    piece_t : PS, green mass of a piece [t], above 0.  power_kw : P, engine power [kW], above 0.  Returns minutes.
    Valid for: green wood (40 to 55 % water); most surveyed machines were larger than hand-fed ones, so small classes
    are an extrapolation.  Effective time only: moving, bin changes and delays come on top.
    Source: [spinelli2001] chipping term; equation read in secondary text.
    """
    if piece_t <= 0 or power_kw <= 0:
        raise ValueError(f"piece mass and power are above zero, not {piece_t} t and {power_kw} kW")
    return 0.02 + 13.1 / (piece_t * power_kw) + 566 / power_kw


def chip_tonnes_per_hour(piece_t: float, power_kw: float) -> float:
    """Green tonnes per productive hour.  Arguments and source as `chip_minutes_per_tonne`."""
    return 60 / chip_minutes_per_tonne(piece_t, power_kw)
