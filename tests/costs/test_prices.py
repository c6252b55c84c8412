"""Prices: the user's own figures first, a named proxy where there is none, worth only where it was given."""

from datetime import date
from decimal import Decimal

import pytest

from barkwright.costs.prices import Prices
from barkwright.costs.proxies import rate_table
from barkwright.inventory.model import Crew, Destination, Equipment, Inventory
from barkwright.treatment.ways import Yields

SITE = {"name": "made up", "units": "imperial", "latitude": 50.0, "longitude": -110.0}


def prices(**fields):
    base = {"barkwright": 1, "site": SITE, "trees": ({"id": "T1", "species": "white", "dbh": 12.0},)}
    return Prices(Inventory.model_validate({**base, **fields}, strict=False))


def crew(**fields):
    return Crew(name="we", people=2, hours_per_day=6.0, **fields)


def machine(**fields):
    return Equipment.model_validate({"kind": "chipper", "capacity": 12.0, **fields}, strict=False)


def test_paid_hands_cost_their_rate_exactly():
    assert prices().labour(crew(rate=Decimal("38.10")), 2.5) == (Decimal("95.25"), True)


def test_unpaid_hands_count_at_their_worth_and_are_not_paid():
    own = prices().labour_money(crew(unpaid=True, worth=Decimal(18)), 2.0)
    assert (own.amount, own.paid, own.basis) == (Decimal(36), False, "yours")
    assumed = prices().labour_money(crew(unpaid=True), 2.0)
    assert assumed.amount > 0
    assert (assumed.paid, assumed.basis) == (False, "ours")


def test_an_owned_machine_is_free_unless_its_hours_cost():
    assert prices().machine(machine(owned=True), 3.0).amount == 0
    assert prices().machine(machine(owned=True, cost_per_hour="12.50"), 3.0).amount == Decimal("37.50")


def test_a_rented_machine_costs_its_rent_and_no_proxy():
    found = prices().machine(machine(rent_per_day="310"), 3.0)
    assert (found.amount, found.basis) == (0, "yours")
    assert prices().hourly(machine(rent_per_day="320"), 8.0) == 40


def test_a_machine_without_a_price_takes_the_published_rate_and_says_so():
    found = prices().machine(machine(), 3.0)
    assert found.amount == Decimal("29.70") * 3
    assert found.basis == "published proxy"
    assert "2025" in found.text


def test_a_tool_that_nobody_rates_is_a_placeholder():
    found = prices().machine(machine(kind="log-arch", capacity=None), 3.0)
    assert (found.amount, found.basis) == (0, "placeholder")


@pytest.mark.parametrize(
    ("capacity", "code"), [(6, "8200"), (9, "8200"), (9.5, "8201"), (19, "8203"), (30, "8203"), (None, "8200")]
)
def test_the_smallest_class_that_is_large_enough_is_taken(capacity, code):
    assert rate_table().proxy("chipper", capacity).code == code


def test_old_published_rates_are_warned_about_from_the_third_year():
    site = prices(equipment=({"kind": "chipper", "capacity": 9.0},))
    assert site.notes(date(2027, 12, 31)) == ()
    assert "2025" in site.notes(date(2028, 1, 1))[0].message
    assert prices(equipment=({"kind": "chipper", "capacity": 9.0, "owned": True},)).notes(date(2035, 1, 1)) == ()


def test_another_currency_is_warned_about():
    site = prices(equipment=({"kind": "chipper", "capacity": 9.0},), currency="CAD")
    assert "CAD" in site.notes(date(2026, 1, 1))[0].message


def test_a_removal_costs_what_was_quoted_or_is_a_named_gap():
    assert prices().removal(Decimal(900)).amount == 900
    assert prices().removal(None).basis == "placeholder"


def test_fees_count_by_the_load():
    place = Destination.model_validate(
        {"kind": "landfill", "miles": 5.0, "takes": ("slash",), "fee_per_load": "25"}, strict=False
    )
    assert prices().disposal(place, 3).amount == 75
    assert prices().disposal(None, 3).basis == "placeholder"


def test_a_load_started_is_a_load_paid():
    place = Destination.model_validate(
        {"kind": "landfill", "miles": 5.0, "takes": ("slash",), "fee_per_load": "25"}, strict=False
    )
    truck = Equipment(kind="truck", capacity=3000.0)
    assert [prices().haul_fee(place, truck, lb).amount for lb in (1.0, 3000.0, 3001.0)] == [25, 25, 50]
    assert prices().haul_fee(place, truck, 3001.0).basis == "yours"
    assert prices().haul_fee(place, None, 3001.0).basis == "placeholder"


def test_wood_is_worth_nothing_unless_the_user_says_what():
    fuel = Yields(cords=1.5, chips_yd3=4.0)
    assert prices().worth(fuel) == 0
    assert prices(worth={"firewood_per_cord": "200"}).worth(fuel) == 300
    assert prices(worth={"firewood_per_cord": "200", "chips_per_yd3": "5"}).worth(fuel) == 320
