"""Quotation or estimate, whose clauses, whose price: on the example of a quotation and on changes of it."""

from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import get_args

import pytest
from quote_sites import plan_of, quote_of

from barkwright.quote import terms
from barkwright.quote.kind import Kind
from barkwright.quote.quotation import quotation_of
from barkwright.quote.scope import window_of
from barkwright.schedule.jobs import CostLine
from barkwright.schedule.paying import to_pay

REMOVAL = "    removal: {by: dismantle, hours: 7}\n"
RATE, MARGIN = "rate: 44}", "  margin_percent: 15\n"
CHIPPER = "rent_per_day: 340, rent_per_week: 1190, delivery: 95"


def codes(quote):
    return [one.code for one in quote.shortfalls]


def test_the_example_is_a_quotation_on_the_orders_own_lines():
    quote = quote_of()
    assert (quote.kind, quote.shortfalls) == ("quotation", ())
    lines = [line for line in quote.built.direct_lines if line.kind == "paid"]
    paid = [line for line in quote.plan.schedule.costs if line.paid]
    assert [(line.name, line.basis, line.amount) for line in lines] == [(c.what, c.quantity, c.amount) for c in paid]
    assert sum(line.amount for line in lines) == to_pay(quote.plan.schedule.costs)
    assert sum(line.amount for line in quote.lines) == quote.built.price


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        ((("client: {name: Odalys Brandt, ", "client: {"),), "client-name"),
        ((("client: {name: Odalys Brandt", "client: {name: '  '"),), "client-name"),
        ((("  name: Fennimore Tree Care\n", ""),), "contractor-name"),
        (((MARGIN, ""),), "no-profit"),
        (((RATE, "}"),), "not-your-figure"),
        ((("inspected_on: 2026-11-12", "inspected_on: 2025-11-24"),), "old-inspection"),
        ((("road: out-of-reach, neighbour: 48 ft", "road: out-of-reach"),), "open-question"),
        ((("stages: [larvae], looked: [base, sunny, shaded], exit_holes: none, ", ""),), "open-question"),
    ],
)
def test_each_thing_that_makes_it_an_estimate(changes, code):
    quote = quote_of(*changes)
    assert quote.kind == "estimate"
    assert code in codes(quote)
    assert all(one.text.endswith(".") and one.how.endswith(".") for one in quote.shortfalls)


@pytest.mark.parametrize(
    ("basis", "said", "how"),
    [
        ("published proxy", "rests on a published rate", "cost_per_hour"),
        ("placeholder", "rests on a placeholder", "your own figure"),
        ("ours", "rests on an assumed figure", "rate"),
    ],
)
def test_one_line_on_a_figure_that_is_not_the_contractors_makes_an_estimate(basis, said, how):
    plan = plan_of()
    line = CostLine(
        "chipper, 9 in, at 24.04 an hour, somebody's rate", "machine", "2.0 hours", Decimal(48), basis, True
    )
    priced = replace(plan, schedule=replace(plan.schedule, costs=(*plan.schedule.costs, line)))
    quote = quotation_of(priced)
    assert (quote.kind, codes(quote)) == ("estimate", ["not-your-figure"])
    assert f"The price of chipper, 9 in {said}" in quote.shortfalls[0].text
    assert how in quote.shortfalls[0].how
    unpaid = replace(plan.schedule, costs=(*plan.schedule.costs, replace(line, paid=False)))
    assert quotation_of(replace(plan, schedule=unpaid)).kind == "quotation"


def test_a_price_that_nobody_has_given_is_named_and_not_in_the_sum():
    quote = quote_of((", climbing", ""))
    assert "no-price" in codes(quote)
    assert "tree service for B" in next(one.text for one in quote.shortfalls if one.code == "no-price")


def test_a_professionals_own_price_stands_in_the_tree_it_belongs_to():
    quote = quote_of((", climbing", ""), ("hours: 7}", "hours: 7, price: 900}"))
    assert "no-price" not in codes(quote)
    shares = {line.tree: line.amount for line in quote.lines}
    assert shares["B"] > 900  # his price with overhead and profit on it
    assert sum(shares.values()) == quote.built.price


def test_a_markup_instead_of_a_margin_is_as_good():
    quote = quote_of((MARGIN, "  markup_percent: 15\n"))
    assert quote.kind == "quotation"
    assert quote.built.profit.amount == (quote.built.cost * Decimal("0.15")).quantize(Decimal("0.01"))


def test_where_nobody_is_paid_there_is_nothing_to_quote():
    own = (CHIPPER, "owned: true"), (", cost_per_hour: 4.10", ""), (", cost_per_hour: 3}", "}")
    easy = (REMOVAL, ""), ("    hazards: [dead-top]\n", ""), ("building: 22 ft", "building: out-of-reach")
    quote = quote_of((RATE, "unpaid: true}"), *own, *easy, ("neighbour: 48 ft", "neighbour: out-of-reach"))
    assert (quote.kind, quote.shortfalls, quote.lines) == ("nothing", (), ())


def test_contingency_is_one_deviation_of_all_paid_hours_together():
    plan = plan_of()
    labour = sum(
        (job.hours_high - job.hours_low) / 6 * 44 * 1.28 for job in plan.schedule.jobs if job.work != "look again"
    )
    machines = sum(
        sum(hours for _, hours in job.machine_hours) * (job.hours_high - job.hours_low) / 6 / job.hours * price
        for job in plan.schedule.jobs
        for kind, price in (("chain-saw", 4.10), ("saw-debarker", 3.0))
        if kind in job.equipment
    )
    assert float(quotation_of(plan).built.contingency.amount) == pytest.approx(labour + machines, abs=0.006)


def test_the_price_holds_for_the_days_given_or_for_thirty():
    assert quote_of().valid_until.isoformat() == "2026-12-25"
    quote = quote_of(("  valid_days: 30\n", ""))
    assert quote.valid_until.isoformat() == "2026-12-25"
    assert "30 days as is common" in next(one.text for one in quote.clauses if one.id == "validity")
    assert quote_of(("valid_days: 30", "valid_days: 45")).valid_until.isoformat() == "2027-01-09"


def test_the_price_holds_no_longer_than_the_first_work_may_wait():
    quote = quote_of(("valid_days: 30", "valid_days: 250"))
    first = min(one.latest for one in quote.scope)
    assert quote.valid_until == first
    assert first.isoformat() == "2027-05-20"
    assert "first day by which work has to be finished" in next(o.text for o in quote.clauses if o.id == "validity")


def test_an_inspection_of_a_year_ago_is_no_reason_for_an_estimate():
    assert quote_of(("inspected_on: 2026-11-12", "inspected_on: 2025-11-25")).kind == "quotation"


def test_a_clause_is_there_only_where_it_belongs():
    ids = {one.id for one in quote_of().clauses}
    assert {"boundary", "weather", "hidden-wood", "change-order", "deposit", "payment"} <= ids
    assert not ids & {"utilities-811", "hidden-ground", "burn-permit", "transport", "power-line", "no-offer", "heights"}
    removal = {one.id for one in quote_of(name="removal-24").clauses}
    assert {"power-line", "no-offer", "heights"} <= removal
    assert not removal & {"validity", "fixed-price", "deposit", "boundary", "payment-open"}


def test_digging_brings_the_call_before_digging():
    quote = quote_of(("wishes: {keep_sawlogs: true}", "wishes: {prefer: [bury], avoid: [chip, debark, haul, split]}"),
                     ("{kind: wedges, owned: true}", "{kind: excavator, owned: true, cost_per_hour: 60}"))  # fmt: skip
    digs = any("bury" in (choice.way or "") for choice in quote.plan.schedule.choices)
    assert digs
    assert {"utilities-811", "hidden-ground"} <= {one.id for one in quote.clauses}


def test_every_word_a_clause_waits_for_can_occur():
    said = Path(terms.__file__).read_text(encoding="utf-8")
    words = {word for clause in terms.clauses().values() for word in clause.when} - set(get_args(Kind))
    assert [word for word in sorted(words) if f'"{word}"' not in said] == []


def test_saw_logs_are_scaled_by_both_rules_as_the_order_counts_them():
    quote = quote_of()
    logs = {log.piece: (log.international_bf, log.scribner_bf) for one in quote.scope for log in one.saw_logs}
    assert logs["B/1"] == (135, 110)  # 14 in by 16 ft: 135 International, 11 tens Scribner
    assert logs["C/1"] == (65, 60)  # 10 in by 16 ft
    assert quote_of(("{keep_sawlogs: true}", "{}")).scope[0].saw_logs == ()


def test_the_days_of_work_are_those_of_the_plan():
    quote = quote_of()
    first, last = window_of(quote.plan.schedule.jobs)
    assert quote.window == (first, last)
    assert last < min(flight.onset for flight in quote.plan.flights)


def test_what_is_not_stopped_is_named():
    quote = quote_of(("calendar: {start: 2027-01-11}", "calendar: {start: 2028-06-20}"))
    assert quote.plan.misses
    assert {piece for one in quote.scope for piece in one.misses} == {
        piece for unmet in quote.plan.schedule.unmet for piece in unmet.pieces
    }
    assert any(one.misses for one in quote.scope)
