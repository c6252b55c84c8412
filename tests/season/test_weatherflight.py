"""Which dates a flight gets from the years on record, this year's record so far, and which rule dates it."""

import dataclasses
from datetime import date, timedelta

import made_weather
import pytest
from hypothesis import given
from hypothesis import strategies as st

from barkwright.inventory.model import Site
from barkwright.season.doubts import doubts_of
from barkwright.season.flight import beside, calendar_flight, coming_flight, finish_by, flight_year
from barkwright.season.site import season_of
from barkwright.season.station import shifted
from barkwright.season.weatherflight import dated_by_weather, early_one, usable, weather_dates, weather_flight

ON = date(2030, 11, 1)


def place(days, on=ON, rule=None, **more):
    site = Site.model_validate(
        {"name": "any", "units": "imperial", "latitude": 54, "longitude": -122, "region": "interior-plateau", **more}
    )
    return dataclasses.replace(season_of(site, on), weather=made_weather.of(days), rise_m=0.0, rule=rule)


def years(first_warm):
    """Cold years but for sixty warm days from a day on; the year before the first has none."""
    days = made_weather.cold(min(first_warm) - 1)
    for year, day in first_warm.items():
        run = [date(year, *day) + timedelta(days=n) for n in range(60)]
        days.update(made_weather.cold(year, [(one.month, one.day) for one in run]))
        days.update({date(year, 12, 31): made_weather.cold(2026)[date(2026, 12, 31)]})
    return days


def springs(first_day_of_may, count):
    """`count` years up to 2030, each warm from one day of May later than the one before."""
    return years({2031 - count + n: (5, first_day_of_may + n) for n in range(count)})


@pytest.mark.parametrize(
    ("days", "share", "expected"),
    [
        ([date(2020, 5, 10)], 0.1, date(2027, 5, 10)),
        ([date(2020 + n, 5, 1 + n) for n in range(11)], 0.1, date(2027, 5, 2)),
        ([date(2020 + n, 5, 1 + n) for n in range(10)], 0.1, date(2027, 5, 1)),  # 0.9 of a day: rounded to the earlier
        ([date(2020 + n, 5, 1 + n) for n in range(11)], 0.0, date(2027, 5, 1)),
        ([date(2020 + n, 5, 1 + n) for n in range(11)], 1.0, date(2027, 5, 11)),
        ([date(2024, 2, 29), date(2023, 2, 28)], 0.0, date(2027, 2, 28)),
    ],
)
def test_the_early_one_of_some_days(days, share, expected):
    assert early_one(days, share, 2027) == expected


@given(st.lists(st.dates(date(2000, 1, 1), date(2030, 12, 31)), min_size=1), st.floats(0, 1), st.integers(2000, 2040))
def test_the_early_one_lies_within_the_days_and_more_share_is_never_earlier(days, share, year):
    found = early_one(days, share, year)
    after = [(day - date(day.year, 3, 1)).days for day in days]
    assert min(after) <= (found - date(year, 3, 1)).days <= max(after)
    assert early_one(days, 0.0, year) <= found <= early_one(days, 1.0, year)


def test_with_eight_years_the_early_one_in_ten_and_with_seven_the_earliest():
    # Warm from 2, 3 ... May on: the fifth warm day is four days later, and later than half emergence less 28 days.
    eight = place(springs(2, 8))
    assert len(usable(eight)) == 8
    assert weather_flight(eight, 2035).onset == date(2035, 5, 6)  # 0.7 of a day after 6 May
    seven = place(springs(2, 7))
    assert weather_flight(seven, 2035).onset == date(2035, 5, 6)
    spread = place(years({2023: (4, 20), **{2024 + n: (5, 20) for n in range(7)}}))
    assert weather_flight(spread, 2035).onset == date(2035, 5, 15)  # 24 April and seven times 24 May: 0.7 of the way
    few = place(years({2024: (4, 20), **{2025 + n: (5, 20) for n in range(6)}}))
    assert weather_flight(few, 2035).onset == date(2035, 4, 24)


def test_the_end_is_that_of_a_late_year():
    # Warm from 2 to 11 May on. Over on the 34th warm day after a year without any, on the 35th after one with sixty:
    # 4 June, then 6 to 14 June; nine in ten are over by a tenth of a day after 13 June.
    assert weather_flight(place(springs(2, 10)), 2035).end == date(2035, 6, 13)


def test_what_each_caution_costs_adds_up_to_finish_by():
    season = place(springs(2, 12))
    flight, dates = weather_flight(season, 2035), weather_dates(season, 2035)
    assert flight.margin_days == 7
    assert finish_by(flight) == dates.middle_half - timedelta(days=sum(one.days for one in flight.cautions))
    assert all(one.days >= 0 for one in flight.cautions)
    assert flight.onset <= flight.half <= flight.end


def test_the_user_says_which_rule_and_weather_goes_first_where_there_is_enough():
    assert flight_year(place(springs(2, 3)), 2031).rule == "weather"
    assert flight_year(place(springs(2, 2)), 2031).rule == "calendar"
    assert flight_year(place(springs(2, 2), rule="weather"), 2031).rule == "weather"
    assert flight_year(place(springs(2, 12), rule="calendar"), 2031).rule == "calendar"
    assert flight_year(place(made_weather.cold(2029), rule="weather"), 2031).rule == "calendar"


def test_the_other_rule_stands_beside():
    season = place(springs(2, 3))
    assert beside(season, 2031) == calendar_flight(season, 2031)
    assert beside(place(springs(2, 3), rule="calendar"), 2031).rule == "weather"
    assert beside(place(made_weather.cold(2029)), 2031) is None


def test_a_past_year_on_record_has_its_own_dates():
    season = place(springs(2, 10))
    own = flight_year(season, 2024)
    assert own.onset == date(2024, 5, 9)
    assert "in 2024" in own.basis
    assert coming_flight(season, date(2024, 5, 9)) == 2024


def test_this_years_record_so_far_moves_the_dates():
    base = springs(2, 10)  # warm from 2 to 11 May in 2021 to 2030
    quiet = {**base, **{day: r for day, r in made_weather.cold(2031).items() if day <= date(2031, 5, 15)}}
    late = weather_flight(place(quiet, on=date(2031, 5, 15)), 2031)
    # No warm day until 15 May: the rest of each year's warm days still count, so half emergence comes 13 warm days on.
    assert late.half > weather_flight(place(base, on=date(2031, 5, 15)), 2031).half
    assert late.onset == date(2031, 5, 20)
    assert "this year's record to 15 May 2031" in late.basis
    warm = made_weather.cold(2031, [(4, n) for n in range(5, 15)])
    early = {**base, **{day: r for day, r in warm.items() if day <= date(2031, 4, 20)}}
    soon = weather_flight(place(early, on=date(2031, 4, 20)), 2031)
    assert soon.onset < weather_flight(place(base, on=date(2031, 4, 20)), 2031).onset


def test_half_emergence_that_is_on_record_is_what_is_planned_with():
    base = springs(2, 10)
    run = [date(2031, 4, 20) + timedelta(days=n) for n in range(15)]
    this = made_weather.cold(2031, [(one.month, one.day) for one in run])
    on = date(2031, 5, 5)
    season = place({**base, **{day: r for day, r in this.items() if day <= on}}, on=on)
    prior = 60  # warm days of 2030
    assert weather_dates(season, 2031).springs[0].prior_warm_days == prior
    assert weather_flight(season, 2031).half == run[12]  # 13 warm days needed after a year with 60
    assert weather_flight(season, 2031).onset == run[4]


def test_a_flight_under_way_goes_on_past_the_end_of_the_record():
    base = years({2021 + n: (7, 1) for n in range(9)})
    run = [date(2030, 7, 5) + timedelta(days=n) for n in range(60)]
    this = made_weather.cold(2030, [(one.month, one.day) for one in run])
    on = date(2030, 8, 1)
    season = place({**base, **{day: r for day, r in this.items() if day <= on}}, on=on)
    flight = weather_flight(season, 2030)
    assert weather_dates(season, 2030).kind == "so far"
    assert flight.end == date(2030, 8, 8)  # the 35th warm day: the year before had sixty
    assert coming_flight(season, on) == 2030


def test_a_warm_spring_counts_though_the_year_before_is_not_on_record():
    base = springs(20, 9)  # 2022 to 2030, warm from 20 May on
    base = {day: r for day, r in base.items() if day.year != 2030}
    warm = made_weather.cold(2031, [(4, n) for n in range(5, 18)])
    on = date(2031, 4, 20)
    season = place({**base, **{day: r for day, r in warm.items() if day <= on}}, on=on)
    dates = weather_dates(season, 2031)
    assert dates.kind == "so far"
    assert dates.prior_taken
    assert {one.prior_warm_days for one in dates.springs} == {0}  # the fewest of any year on record: the earliest
    assert dates.half == date(2031, 4, 17)
    assert "2030 is not on record in full" in weather_flight(season, 2031).basis


def test_a_hole_in_this_years_record_leaves_the_years_before_to_decide():
    base = springs(2, 10)
    this = {day: r for day, r in made_weather.cold(2031).items() if date(2031, 4, 20) <= day <= date(2031, 5, 15)}
    season = place({**base, **this}, on=date(2031, 5, 15))
    assert weather_dates(season, 2031).kind == "years"
    [said] = [one for one in doubts_of(season) if "moves no date" in one.message]
    assert said.severity == "warning"
    assert "days between 1 March 2031 and 15 May 2031" in said.message
    whole = {day: r for day, r in made_weather.cold(2031).items() if day <= date(2031, 5, 15)}
    assert not any("moves no date" in one.message for one in doubts_of(place({**base, **whole}, on=date(2031, 5, 15))))


def test_a_flight_that_is_over_does_not_come_back_on_a_warm_day_of_late_summer():
    base = made_weather.wave(range(2020, 2031))
    warm = [(6, n) for n in range(6, 30)] + [(7, 30)] + [(8, n) for n in range(2, 30, 2)]
    this = made_weather.cold(2031, warm)
    coming = []
    for n in range(90):
        on = date(2031, 6, 1) + timedelta(days=n)
        season = place({**base, **{day: r for day, r in this.items() if day <= on}}, on=on)
        coming.append(coming_flight(season, on))
    assert coming == sorted(coming)
    assert coming[-1] == 2032


def test_a_record_that_is_thin_or_left_out_is_said():
    said = [note.message for note in doubts_of(place(springs(2, 5)))]
    assert any("5 years only" in text for text in said)
    assert any("the model needs the year before" in text for text in said)
    said = [note.message for note in doubts_of(place(springs(2, 2)))]
    assert any("only 2" in text and "the calendar dates the flights" in text for text in said)
    season = place(springs(2, 10), longitude=-68.5)
    assert any("this far east" in note.message for note in doubts_of(season))
    assert not any("this far east" in note.message for note in doubts_of(place(springs(2, 10))))


def test_dates_by_weather_that_nobody_named_are_asked_for_in_vain_and_that_is_said():
    season = dataclasses.replace(place(springs(2, 10)), weather=None)
    assert not any("no daily weather is named" in one.message for one in doubts_of(season))
    [said] = [one for one in doubts_of(dataclasses.replace(season, rule="weather")) if one.code == "weather-thin"]
    assert (said.severity, "the calendar dates the flights" in said.message) == ("warning", True)


def test_readings_after_the_plan_are_said_and_old_ones_too():
    assert any("are not used" in one.message for one in doubts_of(place(springs(2, 10), on=date(2029, 11, 1))))
    old = place(springs(2, 10), on=date(2031, 5, 1))
    assert any("this spring is not in it" in one.message for one in doubts_of(old))
    assert not any("this spring" in one.message for one in doubts_of(place(springs(2, 10), on=date(2031, 1, 10))))


def test_a_shift_moves_every_temperature_and_the_dates_with_it():
    season = place({**made_weather.wave(range(2020, 2031))})
    colder = dataclasses.replace(season, weather=shifted(season.weather, -2.0))
    assert shifted(season.weather, -2.0) is colder.weather
    day = date(2025, 7, 1)
    assert colder.weather.days[day].tmax_c == pytest.approx(season.weather.days[day].tmax_c - 2.0, abs=0.006)
    assert weather_flight(colder, 2031).half > weather_flight(season, 2031).half


waves = st.fixed_dictionaries(
    {"mean": st.floats(1, 14), "swing": st.floats(5, 16), "span": st.floats(4, 18), "shift": st.integers(-20, 20)}
)


@given(waves, st.integers(1, 12), st.dates(date(2029, 1, 1), date(2032, 12, 31)), st.integers(2020, 2036))
def test_whatever_the_climate_dates_come_in_order(wave, count, on, year):
    season = place(made_weather.wave(range(2031 - count, 2031), **wave), on=on, rule="weather")
    flight = flight_year(season, year)
    assert finish_by(flight) <= flight.onset <= flight.half <= flight.end
    assert dated_by_weather(season) == bool(usable(season))
    assert coming_flight(season, on) in (on.year, on.year + 1)
