"""Hourly machine rates of the user's own: added or in place by id, marked local, with their own year and currency."""

from datetime import date
from decimal import Decimal

import pytest

from barkwright.costs.prices import Prices
from barkwright.costs.proxies import rate_table
from barkwright.inventory.model import Equipment
from barkwright.inventory.reading import read_inventory

ON = date(2026, 11, 25)
SITE = """\
barkwright: 1
site: {name: a, units: imperial, latitude: 53.1, longitude: -122.4}
trees: [{id: S, species: white, dbh: 15, attacked: 2025}]
equipment: [{kind: chipper, capacity: 9 in}]
currency: CAD
"""


def written(folder, text):
    path = folder / "own.yaml"
    path.write_text(f"machine_rates:\n  {text}\n", encoding="utf-8")
    return (str(path),)


def prices(local=()):
    inventory, _ = read_inventory(SITE, "a", ON)
    return Prices(inventory.model_copy(update={"local": local}))


def test_a_rate_takes_the_place_of_the_published_one_with_its_year_and_currency(tmp_path):
    made = prices(written(tmp_path, '"8200": {per_hour: 39.5, currency: CAD, year: 2026, source: a works department}'))
    money = made.machine(Equipment(kind="chipper", capacity=9.0), 2.0)
    assert (money.amount, money.basis) == (Decimal("79.00"), "local rate")
    assert money.text == "at 39.50 an hour, the local 2026 rate of a brush chipper 9 in"
    assert made.notes(ON) == ()
    assert [one.message for one in prices().notes(ON)] == [
        "the published machine rates are in USD, the site counts in CAD"
    ]
    assert made.machine(Equipment(kind="splitter"), 1.0).basis == "published proxy"


def test_a_rate_is_added_and_taken_by_size(tmp_path):
    entry = "{kind: chipper, class: small chipper, up_to: 5, per_hour: 10, currency: USD, year: 2026, basis: ours}"
    table = rate_table(written(tmp_path, f"mine: {entry}"))
    assert table.diagnostics == ()
    assert [table.proxy("chipper", size).code for size in (4, 5, 6, 12)] == ["mine", "mine", "8200", "8201"]
    assert table.own[0].was is None


FAULTS = [
    ('"8200": {per_hour: 39.5, currency: CAD, year: 2026}', "uncited"),
    ('"8200": {per_hour: 39.5, year: 2026, source: a}', "missing-key"),
    ('"8200": {per_hour: -1, currency: CAD, year: 2026, source: a}', "out-of-range"),
    ('"8200": {per_hour: 9 dollars, currency: CAD, year: 2026, source: a}', "wrong-unit"),
    ('"8200": {per_hour: 9, currency: dollar, year: 2026, source: a}', "bad-value"),
    ('"8200": {per_hour: 9, currency: CAD, year: 26, source: a}', "out-of-range"),
    ('"8200": {kind: splitter, per_hour: 9, currency: CAD, year: 2026, source: a}', "bad-choice"),
    ('"8200": {rent: 9, currency: CAD, year: 2026, source: a}', "unknown-key"),
    ("new: {kind: chiper, class: a, per_hour: 9, currency: CAD, year: 2026, source: a}", "bad-choice"),
    ("new: {per_hour: 9, currency: CAD, year: 2026, kind: chipper, source: a}", "missing-key"),
]


@pytest.mark.parametrize(("text", "code"), FAULTS)
def test_a_fault_is_told_once_and_the_published_rate_stays(tmp_path, text, code):
    table = rate_table(written(tmp_path, text))
    assert [(one.code, one.where.line) for one in table.diagnostics] == [(code, 2)]
    assert table.rates == rate_table().rates
