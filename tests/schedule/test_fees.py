"""What destinations ask for by the load: on the plan's cost lines, in its bill and in its budget."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from math import ceil

import pytest
from made_sites import ON, planned, site_text

from barkwright.inventory.reading import read_inventory
from barkwright.plan import Plan, plan_order
from barkwright.schedule.best import by_rule
from barkwright.schedule.model import site_model
from barkwright.schedule.money import bill_of, fee_of_pounds, fee_shares
from barkwright.schedule.rule import rule_candidate
from barkwright.schedule.verify import verify

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


def made(text: str) -> Plan:
    on = date(2026, 10, 24)
    inventory, faults = read_inventory(text, "made-up.yaml", on)
    assert inventory is not None, faults[:3]
    plan = plan_order(inventory, on)
    assert plan.broken == ()
    return plan


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


def test_the_largest_vehicle_of_a_kind_sets_the_load() -> None:
    two = (
        SITE.replace("{kind: trailer,", "{kind: trailer, owned: true, name: small, capacity: 500}\n  - {kind: trailer,")
        .replace("equipment: [", "equipment:\n  - ")
        .replace("1500}]", "1500}")
    )
    (one,) = [line.amount for line in made(SITE).schedule.costs if line.kind == "disposal"]
    (other,) = [line.amount for line in made(two).schedule.costs if line.kind == "disposal"]
    assert one == other


def test_a_bill_counts_fees_for_whole_loads_and_a_tree_its_share_by_weight() -> None:
    more = SITE.replace("crew:", "".join(f"  {row}\n" for row in (
        "- {id: T2, species: white, status: logs, felled_on: 2026-10-03, stood_at_attack: true, attacked: 2025,",
        "   logs: [{butt: 12, top: 11, length: 8, count: 1}]}",
    )) + "crew:")  # fmt: skip
    model = site_model(made(more).work)
    best = rule_candidate(model)
    (place,) = model.work.inventory.site.destinations
    hauled = [
        sum(
            model.work.yields(
                plan.tree.work.tree, piece.piece, piece.ways[plan.picks[piece.piece.id].option.position]
            ).haul_lb
            for piece in plan.tree.pieces
        )
        for plan in best.plans
    ]
    loads = ceil(sum(hauled) / 1500)
    assert best.bill.fees == 25 * loads
    nearly = 30 * 0.005 + 0.02  # hours are paid to the hundredth
    assert best.bill.paid == pytest.approx(best.bill.direct + best.bill.hire + best.bill.fees, abs=nearly)
    assert fee_of_pounds(model, place, "trailer", 1500.5).amount == 50
    shares = fee_shares(model, best.plans)
    assert shares == pytest.approx([25 * loads * pounds / sum(hauled) for pounds in hauled])
    alone = [bill_of(model, [plan]) for plan in best.plans]
    assert sum(bill.direct for bill in alone) == pytest.approx(best.bill.direct, abs=0.02)
    assert [bill.fees for bill in alone] == [25 * ceil(pounds / 1500) for pounds in hauled]


def test_the_budget_holds_with_fees() -> None:
    free = made(SITE)
    paid = sum(line.amount for line in free.schedule.costs if line.paid)
    fees = sum(line.amount for line in free.schedule.costs if line.kind == "disposal")
    assert paid > fees > 0
    at = made(SITE + f"limits: {{budget: {paid}}}\n")
    assert at.schedule.costs == free.schedule.costs
    under = made(SITE + f"limits: {{budget: {paid - 1}}}\n")
    assert sum(line.amount for line in under.schedule.costs if line.paid) <= paid - 1
    assert under.schedule.costs != free.schedule.costs


def test_the_checker_sees_a_wrong_fee() -> None:
    plan = made(SITE)
    costs = tuple(
        replace(line, amount=line.amount - 25) if line.kind == "disposal" else line for line in plan.schedule.costs
    )
    assert any("whole loads" in one for one in verify(replace(plan.schedule, costs=costs), plan.work))


@pytest.mark.parametrize("seed", range(4))
def test_a_bill_is_the_sum_of_the_paid_lines_to_the_cent(seed: int) -> None:
    model = site_model(planned(site_text(seed, 6), ON).work)
    lines = sum(line.amount for line in by_rule(model, "").costs if line.paid)
    assert rule_candidate(model).bill.paid == float(lines)
