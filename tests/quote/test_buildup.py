"""The build-up: margin and markup apart, and every line adds up to the cent, whatever the percentages."""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from barkwright.inventory.model import Quote
from barkwright.quote.buildup import build_up_of, price_by_margin, price_by_markup
from barkwright.quote.lines import shared_out
from barkwright.schedule.jobs import CostLine

CENT = Decimal("0.01")
cents = st.integers(0, 10_000_000).map(lambda number: number * CENT)
percent = st.none() | st.integers(0, 9800).map(lambda number: number * CENT)


def paid(amount, kind="labour"):
    return CostLine("a crew, at USD 40.00 an hour", kind, "25.0 person-hours", amount, "yours", True)


def test_a_fifth_of_the_price_is_not_a_fifth_of_the_cost():
    # work.md Q1: cost 1,000, markup 20 % and margin 20 %
    assert price_by_markup(Decimal(1000), Decimal(20)) == 1200
    assert price_by_margin(Decimal(1000), Decimal(20)) == 1250


def test_the_build_up_takes_the_one_that_is_given_and_names_it():
    markup = build_up_of([paid(Decimal("1000.00"))], Decimal(0), Quote(markup_percent=Decimal(20)))
    margin = build_up_of([paid(Decimal("1000.00"))], Decimal(0), Quote(margin_percent=Decimal(20)))
    assert (markup.price, margin.price) == (Decimal("1200.00"), Decimal("1250.00"))
    assert (markup.profit.name, margin.profit.name) == ("profit, as a markup", "profit, as a margin")
    assert (markup.profit.basis, margin.profit.basis) == ("20 % of the cost", "20 % of the price")


def test_margin_and_markup_together_are_refused():
    both = Quote(margin_percent=Decimal(20), markup_percent=Decimal(20))
    with pytest.raises(ValueError, match="not both"):
        build_up_of([paid(Decimal("1000.00"))], Decimal(0), both)


def test_each_step_by_hand():
    terms = Quote(
        burden_percent=Decimal("31.5"),
        overhead_percent=Decimal(10),
        contingency_percent=Decimal(5),
        margin_percent=Decimal(20),
        deposit_percent=Decimal(25),
        tax=({"name": "A", "percent": Decimal(5)}, {"name": "B", "percent": Decimal("7.25")}),
    )
    built = build_up_of([paid(Decimal("1000.00")), paid(Decimal("435.00"), "rental")], Decimal("77.77"), terms)
    assert built.direct == Decimal("1750.00")  # 1,000 + 435 + 31.5 % of the labour alone
    assert built.overhead.amount == Decimal("175.00")
    assert built.contingency.amount == Decimal("96.25")  # 5 % of 1,925; the spread gives way to what is given
    assert built.cost == Decimal("2021.25")
    assert built.price == Decimal("2526.56")  # 2,021.25 / 0.8 = 2,526.5625
    assert [tax.amount for tax in built.taxes] == [Decimal("126.33"), Decimal("183.18")]
    assert built.total == Decimal("2836.07")
    assert (built.deposit.amount, built.balance) == (Decimal("709.02"), Decimal("2127.05"))


def test_half_a_cent_rounds_up():
    built = build_up_of([paid(Decimal("0.10"))], Decimal(0), Quote(markup_percent=Decimal(5)))
    assert built.profit.amount == CENT  # half a cent: half up, not to the even cent


def test_what_is_not_given_is_nothing_and_says_so():
    built = build_up_of([paid(Decimal("1000.00"))], Decimal(0), Quote())
    assert built.price == built.total == built.balance == 1000
    for line in (built.overhead, built.profit, built.deposit, built.direct_lines[-1]):
        assert (line.amount, line.basis) == (0, "not given, so nothing")


@settings(max_examples=60)
@given(
    st.lists(cents, min_size=1, max_size=6), cents, percent, percent, percent, percent, st.lists(percent, max_size=3),
    st.booleans(),
)  # fmt: skip
def test_lines_add_up_to_totals_to_the_cent(amounts, spread, burden, overhead, profit, deposit, taxes, margin):
    terms = Quote(
        burden_percent=burden,
        overhead_percent=overhead,
        deposit_percent=deposit,
        tax=tuple({"name": f"tax {n}", "percent": one or Decimal(0)} for n, one in enumerate(taxes)),
        **{"margin_percent" if margin else "markup_percent": profit},
    )
    built = build_up_of([paid(amount) for amount in amounts], spread, terms)
    lines = [*built.direct_lines, built.overhead, built.contingency, built.profit]
    assert sum(line.amount for line in lines) == built.price
    assert sum(line.amount for line in (*lines, *built.taxes)) == built.total == built.deposit.amount + built.balance
    every = [line.amount for line in (*lines, *built.taxes, built.deposit)]
    assert all(amount == amount.quantize(CENT) and amount >= 0 for amount in every)
    if margin and profit is not None and built.price:
        assert abs(built.profit.amount - built.price * profit / 100) <= CENT


@settings(max_examples=60)
@given(cents, st.lists(st.integers(1, 10**9).map(lambda number: Decimal(number) / 997), min_size=1, max_size=40))
def test_shares_add_up_to_the_cent_and_none_strays_by_a_cent(total, weights):
    shares = shared_out(total, weights)
    assert sum(shares) == total
    whole = sum(weights)
    assert all(abs(share - total * weight / whole) < CENT for share, weight in zip(shares, weights, strict=True))


def test_nothing_can_carry_a_price_without_weights():
    assert shared_out(Decimal(0), [Decimal(0)]) == (0,)
    with pytest.raises(ValueError, match="nothing carries"):
        shared_out(Decimal(5), [])
