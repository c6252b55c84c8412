"""A tree stands until its wood is worked, and while a question is open on which that work rests."""

from datetime import date
from pathlib import Path

import pytest
from made_sites import planned, site_text

from barkwright.plan import Plan

EXAMPLES = Path(__file__).parents[2] / "examples"
PILED = """barkwright: 1
site: {name: Alder Hollow, units: imperial, latitude: 53.9, longitude: -123.0, region: interior-plateau,
  nearest_live_spruce: 30, burning: {permit: unknown, windows: [{from: 2026-11-01, to: 2027-04-15}]}}
trees:
  - {id: T1, species: white, dbh: 14, height: 60, attacked: 2025, attack: mass,
    found: {insect: spruce-beetle, stages: [adults], looked: [base, sunny], exit_holes: none, seen: 2026-11-12},
    near: {line: out-of-reach, building: out-of-reach, road: out-of-reach, neighbour: out-of-reach}}
crew: [{name: we, people: 3, hours_per_day: 6, days: [fri, sat], skills: [saw, felling], unpaid: true}]
equipment: [{kind: drawknife, owned: true}, {kind: chain-saw, owned: true}]
wishes: {avoid: [bury]}
"""


def lying(plan: Plan) -> list[int]:
    """Days from each felling by a crew to the first work on the wood."""
    found = []
    crews = {crew.name for crew in plan.work.inventory.crew}
    for tree in plan.work.trees:
        jobs = [job for job in plan.schedule.jobs if job.tree == tree.tree.id]
        falls = [job.last for job in jobs if job.work == "fell" and job.crew in crews]
        works = [job.first for job in jobs if job.way is not None]
        if falls and works:
            found.append((min(works) - falls[0]).days)
    return sorted(found)


def test_by_hand_a_tree_is_felled_on_the_day_its_wood_is_worked_or_the_day_before() -> None:
    days = lying(planned(site_text(6, 20, people=3, hired=False)))
    assert len(days) > 10
    assert days[-1] <= 1
    assert days[len(days) // 2] == 0


def test_before_a_hired_machine_trees_are_felled_on_the_working_days_just_before_it_comes() -> None:
    plan = planned((EXAMPLES / "removal-24.yaml").read_text(), date(2026, 11, 25))
    assert plan.broken == ()
    days = lying(plan)
    assert len(days) > 10
    assert days[-1] <= 7


@pytest.mark.parametrize("permit", ["unknown", "held"])
def test_nobody_fells_before_the_permit_is_known_that_the_wood_needs(permit: str) -> None:
    plan = planned(PILED.replace("permit: unknown", f"permit: {permit}"), date(2026, 11, 25))
    assert plan.broken == ()
    assert any("burn" in (job.way or "") for job in plan.schedule.jobs)
    cuts = [job for job in plan.schedule.jobs if job.work in ("fell", "limb and buck")]
    assert cuts
    assert all(job.provisional == (permit == "unknown") for job in cuts)
    assert all((job.question is not None) == job.provisional for job in cuts)
