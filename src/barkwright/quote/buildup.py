"""From what a plan costs to what is asked for it: overhead, contingency, profit, tax, deposit, to the cent."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import Literal

from barkwright.costs.currency import HUNDREDTHS
from barkwright.inventory.model import Quote
from barkwright.quote.direct import contingency_of
from barkwright.record import dataclass
from barkwright.schedule.jobs import CostLine, Schedule
from barkwright.schedule.paying import to_pay
from barkwright.schedule.sitework import SiteWork
from barkwright.units import half_up

ZERO, HUNDRED = Decimal(0), Decimal(100)
NOT_GIVEN = "not given, so nothing"

LineKind = Literal["paid", "burden", "overhead", "contingency", "profit", "tax", "deposit"]


@dataclass(frozen=True, slots=True)
class BuildLine:
    """One amount of a build-up; `basis` says in words how it comes about."""

    kind: LineKind
    name: str
    basis: str
    amount: Decimal  # as it is counted in the currency


@dataclass(frozen=True, slots=True)
class BuildUp:
    """A price with all that it is made of; amounts are rounded as they are counted and add up."""

    direct_lines: tuple[BuildLine, ...]  # the plan's paid lines, and the burden on paid labour
    overhead: BuildLine
    contingency: BuildLine
    profit: BuildLine
    taxes: tuple[BuildLine, ...]
    deposit: BuildLine

    @property
    def direct(self) -> Decimal:
        """What the work itself costs [currency]."""
        return sum((line.amount for line in self.direct_lines), ZERO)

    @property
    def cost(self) -> Decimal:
        """Direct cost, overhead and contingency [currency]."""
        return self.direct + self.overhead.amount + self.contingency.amount

    @property
    def price(self) -> Decimal:
        """Cost and profit, before tax [currency]."""
        return self.cost + self.profit.amount

    @property
    def total(self) -> Decimal:
        """Price and taxes [currency]."""
        return self.price + sum((line.amount for line in self.taxes), ZERO)

    @property
    def balance(self) -> Decimal:
        """What is left to pay after the deposit [currency]."""
        return self.total - self.deposit.amount


def build_up(work: SiteWork, schedule: Schedule) -> BuildUp:
    """The build-up of a plan's paid costs by the terms of its inventory."""
    terms = work.inventory.quote
    paid = [line for line in schedule.costs if line.paid]
    spread = contingency_of(work, schedule) if terms.contingency_percent is None else ZERO
    return build_up_of(paid, spread, terms, work.prices.decimals)


def build_up_of(paid: Sequence[CostLine], spread: Decimal, terms: Quote, digits: int = HUNDREDTHS) -> BuildUp:
    """The build-up of cost lines.

    spread : the contingency where no percentage is given; digits : decimals of an amount in the currency
    """
    direct = tuple(_direct(paid, terms, digits))
    base = sum((line.amount for line in direct), ZERO)
    overhead = BuildLine("overhead", "overhead", _share(terms.overhead_percent, "the direct cost"),
                         percent_of(base, terms.overhead_percent, digits))  # fmt: skip
    contingency = _contingency(base + overhead.amount, spread, terms, digits)
    cost = base + overhead.amount + contingency.amount
    profit = _profit(cost, terms, digits)
    price = cost + profit.amount
    taxes = tuple(
        BuildLine("tax", tax.name, f"{_said(tax.percent)} % of the price", percent_of(price, tax.percent, digits))
        for tax in terms.tax
    )
    total = price + sum((line.amount for line in taxes), ZERO)
    deposit = BuildLine("deposit", "deposit", _share(terms.deposit_percent, "the total"),
                        percent_of(total, terms.deposit_percent, digits))  # fmt: skip
    return BuildUp(direct, overhead, contingency, profit, taxes, deposit)


def percent_of(amount: Decimal, percent: Decimal | None, digits: int = HUNDREDTHS) -> Decimal:
    """A percentage of an amount, half up to so many decimals; nothing where no percentage is given."""
    return ZERO if percent is None else half_up(amount * percent / HUNDRED, digits)


def price_by_margin(cost: Decimal, percent: Decimal, digits: int = HUNDREDTHS) -> Decimal:
    """The price of which `percent` is profit, half up to so many decimals."""
    return half_up(cost / (1 - percent / HUNDRED), digits)


def price_by_markup(cost: Decimal, percent: Decimal, digits: int = HUNDREDTHS) -> Decimal:
    """The cost with `percent` of it on top, half up to so many decimals."""
    return cost + percent_of(cost, percent, digits)


def _direct(paid: Sequence[CostLine], terms: Quote, digits: int) -> Iterator[BuildLine]:
    for line in paid:
        yield BuildLine("paid", line.what, line.quantity, line.amount)
    labour = to_pay([line for line in paid if line.kind == "labour"])
    if labour:
        basis = _share(terms.burden_percent, "paid labour")
        yield BuildLine("burden", "burden on labour", basis, percent_of(labour, terms.burden_percent, digits))


def _contingency(base: Decimal, spread: Decimal, terms: Quote, digits: int) -> BuildLine:
    if terms.contingency_percent is not None:
        basis = _share(terms.contingency_percent, "direct cost and overhead")
        amount = percent_of(base, terms.contingency_percent, digits)
        return BuildLine("contingency", "contingency", basis, amount)
    basis = "from the low and high hours of the jobs: one standard deviation, all jobs together (ours)"
    return BuildLine("contingency", "contingency", basis, half_up(spread, digits))


def _profit(cost: Decimal, terms: Quote, digits: int) -> BuildLine:
    if terms.margin_percent is not None and terms.markup_percent is not None:
        raise ValueError("profit is a margin or a markup, not both")
    if terms.margin_percent is not None:
        amount = price_by_margin(cost, terms.margin_percent, digits) - cost
        return BuildLine("profit", "profit, as a margin", _share(terms.margin_percent, "the price"), amount)
    if terms.markup_percent is not None:
        amount = percent_of(cost, terms.markup_percent, digits)
        return BuildLine("profit", "profit, as a markup", _share(terms.markup_percent, "the cost"), amount)
    return BuildLine("profit", "profit", NOT_GIVEN, ZERO)


def _share(percent: Decimal | None, of: str) -> str:
    return NOT_GIVEN if percent is None else f"{_said(percent)} % of {of}"


def _said(percent: Decimal) -> str:
    return f"{percent.normalize():f}"
