"""Few ways on one tree and one site, and fires on few days; never at the price of infested bark."""

from datetime import date
from pathlib import Path

import pytest
from made_sites import planned, site_text

from barkwright.inventory.reading import read_inventory
from barkwright.plan import Plan, plan_order
from barkwright.schedule import rule, toil
from barkwright.schedule.gather import gathered
from barkwright.schedule.model import site_model
from barkwright.schedule.options import Kit, Option, Taste
from barkwright.schedule.recipe import Pick
from barkwright.schedule.settings import SETTINGS
from barkwright.treatment.ways import End

TODAY = date(2026, 11, 25)
CHIP: Kit = ("chip", "chipper")
BURY: Kit = ("bury", "excavator")


def pick(kit: Kit, money: float, end: End = "done", level: int = 0) -> Pick:
    option = Option(0, 0, 0, 100, kit[0], "chip", end, money, 0.0, 1.0, (), kit[1:], False, (), kit)
    return Pick(option, 50, level)


def kits(waiting: dict[str, list[Pick]]) -> set[Kit]:
    return {picks[0].option.kit for picks in waiting.values()}


def a_tree(rise: float, end: End = "done", level: int = 0) -> dict[str, list[Pick]]:
    """A butt that is buried, and two logs that are chipped unless burying them costs only `rise` more."""
    return {
        "T1/1": [pick(BURY, 50)],
        "T1/2": [pick(CHIP, 10), pick(BURY, 10 + rise / 2, end, level)],
        "T1/3": [pick(CHIP, 10), pick(BURY, 10 + rise / 2, end, level)],
    }


def test_a_near_tie_is_settled_by_the_way_already_used_on_the_tree() -> None:
    waiting = a_tree(rise=18)
    gathered(waiting, Taste(switch=20))
    assert kits(waiting) == {BURY}
    assert [each.option.kit for each in waiting["T1/2"]] == [BURY, CHIP]  # the other way is still there to fall back on


@pytest.mark.parametrize("tree", [a_tree(rise=22), a_tree(rise=4, end="partial"), a_tree(rise=4, level=1)])
def test_a_second_way_stays_where_the_first_is_dearer_or_not_as_good(tree: dict[str, list[Pick]]) -> None:
    gathered(tree, Taste(switch=20))
    assert kits(tree) == {BURY, CHIP}


def example(name: str) -> Plan:
    path = Path(__file__).parents[2] / "examples" / f"{name}.yaml"
    inventory, faults = read_inventory(path.read_text(encoding="utf-8"), path.name, TODAY)
    assert inventory is not None, faults[:3]
    return plan_order(inventory, TODAY)


def ways_used(plan: Plan) -> set[str]:
    return {choice.way for choice in plan.schedule.choices if choice.way is not None and choice.done_on is not None}


@pytest.mark.parametrize("name", ["removal-24", "woodlot-60"])
def test_switching_costs_leave_a_site_with_fewer_ways_and_no_more_bark(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    few = example(name)
    free = {**{name: SETTINGS[name] for name in SETTINGS.whole}, "tree_switch": 0.0, "site_switch": 0.0}
    monkeypatch.setattr(rule, "SETTINGS", free)
    monkeypatch.setattr(toil, "SETTINGS", free)
    many = example(name)
    assert few.broken == many.broken == ()
    assert len(ways_used(few)) < len(ways_used(many))
    assert few.schedule.infested_left_ft2 <= many.schedule.infested_left_ft2


def test_few_ways_cost_no_more_money_than_what_the_further_ways_count_as(monkeypatch: pytest.MonkeyPatch) -> None:
    model = site_model(example("removal-24").work)
    few = rule.search(model)
    free = {**{name: SETTINGS[name] for name in SETTINGS.whole}, "tree_switch": 0.0, "site_switch": 0.0}
    with monkeypatch.context() as patched:
        patched.setattr(rule, "SETTINGS", free)
        patched.setattr(toil, "SETTINGS", free)
        many = rule.search(model)
    saved = toil.toil(model, many.plans) - toil.toil(model, few.plans)
    assert saved > 0
    assert few.bill.paid - many.bill.paid <= saved
    assert few.bill.hire <= many.bill.hire


def test_work_of_one_machine_is_gathered_into_one_hire_where_its_wood_can_wait() -> None:
    plan = planned(site_text(2, 20, people=3))
    chippers = [run for run in plan.schedule.rentals if run.equipment == "chipper"]
    assert plan.broken == ()
    assert len(chippers) == 1


def test_fires_share_their_days() -> None:
    """Trees burned one by one would need as many days as trees."""
    more = "wishes: {avoid: [debark, chip, bury]}"
    plan = planned(site_text(5, 10, people=4, hired=False, more=more))
    fires = [job for job in plan.schedule.jobs if job.way is not None and "burn" in job.what]
    days = {day for job in fires for day, _ in job.day_hours}
    assert plan.broken == ()
    assert len(fires) >= 10
    assert len(days) <= len({job.tree for job in fires}) // 2 + 1
