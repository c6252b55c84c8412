"""The season as weeks: warmth and past flights by week of the year, and the dates that stand in them."""

import dataclasses
from datetime import date, timedelta

import made_weather
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from test_weatherflight import place, springs, years

from barkwright.diagnostics import Diagnostic
from barkwright.inventory.model import Site
from barkwright.season.flight import coming_flight, finish_by, flight_year
from barkwright.season.site import season_of
from barkwright.season.strip import MOST_WEEKS, monday, strip_of
from barkwright.season.sure import sure_of_dates, weakest
from barkwright.season.weatherflight import usable

ON = date(2030, 11, 1)  # a Friday
WEEK = timedelta(days=7)


def coming(season):
    return [flight_year(season, coming_flight(season, season.on))]


def strip(season, to_beat=None):
    flights = coming(season)
    return strip_of(season, flights, {flight.year for flight in flights} if to_beat is None else to_beat)


def week_of(found, day):
    return next(week for week in found.weeks if week.first == monday(day))


def test_weeks_run_from_the_plans_monday_to_the_end_of_the_last_flight():
    season = place(springs(2, 10))
    found = strip(season)
    assert found.weeks[0].first == date(2030, 10, 28)
    assert found.weeks[-1].first == monday(coming(season)[0].end)
    assert all(after.first - before.first == WEEK for before, after in zip(found.weeks, found.weeks[1:], strict=False))


def test_the_mean_is_that_of_the_readings_of_the_same_days_of_each_year():
    days = {**made_weather.cold(2028, [(5, 7), (5, 8)]), **made_weather.cold(2029, [(5, 7), (5, 13), (5, 14)])}
    season = place(days, rule="calendar")
    found = week_of(strip(season), date(2031, 5, 5))  # the week of 5 to 11 May 2031
    assert found.warm_days == pytest.approx(3 / 2)
    assert week_of(strip(season), date(2031, 4, 1)).warm_days == 0
    without = {day: read for day, read in days.items() if not (day.year == 2029 and day.month == 5)}
    found = week_of(strip(place(without, rule="calendar")), date(2031, 5, 5))
    assert found.warm_days == 2  # one year is left to say it


def test_a_week_that_nobody_read_says_nothing():
    days = {day: read for day, read in made_weather.cold(2029).items() if day.month != 5}
    found = strip(place(days, rule="calendar"))
    assert week_of(found, date(2031, 5, 7)).warm_days is None
    assert week_of(found, date(2031, 5, 7)).years_flying is None
    assert week_of(found, date(2031, 4, 9)).warm_days == 0


def test_readings_after_the_plan_do_not_count():
    days = {**made_weather.cold(2029), **made_weather.cold(2030, [(12, 5), (12, 6)])}
    assert week_of(strip(place(days, rule="calendar")), date(2030, 12, 5)).warm_days == 0


def test_years_flying_are_those_whose_flight_touches_the_week():
    season = place(years({2028: (4, 20), 2029: (5, 20), 2030: (5, 22)}))
    found, starts = strip(season), [spring.onset for spring in usable(season)]
    assert [(day.month, day.day) for day in starts] == [(4, 24), (5, 24), (5, 26)]
    assert found.years == 3
    assert week_of(found, date(2031, 4, 20)).years_flying == 0  # 14 to 20 April
    assert week_of(found, date(2031, 4, 24)).years_flying == 1
    assert week_of(found, date(2031, 5, 24)).years_flying == 2  # 19 to 25 May
    assert usable(season)[0].end == date(2028, 5, 23)
    assert week_of(found, date(2031, 5, 26)).years_flying == 2  # the flight of 2028 is over
    assert found.weeks[0].years_flying == 0


def test_in_the_season_the_strip_starts_in_spring_with_this_years_own_days():
    this = {day: read for day, read in made_weather.cold(2031, [(4, 29), (5, 1)]).items() if day <= date(2031, 5, 6)}
    season = place({**springs(2, 10), **this}, on=date(2031, 5, 7))
    found = strip(season)
    assert found.weeks[0].first == monday(date(2031, 3, 1))
    assert week_of(found, date(2031, 4, 29)).own_warm_days == 2
    assert week_of(found, date(2031, 4, 22)).own_warm_days == 0
    assert week_of(found, date(2031, 5, 12)).own_warm_days is None
    assert [mark.what for mark in week_of(found, date(2031, 5, 7)).marks if mark.day == season.on] == ["now"]
    later = strip(place({**springs(2, 10), **this}, on=date(2031, 12, 7)))
    assert later.weeks[0].first == monday(date(2031, 12, 7))


def test_a_flight_that_nothing_must_beat_has_no_day_to_be_done_by():
    season = place(springs(2, 10))
    assert "finish by" in [mark.what for week in strip(season).weeks for mark in week.marks]
    assert "finish by" not in [mark.what for week in strip(season, ()).weeks for mark in week.marks]


def test_a_flight_under_way_lasts_into_the_first_week():
    site = place({}).region
    season = dataclasses.replace(place({}, on=date(2031, 6, 20)), weather=None, region=site)
    assert strip(season).flying_before
    assert not strip(dataclasses.replace(season, on=date(2031, 4, 20))).flying_before


def test_without_weather_only_dates_stand_on_it():
    season = dataclasses.replace(place({}), weather=None)
    found = strip(season)
    assert {(week.warm_days, week.own_warm_days, week.years_flying) for week in found.weeks} == {(None, None, None)}
    assert found.years == 0
    assert week_of(found, date(2031, 5, 21)).marks[0].what == "first beetles"


@settings(max_examples=40)
@given(st.dates(date(2027, 1, 1), date(2033, 12, 31)), st.integers(0, 3), st.booleans())
def test_every_date_stands_in_its_own_week(on, ahead, weather):
    season = place(springs(2, 9) if weather else {}, on=on)
    season = season if weather else dataclasses.replace(season, weather=None)
    flights = [flight_year(season, coming_flight(season, on) + number) for number in range(ahead + 1)]
    found = strip_of(season, flights, {flight.year for flight in flights})
    assert len(found.weeks) <= MOST_WEEKS
    for week in found.weeks:
        assert week.first.weekday() == 0
        assert all(week.first <= mark.day < week.first + WEEK for mark in week.marks)
    last = found.weeks[-1].first + WEEK
    wanted = {(flight.year, day) for flight in flights for day in (finish_by(flight), flight.onset, flight.half)}
    shown = {(mark.flight, mark.day) for week in found.weeks for mark in week.marks}
    assert {(year, day) for year, day in wanted if found.weeks[0].first <= day < last} <= shown


def test_how_sure_the_dates_are():
    assert sure_of_dates(place(springs(2, 10))).level == "well founded"
    assert sure_of_dates(place(springs(2, 5))).level == "not sure"
    assert "5 years" in sure_of_dates(place(springs(2, 5))).why
    assert sure_of_dates(place(springs(2, 10), longitude=-68.5)).level == "not sure"
    far = place(springs(2, 10), weather_elevation=100, elevation=3000)
    assert sure_of_dates(far).level == "well founded"
    warned = dataclasses.replace(far, notes=(Diagnostic("warning", "weather-station", "the station is far off"),))
    assert sure_of_dates(warned).level == "fairly sure"


def test_a_calendar_that_is_much_earlier_makes_weather_dates_less_sure():
    late = years({2021 + n: (5, 25) for n in range(10)})  # done by 22 May, 15 days after the calendar's day
    assert sure_of_dates(place(late)).level == "fairly sure"
    assert "calendar is much earlier" in sure_of_dates(place(late)).why
    this = {day: read for day, read in made_weather.cold(2031).items() if day <= date(2031, 5, 10)}
    assert sure_of_dates(place({**late, **this}, on=date(2031, 5, 10))).level == "well founded"


@pytest.mark.parametrize(
    ("region", "level"), [("interior-plateau", "fairly sure"), ("far-north", "not sure"), ("generic", "not sure")]
)
def test_a_calendar_is_as_sure_as_it_is_known(region, level):
    site = Site.model_validate({"name": "x", "units": "imperial", "latitude": 54, "longitude": -122, "region": region})
    assert sure_of_dates(season_of(site, ON)).level == level


def test_a_chain_is_as_sure_as_its_weakest_part():
    assert weakest("well founded", "fairly sure") == "fairly sure"
    assert weakest("not sure", "well founded") == "not sure"
    assert weakest("well founded", "well founded") == "well founded"
