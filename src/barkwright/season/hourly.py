"""Hours of a day above a temperature, from the day's lowest and highest."""

from __future__ import annotations

import math
from datetime import date

from barkwright import datafile
from barkwright.record import dataclass


@dataclass(frozen=True, slots=True)
class HourlyBook:
    """The whole file, data/season/hourly.yaml."""

    checked_on: date
    max_lag_h: float
    night_decay: float
    min_lag_h: float
    source: str
    longest_day_h: float
    fly_from_c: float
    fly_source: str


def hours_above(tmin_c: float, tmax_c: float, threshold_c: float, daylight_h: float) -> float:
    """Hours of a day above a temperature: a sine wave by day and a falling curve by night.

    tmin_c, tmax_c : float    Lowest and highest temperature of the day, Tn and Tx. [degrees C]
    threshold_c : float       The temperature. [degrees C]
    daylight_h : float        Sunrise to sunset, Y, 0 to 24. [h]
    Returns hours, 0 to 24.
    Valid: from 23 h of daylight on the answer is that of `hours_above_sine`.  Error: at 60 % of the range of nine mean
    days at 47 to 65 degrees north 1.1 h too many on average, never too few; single days scatter more.
    Source: [partonlogan1981] Denver, air at 150 cm.  Differs: solved for the hours, not stepped through the day.
    """
    course = book()
    if daylight_h >= course.longest_day_h:
        return hours_above_sine(tmin_c, tmax_c, threshold_c)
    share = _share(tmin_c, tmax_c, threshold_c)
    if not 0 < share < 1:
        return 24.0 if share <= 0 else 0.0
    wave_h = daylight_h + 2 * course.max_lag_h
    day_h = daylight_h - course.min_lag_h  # from the lowest temperature to sunset
    rise_h = wave_h / math.pi * math.asin(share)
    by_day = max(0.0, min(day_h, wave_h - rise_h) - rise_h)
    at_sunset = math.sin(math.pi * day_h / wave_h)
    if at_sunset <= share:
        return by_day
    by_night = (24 - daylight_h) / course.night_decay * math.log(at_sunset / share)
    return by_day + min(by_night, 24 - day_h)


def hours_above_sine(tmin_c: float, tmax_c: float, threshold_c: float) -> float:
    """Hours of a day above a temperature, the whole day one sine wave.

    tmin_c, tmax_c : float    Lowest and highest temperature of the day. [degrees C]
    threshold_c : float       The temperature. [degrees C]
    Returns hours, 0 to 24.
    Error: at 60 % of the range of nine mean days at 47 to 65 degrees north 1.1 h too few on average;
    once half an hour too many.
    Source: [allen1976] sine wave.  Differs: hours in place of degree days.

    >>> round(hours_above_sine(5, 21, 16), 3)
    9.063
    """
    share = _share(tmin_c, tmax_c, threshold_c)
    if not 0 < share < 1:
        return 24.0 if share <= 0 else 0.0
    return 24 * (0.5 - math.asin(2 * share - 1) / math.pi)


def _share(tmin_c: float, tmax_c: float, threshold_c: float) -> float:
    """Where the threshold lies in the day's range: 0 at the lowest temperature, 1 at the highest."""
    if tmax_c <= tmin_c:
        return 0.0 if threshold_c <= tmin_c else 1.0
    return (threshold_c - tmin_c) / (tmax_c - tmin_c)


def book() -> HourlyBook:
    """data/season/hourly.yaml."""
    return datafile.load("season/hourly.yaml", HourlyBook)
