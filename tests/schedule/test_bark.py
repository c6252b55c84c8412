"""Stripped bark with grown beetles in it: destroyed by the next day of work while they walk, before the spring else."""

from dataclasses import replace
from datetime import date, timedelta
from functools import cache

import pytest
from made_sites import planned

from barkwright.plan import Plan
from barkwright.schedule.bark import destroyed_by
from barkwright.schedule.verify import verify

SITE = """barkwright: 1
site: {name: Alder Hollow, units: imperial, latitude: 53.9, longitude: -123.0, region: interior-plateau,
  nearest_live_spruce: 30, ground: {diggable: false}, burning: {permit: held, windows: [WINDOWS]}}
trees:
  - {id: T1, species: white, dbh: 14, height: 60, attacked: 2025, attack: mass,
    found: {insect: spruce-beetle, stages: [adults], looked: [base, sunny], exit_holes: none, seen: 2026-08-12},
    near: {line: out-of-reach, building: out-of-reach, road: out-of-reach, neighbour: out-of-reach}}
crew: [{name: we, people: 3, hours_per_day: 6, days: [wed, fri, sat], skills: [saw, felling], unpaid: true}]
equipment: [{kind: drawknife, owned: true, count: 3}, {kind: chain-saw, owned: true}]
wishes: {avoid: [burn]}
"""
AUTUMN = "{from: 2026-09-09, to: 2026-09-30}"
WINTER = "{from: 2027-02-01, to: 2027-02-20}"
SPRING = "{from: 2027-05-10, to: 2027-05-20}"


@cache
def made(windows: str, on: date) -> Plan:
    return planned(SITE.replace("WINDOWS", windows), on)


def _stripped_and_burned(plan: Plan) -> list[tuple[date, date]]:
    jobs = [job for job in plan.schedule.jobs if job.way is not None and "burn-bark" in job.way]
    pairs = []
    for piece in sorted({piece for job in jobs for piece in job.pieces}):
        mine = [job for job in jobs if piece in job.pieces]
        strip = next(job for job in mine if job.what.startswith("strip"))
        burn = next(job for job in mine if job.what.startswith("burn"))
        pairs.append((strip.last, burn.last))
    return pairs


@pytest.mark.parametrize(
    ("windows", "on"), [(AUTUMN, date(2026, 8, 20)), (SPRING, date(2026, 11, 25))], ids=["autumn", "spring"]
)
def test_while_beetles_walk_bark_is_burned_by_the_next_day_of_work(windows: str, on: date) -> None:
    plan = made(windows, on)
    assert plan.broken == ()
    pairs = _stripped_and_burned(plan)
    assert len(pairs) > 3
    for strip, burn in pairs:
        work = [strip + timedelta(days=one) for one in range(1, (burn - strip).days + 1)]
        assert sum(day.weekday() in (2, 4, 5) for day in work) <= 1


def test_in_the_cold_it_may_lie_until_the_next_fire_but_not_into_the_spring() -> None:
    plan = made(WINTER, date(2026, 11, 25))
    assert plan.broken == ()
    pairs = _stripped_and_burned(plan)
    assert pairs
    assert all(burn < date(2027, 5, 7) for _, burn in pairs)


@pytest.mark.parametrize("work", ["burn", "strip"])
def test_the_checker_refuses_bark_that_lies_too_long(work: str) -> None:
    plan = made(AUTUMN, date(2026, 8, 20))
    days = timedelta(days=7 if work == "burn" else -7)
    jobs = tuple(
        replace(
            job, first=job.first + days, last=job.last + days,
            day_hours=tuple((day + days, hours) for day, hours in job.day_hours),
        )
        if job.what.startswith(work) and job.way and "burn-bark" in job.way else job
        for job in plan.schedule.jobs
    )  # fmt: skip
    broken = verify(replace(plan.schedule, jobs=jobs), plan.work)
    assert any("too long" in text for text in broken)


def test_the_last_day_for_bark_by_hand() -> None:
    """Days 0 to 9, warm from day 6; work on days 0, 3, 5 and 8."""
    warm = [False] * 6 + [True] * 4
    working = [day in (0, 3, 5, 8) for day in range(10)]
    assert destroyed_by(warm, working, 0) == 5
    assert destroyed_by(warm, working, 5) == 8
    assert destroyed_by([True] * 10, working, 0) == 3
    assert destroyed_by([True] * 10, working, 8) == 9
