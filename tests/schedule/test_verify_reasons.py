"""What the checker says of a plan with one thing wrong in it: its own sentence, on both sides of each limit."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest
from made_sites import planned, site_text
from test_bark import AUTUMN
from test_bark import made as stripped
from test_verify import made

from barkwright.plan import Plan
from barkwright.schedule.jobs import Job, Schedule
from barkwright.schedule.verify import verify

FELL = "J1"  # by two of three people, on the first day


def said(plan: Plan, change: Callable[[Job], Job]) -> tuple[str, ...]:
    jobs = tuple(change(job) for job in plan.schedule.jobs)
    return verify(replace(plan.schedule, jobs=jobs), plan.work)


def changed(name: str, **values: object) -> Callable[[Job], Job]:
    return lambda job: replace(job, **values) if name in (job.id, job.work) else job  # type: ignore[arg-type]


def on_day(job: Job, day: date) -> Job:
    return replace(
        job, first=day, last=day, day_hours=((day, job.hours),),
        machine_hours=tuple((day, hours) for _, hours in job.machine_hours[:1]),
    )  # fmt: skip


def test_no_more_people_than_the_crew_has() -> None:
    assert "J1 takes 4 people, and ridge crew are 3." in said(made(), changed(FELL, people=4))
    assert not any("and ridge crew are" in text for text in said(made(), changed(FELL, people=3)))


def test_saw_work_takes_the_people_that_it_needs() -> None:
    assert "J1 takes 2 people at once, and has 1." in said(made(), changed(FELL, people=1))


@pytest.mark.parametrize(("day", "soon"), [(date(2027, 7, 9), True), (date(2027, 7, 12), False)])
def test_the_look_again_waits_for_the_end_of_the_flight(day: date, soon: bool) -> None:
    # On the Interior Plateau beetles fly until 10 July (bc-guide).
    found = said(made(), lambda job: on_day(job, day) if job.work == "look again" else job)
    assert any("looks again before the flight is over on 2027-07-10" in text for text in found) is soon


@pytest.mark.parametrize(("day", "working"), [(date(2026, 10, 23), False), (date(2026, 10, 27), True)])
def test_nobody_works_before_the_start_of_the_calendar(day: date, working: bool) -> None:
    found = said(made(), lambda job: on_day(job, day) if job.id == "J10" else job)
    assert (f"ridge crew work on {day}, which is no working day of theirs." in found) is not working


@pytest.mark.parametrize(("hours", "fits"), [(13.0, True), (16.0, False)])
def test_three_people_do_work_for_two_only_once_at_a_time(hours: float, fits: bool) -> None:
    day = date(2027, 5, 18)  # no other work; seven hours for each of three
    found = said(made(), lambda job: on_day(replace(job, hours=hours), day) if job.id == "J10" else job)
    assert any("needs 2 or more of ridge crew at once does not fit" in text for text in found) is not fits


def _paid(schedule: Schedule) -> Decimal:
    return sum((line.amount for line in schedule.costs if line.paid), Decimal(0))


@pytest.mark.parametrize(("less", "dear"), [("0.00", False), ("0.05", False), ("0.06", True), ("100", True)])
def test_a_budget_holds_but_for_the_rounding_of_five_lines(less: str, dear: bool) -> None:
    plan = made()
    limits = plan.work.inventory.limits.model_copy(update={"budget": _paid(plan.schedule) - Decimal(less)})
    inventory = plan.work.inventory.model_copy(update={"limits": limits})
    found = verify(plan.schedule, replace(plan.work, inventory=inventory))
    assert any("and the budget is" in text for text in found) is dear


def _days_of_work(after: date) -> Iterator[date]:
    return (day for day in (after + timedelta(days=one) for one in range(1, 30)) if day.weekday() in (2, 4, 5))


@pytest.mark.parametrize(("days", "late"), [(1, False), (2, True)])
def test_bark_with_grown_beetles_may_lie_until_the_next_day_of_work_and_no_longer(days: int, late: bool) -> None:
    plan = stripped(AUTUMN, date(2026, 8, 20))
    strip = next(job for job in plan.schedule.jobs if job.what.startswith("strip") and "burn-bark" in str(job.way))
    coming = _days_of_work(strip.last)
    day = [next(coming) for _ in range(days)][-1]

    def later(job: Job) -> Job:
        mine = set(job.pieces) & set(strip.pieces) and job.what.startswith("burn")
        return on_day(job, day) if mine else job

    assert any("too long" in text and strip.id in text for text in said(plan, later)) is late


@pytest.mark.parametrize("left_out", ["provisional", "question"])
def test_no_tree_is_cut_up_as_if_settled_while_nobody_knows_whether_it_may_burn(left_out: str) -> None:
    text = site_text(11, 2, people=3, hired=False).replace("permit: held", "permit: unknown")
    text = "\n".join(line for line in text.split("\n") if "drawknife" not in line and "maul" not in line)
    plan = planned(text.replace("diggable: true, services_located: true", "diggable: false"))
    assert plan.broken == ()
    value = False if left_out == "provisional" else None
    found = said(plan, changed("limb and buck", **{left_out: value}))
    assert "J1 cuts wood whose treatment rests on an open question, and is not provisional." in found
