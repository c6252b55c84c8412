"""What the order says of the hours it counts with: weather, short days, and the sun that does not rise."""

import re
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from barkwright import plan as path
from barkwright.inventory.reading import read_inventory
from barkwright.output.measures import Units
from barkwright.output.order import order_text
from barkwright.plan import plan_order
from barkwright.season.site import season_of
from barkwright.season.weather import Day, Station, Weather

ON = date(2026, 11, 26)
YARD = (Path(__file__).parents[2] / "examples" / "yard-tree.yaml").read_text(encoding="utf-8")
IMPERIAL = Units()
FINE = Day(tmax_c=0.0, precip_mm=0.0, gust_kmh=0.0, wind_kmh=4.0)


def record(days: dict[date, Day]) -> Weather:
    return Weather(Station("0", "HAND MADE"), "rows made by hand", (), dict(sorted(days.items())), ())


def every_day(day: Day = FINE, years: tuple[int, ...] = (2016, 2017, 2018, 2019)) -> dict[date, Day]:
    first = date(years[0], 1, 1)
    return {first + timedelta(days=back): day for back in range((date(years[-1], 12, 31) - first).days + 1)}


def said(monkeypatch, weather: Weather | None, text: str = YARD, on: date = ON, units: Units = IMPERIAL) -> str:
    """What the order rests on, in one line."""
    monkeypatch.setattr(
        path, "season_of", lambda site, on, _local: replace(season_of(site, on), weather=weather, rule="calendar")
    )
    inventory, faults = read_inventory(text, "yard.yaml", on)
    assert inventory is not None, faults[:3]
    plan = plan_order(inventory, on)
    assert plan.broken == ()
    order = order_text(plan, units, "yard.yaml")
    return " ".join(order.partition("WHAT THIS RESTS ON")[2].split())


def far_north(text: str) -> str:
    return re.sub(r"(latitude: )[\d.]+", r"\g<1>68.36", re.sub(r"(longitude: )-[\d.]+", r"\g<1>-133.72", text))


def test_without_a_record_and_with_long_days_nothing_is_said(monkeypatch):
    text = said(monkeypatch, None)
    assert "expected hours" not in text
    assert "does not rise" not in text
    assert "Daylight" not in text


def test_the_weather_of_the_months_with_work_is_said_once_with_its_causes_and_its_station(monkeypatch):
    days = every_day()
    for day in days:
        if day.month == 11 and day.day <= 3:
            days[day] = replace(FINE, tmax_c=-45.0)
        if day.month == 11 and day.day in (4, 5, 6):
            days[day] = replace(FINE, gust_kmh=45.0, precip_mm=3.0)
        if day.month == 12:
            days[day] = replace(FINE, precip_mm=12.0)
    text = said(monkeypatch, record(days))
    assert text.count("Hours are expected hours") == 1
    assert "by the daily record of HAND MADE, 2016 to 2019, weather takes of each working day" in text
    assert "15 % in November (cold 10 %, wind 2 %, rain and snow 5 %)" in text
    assert "causes overlap. Ours: gusts of 25 mph cost 20 % of a day, of 40 mph all of it; " in text
    assert "0.08 in of rain or melted snow or 2 in of new snow cost half a day, 0.39 in or 6 in all of it." in text
    assert "Cold counts by a published schedule of work and warm-up breaks" in text
    assert "Thunder is not counted." in text
    assert "August" not in text.partition("causes overlap")[0]
    assert "says too little" not in text
    assert "still air" not in text
    assert "Saskatchewan" in text


def test_limits_are_said_in_the_units_of_the_reader_and_only_those_that_take_any(monkeypatch):
    windy = record(every_day(replace(FINE, gust_kmh=40.0)))
    text = said(monkeypatch, windy, units=Units(metric=True))
    assert "20 % in November (wind 20 %)" in text
    assert "Ours: gusts of 40 km/h cost 20 % of a day, of 65 km/h all of it. Thunder is not counted." in text
    assert "of new snow" not in text
    assert "causes overlap" not in text
    assert "Saskatchewan" not in text


def test_thunder_is_counted_where_the_record_notes_it(monkeypatch):
    stormy = record(every_day(replace(FINE, thunder=True)))
    text = said(monkeypatch, stormy)
    assert "50 % in November (thunder 50 %)" in text
    assert "Ours: thunder costs half a day." in text
    assert "not counted" not in text


def test_a_month_without_losses_and_one_with_hardly_any_are_told_apart(monkeypatch):
    days = every_day(years=tuple(range(2000, 2020)))
    text = said(monkeypatch, record(days))
    assert re.search(r"takes of each working day nothing in November(, [A-Z]\w+)* and [A-Z]\w+\. Thunder", text)
    assert " 0 %" not in text
    days[date(2004, 11, 1)] = replace(FINE, precip_mm=4.0)
    assert "under 1 % in November (rain and snow under 1 %)" in said(monkeypatch, record(days))


def test_causes_that_the_record_does_not_tell_are_named(monkeypatch):
    text = said(monkeypatch, record(every_day(Day(tmax_c=-45.0))))
    assert "100 % in November (cold 100 %)" in text  # and so nobody works
    assert "says too little of wind or rain and snow to count on" in text
    text = said(monkeypatch, record(every_day(Day(tmax_c=3.0, precip_mm=0.0))))
    assert "The record says too little of wind to count on: no hours are taken off for that." in text
    assert "Where the daily record has no mean wind, cold is judged as in still air." in text


def test_months_that_the_record_does_not_cover_are_named(monkeypatch):
    days = {day: read for day, read in every_day().items() if day.month not in (11, 12)}
    text = said(monkeypatch, record(days))
    assert re.search(r"HAND MADE has fewer than 56 days of [A-Z]\w+( or [A-Z]\w+)*: no hours are taken off there", text)
    assert "November" in text


def test_short_days_are_said_where_they_bind(monkeypatch):
    long = YARD.replace("hours_per_day: 6,", "hours_per_day: 10,")
    text = said(monkeypatch, None, long)
    found = re.search(
        r"Daylight, from sunrise to sunset, caps the working day at (\d\.\d) (?:to \d\.\d )?h in Nov", text
    )
    assert found
    assert 7.0 < float(found[1]) < 8.5
    assert "Daylight" not in said(monkeypatch, None, YARD)


def test_the_polar_night_is_named_with_its_days(monkeypatch):
    text = said(monkeypatch, None, far_north(YARD), on=date(2026, 12, 1))
    assert (
        "The sun does not rise here from 6 December 2026 to 5 January 2027: nobody works outside on those days." in text
    )
    assert text.count("does not rise") == 1


@pytest.mark.parametrize(("on", "named"), [(date(2026, 12, 20), True), (date(2027, 1, 8), False)])
def test_a_night_that_has_begun_is_named_whole_and_one_that_is_over_is_not(monkeypatch, on, named):
    text = said(monkeypatch, None, far_north(YARD), on=on)
    assert ("from 6 December 2026 to 5 January 2027" in text) is named


def test_in_june_the_far_north_has_no_night_and_no_cap(monkeypatch):
    text = said(monkeypatch, None, far_north(YARD), on=date(2027, 6, 5))
    assert "does not rise" not in text
    assert "Daylight" not in text
