from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st
from season_tables import rows

from barkwright.season.daylight import daylight_hours
from barkwright.season.hourly import hours_above, hours_above_sine

PROFILES = rows("hourly-temperature-profiles.csv")
SHARE = 0.6  # of the day's range, where the count is taken


def counted(row):
    """Hours at or above the threshold in the published profile, and both answers for it."""
    hours = [float(row[f"h{number:02d}"]) for number in range(1, 25)]
    low, top = min(hours), max(hours)
    threshold = low + SHARE * (top - low)
    daylight = daylight_hours(float(row["latitude"]), float(row["longitude"]), date(2025, int(row["month"]), 15))
    true = sum(one >= threshold for one in hours)
    return true, hours_above(low, top, threshold, daylight), hours_above_sine(low, top, threshold)


@pytest.mark.parametrize("row", PROFILES, ids=lambda row: f"{row['station']} {row['month']}")
def test_the_published_profile_lies_between_the_two_answers(row):
    true, curve, sine = counted(row)
    assert sine - 0.5 <= true <= curve  # the count is of whole hours


def test_the_two_answers_miss_the_nine_profiles_by_about_an_hour():
    found = [counted(row) for row in PROFILES]
    assert len(found) == 9
    assert sum(curve - true for true, curve, _ in found) / 9 == pytest.approx(1.1, abs=0.05)
    assert sum(sine - true for true, _, sine in found) / 9 == pytest.approx(-1.1, abs=0.05)


def test_half_the_day_is_above_the_middle_of_a_sine():
    assert hours_above_sine(10, 20, 15) == pytest.approx(12, abs=1e-9)


def test_there_is_no_night_to_cool_in_under_the_midnight_sun():
    assert hours_above(5, 21, 16, 23.0) == hours_above_sine(5, 21, 16)
    assert hours_above(5, 21, 16, 24.0) == hours_above_sine(5, 21, 16)
    assert hours_above(5, 21, 16, 22.9) > hours_above_sine(5, 21, 16)


@pytest.mark.parametrize("above", [hours_above_sine, lambda *day: hours_above(*day, 15.0)])
def test_a_day_wholly_above_or_below(above):
    assert above(17, 25, 16) == 24
    assert above(16, 25, 16) == 24
    assert above(2, 15, 16) == 0
    assert above(2, 16, 16) == 0
    assert above(16, 16, 16) == 24
    assert above(15, 15, 16) == 0


def by_steps(low, top, threshold, daylight):
    """The curve as published, stepped through a day of which the sun rises at 6."""
    from math import exp, pi, sin

    a, b, c = 1.86, 2.20, -0.17
    steps = 24 * 600
    warm = 0
    for step in range(steps):
        m = 24 * (step + 0.5) / steps
        if m <= daylight - c:
            t = low + (top - low) * sin(pi * m / (daylight + 2 * a))
        else:
            set_t = low + (top - low) * sin(pi * (daylight - c) / (daylight + 2 * a))
            t = low + (set_t - low) * exp(-b * (m - (daylight - c)) / (24 - daylight))
        warm += t > threshold
    return warm * 24 / steps


@pytest.mark.parametrize("daylight", [6.0, 12.0, 18.5, 22.5])
@pytest.mark.parametrize("threshold", [5.5, 9.0, 14.0, 19.5])
def test_solved_is_stepped(daylight, threshold):
    assert hours_above(5, 20, threshold, daylight) == pytest.approx(by_steps(5, 20, threshold, daylight), abs=0.01)


@given(st.floats(-10, 15), st.floats(0.5, 25), st.floats(-15, 45), st.floats(0.1, 10), st.floats(4, 24))
def test_a_higher_threshold_never_has_more_hours(low, span, threshold, more, daylight):
    lower = hours_above(low, low + span, threshold, daylight)
    assert 0 <= hours_above(low, low + span, threshold + more, daylight) <= lower <= 24
