"""Two plans of one site held against each other: nothing of the same plan, and what one change brought of two."""

from datetime import date
from decimal import Decimal

from barkwright.inventory.reading import read_inventory
from barkwright.plan import plan_order
from barkwright.study.differences import plan_differences

ON = date(2026, 11, 25)
SITE = """\
barkwright: 1
site: {name: a, units: imperial, latitude: 53.1, longitude: -122.4, region: interior-plateau}
trees:
  - id: L
    species: white
    status: logs
    felled_on: 2026-10-03
    attacked: 2025
    found: {insect: spruce-beetle, stages: [adults], looked: [top, bottom], seen: 2026-10-18}
    logs: [{butt: 7, top: 6, length: 8}, {butt: 12, top: 11, length: 8}]
crew: [{name: us, people: 2, hours_per_day: 6, days: [sat, sun], skills: [saw], unpaid: true}]
equipment: [{kind: chain-saw, owned: true}, {kind: bark-spud, owned: true}, {kind: chipper, capacity: 12 in, rent_per_day: 300}]
limits: {budget: 500}
"""  # noqa: E501


def planned(text):
    inventory, found = read_inventory(text, "a", ON)
    assert inventory is not None, found
    plan = plan_order(inventory, ON)
    return plan.work, plan.schedule


def test_a_plan_differs_in_nothing_from_itself():
    assert plan_differences(planned(SITE), planned(SITE)).none


def test_without_the_hired_machine_ways_and_verdicts_and_money_differ_and_flights_do_not():
    before = planned(SITE.replace("limits", "wishes: {prefer: [chip], avoid: [debark, burn, bury, score]}\nlimits"))
    after = planned(SITE.replace(", {kind: chipper, capacity: 12 in, rent_per_day: 300}", ""))
    found = plan_differences(before, after)
    assert (found.flights, found.sizes) == ((), ())
    assert (found.before.to_pay, found.after.to_pay) == (Decimal(300), Decimal(0))
    ways = {one.piece: (one.before.way, one.after.way) for one in found.pieces if one.other_way}
    assert ways["L/1"][0] is not None
    assert "chip" in ways["L/1"][0]
    assert "chip" not in (ways["L/1"][1] or "")


def test_a_later_flight_moves_its_dates_and_says_by_how_much():
    found = plan_differences(planned(SITE), planned(SITE.replace("interior-plateau", "central-rockies")))
    (flight,) = found.flights
    assert (flight.before, flight.after) == (
        (date(2027, 5, 21), date(2027, 5, 7)),
        (date(2027, 6, 1), date(2027, 5, 18)),
    )
    assert not found.none
