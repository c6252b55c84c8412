"""Public records as downloaded, outside the project: pytest -m slow --records DIR."""

import csv
from datetime import date, timedelta
from pathlib import Path

import pytest

from barkwright.season.weatherfiles.reading import read_weather

pytestmark = pytest.mark.slow

# First day of each year with Tmax above 16.0 C at Banff CS, computed from the public files with an independent program.
BANFF_FIRST_ABOVE_16 = {
    2008: "04-12", 2009: "04-21", 2010: "04-16", 2011: "05-10", 2012: "04-22", 2013: "04-26", 2014: "04-30",
    2015: "03-27", 2016: "04-01", 2017: "05-04", 2018: "04-24", 2019: "03-19", 2020: "04-29", 2021: "04-16",
    2022: "05-03", 2023: "04-28",
}  # fmt: skip


@pytest.fixture
def records(request):
    folder = request.config.getoption("--records")
    if not folder:
        pytest.skip("no --records DIR is given")
    return Path(folder)


def one(records, pattern):
    [path] = records.rglob(pattern)
    return path, read_weather((str(path),)).weather


def written(path, date_key, encoding="utf-8-sig"):
    with path.open(encoding=encoding, newline="") as stream:
        return {date.fromisoformat(row[date_key]): row for row in csv.DictReader(stream)}


def test_the_first_warm_days_at_banff(records):
    [folder] = (path for path in records.rglob("*3050519*") if path.is_dir())
    first: dict[int, date] = {}
    for day, readings in read_weather((str(folder),)).weather.days.items():
        if readings.tmax_c is not None and readings.tmax_c > 16.0:
            first.setdefault(day.year, day)
    assert {year: f"{day:%m-%d}" for year, day in first.items()} == BANFF_FIRST_ABOVE_16


def test_every_temperature_at_banff_is_the_written_one(records):
    [folder] = (path for path in records.rglob("*3050519*") if path.is_dir())
    days = read_weather((str(folder),)).weather.days
    count = 0
    for path in folder.glob("*.csv"):
        for day, row in written(path, "Date/Time").items():
            for name, field in (("Max Temp (°C)", "tmax_c"), ("Min Temp (°C)", "tmin_c")):
                read = getattr(days.get(day), field, None)
                assert read == (float(row[name]) if row[name] else None)
                count += read is not None
    assert count > 11000


def test_mcfarland_hill_is_read_in_fahrenheit_but_for_the_days_read_once(records):
    path, weather = one(records, "*mcfarland*.csv")
    rows = written(path, "DATE")
    once = {day for day, row in rows.items() if row["TMAX"] == row["TMIN"]}
    assert len(once) == 11
    beside_a_gap = {date(2006, 3, 2), date(2009, 7, 17), date(2009, 8, 23), date(2010, 1, 3)}  # and 1 F apart at most
    assert set(weather.days) == set(rows) - once - beside_a_gap
    for day, readings in weather.days.items():
        assert readings.tmax_c == pytest.approx((float(rows[day]["TMAX"]) - 32) / 1.8)
        assert readings.tmin_c == pytest.approx((float(rows[day]["TMIN"]) - 32) / 1.8)
    gaps = " ".join(note.message for note in weather.notes if note.code == "weather-gap")
    assert "2021-04-25 to 2021-12-31 (251 days)" in gaps
    assert "2021 (0 of 123)" in gaps


def test_sitka_has_wind_rain_and_gusts(records):
    path, weather = one(records, "*sitka*.csv")
    rows = written(path, "DATE")
    assert len(weather.days) == 365
    for day, row in rows.items():
        readings = weather.days[day]
        for name, value, factor in (
            ("AWND", readings.wind_kmh, 1.609344),
            ("WSF5", readings.gust_kmh, 1.609344),
            ("PRCP", readings.precip_mm, 25.4),
        ):
            assert value == (pytest.approx(float(row[name]) * factor) if row[name] else None)
    assert min(weather.days) + timedelta(days=364) == max(weather.days)
