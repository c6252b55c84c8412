"""Two machines of a kind and of unlike size: what is booked and hired is one that can do the work."""

from dataclasses import replace
from datetime import date

import pytest
from made_sites import planned

from barkwright.schedule.machines import Machine
from barkwright.schedule.model import site_model
from barkwright.schedule.verify import verify

ON = date(2026, 10, 20)
SITE = """
barkwright: 1
site: {name: Alder Bend, units: imperial, latitude: 53.9, longitude: -123.0, region: interior-plateau,
  machine_access: true, ground: {diggable: true, services_located: true}}
trees:
  - {id: T1, species: white, dbh: 14, height: 60, attacked: 2025, attack: mass,
     found: {insect: spruce-beetle, stages: [adults], looked: [base, sunny], exit_holes: none, seen: 2026-10-12},
     near: {line: out-of-reach, building: 35 ft, road: out-of-reach, neighbour: out-of-reach},
     removal: {by: aerial-lift, hours: 5}}
crew: [{name: climbers, people: 2, hours_per_day: 8, skills: [saw, aerial-lift, machine], rate: 50}]
equipment:
  - {kind: chain-saw, owned: true, count: 2}
  - {kind: drawknife, owned: true, count: 2}
  - {kind: aerial-lift, capacity: 30, rent_per_day: 100}
  - {kind: aerial-lift, capacity: 60, rent_per_day: 300}
calendar: {start: 2026-10-26}
"""


def test_the_lift_that_is_hired_reaches_the_tree() -> None:
    plan = planned(SITE, ON)
    assert plan.broken == ()
    assert [run.label for run in plan.schedule.rentals] == ["aerial lift, 60 ft"]
    short = tuple(replace(run, label="aerial lift, 30 ft") for run in plan.schedule.rentals)
    assert verify(replace(plan.schedule, rentals=short), plan.work)


def test_a_short_lift_is_enough_for_a_short_tree() -> None:
    plan = planned(SITE.replace("height: 60", "height: 40").replace("dbh: 14", "dbh: 10"), ON)
    assert plan.broken == ()
    assert [run.label for run in plan.schedule.rentals] == ["aerial lift, 30 ft"]


def test_the_lift_is_judged_by_what_it_really_works_at() -> None:
    text = SITE.replace("capacity: 60,", "capacity: 60, working_capacity: 40,").replace(
        "capacity: 30,", "capacity: 55,"
    )
    plan = planned(text, ON)
    assert plan.broken == ()
    assert [run.label for run in plan.schedule.rentals] == ["aerial lift, 55 ft"]


@pytest.mark.parametrize("kind", ["excavator", "backhoe", "truck", "trailer", "chip-truck"])
def test_of_what_was_reckoned_with_the_largest_only_the_largest_is_booked(kind: str) -> None:
    pair = (
        f"  - {{kind: {kind}, capacity: 8, rent_per_day: 90}}\n  - {{kind: {kind}, capacity: 12, rent_per_day: 200}}\n"
    )
    if "tr" in kind and kind != "chip-truck":
        pair = pair.replace("capacity: 8,", "capacity: 800 lb,").replace("capacity: 12,", "capacity: 1200 lb,")
    plan = planned(SITE.replace("calendar:", f"{pair}calendar:"), ON)
    small, large = (one for one in site_model(plan.work).machines if one.kind == kind)
    assert _fits(large)
    assert not _fits(small)


def _fits(machine: Machine) -> bool:
    return machine.takes(thickest_in=10.0, height_ft=0.0)


def test_a_deep_trench_is_dug_by_the_deep_digger() -> None:
    dig = (
        "  - {kind: excavator, capacity: 3, rent_per_day: 90}\n  - {kind: excavator, capacity: 12, rent_per_day: 400}\n"
    )
    text = SITE.replace("calendar:", f"{dig}wishes: {{avoid: [burn, split, chip, haul]}}\ncalendar:")
    text = text.replace("  - {kind: drawknife, owned: true, count: 2}\n", "")
    plan = planned(text, ON)
    assert plan.broken == ()
    hired = [run.label for run in plan.schedule.rentals if run.equipment == "excavator"]
    assert hired
    assert set(hired) == {"excavator, digs 12 ft"}
