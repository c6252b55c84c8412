"""Renting for days in a row: the cheapest cover, in exact money."""

from decimal import Decimal
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from barkwright.costs.tariff import cheapest_cover, cover
from barkwright.inventory.model import Equipment

MONEY = st.decimals(1, 9999, places=2)


def chipper(**rents):
    given = {key: Decimal(str(value)) for key, value in rents.items()}
    return Equipment(kind="chipper", capacity=9.0, **given)


def brute_force(day, week, month, days):
    """Every mix of months, weeks and days that covers the run."""
    best = None
    for months, weeks, single in product(range(days // 28 + 2), range(days // 7 + 2), range(days + 1)):
        if months * 28 + weeks * 7 + single >= days:
            cost = months * month + weeks * week + single * day
            best = cost if best is None else min(best, cost)
    return best


@settings(max_examples=150)
@given(MONEY, MONEY, MONEY, st.integers(1, 40))
def test_the_cover_is_as_cheap_as_any(day, week, month, days):
    cost, _ = cheapest_cover(chipper(rent_per_day=day, rent_per_week=week, rent_per_month=month), days)
    assert cost == brute_force(day, week, month, days)


@given(MONEY, MONEY, st.integers(1, 60))
def test_a_longer_run_never_costs_less(day, week, days):
    machine = chipper(rent_per_day=day, rent_per_week=week)
    assert cheapest_cover(machine, days)[0] <= cheapest_cover(machine, days + 1)[0]


@pytest.mark.parametrize(
    ("days", "cost", "text"),
    [
        (1, "400", "1 day, delivered"),
        (3, "1020", "3 days, delivered"),
        (4, "1190", "1 week, delivered"),
        (7, "1190", "1 week, delivered"),
        (9, "1810", "1 week + 2 days, delivered"),
        (14, "2290", "2 weeks, delivered"),
    ],
)
def test_the_example_of_the_inventory_format(days, cost, text):
    machine = chipper(rent_per_day=310, rent_per_week=1100, delivery=90)
    assert cheapest_cover(machine, days) == (Decimal(cost), text)


def test_a_short_job_takes_the_hour_or_the_half_day():
    machine = chipper(rent_per_day=310, rent_per_half_day=200, rent_per_hour=60)
    assert cover(machine, 1, 2.2).text == "3 hours"
    assert cover(machine, 1, 2.2).cost == Decimal(180)
    assert cover(machine, 1, 3.9).text == "half a day"
    assert cover(machine, 1, 4.1).text == "5 hours"
    assert cover(machine, 1, 6.0).text == "1 day"
    assert cover(machine, 2, 2.2).text == "2 days"


def test_without_a_day_rent_the_shorter_ones_make_the_day():
    assert cheapest_cover(chipper(rent_per_half_day=200), 2)[0] == 800
    assert cheapest_cover(chipper(rent_per_hour=60), 1)[0] == 480


def test_two_of_a_kind_cost_twice_and_are_delivered_once():
    machine = Equipment(kind="splitter", count=2, rent_per_day=Decimal(50), delivery=Decimal(30))
    assert cheapest_cover(machine, 2)[0] == 230


@settings(max_examples=100)
@given(MONEY, MONEY, MONEY, MONEY, st.integers(2, 20))
def test_days_in_a_row_are_hired_by_the_half_day_or_the_hour_where_that_is_cheaper(hour, half, day, week, days):
    machine = chipper(rent_per_hour=hour, rent_per_half_day=half, rent_per_day=day, rent_per_week=week)
    assert cheapest_cover(machine, days)[0] == brute_force(min(day, 2 * half, 8 * hour), week, 10**9, days)


def test_the_bill_names_the_rents_that_it_is_made_of():
    assert cheapest_cover(chipper(rent_per_half_day=100, rent_per_day=310), 2) == (Decimal(400), "4 half days")
    mixed = chipper(rent_per_hour=20, rent_per_week=800)
    assert cheapest_cover(mixed, 8) == (Decimal(960), "1 week + 8 hours")


def test_no_rent_or_no_day_is_refused():
    with pytest.raises(ValueError, match="no rent"):
        cheapest_cover(chipper(), 1)
    with pytest.raises(ValueError, match="a day or more"):
        cheapest_cover(chipper(rent_per_day=5), 0)
