"""The list of jobs can be worked off from top to bottom, and the look after the flight comes on a working day."""

from dataclasses import replace
from datetime import date
from functools import cache

import pytest
from made_sites import planned, site_text

from barkwright.plan import Plan
from barkwright.schedule.jobs import Schedule
from barkwright.schedule.verify import verify


@cache
def plan_of(seed: int, days: str) -> Plan:
    return planned(site_text(seed, 8, people=3, days=days))


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("days", ["[mon, tue, wed, thu, fri]", "[sat]"])
def test_no_job_stands_before_what_it_waits_for(seed: int, days: str) -> None:
    jobs = plan_of(seed, days).schedule.jobs
    assert [job.id for job in jobs] == [f"J{number}" for number in range(1, len(jobs) + 1)]
    place = {job.id: number for number, job in enumerate(jobs)}
    assert all(place[name] < place[job.id] for job in jobs for name in job.after)
    dates = [job.first for job in jobs]
    assert dates == sorted(dates)


def test_trees_come_down_before_wood_is_worked_on_the_same_day() -> None:
    jobs = plan_of(1, "[sat]").schedule.jobs
    for day in {job.first for job in jobs}:
        works = [job.work for job in jobs if job.first == day]
        if "fell" in works and "process" in works:
            last_fell = max(place for place, work in enumerate(works) if work == "fell")
            assert last_fell < works.index("process")


def _swapped(schedule: Schedule, one: int, other: int) -> Schedule:
    """Two jobs change places and numbers."""
    jobs = list(schedule.jobs)
    names = {jobs[one].id: jobs[other].id, jobs[other].id: jobs[one].id}
    jobs[one], jobs[other] = jobs[other], jobs[one]
    renamed = [
        replace(job, id=names.get(job.id, job.id), after=tuple(names.get(name, name) for name in job.after))
        for job in jobs
    ]
    return replace(schedule, jobs=tuple(renamed))


def test_the_checker_refuses_a_list_that_cannot_be_worked_off() -> None:
    plan = plan_of(1, "[sat]")
    jobs = plan.schedule.jobs
    place = {job.id: number for number, job in enumerate(jobs)}
    pairs = [
        (place[name], number)
        for number, job in enumerate(jobs)
        for name in job.after
        if jobs[place[name]].last == job.first and job.way is not None
    ]
    assert pairs
    broken = verify(_swapped(plan.schedule, *pairs[0]), plan.work)
    assert any("in the list" in sentence for sentence in broken)


@pytest.mark.parametrize(("days", "weekday"), [("[sat]", {5}), ("[mon, tue, wed, thu, fri]", {0, 1, 2, 3, 4})])
def test_one_look_after_the_flight_on_a_working_day(days: str, weekday: set[int]) -> None:
    plan = plan_of(2, days)
    (look,) = [job for job in plan.schedule.jobs if job.work == "look again"]
    assert look.tree == "site"
    assert {day.weekday() for day, _ in look.day_hours} <= weekday
    assert look.first > plan.flights[0].end
    assert (look.first - plan.flights[0].end).days <= 7


def test_the_look_after_the_flight_keeps_days_off() -> None:
    text = site_text(2, 4).replace("to: 2027-01-02}", "to: 2027-01-02}, {from: 2027-07-01, to: 2027-09-05}")
    plan = planned(text)
    (look,) = [job for job in plan.schedule.jobs if job.work == "look again"]
    assert look.first == date(2027, 9, 6)
    assert plan.broken == ()
