"""How good the plan is, in words and in the table, from made-up levels."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from made_up import plan

from barkwright.output.layout import render
from barkwright.output.measures import Units
from barkwright.output.order import order_page
from barkwright.output.order_best import NOT_IN_IT, RULE
from barkwright.schedule.jobs import CostLine, Level, Optimum
from barkwright.schedule.levels import BARK, LAST, MONEY, NAMES, REMOVALS, RENTAL, TROUBLE

HEADING = "HOW GOOD THIS PLAN IS"


def level(which: int, unit: str, value: float, bound: float | None, tolerance: float = 0.0) -> Level:
    return Level(NAMES[which], unit, value, bound, tolerance)


def told(
    *levels: Level, trees: int = 1, by: str = "best plan", paid: str = "1212", metric: bool = False,
    source: str = "x.yaml", stopped: str = "every gap is closed",
) -> str:  # fmt: skip
    """The block as one line of text; "" where there is none."""
    found = plan(trees)
    line = CostLine("chipper, 9 in", "rental", "1 day", Decimal(paid), "yours", True)
    found.schedule = replace(
        found.schedule, optimum=Optimum(levels, by, stopped, None), costs=(line,)  # type: ignore[arg-type]
    )  # fmt: skip
    text = render(order_page(found, Units(metric), source))
    if HEADING not in text:
        return ""
    body = text[text.index(HEADING) :].partition("\n")[2]
    return " ".join(body[: body.index(" ====")].rpartition("\n")[0].split())


DONE = level(BARK, "ft2", 0.0, 0.0)


def test_it_stands_behind_the_costs_and_before_the_cautions():
    found = plan()
    found.schedule = replace(found.schedule, optimum=Optimum((DONE,), "best plan", "", None))
    headings = [section.heading for section in order_page(found, Units(), "x.yaml").sections]
    assert headings[headings.index("How good this plan is") - 1] == "Costs"


def test_nothing_is_said_where_nothing_is_compared():
    assert told() == ""


def test_the_least_and_what_this_plan_costs_beyond_it():
    text = told(DONE, level(MONEY, "USD", 1212.0, 1200.0))
    assert "Nothing infested is left: that cannot be bettered." in text
    assert "no plan that does as much against the beetles can cost less than USD 1,200;" in text
    assert "; this one costs USD 1,212, 1 % more." in text
    assert "Why the search ended: every gap is closed." in text
    assert RULE not in text


def test_a_homeowner_whose_plan_is_the_best_is_told_no_more():
    text = told(DONE, level(MONEY, "USD", 1212.0, 1212.0, 10.0))
    assert text.endswith("can cost less.")
    assert "Why the search ended" in told(DONE, level(MONEY, "USD", 1212.0, 1212.0, 10.0), trees=4)


def test_the_least_is_never_rounded_up_nor_a_gap_down():
    text = told(DONE, level(MONEY, "USD", 1212.0, 1199.9))
    assert "less than USD 1,199; this one costs USD 1,212, 1.1 % more." in text


@pytest.mark.parametrize("bound", [1212.0, 1211.9])
def test_a_plan_that_costs_the_least_says_so(bound: float):
    text = told(DONE, level(MONEY, "USD", 1212.0, bound))
    assert "It costs USD 1,212: by the hours and prices on this sheet no plan that does" in text


def test_a_share_of_nothing_is_told_in_money():
    assert "less than USD 0; this one costs USD 12, USD 12 more." in told(
        DONE, level(MONEY, "USD", 12.0, 0.0), paid="12"
    )


def test_what_is_compared_but_not_paid_is_named():
    text = told(DONE, level(MONEY, "USD", 1300.0, 1300.0))
    assert "It costs USD 1,300, unpaid hours, late work and the like counted at their worth: by the hours" in text
    assert "worth" not in told(DONE, level(MONEY, "USD", 1212.4, 1212.4))


@pytest.mark.parametrize(
    ("value", "bound", "said"),
    [
        (120.0, 120.0, "120 sq ft of infested bark is left: no plan for this site can leave less."),
        (
            120.0,
            99.6,
            "can leave less than 99 sq ft of infested bark; this one leaves 120 sq ft.",
        ),
        (120.0, 0.0, "120 sq ft of infested bark is left; that all of it could be treated is not ruled out."),
        (120.0, None, "120 sq ft of infested bark is left; whether less could be is not known."),
        (0.0, None, "Nothing infested is left: that cannot be bettered."),
    ],
)
def test_bark_that_is_left(value: float, bound: float | None, said: str):
    assert said in told(level(BARK, "ft2", value, bound))


def test_areas_turn_metric():
    assert "11.1 m2 of infested bark is left: no plan" in told(level(BARK, "ft2", 120.0, 120.0), metric=True)


def test_a_plan_by_rule_claims_nothing_of_money():
    text = told(
        level(BARK, "ft2", 0.0, None), level(MONEY, "USD", 1212.0, None), by="priority rule", stopped="by rule."
    )
    assert text.startswith(RULE)
    assert "can cost less" not in text
    assert "How it was made: by rule." in text
    assert "By the hours" not in text


def test_what_may_be_given_up_and_what_for():
    levels = (level(BARK, "ft2", 0.0, 0.0, 5.0), level(MONEY, "USD", 1212.0, 1200.0, 10.0))
    text = told(*levels)
    assert (
        "It may leave up to 5 sq ft more infested bark than the least, to save money and cost up to USD 10 more" in text
    )
    assert "`best`" in text
    assert "`best`" not in told(*levels, source="the options of this command")  # there is no file to write it into


def test_a_larger_site_gets_the_table_with_dates_and_units():
    text = told(
        DONE, level(REMOVALS, "trees", 0.0, 0.0), level(MONEY, "USD", 1212.0, 1200.0, 10.0),
        level(RENTAL, "days", 3.0, 2.2), level(TROUBLE, "person-hours", 6.4, 6.4), level(LAST, "day", 12.0, 10.0),
        trees=4,
    )  # fmt: skip
    assert "money USD 1,212 USD 1,200 1 % USD 10" in text
    assert "rental days 3 days 2 days 37 % nothing" in text
    assert "6.4 h 6.4 h none nothing" in text
    assert "last day of work Mon 7 Dec 2026 Sat 5 Dec 2026 2 days nothing" in text  # made on 25 November
    assert f"At zero, which cannot be bettered: {NAMES[BARK]} and {NAMES[REMOVALS]}." in text
    assert NOT_IN_IT in text


def test_the_table_of_a_rule_knows_no_least():
    text = told(level(MONEY, "USD", 1212.0, None, 10.0), trees=4, by="priority rule")
    assert "money USD 1,212 not known not known USD 10" in text


def test_a_homeowner_sees_no_table():
    assert "What counts" not in told(DONE, level(MONEY, "USD", 1212.0, 1200.0))
