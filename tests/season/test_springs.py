"""Warm days, half emergence, onset and end of a year; years that are left out."""

from datetime import date, timedelta

import made_weather
import pytest

from barkwright.season import springs
from barkwright.season.emergence import one_year_parents, warm_days_until
from barkwright.season.numbers import FLIGHT
from barkwright.season.weather import Day

END = date(2026, 12, 31)


def run(first, count, high=15.0):
    return [((first + timedelta(days=n)).month, (first + timedelta(days=n)).day, high) for n in range(count)]


def read(days, year=2026, on=END):
    return next(one for one in springs.years_read(made_weather.of(days), on) if one.year == year)


def two_years(warm, prior=()):
    return {**made_weather.cold(2025, prior), **made_weather.cold(2026, warm)}


def test_a_warm_day_reaches_fifteen_degrees():
    weather = made_weather.of(made_weather.cold(2026, [(5, 1, 14.9), (5, 2, 15.0), (5, 3, 15.1)]))
    assert springs.warm_days(weather, 2026, END) == ((5, 2), (5, 3))
    assert springs.warm_days(weather, 2026, date(2026, 5, 2)) == ((5, 2),)


def test_half_are_out_on_the_thirteenth_warm_day_after_a_cold_year():
    spring = read(two_years(run(date(2026, 6, 1), 40))).spring
    assert (spring.prior_warm_days, spring.needed) == (0, 13)
    assert spring.median == date(2026, 6, 13)
    assert spring.fifth_day == date(2026, 6, 5)
    assert spring.onset == date(2026, 6, 5)  # the fifth warm day is later than the median less 28 days


def test_winter_warm_days_count_for_half_emergence_and_not_for_the_onset():
    spring = read(two_years([*run(date(2026, 2, 1), 8), *run(date(2026, 5, 1), 40)])).spring
    assert spring.median == date(2026, 5, 5)
    assert spring.fifth_day == date(2026, 5, 5)


@pytest.mark.parametrize(("gap", "onset"), [(27, "fifth"), (28, "fifth"), (29, "miss")])
def test_the_onset_is_the_later_of_the_fifth_warm_day_and_the_published_miss(gap, onset):
    # Five warm days, a cold spell, then the eight still needed: half emergence comes `gap` days after the fifth.
    early = run(date(2026, 4, 10), 5)
    fifth = date(2026, 4, 14)
    late = run(fifth + timedelta(days=gap - 7), 40)
    spring = read(two_years([*early, *late])).spring
    assert spring.median == fifth + timedelta(days=gap)
    assert spring.onset == (fifth if onset == "fifth" else spring.median - timedelta(days=28))


def test_an_onset_is_never_after_half_emergence():
    # Thirteen warm days in February make half emergence in February, before any day that counts for the onset.
    spring = read(two_years([*run(date(2026, 2, 1), 13), *run(date(2026, 5, 1), 40)])).spring
    assert spring.median == spring.onset == date(2026, 2, 13)


def test_first_of_april_counts_and_the_day_before_does_not():
    spring = read(two_years([(3, 31), *run(date(2026, 4, 1), 50)])).spring
    assert spring.fifth_day == date(2026, 4, 5)


def test_a_flight_is_over_when_ninety_nine_of_a_hundred_are_out():
    spring = read(two_years(run(date(2026, 5, 1), 100))).spring
    assert warm_days_until(0.99, one_year_parents(0)) == 34
    assert spring.end == date(2026, 5, 1) + timedelta(days=33)


def test_a_flight_that_never_ends_by_the_model_ends_with_the_last_warm_day():
    assert read(two_years(run(date(2026, 6, 1), 20))).spring.end == date(2026, 6, 20)


def test_too_few_warm_days_date_no_flight_and_say_so():
    cold = read(two_years(run(date(2026, 6, 1), 12)))
    assert "12 warm days are fewer than the 13" in cold.left_out


def test_the_first_year_lacks_the_year_before():
    first = read(two_years(run(date(2026, 6, 1), 40)), year=2025)
    assert "needs the year before" in first.left_out
    assert "2024" in first.left_out


@pytest.mark.parametrize(("missing", "out"), [(10, False), (11, True)])
def test_days_without_a_reading_in_spring(missing, out):
    days = two_years(run(date(2026, 6, 1), 40))
    for n in range(missing):
        del days[date(2026, 3, 1) + timedelta(days=3 * n)]
    left = read(days)
    assert bool(left.left_out) == out
    assert left.missing == missing


@pytest.mark.parametrize(("run_of", "out"), [(5, False), (6, True)])
def test_days_in_a_row_without_a_reading(run_of, out):
    days = two_years(run(date(2026, 6, 1), 40))
    for n in range(run_of):
        days[date(2026, 5, 1) + timedelta(days=n)] = Day(tmin_c=1.0)
    assert bool(read(days).left_out) == out


@pytest.mark.parametrize(("missing", "out"), [(30, False), (31, True)])
def test_days_without_a_reading_in_the_year_before(missing, out):
    days = two_years(run(date(2026, 6, 1), 40))
    for n in range(missing):
        del days[date(2025, 3, 1) + timedelta(days=n)]
    assert bool(read(days).left_out) == out


def test_a_year_that_is_not_over_dates_no_flight_of_its_own():
    days = two_years(run(date(2026, 5, 1), 60))
    assert "not over" in read(days, on=date(2026, 7, 30)).left_out
    assert read(days, on=date(2026, 7, 31)).left_out is None


def test_this_years_flight_is_over_once_the_record_says_so_and_no_last_warm_day_stands_in_for_that():
    days = two_years([*run(date(2026, 6, 1), 14), *run(date(2026, 7, 28), 3), *run(date(2026, 8, 6), 30)])
    over = warm_days_until(FLIGHT["over_share"], one_year_parents(0))  # warm days, the eighteenth of them on 6 August
    found = read(days, on=END)
    assert (found.spring.whole, found.spring.end) == (True, date(2026, 8, 6) + timedelta(days=over - 18))
    for on in (date(2026, 7, 31), found.spring.end - timedelta(days=1)):
        assert read(days, on=on).left_out == "its flight is not over"
    assert read(days, on=found.spring.end).left_out is None
    few = two_years(run(date(2026, 6, 1), 14))
    assert read(few, on=date(2026, 9, 29)).left_out == "its flight is not over"
    assert read(few, on=date(2026, 9, 30)).left_out is None


def test_years_without_a_reading_are_not_listed_one_by_one():
    days = {**made_weather.cold(1901), **made_weather.cold(2025), **made_weather.cold(2026)}
    assert [one.year for one in springs.years_read(made_weather.of(days), END)] == [1901, 2025, 2026]


def test_readings_after_the_day_of_the_plan_do_not_count():
    days = two_years(run(date(2026, 5, 1), 60))
    years = springs.years_read(made_weather.of(days), date(2025, 10, 1))
    assert [one.year for one in years] == [2025]
    assert springs.years_read(made_weather.of({}), END) == ()


def test_a_leap_day_is_a_day():
    days = {**made_weather.cold(2027), **made_weather.cold(2028)}
    days[date(2028, 12, 31)] = Day(tmax_c=3.0, tmin_c=0.0)
    for n in range(20):
        day = date(2028, 2, 25) + timedelta(days=n)
        days[day] = Day(tmax_c=16.0, tmin_c=0.0)
    weather = made_weather.of(days)
    assert (2, 29) in springs.warm_days(weather, 2028, date(2028, 12, 31))
    assert springs.spring_of(2027, [(2, 28), (2, 29), (3, 1)], 0).fifth_day is None  # 29 February of another year


def test_hours_of_the_summer_run_from_forty_days_after_half_emergence():
    warm = run(date(2026, 6, 1), 100, 25.0)  # half emergence 13 June; Tmin 3, Tmax 25: 9 h a day at 17 C or more
    summer = read(two_years(warm)).summer
    first = date(2026, 6, 13) + timedelta(days=40)
    last = date(2026, 6, 1) + timedelta(days=99)
    assert summer.hours == 9 * ((last - first).days + 1)
    assert summer.stand_hours == summer.hours  # all of it lies within 90 days
    assert summer.complete


def test_a_summer_cut_short_is_not_complete():
    days = two_years(run(date(2026, 6, 1), 100, 25.0))
    assert not read(days, on=date(2026, 9, 29)).summer.complete
    assert read(days, on=FLIGHT.day("season_end", 2026)).summer.complete
    assert FLIGHT["most_missing"] == 10
    for n in range(11):
        del days[date(2026, 8, 1) + timedelta(days=2 * n)]
    assert not read(days).summer.complete


def test_a_day_without_its_lowest_temperature_has_no_hours_and_says_so():
    days = two_years(run(date(2026, 6, 1), 100, 25.0))
    for n in range(3):
        days[date(2026, 8, 1) + timedelta(days=n)] = Day(tmax_c=25.0)
    summer = read(days).summer
    assert summer.complete
    assert summer.unread == 3
    assert summer.hours == read(two_years(run(date(2026, 6, 1), 100, 25.0))).summer.hours - 3 * 9
    assert summer.hours_at_most == summer.hours + 3 * 9  # each as warm as the warmest day that was read


def test_a_summer_whose_lowest_temperatures_are_missing_is_not_complete():
    days = two_years(run(date(2026, 6, 1), 100, 25.0))
    for n in range(31):
        days[date(2026, 8, 1) + timedelta(days=n)] = Day(tmax_c=25.0)
    assert not read(days).summer.complete


def test_a_leap_day_of_another_year_is_the_first_of_march():
    warm = [*((2, day) for day in range(16, 28)), (2, 29)]
    assert springs.spring_of(2027, warm, 0).median == date(2027, 3, 1)
    assert springs.spring_of(2028, warm, 0).median == date(2028, 2, 29)
