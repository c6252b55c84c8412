"""A removal by the site's own crew: on its calendar, at its rate, in the hours entered, and the checker holds it."""

from dataclasses import replace
from datetime import date
from functools import cache

import pytest

from barkwright.inventory.reading import read_inventory
from barkwright.plan import Plan, plan_order
from barkwright.schedule.levels import NAMES, REMOVALS
from barkwright.schedule.verify import verify

ON = date(2026, 10, 20)
SITE = """
barkwright: 1
site: {name: Alder Bend, units: imperial, latitude: 53.9, longitude: -123.0, region: interior-plateau,
  ground: {diggable: true, services_located: true}, burning: {permit: refused}}
trees:
  - id: T1
    species: white
    dbh: 14
    height: 60
    attacked: 2025
    attack: mass
    found: {insect: spruce-beetle, stages: [adults], looked: [base, sunny], exit_holes: none, seen: 2026-10-12}
    near: {line: 30 ft, building: 35 ft, road: out-of-reach, neighbour: out-of-reach}
    removal: {by: aerial-lift, hours: 5}
crew:
  - {name: friends, people: 3, hours_per_day: 8, skills: [saw, felling, aerial-lift, line-clearance], unpaid: true}
  - {name: climbers, people: 2, hours_per_day: 8, skills: [saw, aerial-lift, line-clearance], rate: 50}
equipment:
  - {kind: chain-saw, owned: true, count: 2}
  - {kind: drawknife, owned: true, count: 2}
  - {kind: maul, owned: true, count: 2}
  - {kind: aerial-lift, capacity: 60, rent_per_day: 300}
calendar: {start: 2026-10-26}
"""


@cache
def made(text: str = SITE) -> Plan:
    inventory, faults = read_inventory(text, "made-up.yaml", ON)
    assert inventory is not None, faults
    return plan_order(inventory, ON)


def test_the_crew_takes_it_down_after_the_call_with_the_hired_lift() -> None:
    plan = made()
    assert verify(plan.schedule, plan.work) == ()
    call, fell = (next(job for job in plan.schedule.jobs if job.work == work) for work in ("call", "fell"))
    assert "utility" in call.what
    assert (fell.crew, fell.people, fell.hours, fell.provisional) == ("climbers", 2, 10, False)
    assert (fell.first - call.last).days >= 14
    assert [run.equipment for run in plan.schedule.rentals] == ["aerial-lift"]
    paid = {line.what: line.amount for line in plan.schedule.costs if line.paid and line.kind == "labour"}
    assert sum(paid.values()) >= 500  # 10 person-hours at 50


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("skills: [saw, aerial-lift, line-clearance]", "skills: [saw, aerial-lift]"),
        ("skills: [saw, aerial-lift, line-clearance]", "skills: [saw, line-clearance]"),
        ("rate: 50", "unpaid: true"),
        ("hours: 5", "hours: 7"),
        ("by: aerial-lift", "by: crane"),
        ("by: aerial-lift", "by: dismantle"),
        ("removal: {by: aerial-lift, hours: 5}", "not_before: 2026-10-26"),
    ],
)
def test_the_checker_holds_it_from_the_inventory_alone(old: str, new: str) -> None:
    """The plan and its felling as they were made, on a site that does not allow them: refused."""
    plan = made()
    other = made(SITE.replace(old, new))
    tree = replace(plan.work.trees[0], tree=other.inventory.trees[0])
    work = replace(plan.work, inventory=other.inventory, trees=(tree,))
    found = [text for text in verify(plan.schedule, work) if "T1" in text or "J" in text]
    why = ("may not take down", "unpaid", "hours entered", "crane", "nobody has said")
    assert any(part in text for text in found for part in why), found


def test_without_hours_it_is_planned_for_the_crew_and_asked() -> None:
    plan = made(SITE.replace("removal: {by: aerial-lift, hours: 5}", "not_before: 2026-10-26"))
    assert verify(plan.schedule, plan.work) == ()
    fell = next(job for job in plan.schedule.jobs if job.work == "fell")
    assert (fell.crew, fell.hours, fell.provisional, fell.question) == ("climbers", 0, True, "removal-hours")
    assert [question.code for question in plan.questions].count("removal-hours") == 1


def test_a_removal_that_is_done_is_not_counted_as_left_though_there_is_other_work_at_the_tree() -> None:
    plan = made(SITE.replace("removal:", "hazards: [lean]\n    removal:"))  # it comes down whatever lives in it
    level = next(one for one in plan.schedule.optimum.levels if one.name == NAMES[REMOVALS])
    assert {job.work for job in plan.schedule.jobs if job.tree == "T1"} > {"fell"}
    assert level.value == 0
