"""What a budget drops: work that costs money, and not what costs none."""

from __future__ import annotations

from datetime import date

import pytest
from made_sites import ON, site_text

from barkwright.inventory.reading import read_inventory
from barkwright.plan import plan_order
from barkwright.schedule.model import SiteModel, site_model
from barkwright.schedule.money import hire_shares
from barkwright.schedule.options import Taste
from barkwright.schedule.scenario import Candidate, Scenario, evaluate


def _model(budget: int | None, on: date = ON) -> SiteModel:
    """A site whose hands cost nothing, with a chipper for rent."""
    more = "" if budget is None else f"limits: {{budget: {budget}}}"
    text = site_text(5, 3, more=more).replace("rate: 38", "unpaid: true")
    inventory, faults = read_inventory(text, "made-up.yaml", on)
    assert inventory is not None, faults
    return site_model(plan_order(inventory, on).work)


def _with_every_machine(model: SiteModel) -> Candidate:
    people = tuple(crew.people for crew in model.days.crews)
    machines = frozenset(machine.place for machine in model.machines)
    return evaluate(model, Scenario(machines, people, Taste(0.0, (), 0.0, 0.0, 0.0)))


@pytest.mark.parametrize("share", [0.0, 0.5])
def test_a_budget_below_the_hires_drops_the_trees_that_hire_and_no_others(share: float) -> None:
    free = _with_every_machine(_model(None))
    assert free.bill.hire > 0.0 == free.bill.direct
    hires = {plan.tree.id for plan in free.plans if any(m for placed in plan.placed for m in placed.machines if m >= 3)}
    model = _model(int(free.bill.paid * share))
    short = _with_every_machine(model)
    assert short.bill.paid <= float(model.work.inventory.limits.budget or 0) + 0.01
    assert short.dropped
    assert {tree.id for tree in short.dropped} <= hires


def test_shares_of_hires_add_up_to_the_hires() -> None:
    model = _model(None)
    found = _with_every_machine(model)
    assert sum(hire_shares(model, found.plans)) == pytest.approx(found.bill.hire)
