from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from barkwright.season.days import YEAR_DAYS, by_day, day_index
from barkwright.season.drying import DryOn, dry_by, dry_dates, drying_air, drying_rate
from barkwright.season.normals import nearest_normals

PLACES = {"Fairbanks": (64.817, -147.85), "Whitehorse": (60.709, -135.069), "Prince George": (53.891, -122.679),
          "Banff": (51.193, -115.552)}  # fmt: skip


def air_of(place):
    near = nearest_normals(*PLACES[place], None, need_rh=True)
    return drying_air(by_day(near.mean_c), by_day(near.rh_pct))


AIR = {place: air_of(place) for place in PLACES}


@pytest.mark.parametrize("place", PLACES)
def test_split_before_june_is_dry_before_the_flight_of_the_next_year(place):
    flight = date(2028, 5, 20)
    for split in (date(2027, 4, 1), date(2027, 5, 1), date(2027, 6, 1)):
        assert dry_by(dry_dates(split, AIR[place]), flight) == "likely"


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("split", [date(2027, 9, 15), date(2027, 11, 15), date(2028, 2, 1)])
def test_split_in_late_summer_or_winter_is_not_reliably_dry_by_the_flight(place, split):
    assert dry_by(dry_dates(split, AIR[place]), date(2028, 5, 20)) != "likely"


@pytest.mark.parametrize("place", PLACES)
def test_april_does_not_beat_the_flight_of_the_same_spring(place):
    assert dry_by(dry_dates(date(2027, 4, 1), AIR[place]), date(2027, 5, 20)) == "unlikely"


def test_split_in_may_near_fairbanks_it_takes_six_weeks_to_over_three_months():
    # The rates are set to hold the range of one test there, 42 to 91 days.
    dry = dry_dates(date(2027, 5, 15), AIR["Fairbanks"])
    assert 40 <= (dry.high - date(2027, 5, 15)).days <= 46
    assert 91 <= (dry.low - date(2027, 5, 15)).days <= 120


@settings(max_examples=40)
@given(st.sampled_from(sorted(PLACES)), st.dates(date(2026, 1, 1), date(2028, 12, 31)), st.integers(1, 200))
def test_split_later_is_never_dry_sooner_and_slow_never_before_fast(place, split, later):
    first, then = dry_dates(split, AIR[place]), dry_dates(split + timedelta(days=later), AIR[place])
    assert split <= first.high <= first.mid <= first.low
    assert all(a <= b for a, b in zip(first, then, strict=True))


def test_frozen_wood_gets_no_credit():
    assert drying_rate(0.0, 0.05) == 0
    assert drying_rate(15.0, 0.05) == pytest.approx(0.05)
    assert drying_rate(0.1, 0.05) > 0
    assert dry_dates(date(2027, 1, 1), drying_air([-5.0] * YEAR_DAYS, [70.0] * YEAR_DAYS)) == (None, None, None)


def test_damp_air_never_dries_wood_to_a_fifth():
    assert dry_dates(date(2027, 1, 1), drying_air([15.0] * YEAR_DAYS, [95.0] * YEAR_DAYS)) == (None, None, None)


@pytest.mark.parametrize(
    ("dry", "said"),
    [
        (DryOn(date(2027, 5, 19), date(2027, 5, 1), date(2027, 4, 1)), "likely"),
        (DryOn(date(2027, 5, 20), date(2027, 5, 1), date(2027, 4, 1)), "uncertain"),
        (DryOn(None, None, date(2027, 5, 19)), "uncertain"),
        (DryOn(None, None, date(2027, 5, 20)), "unlikely"),
        (DryOn(None, None, None), "unlikely"),
    ],
)
def test_three_answers_on_both_sides_of_the_day_of_use(dry, said):
    assert dry_by(dry, date(2027, 5, 20)) == said


def test_the_calendar_of_a_mean_year():
    assert [day_index(date(year, 2, 28)) for year in (2027, 2028)] == [58, 58]
    assert day_index(date(2028, 2, 29)) == 59
    assert [day_index(date(year, 3, 1)) for year in (2027, 2028)] == [60, 60]
    assert [day_index(date(year, 12, 31)) for year in (2027, 2028)] == [365, 365]
    drawn = by_day(list(range(12)))
    assert len(drawn) == YEAR_DAYS
    assert drawn[15] == pytest.approx(0, abs=0.05)  # the middle of January
    assert 11 * 16.5 / 31 > drawn[0] > drawn[14]  # on the way from December
