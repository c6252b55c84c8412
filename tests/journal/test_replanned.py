"""Made-up sites planned again after made-up journals: done work stays done, nothing is planned into the past, every
change has its reason, and all sheets can be made of what comes out.

A few on every run; fifty by hand: pytest tests/journal -m slow
"""

from __future__ import annotations

import random
import sys
from datetime import date, timedelta
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "oracle"))

from made_small_sites import small_site

from barkwright.cli.site import known_names
from barkwright.inventory.reading import read_inventory
from barkwright.journal.applied import as_it_stands
from barkwright.journal.reading import read_journal
from barkwright.journal.writing import begun, with_entries
from barkwright.output.measures import Units
from barkwright.output.options_json import options_result
from barkwright.output.order import order_text
from barkwright.output.order_json import order_result
from barkwright.output.quote_json import quote_result
from barkwright.output.view import View
from barkwright.plan import Plan, plan_order, plan_sides, since_earlier
from barkwright.quote.quotation import quotation_of
from barkwright.schedule.digest import given_out
from journal.made_journals import made_journal

FEW, MANY = range(3), range(3, 53)


def again(seed: int) -> tuple[Plan, Plan]:
    """An order that is given out, and the one that is made some weeks later from the same site and its journal."""
    dice = random.Random(seed)
    text, on = small_site(seed)
    inventory, found = read_inventory(text, "site.yaml", on, known_names())
    assert inventory is not None, found
    first = plan_order(inventory, on)
    later = on + timedelta(days=dice.choice((3, 7, 8, 21, 60)))
    journal = made_journal(seed, first, later)
    written = with_entries(begun("site"), journal.entries)
    read, faults = read_journal(written, "journal")
    assert read == journal, faults
    inventory, found = read_inventory(text, "site.yaml", later, known_names())
    assert inventory is not None, found
    stands, faults = as_it_stands(inventory, read, later, "journal")
    assert [one for one in faults if one.severity == "error"] == []
    second = plan_order(stands, later, earlier=given_out(first.schedule, first.work))
    return first, since_earlier(second)


def check(seed: int) -> None:
    first, plan = again(seed)
    assert plan.broken == ()
    done = {piece for piece, one in plan.flight.outcomes.items() if one.over}
    for job in plan.schedule.jobs:
        assert job.first >= plan.on
        assert all(day >= plan.on for day, _ in job.day_hours)
        assert not done & set(job.pieces), job
    for piece, one in plan.flight.outcomes.items():
        if one.begun is not None:
            chosen = next(choice.way for choice in plan.schedule.choices if choice.piece == piece)
            assert chosen is None or chosen in one.begun.ways
    for changed in plan.changed:
        assert len(changed.why.text) > 10
        assert changed.why.text.rstrip().endswith(".")
    explained(first, plan)
    sheets(plan)


def explained(first: Plan, plan: Plan) -> None:
    """Every piece whose way differs, and every job of a tree that is no more, is among the changes."""
    before = {one.piece: one.way for one in first.schedule.choices}
    told = {piece for changed in plan.changed for piece in changed.pieces}
    for choice in plan.schedule.choices:
        if before.get(choice.piece) != choice.way:
            assert choice.piece in told, choice.piece


def sheets(plan: Plan) -> None:
    assert order_text(plan, Units(), "site.yaml")
    assert order_result(plan)["done"] is not None
    assert options_result(plan, plan_sides(plan, [tree.id for tree in plan.inventory.trees]))
    assert quote_result(quotation_of(plan), View(plan, Units(), "site.yaml"))


@pytest.mark.parametrize("seed", FEW)
def test_planned_again(seed):
    check(seed)


@pytest.mark.slow
@pytest.mark.parametrize("seed", MANY)
def test_planned_again_fifty_times(seed):
    check(seed)


def test_the_journals_are_of_all_kinds():
    text, on = small_site(1)
    inventory, _ = read_inventory(text, "site.yaml", on, known_names())
    assert inventory is not None
    plan = plan_order(inventory, on)
    kinds = {entry.did for seed in range(40) for entry in made_journal(seed, plan, on + timedelta(days=60)).entries}
    assert kinds >= {"treated", "felled", "looked", "undone"}
    assert date.max > on
