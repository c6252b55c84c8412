"""Crews plan with expected hours: less what weather takes in each month, and no more than daylight."""

import random
from dataclasses import replace
from datetime import date, timedelta
from functools import cache
from pathlib import Path

import pytest
from made_sites import ON, site_text

from barkwright import plan as path
from barkwright.inventory.reading import read_inventory
from barkwright.plan import Plan, plan_order
from barkwright.schedule.calendar import Outdoors, always_light, hours_on, outdoors, shortest_h, weekly_hours
from barkwright.schedule.jobs import Job
from barkwright.schedule.verify import verify
from barkwright.season.daylight import daylight_hours
from barkwright.season.lostdays import lost_share
from barkwright.season.site import season_of
from barkwright.season.weather import Day, Station, Weather

EXAMPLES = Path(__file__).parents[2] / "examples"
FINE, LOST = Day(precip_mm=0.0), Day(precip_mm=50.0)


def record(shares: dict[int, float]) -> Weather:
    """A record in which weather takes such a share of each month; months that are not named lose nothing."""
    days: dict[date, Day] = {}
    for month in range(1, 13):
        dates = [
            day
            for year in range(2003, 2023)
            for offset in range(31)
            if (day := date(year, month, 1) + timedelta(days=offset)).month == month
        ]
        lost = round(shares.get(month, 0.0) * len(dates))
        days |= dict.fromkeys(dates[:lost], LOST) | dict.fromkeys(dates[lost:], FINE)
    return Weather(Station("0", "HAND MADE"), "rows made by hand", (), dict(sorted(days.items())), ())


def planned_with(text: str, weather: Weather | None, monkeypatch: pytest.MonkeyPatch, on: date = ON) -> Plan:
    monkeypatch.setattr(
        path, "season_of", lambda site, on, _local: replace(season_of(site, on), weather=weather, rule="calendar")
    )
    inventory, faults = read_inventory(text, "made-up.yaml", on)
    assert inventory is not None, faults[:3]
    return plan_order(inventory, on)


def last_work(plan: Plan) -> date:
    return max(job.last for job in plan.schedule.jobs if job.work != "look again")


def crews_work(plan: Plan) -> dict[tuple[str, date], float]:
    worked: dict[tuple[str, date], float] = {}
    names = {crew.name for crew in plan.inventory.crew}
    for job in plan.schedule.jobs:
        for day, hours in job.day_hours if job.crew in names else ():
            worked[job.crew, day] = worked.get((job.crew, day), 0.0) + hours
    return worked


@pytest.mark.parametrize("seed", range(8))
def test_no_day_holds_more_than_the_hours_to_be_expected(seed, monkeypatch):
    dice = random.Random(seed)
    shares = {month: dice.choice((0.0, dice.random(), dice.random(), 1.0)) for month in range(1, 13)}
    people = dice.choice((2, 3, 4))
    plan = planned_with(site_text(seed, 8, people=people), record(shares), monkeypatch)
    assert verify(plan.schedule, plan.work) == plan.broken == ()
    for (_, day), hours in crews_work(plan).items():
        light = min(7.0, daylight_hours(53.9, -123.0, day))
        assert hours <= people * light * (1 - shares[day.month]) + people * light * 0.001 + 1e-6  # shares in whole days


def test_the_checker_refuses_a_day_that_is_full_though_weather_takes_part_of_it(monkeypatch):
    text = site_text(11, 7, people=3)
    fine = planned_with(text, None, monkeypatch)
    lossy = planned_with(text, record(dict.fromkeys(range(1, 13), 0.3)), monkeypatch)
    assert lossy.schedule != fine.schedule
    broken = verify(fine.schedule, lossy.work)
    assert any("more work on" in one for one in broken)


def test_a_month_that_is_lost_altogether_holds_no_work_of_a_crew(monkeypatch):
    plan = planned_with(site_text(3, 6), record({11: 1.0}), monkeypatch)
    assert plan.broken == ()
    months = {day.month for _, day in crews_work(plan)}
    assert 11 not in months
    assert months
    assert 11 in {day.month for _, day in crews_work(planned_with(site_text(3, 6), None, monkeypatch))}


def test_the_tree_service_keeps_its_own_hours(monkeypatch):
    text = site_text(3, 6).replace("skills: [saw, felling, machine]", "skills: [saw, machine]")
    plans = [planned_with(text, weather, monkeypatch) for weather in (None, record(dict.fromkeys(range(1, 13), 0.5)))]
    felled = [
        {job.tree: (job.hours, job.day_hours[0][1]) for job in plan.schedule.jobs if job.work == "fell"}
        for plan in plans
    ]
    assert felled[0]
    assert all(felled[1][tree] == felled[0][tree] for tree in felled[0].keys() & felled[1].keys())


@cache
def example(name: str) -> str:
    return (EXAMPLES / name).read_text(encoding="utf-8")


@pytest.mark.slow
@pytest.mark.parametrize("name", ["yard-tree.yaml", "removal-24.yaml", "woodlot-60.yaml"])
def test_lost_days_do_not_end_the_work_sooner(name, monkeypatch):
    on = date(2026, 11, 26)
    fine = planned_with(example(name), None, monkeypatch, on)
    windy = planned_with(example(name), record(dict.fromkeys(range(1, 13), 0.25)), monkeypatch, on)
    assert windy.broken == ()
    assert last_work(windy) >= last_work(fine)
    assert windy.schedule.infested_left_ft2 >= fine.schedule.infested_left_ft2


def test_a_record_that_takes_nothing_changes_nothing(monkeypatch):
    plain = planned_with(site_text(5, 6), None, monkeypatch)
    fine = planned_with(site_text(5, 6), record({}), monkeypatch)
    assert fine.schedule == plain.schedule


def test_the_calendar_and_the_checker_know_the_same_share(monkeypatch):
    plan = planned_with(site_text(5, 3), record({1: 0.25, 2: 1.0}), monkeypatch)
    crew, calendar, season = plan.inventory.crew[0], plan.inventory.calendar, plan.season
    for day, share in ((date(2027, 1, 20), 0.25), (date(2027, 2, 3), 1.0), (date(2027, 3, 3), 0.0)):
        assert lost_share(season, day) == pytest.approx(share, abs=0.001)
        light = min(7.0, daylight_hours(53.9, -123.0, day))
        assert hours_on(crew, calendar, day, outdoors(season)) == light * (1 - lost_share(season, day))


def test_daylight_caps_the_day_before_weather_takes_its_share():
    place = Outdoors(lambda day: 4.0, (0.5, *(0.0,) * 11))
    assert place.hours(date(2027, 1, 5), 6.0) == 2.0
    assert place.hours(date(2027, 1, 5), 3.0) == 1.5
    assert place.hours(date(2027, 2, 5), 6.0) == 4.0
    assert replace(place, daylight=always_light).hours(date(2027, 1, 5), 6.0) == 3.0


@pytest.mark.parametrize("latitude", [-40.0, 0.0, 39.0, 53.9, 60.0, 66.0, 68.4])
def test_no_day_of_a_year_is_shorter_than_the_shortest(latitude):
    light = outdoors(season_at(latitude)).daylight
    year = [light(date(2027, 1, 1) + timedelta(days=offset)) for offset in range(365)]
    assert shortest_h(date(2027, 5, 5), light) <= min(year)


def season_at(latitude: float):
    inventory, _ = read_inventory(site_text(1, 1).replace("latitude: 53.9", f"latitude: {latitude}"), "x.yaml", ON)
    assert inventory is not None
    return season_of(inventory.site, ON)


def weeks(text: str, first: date, last: date, shares: dict[int, float] | None = None, on: date = ON):
    inventory, faults = read_inventory(text, "made-up.yaml", on)
    assert inventory is not None, faults[:3]
    season = replace(season_of(inventory.site, on), weather=record(shares) if shares else None)
    return weekly_hours(inventory, season, first, last)


def test_weeks_begin_on_monday_and_count_only_the_days_asked_for():
    found = weeks(site_text(1, 2), date(2026, 11, 5), date(2026, 11, 17))  # a Thursday to a Tuesday
    assert [week.first for week in found] == [date(2026, 11, 2), date(2026, 11, 9), date(2026, 11, 16)]
    assert [week.days for week in found] == [2, 5, 2]
    assert [week.person_hours for week in found] == pytest.approx([28.0, 70.0, 28.0])


def test_weeks_cross_the_new_year_and_skip_days_off():
    found = weeks(site_text(1, 2), date(2026, 12, 21), date(2027, 1, 10))  # 24 December to 2 January is off
    assert [(week.first, week.days) for week in found] == [
        (date(2026, 12, 21), 3), (date(2026, 12, 28), 0), (date(2027, 1, 4), 5)
    ]  # fmt: skip
    assert found[1].person_hours == 0.0


def test_weeks_hold_what_weather_leaves():
    plain = weeks(site_text(1, 2), date(2027, 3, 1), date(2027, 3, 7))
    lossy = weeks(site_text(1, 2), date(2027, 3, 1), date(2027, 3, 7), {3: 0.2})
    assert plain[0].person_hours == pytest.approx(70.0)
    assert lossy[0].person_hours == pytest.approx(0.8 * 70.0, rel=0.002)
    assert weeks(site_text(1, 2), date(2027, 3, 1), date(2027, 3, 7), {3: 1.0})[0].days == 0


def test_no_week_has_work_before_it_may_begin_or_without_anybody():
    late = site_text(1, 2, start="2026-11-11")
    assert [week.days for week in weeks(late, date(2026, 11, 2), date(2026, 11, 15))] == [0, 3]
    assert [week.days for week in weeks(site_text(1, 2), date(2026, 10, 1), date(2026, 10, 30))] == [0, 0, 0, 0, 5]
    assert weeks(late, date(2026, 11, 15), date(2026, 11, 14)) == ()


def test_two_crews_add_up_and_share_their_days():
    two = (
        site_text(1, 2)
        .replace("equipment:", "  \nequipment:")
        .replace(
            "rate: 38}]", "rate: 38}, {name: sunday crew, people: 1, hours_per_day: 4, days: [sun, mon], unpaid: true}]"
        )
    )
    found = weeks(two, date(2026, 11, 9), date(2026, 11, 15))
    assert (found[0].days, found[0].person_hours) == (6, pytest.approx(70.0 + 8.0))


def test_weeks_of_the_polar_night_hold_no_work():
    found = weeks(site_text(1, 2).replace("latitude: 53.9", "latitude: 68.36"), date(2026, 11, 30), date(2027, 1, 17))
    assert [week.days > 0 for week in found] == [True, False, False, False, False, True, True]
    assert 0 < found[0].person_hours < 20


def test_nobody_fells_without_sun_not_even_a_tree_service():
    text = site_text(3, 4).replace("skills: [saw, felling, machine]", "skills: [saw, machine]")
    text = text.replace("latitude: 53.9", "latitude: 68.36").replace("start: 2026-10-26", "start: 2026-12-08")
    inventory, faults = read_inventory(text, "made-up.yaml", ON)
    assert inventory is not None, faults[:3]
    plan = plan_order(inventory, ON)
    felled = [job for job in plan.schedule.jobs if job.work == "fell"]
    assert felled
    assert plan.broken == ()
    assert all(daylight_hours(68.36, -123.0, day) > 0 for job in felled for day, _ in job.day_hours)
    assert any("without sun" in one for one in verify(_in_the_dark(plan, felled[0]), plan.work))


def _in_the_dark(plan: Plan, job: Job):
    day = date(2026, 12, 21)
    moved = replace(job, first=day, last=day, day_hours=((day, job.hours),), machine_hours=())
    return replace(plan.schedule, jobs=tuple(moved if one is job else one for one in plan.schedule.jobs))
