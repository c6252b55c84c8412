"""Piles: volume, oven-dry mass and smoke, by the published equations, in metres, tonnes (Mg) and pounds per short ton.

Gross volume, hand piles: Wright, Balog and Kelly 2010 [wright2010]. Machine piles and emission factors: Hardy 1996
[hardy1996]. Read in the Forest Service's own reference implementation and its test vectors.
"""

from __future__ import annotations

import math
from typing import Literal

Cleanness = Literal["clean", "dirty", "very dirty"]
Particles = Literal["PM2.5", "PM10", "PM"]
Shape = Literal[
    "half sphere", "paraboloid", "half cylinder", "half frustum", "half frustum rounded", "half ellipsoid", "irregular"
]
CONSUMED = 0.90  # share of a pile that burns [wright2010 reference implementation, default]
LB_PER_TON: dict[Particles, dict[Cleanness, float]] = {  # per short ton consumed [hardy1996]
    "PM2.5": {"clean": 13.5, "dirty": 17.0, "very dirty": 23.6},
    "PM10": {"clean": 15.5, "dirty": 20.0, "very dirty": 28.0},
    "PM": {"clean": 21.9, "dirty": 27.0, "very dirty": 36.0},
}
LB_PER_SHORT_TON = 2000.0


def gross_volume(shape: Shape, height: float = 0.0, *widths_lengths: float) -> float:
    """Volume of a pile's outline, in the cube of the unit given.

    shape and its dimensions in order: half sphere h; paraboloid h, w; half cylinder h, w, l; half ellipsoid h, w, l;
    half frustum and half frustum rounded 0, w1, w2, l; irregular h1, h2, w1, w2, l1, l2.
    Source: [hardy1996] pile shapes, as carried in the reference implementation.
    """
    if shape == "half sphere":
        return 2 * math.pi * height**3 / 3
    if shape == "paraboloid":
        (width,) = widths_lengths
        return math.pi * height * width**2 / 8
    if shape == "half cylinder":
        width, length = widths_lengths
        return math.pi * height * width * length / 4
    if shape == "half ellipsoid":
        width, length = widths_lengths
        return math.pi * height * width * length / 6
    if shape == "irregular":
        height_2, width_1, width_2, length_1, length_2 = widths_lengths
        return (length_1 + length_2) * (width_1 + width_2) * (height + height_2) / 8
    width_1, width_2, length = widths_lengths
    body = length * (width_1**2 + width_2**2 + width_1 * width_2)
    ends = width_1**3 + width_2**3 if shape == "half frustum rounded" else 0.0
    return math.pi * (body + ends) / 24


def hand_pile_true_volume_m3(gross_m3: float) -> float:
    """True volume of a hand pile [m3] from its gross volume [m3].  Source: [wright2010], reference implementation."""
    return math.exp(0.2106 + 0.7691 * math.log(gross_m3)) if gross_m3 >= 1 else math.exp(0.2106) * gross_m3


def hand_pile_mass_mg(true_m3: float, conifer: bool = True) -> float:
    """Oven-dry mass of one hand pile [Mg] from its true volume [m3].

    Valid for: 121 measured piles, Washington and California.  Source: [wright2010], reference implementation.
    """
    a, b = (4.4281, 0.8028) if conifer else (3.0393, 1.3129)
    return math.exp(a + b * math.log(true_m3)) / 1000


def machine_pile_net(gross: float, packing: float, soil_share: float = 0.0) -> float:
    """Wood in a machine pile or log pile, in the unit of its gross volume.

    packing : solid share [0..1], 0.20 short-needled conifer under 10 in, 0.25 clean logs over.
    Source: [hardy1996], reference implementation.
    """
    return gross * packing * (1 - soil_share)


def machine_pile_mass_mg(net_m3: float, wood_mg_per_m3: float) -> float:
    """Oven-dry mass [Mg] of a machine pile from its net wood [m3] and the wood's density [Mg/m3 = g/cm3].

    Source: [hardy1996], reference implementation.
    """
    return net_m3 * wood_mg_per_m3


def smoke(
    mass: float, cleanness: Cleanness = "clean", consumed: float = CONSUMED, particles: Particles = "PM2.5"
) -> float:
    """Particles from burning an oven-dry mass, in the unit of `mass` (any: the factor is a ratio).

    consumed : share that burns [0..1].  Hand piles always burn clean.
    Source: [hardy1996] factors, lb per ton consumed.
    """
    return mass * consumed * LB_PER_TON[particles][cleanness] / LB_PER_SHORT_TON
