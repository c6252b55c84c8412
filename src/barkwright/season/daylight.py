"""Sunrise, sunset and the hours of daylight between them, anywhere and on any day."""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from functools import lru_cache
from typing import Literal

from barkwright.record import dataclass

Always = Literal["up", "down"]
SUNRISE_ZENITH_DEG = 90.833  # upper limb on the horizon, refraction included
CIVIL_ZENITH_DEG = 96.0
_ROUNDS = 5  # the sun's place is taken anew at each estimate of the event; four rounds settle it to a second at most
DAY = timedelta(days=1)
_SETTLED_MIN = 1e-3  # a round that moves the event by less than this is the last
HIGHEST_WITH_SUN_DEG = 65.0  # nearer the equator than this the sun rises and sets on every day of the year


@dataclass(frozen=True, slots=True)
class SunTimes:
    """The sun on one local solar day: times in UTC, or "up" or "down" for all of it.

    Dawn and dusk are those of civil twilight. The site's clock is not known here: people are shown hours of light.
    """

    rise: datetime | Always
    set: datetime | Always
    dawn: datetime | Always
    dusk: datetime | Always

    @property
    def daylight_h(self) -> float:
        """From sunrise to sunset [h]: 24 on a polar day, 0 in a polar night."""
        return _between(self.rise, self.set)

    @property
    def twilight_h(self) -> float:
        """From dawn to dusk [h]: 24 where the night stays light, 0 where not even the noon does."""
        return _between(self.dawn, self.dusk)


def sun_times(latitude: float, longitude: float, day: date) -> SunTimes:
    """Sunrise, sunset and civil twilight of a local solar day.

    latitude, longitude : float    [degrees north, degrees east]
    """
    return SunTimes(
        rise=sun_event(latitude, longitude, day, "rise"),
        set=sun_event(latitude, longitude, day, "set"),
        dawn=sun_event(latitude, longitude, day, "rise", CIVIL_ZENITH_DEG),
        dusk=sun_event(latitude, longitude, day, "set", CIVIL_ZENITH_DEG),
    )


@lru_cache(maxsize=4096)
def daylight_hours(latitude: float, longitude: float, day: date) -> float:
    """Hours from sunrise to sunset on a local solar day [h], 0 to 24; the polar day is 24 and the polar night 0.

    latitude, longitude : float    [degrees north, degrees east]
    """
    return _between(sun_event(latitude, longitude, day, "rise"), sun_event(latitude, longitude, day, "set"))


def sunless(latitude: float, longitude: float, day: date, last: date) -> tuple[date, date] | None:
    """The first run of days without sunrise that holds any day from `day` to `last`, whole; None where there is none.

    latitude, longitude : float    [degrees north, degrees east]
    """
    if abs(latitude) < HIGHEST_WITH_SUN_DEG:
        return None

    def dark(one: date) -> bool:
        return daylight_hours(latitude, longitude, one) <= 0.0

    found = next((one for one in _days(day, last) if dark(one)), None)
    if found is None:
        return None
    first = end = found
    while dark(first - DAY):
        first -= DAY
    while dark(end + DAY):
        end += DAY
    return first, end


def sun_event(
    latitude: float,
    longitude: float,
    day: date,
    event: Literal["rise", "set"],
    zenith_deg: float = SUNRISE_ZENITH_DEG,
) -> datetime | Always:
    """When the sun crosses a zenith distance in the morning or evening of a local solar day, in UTC.

    latitude, longitude : float    [degrees north, degrees east]
    zenith_deg : float             90.833 for sunrise and sunset, 96 for civil twilight [degrees]
    Returns a time (its UTC date may be the next or the last day's), or "up" or "down" when the sun stays there.
    Valid: 1900 to 2100, -90 to 90 degrees. Error: under a minute against the almanac's printed minutes.
    Source: noaa-solar, spreadsheet formulas, after Meeus.
    Differs: the sun's place is taken at the event itself, by iteration, which matters in the far north.
    """
    midnight = datetime(day.year, day.month, day.day, tzinfo=UTC)
    minutes = 720.0 - 4.0 * longitude
    side = -4.0 if event == "rise" else 4.0
    for _ in range(_ROUNDS):
        declination, equation_min = _sun(_century(midnight, minutes))
        cos_hour = _cos_hour_angle(latitude, declination, zenith_deg)
        if cos_hour < -1.0:
            return "up"
        if cos_hour > 1.0:
            return "down"
        before = minutes
        minutes = 720.0 - 4.0 * longitude - equation_min + side * math.degrees(math.acos(cos_hour))
        if abs(minutes - before) < _SETTLED_MIN:
            break
    return midnight + timedelta(minutes=minutes)


def _between(rise: datetime | Always, fall: datetime | Always) -> float:
    if isinstance(rise, datetime) and isinstance(fall, datetime):
        return (fall - rise).total_seconds() / 3600
    return 24.0 if "up" in (rise, fall) else 0.0


def _days(first: date, last: date) -> Iterator[date]:
    while first <= last:
        yield first
        first += DAY


def _century(midnight: datetime, minutes: float) -> float:
    julian_day = midnight.timestamp() / 86400 + 2440587.5 + minutes / 1440
    return (julian_day - 2451545.0) / 36525.0


def _cos_hour_angle(latitude: float, declination: float, zenith_deg: float) -> float:
    lat = math.radians(latitude)
    above = math.cos(math.radians(zenith_deg)) - math.sin(lat) * math.sin(declination)
    return above / (math.cos(lat) * math.cos(declination))


def _sun(jc: float) -> tuple[float, float]:
    """Declination [rad] and equation of time [min] at jc Julian centuries from noon of 1 January 2000."""
    long_deg = (280.46646 + jc * (36000.76983 + 0.0003032 * jc)) % 360
    long = math.radians(long_deg)
    anomaly = math.radians(357.52911 + jc * (35999.05029 - 0.0001537 * jc))
    ecc = 0.016708634 - jc * (0.000042037 + 0.0000001267 * jc)
    centre = (
        math.sin(anomaly) * (1.914602 - jc * (0.004817 + 0.000014 * jc))
        + math.sin(2 * anomaly) * (0.019993 - 0.000101 * jc)
        + 0.000289 * math.sin(3 * anomaly)
    )
    node = math.radians(125.04 - 1934.136 * jc)
    apparent = math.radians(long_deg + centre - 0.00569 - 0.00478 * math.sin(node))
    mean_tilt = 23 + (26 + (21.448 - jc * (46.815 + jc * (0.00059 - jc * 0.001813))) / 60) / 60
    tilt = math.radians(mean_tilt + 0.00256 * math.cos(node))
    declination = math.asin(math.sin(tilt) * math.sin(apparent))
    y = math.tan(tilt / 2) ** 2
    equation = math.degrees(
        y * math.sin(2 * long)
        - 2 * ecc * math.sin(anomaly)
        + 4 * ecc * y * math.sin(anomaly) * math.cos(2 * long)
        - y * y / 2 * math.sin(4 * long)
        - 1.25 * ecc * ecc * math.sin(2 * anomaly)
    )
    return declination, 4 * equation
