"""Planning again: what stands on the order that was given out is kept where it can be, and nothing lies in the past."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from lost_weeks import again, inventory_of
from made_sites import ON, planned, site_text

from barkwright.plan import Plan, plan_order
from barkwright.schedule.earlier import Earlier, earlier_of
from barkwright.schedule.jobs import Job
from barkwright.schedule.levels import CHANGES, MONEY, NAMES
from barkwright.schedule.model import site_model
from barkwright.schedule.optimum.again import again as written_again
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.verify import verify

WEEK = timedelta(days=7)


def dates(plan: Plan) -> dict[tuple[object, ...], tuple[object, ...]]:
    """Every job by what it is, with its days and crew."""
    return {
        (job.tree, job.pieces, job.work, job.way, job.what): (job.first, job.last, job.crew)
        for job in plan.schedule.jobs
    }


def ways(plan: Plan) -> dict[str, str | None]:
    return {choice.piece: choice.way for choice in plan.schedule.choices}


def value(plan: Plan, level: int) -> float | None:
    return next((one.value for one in plan.schedule.optimum.levels if one.name == NAMES[level]), None)


@pytest.mark.parametrize("trees", [1, 3, 6])
def test_the_same_day_again_changes_nothing(trees: int) -> None:
    first, second = again(site_text(trees, trees), ON, 0)
    assert dates(first) == dates(second)
    assert ways(first) == ways(second)
    assert value(second, CHANGES) == 0.0
    assert second.changed == ()


@pytest.mark.parametrize("trees", [3, 6, 9])
def test_after_a_lost_week_only_what_was_lost_moves(trees: int) -> None:
    first, second = again(site_text(trees, trees), ON + WEEK, 7)
    kept, now = dates(first), dates(second)
    assert any(job.first < second.on for job in first.schedule.jobs)
    to_come = [key for key, (began, *_) in kept.items() if began >= second.on]
    moved = [key for key in to_come if now.get(key) != kept[key]]
    assert len(moved) <= 0.1 * len(to_come), moved
    assert ways(first) == ways(second)


def test_it_costs_no_more_than_the_tolerance_to_hold_on_to_an_order() -> None:
    text, later = site_text(6, 6), ON + 2 * WEEK
    _, second = again(text, ON + WEEK, 7)
    anew = planned(text, later)
    assert value(anew, CHANGES) is None, "without an earlier order there is no such level"
    level = next(one for one in anew.schedule.optimum.levels if one.name == NAMES[MONEY])
    assert (value(second, MONEY) or 0.0) <= level.value + level.tolerance + 0.01


def test_nothing_is_planned_into_the_past() -> None:
    _, second = again(site_text(4, 4), ON, 21)
    assert second.schedule.jobs
    assert min(job.first for job in second.schedule.jobs) >= second.on
    assert verify(second.schedule, second.work) == ()


def _earlier_by(job: Job, days: int) -> Job:
    by = timedelta(days=days)
    spent = tuple((day - by, hours) for day, hours in job.day_hours)
    return replace(job, first=job.first - by, last=job.last - by, day_hours=spent, machine_hours=())


def test_the_checker_refuses_what_somebody_from_outside_is_to_do_in_the_past() -> None:
    near = "line: 20 ft, line_kind: service-drop"
    plan = planned(site_text(6, 2).replace("line: out-of-reach", near))
    call = next(job for job in plan.schedule.jobs if job.crew != "ridge crew")
    past = _earlier_by(call, (call.first - plan.on).days + 1)
    jobs = tuple(past if job is call else job for job in plan.schedule.jobs)
    broken = verify(replace(plan.schedule, jobs=jobs), plan.work)
    assert any("has passed" in text for text in broken), broken
    done = replace(past, status="done")
    broken = verify(
        replace(plan.schedule, jobs=tuple(done if job is call else job for job in plan.schedule.jobs)), plan.work
    )
    assert not any("has passed" in text for text in broken)


def test_an_order_of_another_site_does_no_harm() -> None:
    other = planned(site_text(5, 5))
    stranger = earlier_of(other.schedule, other.on)
    plan = plan_order(inventory_of(site_text(3, 3), ON), ON, earlier=stranger)
    empty = plan_order(inventory_of(site_text(3, 3), ON), ON, earlier=Earlier(ON, (), {}))
    assert not plan.broken
    assert value(plan, MONEY) == value(empty, MONEY) == value(planned(site_text(3, 3)), MONEY)


def test_a_site_of_too_many_trees_is_not_written_in_again() -> None:
    plan = planned(site_text(2, 2))
    model = site_model(replace(plan.work, earlier=earlier_of(plan.schedule, plan.on)))
    model.trees = model.trees * int(SETTINGS["again_trees"])
    assert written_again(model, None, None) == []  # type: ignore[arg-type]


def test_a_record_holds_the_order_as_it_is() -> None:
    plan = planned(site_text(3, 3))
    record = earlier_of(plan.schedule, date(2026, 10, 20))
    assert [(one.tree, one.pieces, one.work, one.first, one.last) for one in record.jobs] == [
        (job.tree, job.pieces, job.work, job.first, job.last) for job in plan.schedule.jobs
    ]
    assert record.ways == {piece: way for piece, way in ways(plan).items() if way is not None}
