"""The place's year on the flight page: its table of months, and what is said of digging and of drying wood."""

from __future__ import annotations

import dataclasses
import re
from datetime import date

from flight_site import ON, page, site_plan, weather

from barkwright.season.daylight import daylight_hours
from barkwright.season.weather import Day

HEADING = "THE PLACE'S YEAR"
FAR_NORTH = "latitude: 68.36, longitude: -133.72"


def section(text: str) -> str:
    found = re.search(rf"^{HEADING} =+\n(.*?)(?=^[A-Z][A-Z ,']+ =+$|\Z)", text, re.MULTILINE | re.DOTALL)
    assert found is not None
    return found[1]


def row(text: str, month: str) -> list[str]:
    return next(line.split() for line in section(text).splitlines() if line.startswith(month))


def flat(text: str) -> str:
    return " ".join(section(text).split())


def test_the_light_of_a_month_is_that_of_its_middle_day() -> None:
    text = page(site_plan(weather()))
    assert row(text, "Jun")[1] == f"{daylight_hours(54, -122, date(2030, 6, 15)):.1f}"
    assert float(row(text, "Jun")[2]) > float(row(text, "Jun")[1])


def test_polar_night_and_polar_day_are_hours_too() -> None:
    text = page(site_plan(None, where=FAR_NORTH))
    assert row(text, "Dec")[1] == "0.0"
    assert 0 < float(row(text, "Dec")[2]) < 6  # the sun stays down, the noon is light
    assert row(text, "Jun")[1:3] == ["24.0", "24.0"]


def test_lost_work_stands_by_month_where_the_record_tells_and_nothing_where_it_does_not() -> None:
    days = {day: dataclasses.replace(read, precip_mm=0.0, gust_kmh=0.0) for day, read in weather().items()}
    days |= {day: dataclasses.replace(read, precip_mm=12.0) for day, read in days.items() if day.month == 7}
    text = page(site_plan(days))
    assert "says too little" not in flat(text)
    assert "says too little of wind or rain and snow to count on: no hours" in flat(page(site_plan(weather())))
    assert row(text, "Jul")[3:5] == ["100", "%"]
    assert row(text, "May")[3:5] == ["0", "%"]
    bare = page(site_plan(None))
    assert "Work lost" not in section(bare).partition("Light is")[0]
    assert "Without daily weather nothing is taken off" in flat(bare)


def test_hours_warm_enough_to_fly_are_few_in_a_cool_month_and_many_in_a_warm_one() -> None:
    text = page(site_plan(weather()))
    assert row(text, "Jan")[-1] == "0"
    low, high = (float(one) for one in row(text, "Jul")[-1].split("-"))
    assert 6 < low <= high < 24
    assert "at 16 C (61 F) or more" in flat(text)


def test_digging_and_drying_name_what_they_rest_on() -> None:
    told = flat(page(site_plan(weather())))
    assert "When the ground is frozen is reckoned coarsely from the daily weather of Testing Knoll" in told
    assert "the humidity of" in told
    assert "Wood split on 1 November 2030 is dry enough for a stove" in told
    assert "Dry wood is no proof that the beetles in it are dead." in told
    assert "is what you wrote" in flat(page(site_plan(None, more=", ground: {frozen: []}")))


def test_wood_split_in_late_autumn_is_not_dry_before_the_next_flight_and_split_in_spring_before_the_one_after() -> None:
    told = flat(page(site_plan(weather())))
    assert "Wood split from now on is not dry before the flight of 2031." in told
    assert re.search(r"before the flight of 2032 likely if it is split by \d+ \w+ 2031, perhaps if by", told)


def test_one_last_day_to_split_is_said_once() -> None:
    told = flat(page(site_plan(None, where="latitude: 44.3, longitude: -68.36")))  # no normals near: a rule of thumb
    assert re.search(r"before the flight of 2032 if it is split by \d+ \w+ 2031\.", told)
    assert "perhaps if" not in told


def test_what_the_record_does_not_tell_is_not_counted_as_no_loss() -> None:
    days = {day: dataclasses.replace(read, precip_mm=None, gust_kmh=None) for day, read in weather().items()}
    told = flat(page(site_plan(days)))
    assert "Work lost is what cold takes of a working day" in told
    assert "The record says too little of wind or rain and snow to count on" in told


def test_readings_after_the_plan_change_nothing() -> None:
    later = {date(2031, 1, 1): Day(tmax_c=30.0, tmin_c=20.0)}
    hot = {date(2031, 7, n): Day(tmax_c=45.0, tmin_c=30.0, precip_mm=50.0) for n in range(1, 31)}
    assert section(page(site_plan(weather() | later | hot))) == section(page(site_plan(weather())))
    assert date(2031, 1, 1) > ON
