import csv
import itertools
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest

from barkwright.season.daylight import (
    CIVIL_ZENITH_DEG,
    DAY,
    HIGHEST_WITH_SUN_DEG,
    SUNRISE_ZENITH_DEG,
    daylight_hours,
    sun_event,
    sun_times,
    sunless,
)

TABLES = Path(__file__).parents[2] / "shared" / "published"


def rows(name):
    with (TABLES / name).open(encoding="utf-8") as lines:
        return list(csv.DictReader(line for line in lines if not line.startswith("#")))


@pytest.mark.parametrize("row", rows("usno2019-sun-60n.csv"), ids=lambda row: row["date"])
def test_every_day_of_the_almanac_within_half_a_minute_of_the_printed_minute(row):
    day = date.fromisoformat(row["date"])
    for event, column in (("rise", "sunrise_ut"), ("set", "sunset_ut")):
        ours = sun_event(float(row["latitude"]), float(row["longitude"]), day, event)
        printed = datetime.fromisoformat(f"{day}T{row[column]}:00+00:00")
        assert abs((ours - printed).total_seconds()) <= 31


def test_the_ephemeris_agrees_within_half_a_minute_in_the_far_north_too():
    worst = 0.0
    for row in rows("sun-ephemeris-de421-2025.csv"):
        zenith = CIVIL_ZENITH_DEG if row["event"].startswith("civil") else SUNRISE_ZENITH_DEG
        side = "rise" if row["event"] in ("sunrise", "civil_dawn") else "set"
        day = date.fromisoformat(row["solar_date"])
        ours = sun_event(float(row["latitude"]), float(row["longitude"]), day, side, zenith)
        if row["utc"] == "none":
            assert ours in ("up", "down")
        else:
            theirs = datetime.fromisoformat(row["utc"])
            worst = max(worst, abs((ours - theirs).total_seconds()))
    assert 0 < worst <= 32


def test_polar_day_and_night_are_values():
    assert daylight_hours(68.3607, -133.7230, date(2025, 6, 21)) == 24.0
    assert daylight_hours(68.3607, -133.7230, date(2025, 12, 21)) == 0.0
    assert daylight_hours(90.0, 0.0, date(2025, 6, 21)) == 24.0
    assert daylight_hours(90.0, 0.0, date(2025, 12, 21)) == 0.0


@pytest.mark.parametrize("latitude", [0.0, 35.0, 50.0, 60.0, 66.0, 72.0])
def test_days_change_smoothly_and_stay_within_a_day(latitude):
    year = [daylight_hours(latitude, -120.0, date.fromordinal(date(2024, 1, 1).toordinal() + n)) for n in range(366)]
    assert all(0.0 <= hours <= 24.0 for hours in year)
    if latitude <= 60:
        assert max(abs(b - a) for a, b in itertools.pairwise(year)) < 0.12
    assert year.index(max(year)) in range(160, 185) or max(year) == 24.0 or latitude == 0.0


def test_the_day_is_the_local_solar_day_wherever_one_stands():
    here = daylight_hours(55.0, -123.0, date(2027, 4, 1))
    there = daylight_hours(55.0, 179.9, date(2027, 4, 1))
    assert here == pytest.approx(there, abs=0.1)


def test_all_times_of_a_day_are_those_of_the_almanac():
    at = sun_times(33.8, -84.4, date(2009, 9, 6))
    assert at.dawn < at.rise < at.set < at.dusk
    assert at.rise == sun_event(33.8, -84.4, date(2009, 9, 6), "rise")
    assert at.dusk == sun_event(33.8, -84.4, date(2009, 9, 6), "set", CIVIL_ZENITH_DEG)
    assert at.twilight_h == pytest.approx(13 + 31 / 60, abs=1 / 60)  # 06:50 to 20:21 in the almanac


def test_the_far_north_has_no_times_and_says_which_way():
    midsummer, midwinter = (sun_times(68.3607, -133.7230, date(2025, month, 21)) for month in (6, 12))
    assert (midsummer.rise, midsummer.set, midsummer.dawn, midsummer.dusk) == ("up",) * 4
    assert (midsummer.daylight_h, midsummer.twilight_h) == (24.0, 24.0)
    assert (midwinter.rise, midwinter.set, midwinter.daylight_h) == ("down", "down", 0.0)
    assert midwinter.dawn < midwinter.dusk  # the noon is light all the same
    assert 3 < midwinter.twilight_h < 6
    white_night = sun_times(64.8378, -147.7164, date(2025, 6, 21))
    assert (white_night.dawn, white_night.dusk, white_night.twilight_h) == ("up", "up", 24.0)
    assert 21 < white_night.daylight_h < 22


@pytest.mark.parametrize("day", [date(2025, 3, 20), date(2025, 6, 21), date(2025, 12, 21), date(2024, 2, 29)])
def test_on_the_equator_the_sun_stands_twelve_hours_and_its_width_and_refraction_more(day):
    at = sun_times(0.0, 0.0, day)
    assert at.daylight_h == pytest.approx(12 + 2 * 0.833 / 15, abs=0.02)
    assert at.twilight_h == pytest.approx(12 + 2 * 6 / 15, abs=0.08)


@pytest.mark.parametrize(("latitude", "solstice"), [(68.3607, date(2026, 12, 21)), (-68.3607, date(2027, 6, 21))])
def test_days_without_sun_are_one_run_and_no_shorter_when_asked_from_within(latitude, solstice):
    runs = set()
    for back in (40, 10, 0, -10):
        asked = solstice - timedelta(days=back)
        runs.add(sunless(latitude, -133.723, asked, asked + timedelta(days=60)))
    ((first, last),) = runs
    assert abs((solstice - first) - (last - solstice)) <= timedelta(days=2)
    light = [daylight_hours(latitude, -133.723, day) for day in (first - DAY, first, solstice, last, last + DAY)]
    assert [hours > 0 for hours in light] == [True, False, False, False, True]
    assert sunless(latitude, -133.723, last + DAY, last + timedelta(days=60)) is None
    assert sunless(latitude, -133.723, first - timedelta(days=60), first - DAY) is None


def test_below_the_circle_no_day_is_without_sun():
    last = date(2026, 12, 31)
    assert sunless(64.9, -147.0, date(2026, 1, 1), last) is None
    assert all(daylight_hours(HIGHEST_WITH_SUN_DEG, 0.0, last - timedelta(days=back)) > 0 for back in range(365))
    assert sunless(90.0, 0.0, date(2026, 12, 1), last) is not None
