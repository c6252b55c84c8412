from datetime import date

import made_weather
import pytest
from test_ground import NOWHERE, season

from barkwright.season.daylight import daylight_hours
from barkwright.season.flyhours import fly_hours
from barkwright.season.hourly import hours_above, hours_above_sine
from barkwright.season.weather import Day


def test_the_warm_months_of_a_northern_place_and_no_others():
    found = fly_hours(season())
    assert [one.month for one in found.months] == [5, 6, 7, 8, 9]
    assert all(0 < one.low_h <= one.high_h < 16 for one in found.months)
    assert max(found.months, key=lambda one: one.high_h).month == 7
    assert "climate normals of Prince George airport" in found.rests_on
    assert found.from_c == 16


def test_daily_weather_is_counted_day_by_day():
    # Half of the days reach 22 degrees and half stay below 16: the mean day of 17.5 degrees would say otherwise.
    days = made_weather.wave(range(2020, 2022), mean=0.0, swing=0.0)
    for day in days:
        days[day] = Day(tmax_c=22.0 if day.day % 2 else 13.0, tmin_c=8.0)
    found = fly_hours(season(weather=made_weather.of(days)))
    june = next(one for one in found.months if one.month == 6)
    daylight = daylight_hours(53.98, -123.02, date(2024, 6, 15))
    assert june.low_h == pytest.approx(hours_above_sine(8, 22, 16) / 2)
    assert june.high_h == pytest.approx(hours_above(8, 22, 16, daylight) / 2)
    assert found.rests_on == "the daily weather of Testing Knoll"


def test_half_a_year_of_weather_is_not_a_year_and_nothing_is_made_up():
    half = {day: one for day, one in made_weather.wave(range(2020, 2021)).items() if day.month < 7}
    assert "climate normals" in fly_hours(season(weather=made_weather.of(half))).rests_on
    assert fly_hours(season(NOWHERE)) is None
