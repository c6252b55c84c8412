"""Loads and round trips."""

from __future__ import annotations

import math

from barkwright.units import KM_PER_MILE


def truck_speed_kmh(distance_km: float) -> float:
    """Average speed of a loaded truck on one way of a distance [km], from 2 km up.  Returns [km/h].

    Source: [ranta2006] 12.7 ln D + 9.3, secondary; the carrying code divides D, we take it as the average both ways.
    """
    if distance_km < 2:
        raise ValueError(f"the speed relation starts at 2 km, not {distance_km} km")
    return 12.7 * math.log(distance_km) + 9.3


def round_trip_hours(miles: float) -> float:
    """Driving there and back [h] without loading.  miles : one way.  Under 2 km the speed of 2 km is taken."""
    km = miles * KM_PER_MILE
    return 2 * km / truck_speed_kmh(max(km, 2.0))


def loads(weight_lb: float, payload_lb: float) -> int:
    """Trips that a weight takes [count]; payload = what the truck or trailer may carry [lb], above 0."""
    if payload_lb <= 0:
        raise ValueError(f"a payload is above zero, not {payload_lb} lb")
    return math.ceil(weight_lb / payload_lb) if weight_lb > 0 else 0
