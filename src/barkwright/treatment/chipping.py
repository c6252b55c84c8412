"""How fast a chipper works, from its engine and the mass of what it is fed."""

from __future__ import annotations

KW_PER_HP = 0.745699872  # mechanical horsepower, exact to the digits printed


def chip_minutes(tonnes: float, pieces: float, power_kw: float) -> float:
    """Pure chipping time of some green wood fed in a number of pieces of one mass [min].

    tonnes : green mass of them all [t].  pieces : how many they are.  power_kw and source as in
    `chip_minutes_per_tonne`, of which this is the multiple.
    """
    return 0.02 * tonnes + (13.1 * pieces + 566 * tonnes) / power_kw


def chip_minutes_per_tonne(piece_t: float, power_kw: float) -> float:
    """Pure chipping time of one green tonne.

    piece_t : PS, green mass of a piece [t], above 0.  power_kw : P, engine power [kW], above 0.  Returns minutes.
    Valid for: green wood (40 to 55 % water); most surveyed machines were larger than hand-fed ones, so small classes
    are an extrapolation.  Effective time only: moving, bin changes and delays come on top.
    Source: [spinelli2001] chipping term; equation read in secondary text.
    """
    if piece_t <= 0 or power_kw <= 0:
        raise ValueError(f"piece mass and power are above zero, not {piece_t} t and {power_kw} kW")
    return chip_minutes(1.0, 1 / piece_t, power_kw)
