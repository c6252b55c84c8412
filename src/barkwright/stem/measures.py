"""Solid volumes, weights, stacked and loose measure of wood: pure functions."""

from __future__ import annotations

import math

from barkwright.units import FT3_PER_YD3

WATER_LB_FT3 = 62.4


def density_lb_ft3(specific_gravity: float, moisture_percent: float, water_lb_ft3: float = WATER_LB_FT3) -> float:
    """Weight of a cubic foot of wood at a moisture content.

    specific_gravity : float    G at the same moisture content (basic, over fibre saturation).
    moisture_percent : float    x, percent of dry weight.
    water_lb_ft3 : float        Density of water, 62.4. [lb/ft3]  In [kg/m3] with 1000.
    Source: [woodhandbook2021] eq. 4-14, rho = rho_w G (1 + x / 100).
    """
    return water_lb_ft3 * specific_gravity * (1 + moisture_percent / 100)


def dry_to_green(wood_sg: float, wood_mc: float, bark_sg: float, bark_mc: float, bark_percent: float) -> float:
    """Green weight of one dry pound of wood with its share of bark.

    wood_sg, bark_sg : float    Dry weight over green volume.
    wood_mc, bark_mc : float    Moisture content, percent of dry weight.
    bark_percent : float        Bark volume, percent of wood volume.
    Source: [nrs38], the conversion column; the identity is ours, it gives every spruce row to 6 digits.
    """
    share = bark_percent / 100
    green = wood_sg * (1 + wood_mc / 100) + share * bark_sg * (1 + bark_mc / 100)
    return green / (wood_sg + share * bark_sg)


def section_ft2(diameter_in: float) -> float:
    """Area of a cross-section [ft2] from its diameter [in]."""
    return math.pi / 576 * diameter_in * diameter_in


def cone_ft3(butt_in: float, top_in: float, length_ft: float) -> float:
    """Solid volume of a log taken as a cut cone. [ft3]

    butt_in, top_in : float    End diameters. [in]   length_ft : float    Length. [ft]
    Source: [larsen-logs] V = L (A1 + A2 + sqrt(A1 A2)) / 3.

    >>> round(cone_ft3(12, 10, 16), 3)
    10.588
    """
    butt, top = section_ft2(butt_in), section_ft2(top_in)
    return length_ft * (butt + top + math.sqrt(butt * top)) / 3


def side_ft2(butt_in: float, top_in: float, length_ft: float) -> float:
    """Side surface of a cut cone, ends left out: the bark to strip. [ft2]

    butt_in, top_in : float    End diameters outside bark. [in]   length_ft : float    Length. [ft]
    Geometry: pi (r1 + r2) sqrt(L^2 + (r1 - r2)^2).
    """
    butt_r, top_r = butt_in / 24, top_in / 24
    return math.pi * (butt_r + top_r) * math.hypot(length_ft, butt_r - top_r)


def loose_yd3(wood_ft3: float, bark_ft3: float, wood_factor: float, bark_factor: float) -> float:
    """Loose chips of solid wood and bark. [yd3]

    wood_ft3, bark_ft3 : float          Solid volume. [ft3]
    wood_factor, bark_factor : float    Loose over solid volume.  Source: [briggs1994] table 7-1.

    >>> round(loose_yd3(100, 0, 2.86, 2.35) * 27)
    286
    """
    return (wood_ft3 * wood_factor + bark_ft3 * bark_factor) / FT3_PER_YD3


def loose_bulk_lb_ft3(specific_gravity: float, wood_factor: float) -> float:
    """Dry weight of a loose cubic foot of chips. [lb/ft3]  Source: [briggs1994] table 7-2, 62.4 G / factor."""
    return WATER_LB_FT3 * specific_gravity / wood_factor
