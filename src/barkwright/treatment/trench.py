"""Trenches: section, length for logs, spoil, and what an excavator digs in an hour. Any one unit of length."""

from __future__ import annotations

from typing import NamedTuple


class Trench(NamedTuple):
    """A trench for logs; volumes in the cube of the unit of its lengths."""

    length: float
    depth: float
    bank: float  # undisturbed ground to dig
    loose: float  # the same, dug out


def trench_section(width: float, depth: float, side_slope: float = 0.0) -> float:
    """Section area of a trench: bottom width, depth, and horizontal run of the sides per unit of depth (0: upright).

    Source: geometry, w d + m d2.
    """
    return width * depth + side_slope * depth**2


def loose_volume(bank: float, swell: float) -> float:
    """Volume of dug-out ground from its bank volume and its swell share (0.25 = 25 %).

    Source: [peurifoy2010] definitions of bank and loose measure.
    """
    return bank * (1 + swell)


def trench_for_logs(
    solid: float, packing: float, width: float, layer: float, cover: float, swell: float, side_slope: float = 0.0
) -> Trench:
    """Trench that takes logs of a solid volume.

    solid : volume of the logs; packing : solid share of the heap [0..1]; width, layer (depth of logs), cover (soil
    over the top of the logs): lengths; swell: share; side_slope: run per rise.
    Source: geometry; the gross heap is taken in the upright part of the trench.
    """
    depth = layer + cover
    length = solid / packing / (width * layer)
    bank = trench_section(width, depth, side_slope) * length
    return Trench(length, depth, bank, loose_volume(bank, swell))


def excavator_loose_per_hour(bucket: float, fill: float, cycles_per_hour: float, efficiency: float) -> float:
    """Loose volume dug per hour: heaped bucket, fill factor, cycles per hour and share of the hour worked [0..1].

    Source: [nunnally2007] and common estimating practice, Q = bucket x fill x cycles x efficiency.
    """
    return bucket * fill * cycles_per_hour * efficiency
