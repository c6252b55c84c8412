import csv
import itertools
from datetime import date, datetime
from pathlib import Path

import pytest

from barkwright.season.daylight import CIVIL_ZENITH_DEG, SUNRISE_ZENITH_DEG, daylight_hours, sun_event

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
