"""Field work lost to weather at a place: the expected share of a working day, by month, from its daily record."""

from __future__ import annotations

from datetime import date
from functools import lru_cache
from typing import TYPE_CHECKING

from barkwright.record import dataclass
from barkwright.season.site import Season
from barkwright.season.weather import Station, Weather

if TYPE_CHECKING:
    from barkwright.season.losses import MonthLoss


@dataclass(frozen=True, slots=True)
class LostDays:
    """The expected loss in each month of the year, as a station's record up to the plan's date tells it."""

    station: Station
    first: date  # of the record
    last: date  # of the record, or the plan's date
    months: tuple[MonthLoss, ...]  # January to December
    shares: tuple[float, ...]  # the same months' `share`


def lost_days(season: Season) -> LostDays | None:
    """Work lost to weather at this place; None where no daily weather up to the plan's date is known."""
    return None if season.weather is None else _lost_days(season.weather, season.on)


def lost_share(season: Season, day: date) -> float:
    """The expected share of a working day that weather takes, 0 to 1; 0 where nothing is known of its month."""
    lost = lost_days(season)
    return 0.0 if lost is None else lost.shares[day.month - 1]


@lru_cache(maxsize=64)
def _lost_days(weather: Weather, on: date) -> LostDays | None:
    from barkwright.season.losses import month_losses

    dates = [day for day in weather.days if day <= on]
    if not dates:
        return None
    months = month_losses(weather, on)
    shares = tuple(month.share for month in months)
    return LostDays(weather.station, min(dates), max(dates), months, shares)
