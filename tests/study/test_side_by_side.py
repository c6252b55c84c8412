"""The courses side by side: complete, agreeing with the plan, and reckoned as a hand would reckon them."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import pytest
from sites import ON, example, one_tree

from barkwright.plan import Plan, plan_sides
from barkwright.schedule.model import site_model
from barkwright.schedule.paying import to_pay
from barkwright.spread import Spread
from barkwright.study.courses import LEAVE, course_of, courses
from barkwright.study.readings import readings
from barkwright.study.reckoning import Due, start_by
from barkwright.study.sides import Side, Sides
from barkwright.treatment.local import rule_book
from barkwright.treatment.rulebook import templates

CHIPPER = ", {kind: chipper, capacity: 16 in, working_capacity: 14 in, rent_per_day: 300, delivery: 50, feed: winch}"
LARGE = CHIPPER.replace("16 in", "24 in").replace("14 in", "20 in")  # takes the butt log too
SPUD = ", {kind: bark-spud, owned: true}"
FEW = ("yard-tree.yaml", "lake-lot-weather.yaml")
EVERY = (*FEW, pytest.param("removal-24.yaml", marks=pytest.mark.slow))


def all_sides(plan: Plan) -> Sides:
    return plan_sides(plan, [tree.id for tree in plan.inventory.trees])


def course(sides: Sides, name: str) -> Side:
    return next(one for one in sides.sides if one.course.id == name)


def test_every_way_belongs_to_exactly_one_course() -> None:
    from fnmatch import fnmatchcase

    for way in templates():
        owners = [one.id for one in courses() if any(fnmatchcase(way, pattern) for pattern in one.ways)]
        assert owners == [course_of()[way].id], way


def test_every_rule_that_rules_out_says_what_would_rule_in() -> None:
    for rule in rule_book(()).rules:
        assert (rule.opens is not None) == (rule.verdict == "ruled out"), rule.id


@pytest.mark.parametrize("name", EVERY)
def test_the_plan_is_one_of_them_with_the_orders_own_hours_money_and_days(name: str) -> None:
    plan = example(name)
    (mine,) = [one for one in all_sides(plan).sides if one.planned and one.course.id != LEAVE]
    jobs = plan.schedule.jobs
    assert mine.hours.low == pytest.approx(sum(job.hours_low for job in jobs))
    assert mine.hours.mean == pytest.approx(sum(job.hours for job in jobs))
    assert mine.hours.high == pytest.approx(sum(job.hours_high for job in jobs))
    assert mine.bill is not None
    assert mine.bill.paid.likely == to_pay(plan.schedule.costs)
    crews = {crew.name for crew in plan.inventory.crew}
    worked = [job for job in jobs if job.crew in crews and job.work not in ("call", "inspect", "look again")]
    assert mine.days == (len({day for job in worked for day, _ in job.day_hours}),) * 2


@pytest.mark.parametrize("name", FEW)
def test_each_tree_by_itself_has_the_hours_of_its_jobs(name: str) -> None:
    """Crew hours alone: what a professional works is his price, not the crew's hours."""
    plan = example(name)
    crews = {crew.name for crew in plan.inventory.crew}
    for tree in plan.inventory.trees:
        sides = plan_sides(plan, [tree.id])
        mine = [one for one in sides.sides if one.planned and one.course.id != LEAVE]
        jobs = [job for job in plan.schedule.jobs if job.tree == tree.id and job.crew in crews and job.work != "call"]
        site = [job for job in plan.schedule.jobs if job.tree == "site"] if len(plan.inventory.trees) == 1 else []
        if mine and sides.woods:
            stake = {wood.piece.id for wood in sides.woods}
            ours = [job for job in (*jobs, *site) if job.way is None or stake.issuperset(job.pieces)]
            calls = [job for job in plan.schedule.jobs if job.tree == tree.id and job.work == "call"]
            hours = sum(job.hours for job in (*ours, *(job for job in calls if job.crew in crews)))
            assert mine[0].hours.mean == pytest.approx(hours, abs=1e-6), tree.id


@pytest.mark.parametrize("name", EVERY)
def test_every_piece_at_stake_is_in_each_course_once(name: str) -> None:
    sides = all_sides(example(name))
    at_stake = sorted(wood.piece.id for wood in sides.woods)
    for side in sides.sides:
        if side.fit != "ruled out":
            held = [one.wood.piece.id for one in (*side.taken, *side.beside)]
            assert sorted(held + [wood.piece.id for wood in side.left]) == at_stake, side.course.id


def test_money_by_hand() -> None:
    """Hours at 40 an hour, and a chipper for one day at 300 with 50 for delivery."""
    sides = all_sides(one_tree(tools=CHIPPER))
    chip = course(sides, "chip")
    assert chip.bill is not None
    running = sum(step.machine_hours.high for one in chip.taken for step in one.steps if "chipper" in step.equipment)
    assert running < 8  # else the hire would not be one day
    for part in ("low", "likely", "high"):
        hours = chip.hours.mean if part == "likely" else getattr(chip.hours, part)
        expected = Decimal(str(round(40 * hours, 2))) + 350
        assert abs(getattr(chip.bill.paid, part) - expected) <= Decimal("0.01")


def test_a_missing_tool_is_named_and_its_course_still_reckoned() -> None:
    sides = all_sides(one_tree(tools=SPUD, stage="larvae"))
    chip = course(sides, "chip")
    assert chip.fit == "with means"
    assert any("chipper" in tool for tool in chip.missing)
    assert chip.bill is not None
    assert chip.bill.unpriced == chip.missing  # what it costs has to be asked
    assert course(sides, "strip-spud").fit != "with means"


def test_a_course_that_does_not_fit_says_why_and_what_would_open_it() -> None:
    refused = one_tree(tools=SPUD, site="machine_access: true, burning: {permit: refused}")
    burn = course(all_sides(refused), "burn")
    assert burn.fit == "ruled out"
    assert "burn-refused" in [one.reason.rule for one in burn.barred]
    assert all(one.opens for one in burn.barred)


def test_leaving_takes_nothing_and_stops_nothing() -> None:
    leave = course(all_sides(one_tree(tools=SPUD)), LEAVE)
    assert leave.stops == "none"
    assert leave.hours == Spread(0.0, 0.0, 0.0)
    assert leave.bill is not None
    assert leave.bill.paid.high == 0


def test_a_piece_by_itself_is_not_felled_first() -> None:
    plan = one_tree(tools=SPUD)
    alone = course(plan_sides(plan, ["T1"], "T1/1"), "strip-spud")
    (taken,) = alone.taken
    assert alone.hours.mean == pytest.approx(sum(step.person_hours.mean for step in taken.steps))


def test_the_last_safe_start_is_counted_back_over_working_days() -> None:
    """Two people of 8 h on weekdays: 40 person-hours due on a Friday take Wednesday, Thursday and Friday."""
    model = site_model(one_tree().work)
    friday = ON + timedelta(days=(4 - ON.weekday()) % 7 + 7)
    day = [crew.hours[model.days.index(friday)] * crew.people for crew in model.days.crews]
    due = Due(friday, Spread.exactly(2.5 * sum(day)), Spread(0, 0, 0))
    start, days = start_by(model, [due], "mean")
    assert (friday - start).days == 2 if start else False
    assert days == 3
    over_weekend = Due(friday, Spread.exactly(5.5 * sum(day)), Spread(0, 0, 0))
    start, days = start_by(model, [over_weekend], "mean")
    assert (friday - start).days == 7 if start else False
    assert days == 6
    never = Due(friday, Spread.exactly(1000 * sum(day)), Spread(0, 0, 0))
    assert start_by(model, [never], "mean")[0] is None


def test_work_due_sooner_comes_out_of_the_same_days() -> None:
    """Both dues together may need an earlier start than either alone."""
    model = site_model(one_tree().work)
    friday = ON + timedelta(days=(4 - ON.weekday()) % 7 + 7)
    day = sum(crew.hours[model.days.index(friday)] * crew.people for crew in model.days.crews)
    due = [Due(friday - timedelta(days=1), Spread.exactly(2 * day), Spread(0, 0, 0))]
    both = [*due, Due(friday, Spread.exactly(2 * day), Spread(0, 0, 0))]
    assert start_by(model, due, "mean")[0] == friday - timedelta(days=2)
    assert start_by(model, both, "mean")[0] == friday - timedelta(days=3)


def test_work_that_opens_late_is_not_begun_before_it() -> None:
    """Half a day that opens on the Friday itself fits; two days of it do not, whatever days lie before."""
    model = site_model(one_tree().work)
    friday = ON + timedelta(days=(4 - ON.weekday()) % 7 + 7)
    day = sum(crew.hours[model.days.index(friday)] * crew.people for crew in model.days.crews)
    late = Due(friday, Spread.exactly(0.5 * day), Spread(0, 0, 0), opens=friday)
    early = Due(friday, Spread.exactly(0.75 * day), Spread(0, 0, 0))
    assert start_by(model, [late], "mean") == (friday, 1)
    assert start_by(model, [late, early], "mean") == (friday - timedelta(days=1), 2)
    assert start_by(model, [Due(friday, Spread.exactly(2 * day), Spread(0, 0, 0), opens=friday)], "mean") == (None, 0)


def test_a_hired_machine_is_there_on_its_days_alone() -> None:
    """A chipper that leaves on 4 December takes chipping with it: it begins no later than that day."""
    gone = LARGE.replace("feed: winch}", "feed: winch, to: 2026-12-04}")
    chip, free = (course(all_sides(one_tree(tools=SPUD + tools)), "chip") for tools in (gone, LARGE))
    assert chip.start_slow is not None
    assert free.start_slow is not None
    assert chip.start_slow <= date(2026, 12, 4) < free.start_slow


def test_a_machine_runs_no_longer_than_its_crew_works() -> None:
    model = site_model(one_tree().work)
    friday = ON + timedelta(days=(4 - ON.weekday()) % 7 + 7)
    longest = max(crew.hours[model.days.index(friday)] for crew in model.days.crews)
    due = Due(friday, Spread.exactly(1.0), Spread.exactly(1.5 * longest))
    assert start_by(model, [due], "mean")[0] == friday - timedelta(days=1)


def test_plain_readings_name_what_answers_them() -> None:
    sides = all_sides(one_tree(tools=SPUD + ", {kind: maul, owned: true}" + LARGE))
    answered = {one.wish: one.side for one in readings(sides, ON)}
    assert answered["fuel"] is not None
    assert "fuel" in answered["fuel"].course.wants
    assert answered["gone"] is not None
    wood = [one for one in answered["gone"].taken if one.wood.piece.kind != "stump"]
    assert max(one.window.first for one in wood) <= ON + timedelta(days=30)
    cheapest = answered["money"]
    assert cheapest is not None
    open_ones = [one for one in sides.sides if one.fit in ("fits", "fits with care") and one.course.id != LEAVE]
    alike = [one for one in open_ones if one.stops == cheapest.stops and one.bill and cheapest.bill]
    assert cheapest.bill is not None
    assert cheapest.bill.paid.likely == min(one.bill.paid.likely for one in alike if one.bill)


def test_dug_soil_swells() -> None:
    """Loose volume is bank volume and its swell [work.md: bank and loose measure]."""
    plan = one_tree(tools=", {kind: excavator, with_operator: true, cost_per_hour: 90}",
                    site="machine_access: true, ground: {diggable: true, services_located: true}")  # fmt: skip
    bury = course(all_sides(plan), "bury")
    from barkwright.treatment.shop import shop_of

    swell = shop_of(plan.inventory).size["soil-swell"]
    assert bury.yields.trench_yd3 > 0
    assert bury.spoil_yd3 == pytest.approx(bury.yields.trench_yd3 * (1 + swell))


def test_a_machine_that_is_listed_without_a_price_may_be_used_at_the_published_rate() -> None:
    """Asking what a rented machine would buy is no use if nobody may use it before its rent is known."""
    plan = one_tree(tools=", {kind: chipper, capacity: 16 in, working_capacity: 14 in, feed: winch}")
    chip = course(all_sides(plan), "chip")
    assert chip.fit in ("fits", "fits with care")
    assert chip.bill is not None
    assert chip.bill.proxies == ("chipper, 16 in",)


def test_a_way_against_a_wish_is_set_beside_the_others_and_says_which_wish() -> None:
    plan = one_tree(tools=SPUD, site="machine_access: true, burning: {permit: held}")
    free = course(all_sides(plan), "burn")
    from sites import ONE, planned

    text = ONE.format(dbh=12, stage="adults", rate=40, tools=SPUD, site="burning: {permit: held}, machine_access: true")
    bound = course(all_sides(planned(text + "wishes: {avoid: [burn]}\n")), "burn")
    assert free.fit in ("fits", "fits with care")
    assert bound.fit == "against a wish"
    assert bound.barred[0].reason.rule == "wish-avoid"
    assert bound.hours.mean == pytest.approx(free.hours.mean)


def test_with_a_drawknife_alone_no_machine_is_taken() -> None:
    """Grown beetles in the bark: stripping it takes a fire, a hole or a chipper besides."""
    for stage in ("larvae", "adults"):
        sides = all_sides(one_tree(tools=", {kind: drawknife, owned: true}" + CHIPPER, stage=stage))
        answer = next(one.side for one in readings(sides, ON) if one.wish == "drawknife")
        if answer is not None:
            kinds = {kind for one in (*answer.taken, *answer.beside) for step in one.steps for kind in step.equipment}
            assert kinds <= {"drawknife", "chain-saw"}


def test_gone_this_month_means_all_of_it_and_felled_by_then() -> None:
    sides = all_sides(example("yard-tree.yaml"))  # a tree service is still to be asked
    assert next(one.side for one in readings(sides, ON) if one.wish == "gone") is None


def test_without_a_hired_machine_where_that_costs_less() -> None:
    """Bark may be burned by hand at no cost, or put through a chipper hired for a day: the course takes the fire."""
    tools = ", {kind: drawknife, owned: true}" + CHIPPER
    strip = course(
        all_sides(one_tree(tools=tools, site="machine_access: true, burning: {permit: held}")), "strip-drawknife"
    )
    assert not any("chipper" in step.equipment for one in strip.taken for step in one.steps)
