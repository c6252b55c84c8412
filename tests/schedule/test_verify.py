"""The checker refuses plans that were tampered with, each mutation for its own reason."""

import random
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from functools import cache

import pytest
from made_sites import planned, site_text

from barkwright.plan import Plan
from barkwright.schedule.jobs import Job, Schedule
from barkwright.schedule.verify import verify

Mutation = Callable[[Schedule, random.Random], Schedule]


@cache
def made() -> Plan:
    two = "  - {kind: winch, owned: true, capacity: 3000}\n"
    return planned(site_text(11, 7, people=3).replace("calendar:", two + "calendar:"))


def test_the_plan_itself_holds() -> None:
    plan = made()
    assert verify(plan.schedule, plan.work) == ()
    assert {job.work for job in plan.schedule.jobs} >= {"fell", "limb and buck", "process", "look again"}
    assert plan.schedule.rentals


def _with(schedule: Schedule, old: Job, **changes: object) -> Schedule:
    new = replace(old, **changes)  # type: ignore[arg-type]
    return replace(schedule, jobs=tuple(new if job is old else job for job in schedule.jobs))


def _pick(schedule: Schedule, dice: random.Random, test: Callable[[Job], bool] = lambda job: True) -> Job:
    return dice.choice([job for job in schedule.jobs if job.work != "look again" and test(job)])


def _moved(job: Job, days: int) -> dict[str, object]:
    by = timedelta(days=days)
    return {
        "first": job.first + by, "last": job.last + by,
        "day_hours": tuple((day + by, hours) for day, hours in job.day_hours),
        "machine_hours": tuple((day + by, hours) for day, hours in job.machine_hours),
    }  # fmt: skip


def to_a_sunday(schedule: Schedule, dice: random.Random) -> Schedule:
    job = _pick(schedule, dice)
    return _with(schedule, job, **_moved(job, 6 - job.first.weekday()))


def before_the_start(schedule: Schedule, dice: random.Random) -> Schedule:
    job = _pick(schedule, dice)
    return _with(schedule, job, **_moved(job, -280))


def after_the_flight(schedule: Schedule, dice: random.Random) -> Schedule:
    job = _pick(schedule, dice, lambda one: one.finish_by is not None)
    return _with(schedule, job, **_moved(job, 364))


def felled_last(schedule: Schedule, dice: random.Random) -> Schedule:
    job = _pick(schedule, dice, lambda one: one.work == "fell")
    return _with(schedule, job, **_moved(job, 154))


def another_crew(schedule: Schedule, dice: random.Random) -> Schedule:
    return _with(schedule, _pick(schedule, dice), crew="somebody")


def by_a_professional(schedule: Schedule, dice: random.Random) -> Schedule:
    return _with(schedule, _pick(schedule, dice, lambda one: one.work == "fell"), crew="tree service")


def dropped(schedule: Schedule, dice: random.Random) -> Schedule:
    job = _pick(schedule, dice)
    rest = tuple(
        replace(one, after=tuple(name for name in one.after if name != job.id))
        for one in schedule.jobs
        if one is not job
    )
    return replace(schedule, jobs=rest)


def doubled_hours(schedule: Schedule, dice: random.Random) -> Schedule:
    job = _pick(schedule, dice, lambda one: one.hours > 0.05)
    return _with(
        schedule, job, hours=job.hours * 2, hours_high=job.hours_high * 2,
        day_hours=tuple((day, hours * 2) for day, hours in job.day_hours),
    )  # fmt: skip


def hours_that_do_not_add_up(schedule: Schedule, dice: random.Random) -> Schedule:
    job = _pick(schedule, dice, lambda one: one.hours > 0.05)
    return _with(schedule, job, day_hours=tuple((day, hours * 0.5) for day, hours in job.day_hours))


def sawing_alone(schedule: Schedule, dice: random.Random) -> Schedule:
    return _with(schedule, _pick(schedule, dice, lambda one: "chain-saw" in one.equipment), people=1)


def too_many_people(schedule: Schedule, dice: random.Random) -> Schedule:
    return _with(schedule, _pick(schedule, dice), people=9)


def without_machine(schedule: Schedule, dice: random.Random) -> Schedule:
    return _with(schedule, _pick(schedule, dice, lambda one: bool(one.equipment)), equipment=())


def without_waiting(schedule: Schedule, dice: random.Random) -> Schedule:
    return _with(
        schedule, _pick(schedule, dice, lambda one: any(_same_way(schedule, one, name) for name in one.after)), after=()
    )


def _same_way(schedule: Schedule, job: Job, name: str) -> bool:
    return job.way is not None and any(one.id == name and one.way == job.way for one in schedule.jobs)


def waiting_for_nothing(schedule: Schedule, dice: random.Random) -> Schedule:
    return _with(schedule, _pick(schedule, dice), after=("J9999",))


def another_window(schedule: Schedule, dice: random.Random) -> Schedule:
    place = dice.choice([place for place, one in enumerate(schedule.choices) if one.done_on is not None])
    choice = replace(schedule.choices[place], window=99)
    return replace(schedule, choices=(*schedule.choices[:place], choice, *schedule.choices[place + 1 :]))


def another_way(schedule: Schedule, dice: random.Random) -> Schedule:
    place = dice.choice([place for place, one in enumerate(schedule.choices) if one.done_on is not None])
    choice = replace(schedule.choices[place], way="leave", window=0)
    return replace(schedule, choices=(*schedule.choices[:place], choice, *schedule.choices[place + 1 :]))


def done_sooner_than_it_is(schedule: Schedule, dice: random.Random) -> Schedule:
    place = dice.choice([place for place, one in enumerate(schedule.choices) if one.done_on is not None])
    choice = schedule.choices[place]
    assert choice.done_on is not None
    choice = replace(choice, done_on=choice.done_on - timedelta(days=1))
    return replace(schedule, choices=(*schedule.choices[:place], choice, *schedule.choices[place + 1 :]))


def a_later_date(schedule: Schedule, dice: random.Random) -> Schedule:
    place = dice.choice([place for place, one in enumerate(schedule.choices) if one.latest is not None])
    choice = schedule.choices[place]
    assert choice.latest is not None
    choice = replace(choice, latest=choice.latest + timedelta(days=72))
    return replace(schedule, choices=(*schedule.choices[:place], choice, *schedule.choices[place + 1 :]))


def a_choice_lost(schedule: Schedule, dice: random.Random) -> Schedule:
    place = dice.randrange(len(schedule.choices))
    return replace(schedule, choices=(*schedule.choices[:place], *schedule.choices[place + 1 :]))


def no_hire(schedule: Schedule, dice: random.Random) -> Schedule:
    return replace(schedule, rentals=())


def a_cheap_hire(schedule: Schedule, dice: random.Random) -> Schedule:
    run = schedule.rentals[0]
    return replace(schedule, rentals=(replace(run, cost=run.cost / 2), *schedule.rentals[1:]))


def bark_left_out(schedule: Schedule, dice: random.Random) -> Schedule:
    return replace(schedule, infested_before_ft2=schedule.infested_before_ft2 - 5)


def bark_invented(schedule: Schedule, dice: random.Random) -> Schedule:
    return replace(schedule, infested_left_ft2=schedule.infested_left_ft2 + 5)


def labour_forgotten(schedule: Schedule, dice: random.Random) -> Schedule:
    return replace(schedule, costs=tuple(line for line in schedule.costs if line.kind != "labour"))


def an_id_twice(schedule: Schedule, dice: random.Random) -> Schedule:
    job = _pick(schedule, dice)
    return replace(schedule, jobs=(*schedule.jobs, job))


MUTATIONS: tuple[Mutation, ...] = (
    to_a_sunday,
    before_the_start,
    after_the_flight,
    felled_last,
    another_crew,
    by_a_professional,
    dropped,
    doubled_hours,
    hours_that_do_not_add_up,
    sawing_alone,
    too_many_people,
    without_machine,
    without_waiting,
    waiting_for_nothing,
    another_window,
    another_way,
    done_sooner_than_it_is,
    a_later_date,
    a_choice_lost,
    no_hire,
    a_cheap_hire,
    bark_left_out,
    bark_invented,
    labour_forgotten,
    an_id_twice,
)


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("mutation", MUTATIONS, ids=lambda one: one.__name__)
def test_a_tampered_plan_is_refused(mutation: Mutation, seed: int) -> None:
    plan = made()
    tampered = mutation(plan.schedule, random.Random(seed))
    broken = verify(tampered, plan.work)
    assert broken
    assert all(sentence.endswith(".") for sentence in broken)
