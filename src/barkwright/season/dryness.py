"""A place's mean year as split wood meets it."""

from __future__ import annotations

from functools import lru_cache

from barkwright.season.climate import climate_of
from barkwright.season.drying import DryingAir, drying_air
from barkwright.season.site import Season


@lru_cache(maxsize=16)
def air_of(season: Season) -> DryingAir | None:
    """The place's mean days for split wood; None where temperature or humidity is not known."""
    climate = climate_of(season)
    return None if climate is None or climate.rh_pct is None else drying_air(climate.temp_c, climate.rh_pct)
