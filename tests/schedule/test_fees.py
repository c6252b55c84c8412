"""What destinations ask for by the load, on the plan's cost lines."""

from datetime import date
from decimal import Decimal
from math import ceil

from barkwright.inventory.reading import read_inventory
from barkwright.plan import plan_order

SITE = """
barkwright: 1
site:
  name: made up
  units: imperial
  latitude: 53.98
  longitude: -123.02
  region: interior-plateau
  burning: {permit: refused}
  destinations:
    - {kind: mill, miles: 14, takes: [logs], processes_by: 2027-03-31, live_spruce_within: none, fee_per_load: 25}
trees:
  - id: T1
    species: white
    status: logs
    felled_on: 2026-10-03
    stood_at_attack: true
    attacked: 2025
    logs: [{butt: 15, top: 13, length: 8, count: 9}]
crew: [{name: we, people: 2, hours_per_day: 6, days: [sat, sun], rate: 30}]
equipment: [{kind: trailer, owned: true, capacity: 1500}]
"""


def test_a_fee_is_paid_for_every_load_of_the_whole_plan():
    on = date(2026, 10, 24)
    inventory, _ = read_inventory(SITE, "made-up.yaml", on)
    plan = plan_order(inventory, on)
    logs = [piece for stem in plan.stems for piece in stem.pieces]
    hauled = [choice for choice in plan.schedule.choices if choice.way and choice.way.startswith("haul-trailer")]
    assert len(hauled) == len(logs)
    (line,) = [line for line in plan.schedule.costs if line.kind == "disposal"]
    assert line.amount == Decimal(25) * ceil(sum(piece.lift_lb for piece in logs) / 1500)
    assert line.basis == "yours"
