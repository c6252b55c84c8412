"""Days lost to weather: limits on both sides and on them, months by their days, causes not told."""

import random
from dataclasses import replace
from datetime import date

import pytest
from weather_records import FINE, every_day, month_days, season, weather

from barkwright.season.losses import cold_loss, losses, wet_loss, wind_loss
from barkwright.season.lostdays import lost_days, lost_share
from barkwright.season.numbers import LOST_DAYS
from barkwright.season.weather import Day

JANUARY = date(2027, 1, 15)


@pytest.mark.parametrize(
    ("tmax_c", "wind_kmh", "lost"),
    [
        (5.0, 60.0, 0.0),  # wind alone is no cold
        (-25.9, 32.0, 0.0),
        (-26.0, 8.0, 0.0),  # step 1
        (-26.0, 16.0, 0.5),  # step 2
        (-31.0, 0.0, 0.0),
        (-32.0, 0.0, 0.5),
        (-28.0, 32.0, 0.5),  # step 4
        (-31.0, 32.0, 0.5),  # step 5
        (-34.0, 32.0, 1.0),  # step 6: only emergency work
        (-42.0, 0.0, 0.5),
        (-43.0, 0.0, 1.0),
    ],
)
def test_cold_by_the_rows_of_the_schedule(tmax_c, wind_kmh, lost):
    assert cold_loss(tmax_c, wind_kmh) == lost


@pytest.mark.parametrize(
    ("gust_kmh", "lost"), [(0.0, 0.0), (39.9, 0.0), (40.0, 0.2), (40.1, 0.2), (64.9, 0.2), (65.0, 1.0), (120.0, 1.0)]
)
def test_wind_on_both_sides_of_its_limits(gust_kmh, lost):
    assert wind_loss(gust_kmh) == lost


@pytest.mark.parametrize(
    ("precip_mm", "snow_cm", "lost"),
    [
        (0.0, 0.0, 0.0),
        (1.9, 0.0, 0.0),
        (2.0, 0.0, 0.5),
        (2.1, 0.0, 0.5),
        (9.9, 0.0, 0.5),
        (10.0, 0.0, 1.0),
        (10.1, 0.0, 1.0),
        (0.0, 4.9, 0.0),
        (0.0, 5.0, 0.5),
        (0.0, 14.9, 0.5),
        (0.0, 15.0, 1.0),
        (2.0, 15.0, 1.0),
        (10.0, 5.0, 1.0),
    ],
)
def test_rain_and_snow_on_both_sides_of_their_limits(precip_mm, snow_cm, lost):
    assert wet_loss(precip_mm, snow_cm) == lost


def test_a_day_loses_to_the_causes_that_were_read_and_to_no_other():
    assert losses(Day()) == {}
    assert losses(Day(tmin_c=-60.0)) == {}
    assert losses(Day(tmax_c=-45.0)) == {"cold": 1.0}
    assert losses(Day(gust_kmh=50.0)) == {"wind": 0.2}
    assert losses(Day(precip_mm=2.0)) == {"wet": 0.5}
    assert losses(Day(snow_cm=30.0)) == {}  # whether it rained as well is not told
    assert losses(Day(tmax_c=-27.0, wind_kmh=16.0)) == {"cold": 0.5}
    assert losses(Day(tmax_c=-27.0, gust_kmh=16.0))["cold"] == 0.0  # a gust is no mean wind


def test_thunder_takes_half_a_day_where_it_is_noted():
    assert losses(Day(thunder=True)) == {"thunder": 0.5}
    assert losses(Day(thunder=False)) == {"thunder": 0.0}
    assert "thunder" not in losses(FINE)
    calm, storm = replace(FINE, thunder=False), replace(FINE, thunder=True, precip_mm=2.0)
    january = lost_days(season(weather(month_days(1, (80, calm), (20, storm))))).months[0]
    assert (january.thunder, january.share) == (pytest.approx(0.1), pytest.approx(0.1))
    assert lost_days(season(weather(month_days(1, (100, FINE))))).months[0].thunder is None


def test_a_month_is_the_mean_of_its_days_and_causes_overlap():
    cold, storm = replace(FINE, tmax_c=-45.0), replace(FINE, gust_kmh=50.0, precip_mm=2.0)
    both = replace(cold, gust_kmh=70.0)
    days = month_days(1, (70, FINE), (10, cold), (15, storm), (5, both))
    january = lost_days(season(weather(days))).months[0]
    assert (january.month, january.days, january.calm) == (1, 100, 0)
    assert january.cold == pytest.approx(0.15)
    assert january.wind == pytest.approx(15 * 0.2 / 100 + 0.05)
    assert january.wet == pytest.approx(0.075)
    assert january.share == pytest.approx(0.10 + 0.075 + 0.05)
    assert lost_share(season(weather(days)), JANUARY) == january.share


def test_the_share_lies_between_the_greatest_cause_and_the_sum():
    dice = random.Random(4)
    for _ in range(30):
        kinds = [Day(dice.uniform(-60, 10), None, dice.uniform(0, 12), 0.0, dice.uniform(0, 80)) for _ in range(70)]
        month = lost_days(season(weather(month_days(3, *((1, kind) for kind in kinds))))).months[2]
        causes = (month.cold, month.wind, month.wet)
        assert max(causes) <= month.share <= min(1.0, sum(causes)) + 1e-12
        assert month.days == month.calm == 70


def test_months_with_few_days_lose_nothing_and_are_not_known():
    fewest = int(LOST_DAYS["fewest_days"])
    wet = replace(FINE, precip_mm=20.0)
    for count, known in ((fewest - 1, False), (fewest, True), (fewest + 1, True)):
        lost = lost_days(season(weather(month_days(1, (count, wet)))))
        assert lost.months[0].known is known
        assert lost.shares[0] == (1.0 if known else 0.0)
        assert (lost.months[0].wet is None) is not known
    assert not any(month.known for month in lost.months[1:])
    assert lost.shares[1:] == (0.0,) * 11


def test_a_cause_that_is_seldom_read_is_not_told():
    dry = replace(FINE, precip_mm=None)
    wet = replace(FINE, precip_mm=20.0)
    fewest = int(LOST_DAYS["fewest_days"])
    few = lost_days(season(weather(month_days(1, (200, dry), (fewest - 1, wet))))).months[0]
    assert (few.wet, few.share, few.days) == (None, 0.0, 200 + fewest - 1)
    enough = lost_days(season(weather(month_days(1, (200, dry), (fewest, wet))))).months[0]
    assert (enough.wet, enough.share, enough.days) == (1.0, 1.0, fewest)  # days without a reading are not taken as dry


def test_causes_read_on_different_days_are_not_mixed():
    warm_only, gust_only = Day(tmax_c=-45.0), Day(gust_kmh=80.0)
    month = lost_days(season(weather(month_days(1, (100, warm_only), (60, gust_only))))).months[0]
    assert (month.cold, month.wind, month.wet) == (1.0, None, None)
    assert month.days == 100


def test_nothing_after_the_plans_date_counts():
    days = every_day(date(2024, 1, 1), date(2026, 1, 31), replace(FINE, precip_mm=0.0))
    days |= every_day(date(2026, 2, 1), date(2026, 12, 31), replace(FINE, precip_mm=50.0))
    record = weather(days)
    before = lost_days(season(record, on=date(2026, 1, 31)))
    assert before.shares[1] == 0.0
    assert before.last == date(2026, 1, 31)
    on = lost_days(season(record, on=date(2026, 2, 1)))
    assert on.shares[1] == pytest.approx(1 / (29 + 28 + 1))
    assert lost_days(season(record, on=date(2023, 12, 31))) is None
    assert lost_share(season(record, on=date(2023, 12, 31)), JANUARY) == 0.0


def test_a_leap_day_is_a_day_of_february():
    days = every_day(date(2023, 2, 1), date(2023, 2, 28)) | every_day(date(2024, 2, 1), date(2024, 2, 29))
    days[date(2024, 2, 29)] = replace(FINE, gust_kmh=90.0)
    february = lost_days(season(weather(days))).months[1]
    assert (february.days, february.share) == (57, pytest.approx(1 / 57))


def test_without_a_record_nothing_is_lost():
    assert lost_days(season(None)) is None
    assert lost_share(season(None), JANUARY) == 0.0
    assert lost_days(season(weather({}))) is None


def test_a_record_is_reckoned_with_once():
    record = weather(month_days(1, (60, FINE)))
    assert lost_days(season(record)) is lost_days(season(record, latitude=60.0))
