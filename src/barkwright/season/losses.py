"""What cold, wind, wet and thunder take of working days: of one day by its readings, of a month by all its days."""

from __future__ import annotations

from datetime import date
from typing import Literal

from barkwright.record import dataclass
from barkwright.season.cold import warm_up
from barkwright.season.numbers import LOST_DAYS
from barkwright.season.weather import Day, Weather

Cause = Literal["cold", "wind", "wet", "thunder"]
Losses = dict[Cause, float]
CAUSES: tuple[Cause, ...] = ("cold", "wind", "wet", "thunder")


@dataclass(frozen=True, slots=True)
class MonthLoss:
    """What the weather of a month takes of a working day: shares from 0 to 1, None where the record does not tell.

    The causes overlap: `share` is the mean of each day's greatest loss, so it is at most their sum.
    """

    month: int  # 1 to 12, of every year on record
    days: int  # that the shares are means of: those with readings for every cause that is told
    share: float  # of all causes told; 0 where none is
    cold: float | None
    wind: float | None
    wet: float | None  # rain and snow
    thunder: float | None
    calm: int  # of these days, those for which the cold was judged as in still air, for want of the day's mean wind

    @property
    def known(self) -> bool:
        """Does the record tell of this month at all?"""
        return self.days > 0


def month_losses(weather: Weather, on: date) -> tuple[MonthLoss, ...]:
    """The expected loss in each month, January to December, from the days of a record up to a date."""
    by_month: list[list[tuple[Losses, bool]]] = [[] for _ in range(12)]
    for day, read in weather.days.items():
        if day <= on and (found := losses(read)):
            by_month[day.month - 1].append((found, read.wind_kmh is None))
    return tuple(_month(month, days) for month, days in enumerate(by_month, 1))


def losses(day: Day) -> Losses:
    """What each cause takes of one day, 0 to 1; a cause without its reading is absent."""
    found: Losses = {}
    if day.tmax_c is not None:
        found["cold"] = cold_loss(day.tmax_c, day.wind_kmh or 0.0)
    if day.gust_kmh is not None:
        found["wind"] = wind_loss(day.gust_kmh)
    if day.precip_mm is not None:  # new snow alone does not tell whether it rained
        found["wet"] = wet_loss(day.precip_mm, day.snow_cm or 0.0)
    if day.thunder is not None:
        found["thunder"] = LOST_DAYS["thunder_share"] if day.thunder else 0.0
    return found


def cold_loss(tmax_c: float, wind_kmh: float) -> float:
    """Share of a working day lost to cold, judged at its warmest.

    tmax_c : float      Highest temperature of the day. [degrees C]
    wind_kmh : float    Mean wind of the day. [km/h]
    Returns a share, 0 to 1.  Source: [acgih-warm-up] steps; what share a slowed day loses is ours.
    """
    at = warm_up(tmax_c, wind_kmh)
    if at.stop:
        return 1.0
    return LOST_DAYS["slow_share"] if at.step >= LOST_DAYS["slow_from_step"] else 0.0


def wind_loss(gust_kmh: float) -> float:
    """Share of a working day lost to wind, by its strongest gust [km/h]; the limits are ours."""
    return _stepped(gust_kmh, "strong_gust", "gale_gust", "gust_share")


def wet_loss(precip_mm: float, snow_cm: float) -> float:
    """Share of a working day lost to rain and melted snow [mm] or to new snow [cm]; the limits are ours."""
    return max(
        _stepped(precip_mm, "rain", "heavy_rain", "wet_share"),
        _stepped(snow_cm, "snow", "heavy_snow", "wet_share"),
    )


def _stepped(value: float, part: str, whole: str, share: str) -> float:
    """The share lost by a reading that is held against two limits, each given by its name."""
    return 1.0 if value >= LOST_DAYS[whole] else LOST_DAYS[share] if value >= LOST_DAYS[part] else 0.0


def _month(month: int, days: list[tuple[Losses, bool]]) -> MonthLoss:
    """The means over the days on which every cause was read that the month's record tells of."""
    told, days = _told(days)
    if not told:
        return MonthLoss(month, 0, 0.0, None, None, None, None, 0)
    mean = {cause: sum(loss[cause] for loss, _ in days) / len(days) for cause in told}
    share = sum(max(loss[cause] for cause in told) for loss, _ in days) / len(days)
    calm = sum(still for _, still in days)
    cold, wind, wet, thunder = (mean.get(cause) for cause in CAUSES)
    return MonthLoss(month, len(days), share, cold, wind, wet, thunder, calm)


def _told(days: list[tuple[Losses, bool]]) -> tuple[tuple[Cause, ...], list[tuple[Losses, bool]]]:
    """The causes that enough days tell of, and those days. A cause that is seldom read is left out before another."""
    fewest = LOST_DAYS["fewest_days"]
    read = {cause: sum(cause in loss for loss, _ in days) for cause in CAUSES}
    told = sorted((cause for cause in CAUSES if read[cause] >= fewest), key=lambda cause: -read[cause])
    while told:
        whole = [(loss, still) for loss, still in days if loss.keys() >= set(told)]
        if len(whole) >= fewest:
            return tuple(told), whole
        told.pop()
    return (), []
