"""Stump diameters below breast height: pure functions."""

from __future__ import annotations

BREAST_HEIGHT_FT = 4.5


def stump_dob_in(dbh_in: float, height_ft: float, b: float) -> float:
    """Diameter outside bark at a height below breast height.

    dbh_in : float       Diameter outside bark at 4.5 ft, D. [in]
    height_ft : float    Height above ground, h, 0 to 4.5. [ft]
    b : float            Flare coefficient of the species, B.
    Returns the diameter outside bark. [in]  Error: not published.
    Source: [raile1982] dob = D + D B (4.5 - h) / (h + 1).

    >>> round(stump_dob_in(16, 1, .14525), 2)
    20.07
    """
    return dbh_in + dbh_in * b * (BREAST_HEIGHT_FT - height_ft) / (height_ft + 1)


def dbh_from_stump_in(dob_in: float, height_ft: float, b: float) -> float:
    """Diameter at breast height of the tree that left a stump: `stump_dob_in` turned round.

    dob_in : float       Stump diameter outside bark at the cut. [in]
    height_ft : float    Height of the cut above ground, 0 to 4.5. [ft]
    Returns D. [in]  Source: [raile1982].  Differs: solved for D.
    """
    return dob_in / (1 + b * (BREAST_HEIGHT_FT - height_ft) / (height_ft + 1))


def height_of_stump_dob_ft(dob_in: float, dbh_in: float, b: float) -> float:
    """Height below breast height at which the stem has a diameter: `stump_dob_in` turned round.

    dob_in : float    Diameter outside bark, dbh_in or more. [in]
    Returns the height above ground [ft]; below 0 when the stem is nowhere that thick.  Source: [raile1982].
    """
    flare = (dob_in / dbh_in - 1) / b
    return (BREAST_HEIGHT_FT - flare) / (1 + flare)
