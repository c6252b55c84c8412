"""Order, quotation, options, JSON and CSV of one plan agree on every quantity; lines add up to totals to the cent.

Over made-up sites of every kind of tree, crew and machine, each with terms of its own. A dozen on every run; more by
hand: pytest tests/output/test_sheets_agree.py -m slow
"""

from __future__ import annotations

import csv
import io
import random
import re
import sys
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "oracle"))

from made_small_sites import small_site

from barkwright.cli.site import known_names
from barkwright.inventory.reading import read_inventory
from barkwright.output.client_tables import options_csv, quote_csv
from barkwright.output.layout import render
from barkwright.output.measures import Units
from barkwright.output.options_json import options_result
from barkwright.output.options_sheet import options_page
from barkwright.output.order import order_page
from barkwright.output.order_json import order_result
from barkwright.output.quote import quote_page
from barkwright.output.quote_json import quote_result
from barkwright.output.tables_file import order_csv
from barkwright.output.view import View
from barkwright.output.words import exact_money, hours, money, number
from barkwright.plan import Plan, plan_order, plan_sides
from barkwright.quote.quotation import quotation_of
from barkwright.study.courses import LEAVE

LOOKS = ("call", "inspect", "look again")
FEW, MANY = range(12), range(12, 162)
PARTS = ("low", "likely", "high")


def terms(dice: random.Random) -> str:
    """Terms of a quotation with awkward percentages."""

    def share(most: float) -> float:
        return round(dice.uniform(0, most), dice.choice((0, 1, 2)))

    profit = dice.choice((f"margin_percent: {share(45)}", f"markup_percent: {share(80)}"))
    return (
        "client: {name: Vesna Okoro}\ncontractor: {name: Linden and Sons}\n"
        f"quote: {{burden_percent: {share(60)}, overhead_percent: {share(30)}, {profit}, deposit_percent: {share(50)},"
        f" tax: [{{name: GST, percent: {share(15)}}}, {{name: PST, percent: {share(9)}}}]}}\n"
    )


def made(seed: int) -> Plan:
    text, on = small_site(seed)
    text += terms(random.Random(seed))
    inventory, found = read_inventory(text, f"{seed}.yaml", on, known_names())
    assert inventory is not None, found
    return plan_order(inventory, on)


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


def flat(text: str) -> str:
    return re.sub(r"\s+", " ", text)


def check(plan: Plan) -> None:
    order: dict[str, Any] = dict(order_result(plan))
    the_order(plan, order)
    the_quotation(plan, order)
    the_options(plan, order)


def the_order(plan: Plan, order: dict[str, Any]) -> None:
    cost, jobs = order["cost"], order["jobs"]
    paid = [line for line in cost["lines"] if line["paid"]]
    assert sum(Decimal(line["amount"]) for line in paid) == Decimal(cost["to_pay"])
    assert [row["amount"] for row in rows(order_csv(plan, "costs"))] == [line["amount"] for line in cost["lines"]]
    table = rows(order_csv(plan, "jobs"))
    assert [float(row["hours"]) for row in table] == [job["hours"] for job in jobs]
    assert [row["date"] for row in table] == [job["date"] for job in jobs]
    pieces = rows(order_csv(plan, "pieces"))
    assert [(row["id"], float(row["bark_ft2"]), row["way"] or None) for row in pieces] == [
        (piece["id"], piece["bark_ft2"], piece["way"]) for piece in order["pieces"]
    ]
    page = flat(render(order_page(plan, Units(), "made-up.yaml")))
    if jobs:
        assert f"{hours(sum(job.hours for job in plan.schedule.jobs))} of work, all hands together" in page
    labour = sum(float(line["quantity"].split()[0]) for line in cost["lines"] if line["kind"] == "labour")
    crews = {crew.name for crew in plan.inventory.crew}
    ours = [job for job in plan.schedule.jobs if job.crew in crews]
    counted = sum(job.hours for job in ours if job.work != "look again")
    assert labour == pytest.approx(counted, abs=0.06 * max(1, len(crews)))
    later = [job for job in ours if job.work == "look again"]
    assert ("The look after the flight" in page) == bool(later and cost["lines"])
    if Decimal(cost["to_pay"]):
        assert money(Decimal(cost["to_pay"]), plan.inventory.currency) in page


def the_quotation(plan: Plan, order: dict[str, Any]) -> None:
    quote, view = quotation_of(plan), View(plan, Units(), "made-up.yaml")
    result: dict[str, Any] = dict(quote_result(quote, view))
    amounts = {line["kind"]: Decimal(0) for line in result["build_up"]["lines"]}
    for line in result["build_up"]["lines"]:
        amounts[line["kind"]] += Decimal(line["amount"])
    price, total = Decimal(result["price"]), Decimal(result["total"])
    assert amounts.get("paid", Decimal(0)) == Decimal(order["cost"]["to_pay"])
    assert sum(amounts.values()) == price
    assert sum(Decimal(line["amount"]) for line in result["lines"]) == price
    assert price + sum(Decimal(tax["amount"]) for tax in result["taxes"]) == total
    assert Decimal(result["deposit"]) + Decimal(result["balance"]) == total
    table = {row["part"]: Decimal(row["amount"]) for row in rows(quote_csv(quote, view))}
    assert (table["price"], table["total"]) == (price, total)
    if price:
        page = flat(render(quote_page(quote, view)))
        assert f"{number(total, 2)}" in page
        assert exact_money(total, plan.inventory.currency).split()[-1] in page
    offered = {tree["tree"] for tree in result["trees"]}
    assert offered <= {tree["id"] for tree in order["trees"]}


def the_options(plan: Plan, order: dict[str, Any]) -> None:
    sides = plan_sides(plan, [tree.id for tree in plan.inventory.trees])
    result: dict[str, Any] = dict(options_result(plan, sides))
    table = rows(options_csv(plan, sides))
    assert [row["course"] for row in table] == [one["course"] for one in result["courses"]]
    for row, one in zip(table, result["courses"], strict=True):
        assert [float(row["hours_low"]), float(row["hours_high"])] == [one["hours"]["low"], one["hours"]["high"]]
        assert row["to_pay"] == ("" if one["cost"] is None else one["cost"]["to_pay"])
        assert one["hours"]["low"] <= one["hours"]["likely"] <= one["hours"]["high"]
        if one["cost"] is not None:
            low, likely, high = (Decimal(one["cost"][name]) for name in ("to_pay_low", "to_pay", "to_pay_high"))
            assert low <= likely <= high
    mine = [one for one in result["courses"] if one["planned"] and one["course"] != LEAVE]
    page = flat(render(options_page(plan, sides, Units(), "made-up.yaml")))
    if not mine:
        assert not any(piece["way"] for piece in order["pieces"] if piece["id"] in result["pieces"])
        return
    (one,) = mine
    assert one["cost"]["to_pay"] == order["cost"]["to_pay"]
    assert one["hours_mean"] == pytest.approx(sum(job["hours"] for job in order["jobs"]), abs=0.01)
    crews = {crew.name for crew in plan.inventory.crew}
    worked = [job for job in order["jobs"] if job["crew"] in crews and job["work"] not in LOOKS]
    assert one["days_low"] == one["days_high"] == len({day["date"] for job in worked for day in job["day_hours"]})
    if not one["cost"]["unpriced"] or Decimal(one["cost"]["to_pay_high"]):
        assert number(Decimal(order["cost"]["to_pay"])) in page
    ways = {piece["id"]: piece["way"] for piece in order["pieces"]}
    assert all(ways[held["piece"]] == held["way"] for held in one["pieces"])


@pytest.mark.parametrize("seed", FEW)
def test_all_sheets_of_a_plan_agree(seed: int) -> None:
    check(made(seed))


@pytest.mark.slow
@pytest.mark.parametrize("seed", MANY)
def test_all_sheets_of_many_plans_agree(seed: int) -> None:
    check(made(seed))
