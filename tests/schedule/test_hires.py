"""Hires of any shape: the cheapest cover of any days of use, against two other ways of finding it, and in plans."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from functools import cache
from itertools import pairwise
from random import Random

import pytest
from made_sites import planned, site_text

from barkwright.costs.tariff import cover
from barkwright.inventory.model import Equipment
from barkwright.inventory.reading import read_inventory
from barkwright.plan import plan_order
from barkwright.schedule.hires import cheapest_blocks, hire_price, hired_spans
from barkwright.schedule.model import SiteModel, site_model
from barkwright.schedule.verify import verify

RENTS = "rent_per_day: 300, rent_per_week: 900, rent_per_month: 2700, delivery: 150"


@cache
def hired(rents: str) -> SiteModel:
    """A site with one hired chipper and a season of more than 200 days."""
    text = site_text(1, 1, hired=False).replace("calendar:", f"  - {{kind: chipper, capacity: 15, {rents}}}\ncalendar:")
    model = site_model(planned(text).work)
    assert model.days.length > 200
    return model


def place_of(model: SiteModel) -> int:
    return next(machine.place for machine in model.machines if machine.kind == "chipper")


def tariff(day: int, week: int, month: int, delivery: int, longest: int) -> list[int]:
    """Rent of so many days in a row with delivery, by trying every number of months and weeks; 0 days cost nothing."""
    found = [0]
    for length in range(1, longest + 1):
        mixes = (
            months * month + weeks * week + max(0, length - 28 * months - 7 * weeks) * day
            for months in range(longest // 28 + 2)
            for weeks in range(longest // 7 + 2)
        )
        found.append(min(mixes) + delivery)
    return found


def by_table(used: set[int], costs: list[int], last: int) -> int:
    """The least cost by a table over days: a day is left out if it is not used, or ends a block of some length."""
    least = [0]
    for day in range(1, last + 1):
        choices = [least[day - length] + costs[length] for length in range(1, day + 1)]
        least.append(min([*choices, *([] if day in used else [least[day - 1]])]))
    return least[last]


def by_linear_programme(used: set[int], costs: list[int], last: int) -> tuple[float, bool]:
    """The least cost of blocks that cover every day of use, blocks in any share; and whether all shares are whole."""
    import highspy
    import numpy as np

    blocks = [(first, length) for first in range(1, last + 1) for length in range(1, last - first + 2)]
    rows = {day: row for row, day in enumerate(sorted(used))}
    starts, index = [], []
    for first, length in blocks:
        starts.append(len(index))
        index += [rows[day] for day in range(first, first + length) if day in rows]
    solver = highspy.Highs()
    solver.setOptionValue("output_flag", False)
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("presolve", "off")  # ten times as fast here
    model = highspy.HighsLp()
    model.num_col_, model.num_row_ = len(blocks), len(rows)
    model.col_cost_ = np.array([float(costs[length]) for _, length in blocks])
    model.col_lower_, model.col_upper_ = np.zeros(len(blocks)), np.full(len(blocks), highspy.kHighsInf)
    model.row_lower_, model.row_upper_ = np.ones(len(rows)), np.full(len(rows), highspy.kHighsInf)
    model.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    model.a_matrix_.start_ = np.array([*starts, len(index)])
    model.a_matrix_.index_, model.a_matrix_.value_ = np.array(index), np.ones(len(index))
    assert solver.passModel(model) == highspy.HighsStatus.kOk
    solver.run()
    assert solver.getModelStatus() == highspy.HighsModelStatus.kOptimal
    whole = all(abs(value - round(value)) < 1e-6 for value in solver.getSolution().col_value)
    return solver.getInfo().objective_function_value, whole


def calendar(seed: int) -> set[int]:
    """Days of use among 120, in clumps and alone."""
    dice = Random(seed)
    share = dice.choice((0.05, 0.15, 0.3, 0.6, 0.9))
    found: set[int] = set()
    while not found:
        found = {day for day in range(1, 121) if dice.random() < share}
    return found


def test_the_worked_example() -> None:
    model = hired(RENTS)
    place = place_of(model)
    assert hire_price(model, place, [1, 2, 5, 8, 9]) == 1650  # a week, two days and one delivery
    assert hired_spans(model, place, dict.fromkeys([1, 2, 5, 8, 9], 0.0)) == [(1, 9)]
    assert by_table({1, 2, 5, 8, 9}, tariff(300, 900, 2700, 150, 9), 9) == 1650


@pytest.mark.parametrize("seed", range(40))
def test_the_cover_costs_what_a_table_over_days_and_a_linear_programme_say(seed: int) -> None:
    model, used = hired(RENTS), calendar(seed)
    costs = tariff(300, 900, 2700, 150, 120)
    found = hire_price(model, place_of(model), used)
    assert found == by_table(used, costs, 120)
    least, whole = by_linear_programme(used, costs, 120)
    assert whole
    assert float(found) == pytest.approx(least, abs=1e-6)


@pytest.mark.parametrize(
    "rents", [(300, 10**6, 10**6, 0), (300, 1200, 1300, 5000), (100, 350, 2700, 40), (5, 30, 1, 0)]
)
@pytest.mark.parametrize("seed", range(5))
def test_other_tariffs(rents: tuple[int, int, int, int], seed: int) -> None:
    day, week, month, delivery = rents
    model = hired(f"rent_per_day: {day}, rent_per_week: {week}, rent_per_month: {month}, delivery: {delivery}")
    used = calendar(seed)
    assert hire_price(model, place_of(model), used) == by_table(used, tariff(*rents, 120), 120)


def test_a_long_season_is_one_hire_where_a_delivery_is_dear() -> None:
    model = hired("rent_per_day: 300, rent_per_month: 400, delivery: 4000")
    days = range(0, 200, 2)  # a hundred days of use
    assert hired_spans(model, place_of(model), dict.fromkeys(days, 0.0)) == [(0, 198)]
    assert (
        hire_price(model, place_of(model), days) == 4000 + 7 * 400 + 3 * 300 - 500
    )  # 7 months and 3 days, or 8 months


def test_blocks_are_found_whatever_their_price() -> None:
    """Prices that no tariff has: against every way of parting eight spans."""
    dice = Random(7)
    for _ in range(30):
        starts = sorted(dice.sample(range(40), 8))
        spans = [(day, day) for day in starts]
        prices = {(one, two): Decimal(dice.randint(1, 99)) for one in starts for two in starts if one <= two}
        blocks = cheapest_blocks(spans, lambda first, last, prices=prices: prices[first, last])
        ways = []
        for cut in range(2**7):
            edges = [0, *(place + 1 for place in range(7) if cut >> place & 1), 8]
            ways.append(sum(prices[starts[one], starts[two - 1]] for one, two in pairwise(edges)))
        assert sum(prices[block] for block in blocks) == min(ways)


@pytest.mark.parametrize("seed", range(12))
def test_days_alone_may_be_had_by_the_hour_or_the_half_day(seed: int) -> None:
    """Against a table over single days, where a block of one day knows the hours that are worked."""
    dice = Random(seed)
    hour, half, day, week = (dice.randint(*span) for span in ((40, 90), (120, 260), (250, 400), (700, 1500)))
    delivery = dice.choice((0, 20, 150))
    rents = f"rent_per_hour: {hour}, rent_per_half_day: {half}, rent_per_day: {day}, rent_per_week: {week}"
    model = hired(f"{rents}, delivery: {delivery}")
    place = place_of(model)
    hours = {when: dice.choice((0.4, 1.0, 2.5, 3.9, 4.0, 6.5, 8.0)) for when in sorted(calendar(seed)) if when < 70}
    full = min(day, 2 * half, 8 * hour)
    costs = tariff(full, week, 10**7, delivery, 70)
    least = [0]
    for when in range(1, 71):
        choices = [least[when - length] + costs[length] for length in range(1, when + 1)]
        if when not in hours:
            choices.append(least[when - 1])
        else:
            brief = [hour * -int(-hours[when] // 1), *([half] if hours[when] <= 4 else [])]
            choices.append(least[when - 1] + min(brief) + delivery)
        least.append(min(choices))
    assert hire_price(model, place, hours, hours) == least[70]


def test_a_machine_that_works_no_hours_is_hired_by_the_day() -> None:
    model = hired("rent_per_hour: 20, rent_per_day: 100")
    assert hire_price(model, place_of(model), [3]) == 100
    assert hire_price(model, place_of(model), [3], {3: 1.2}) == 40


def test_two_of_a_line_share_the_hours_and_both_are_paid_for() -> None:
    two = Equipment(
        kind="splitter", count=2, rent_per_hour=Decimal(30), rent_per_day=Decimal(200), delivery=Decimal(50)
    )
    assert cover(two, 1, 2.0).cost == 2 * 60 + 50
    assert cover(two, 1, 2.0 + 1e-9).cost == 2 * 60 + 50  # sums of hours are not exact


BRIEF = site_text(11, 2, hired=False).replace(
    "calendar:", "  - {kind: chipper, capacity: 20, feed: winch, rent_per_hour: 45, rent_per_day: 420}\ncalendar:"
)


def test_a_plan_pays_for_hours_where_a_day_holds_few() -> None:
    plan = planned(BRIEF)
    assert plan.broken == ()
    brief = [run for run in plan.schedule.rentals if run.hours is not None]
    assert brief
    for run in brief:
        worked = sum(
            hours
            for job in plan.schedule.jobs
            if "chipper" in job.equipment
            for day, hours in job.machine_hours
            if day == run.first
        )
        whole = max(1, -int(-(worked - 1e-6) // 1))
        assert run.first == run.last
        assert run.hours == pytest.approx(worked, abs=1e-5)
        assert (run.cost, run.billed) == (45 * whole, f"{whole} hour{'s' if whole > 1 else ''}")
    lines = [line for line in plan.schedule.costs if line.kind == "rental"]
    assert sum(line.amount for line in lines) == sum(run.cost for run in plan.schedule.rentals)


def test_the_checker_sees_hires_that_are_billed_for_the_wrong_hours() -> None:
    plan = planned(BRIEF)
    run = next(run for run in plan.schedule.rentals if run.hours is not None)
    rest = tuple(one for one in plan.schedule.rentals if one is not run)
    by_day = replace(run, hours=None, billed="1 day", cost=Decimal(420))
    less = replace(run, hours=0.2, billed="1 hour", cost=Decimal(45))
    for wrong in (by_day, less, replace(run, hours=run.hours + 0.1)):
        assert any("billed wrongly" in one for one in verify(replace(plan.schedule, rentals=(wrong, *rest)), plan.work))


def test_the_checker_sees_hours_that_no_machine_of_several_is_billed_for() -> None:
    text = BRIEF.replace(
        "calendar:", "  - {kind: chipper, name: other, capacity: 20, feed: winch, rent_per_day: 900}\ncalendar:"
    )
    plan = planned(text)
    assert plan.broken == ()
    run = next(run for run in plan.schedule.rentals if run.hours is not None and run.hours > 0.3)
    other = replace(run, label="other", hours=None, billed="1 day", cost=Decimal(900))
    less = replace(run, hours=0.2, billed="1 hour", cost=Decimal(45))
    both = replace(plan.schedule, rentals=(*(one for one in plan.schedule.rentals if one is not run), less, other))
    assert not any("fewer" in one for one in verify(both, plan.work))  # the other is there all day
    alone = replace(plan.schedule, rentals=(*(one for one in plan.schedule.rentals if one is not run), less))
    assert any("fewer" in one for one in verify(alone, plan.work))


def test_the_days_of_a_plan_are_the_days_of_its_hires() -> None:
    on = date(2026, 10, 20)
    inventory, _ = read_inventory(site_text(3, 12), "made-up.yaml", on)
    assert inventory is not None
    plan = plan_order(inventory, on)
    worked = {day for job in plan.schedule.jobs if "chipper" in job.equipment for day, _ in job.machine_hours}
    first, last = min(worked), max(worked)
    costs = tariff(420, 1500, 10**7, 120, (last - first).days + 1)
    least = by_table({(day - first).days + 1 for day in worked}, costs, (last - first).days + 1)
    assert sum(run.cost for run in plan.schedule.rentals) == least


@pytest.mark.parametrize("rents", ["rent_per_hour: 45, rent_per_day: 420", "rent_per_half_day: 120, delivery: 60"])
def test_no_plan_comes_below_what_is_proven_where_hours_are_billed(rents: str) -> None:
    for seed in (1, 3, 8):
        row = f"  - {{kind: chipper, capacity: 20, feed: winch, {rents}}}\ncalendar:"
        plan = planned(site_text(seed, 2, hired=False).replace("calendar:", row))
        assert plan.broken == ()
        assert plan.schedule.optimum.by == "best plan"
        (money,) = [level for level in plan.schedule.optimum.levels if level.name == "money"]
        assert money.bound is not None
        assert money.bound <= money.value + 0.01
        assert money.value - money.bound < 0.06 * money.value
