"""Daily weather made up for tests: years whose temperature follows a plain curve, or days that are named."""

import math
from datetime import date, timedelta

from barkwright.season.weather import Day, Station, Weather

STATION = Station("X1", "Testing Knoll", 54.0, -122.0, 700.0)


def of(days, station=STATION):
    return Weather(station, "made up", (), dict(sorted(days.items())), ())


def wave(years, mean=6.0, swing=13.0, span=12.0, shift=0):
    """Tmax = mean + swing * cos(2 pi (d - 200) / 365), d the day of the year; Tmin is `span` lower."""
    days = {}
    for year in years:
        day = date(year, 1, 1)
        while day.year == year:
            number = (day - date(year, 1, 1)).days + 1 - shift
            high = mean + swing * math.cos(2 * math.pi * (number - 200) / 365)
            days[day] = Day(tmax_c=high, tmin_c=high - span)
            day += timedelta(days=1)
    return days


def cold(year, warm=()):
    """A year of cold days, but for the warm ones named as (month, day) or (month, day, tmax)."""
    days = {date(year, 1, 1) + timedelta(days=n): Day(tmax_c=5.0, tmin_c=0.0) for n in range(365)}
    for month, day, *high in warm:
        days[date(year, month, day)] = Day(tmax_c=high[0] if high else 15.0, tmin_c=3.0)
    return days
