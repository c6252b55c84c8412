"""What an hour, a machine, a load and a cord are worth here: the user's own figures first, then a named proxy."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Literal, NamedTuple

from barkwright.costs.currency import decimals
from barkwright.costs.proxies import RateTable, rate_table
from barkwright.costs.tariff import cover, defaults, rentable
from barkwright.diagnostics import Diagnostic
from barkwright.inventory.model import Crew, Destination, Equipment, Inventory
from barkwright.treatment.hauling import loads
from barkwright.treatment.rates import rate_book
from barkwright.treatment.ways import Yields
from barkwright.units import half_up

Basis = Literal["yours", "published proxy", "local rate", "placeholder", "ours"]
PROXIES = ("published proxy", "local rate")
ZERO = Decimal(0)


class Money(NamedTuple):
    """An amount, where it comes from, and whether it leaves the purse."""

    amount: Decimal
    basis: Basis
    paid: bool
    text: str  # what the amount is, in words: "3.5 h at 24.04, published rate for a brush chipper 9 in"


class Prices:
    """Prices of one site. Amounts are exact decimals in its currency; printing rounds, half up to cents."""

    def __init__(self, inventory: Inventory) -> None:
        self.inventory = inventory

    @property
    def rates(self) -> RateTable:
        """The machine rates that stand in for prices."""
        return rate_table(self.inventory.local)

    def _each(self, amount: Decimal) -> str:
        """A price for one of something, in the user's currency."""
        whole = amount == amount.to_integral_value()
        return f"{self.inventory.currency} {half_up(amount, self.decimals if whole else 2):,}"

    @property
    def decimals(self) -> int:
        """Decimals of an amount in the user's currency."""
        return decimals(self.inventory.currency)

    def labour(self, crew: Crew, person_hours: float) -> tuple[Decimal, bool]:
        """What hours of a crew cost, and whether they are paid; unpaid hands count at their worth."""
        money = self.labour_money(crew, person_hours)
        return money.amount, money.paid

    def labour_money(self, crew: Crew, person_hours: float) -> Money:
        """As `labour`, with its basis. A crew with neither rate nor `unpaid` counts at the assumed worth, as paid."""
        hours = Decimal(str(person_hours))
        if crew.rate is not None and not crew.unpaid:
            return Money(crew.rate * hours, "yours", True, f"at {self._each(crew.rate)} an hour")
        worth, basis = crew.worth, "yours"
        if worth is None:
            worth, basis = defaults().unpaid_worth.value, "ours"
        what = "unpaid, counted" if crew.unpaid else "no rate given, counted"
        return Money(
            worth * hours,
            "yours" if basis == "yours" else "ours",
            not crew.unpaid,
            f"{what} at {self._each(worth)} an hour",
        )

    def machine(self, machine: Equipment, hours: float) -> Money:
        """What running a machine costs beside its rent: the user's cost per hour, else a proxy where no price is given.

        An owned machine costs nothing unless `cost_per_hour`; a rented one with a rent costs its rent alone.
        """
        if machine.cost_per_hour is not None:
            return Money(
                machine.cost_per_hour * Decimal(str(hours)),
                "yours",
                True,
                f"at {self._each(machine.cost_per_hour)} an hour",
            )
        if machine.owned or rentable(machine):
            return Money(ZERO, "yours", True, "owned" if machine.owned else "in the rent")
        rate = self.rates.proxy(machine.kind, machine.working_capacity or machine.capacity)
        if rate is None:
            return Money(ZERO, "placeholder", True, f"no price given for the {machine.kind}: enter your own")
        whose = "local" if rate.local else "published"
        return Money(
            rate.per_hour * Decimal(str(hours)),
            "local rate" if rate.local else "published proxy",
            True,
            f"at {rate.per_hour} an hour, the {whose} {rate.year} rate of a {rate.label}",
        )

    def hourly(self, machine: Equipment, hours_per_day: float = 8.0) -> Decimal:
        """An hour of a machine as a plan weighs it: cost per hour, or the day's rent over its hours, or the proxy."""
        running = self.machine(machine, 1.0).amount
        if not machine.owned and rentable(machine) and hours_per_day > 0:
            running += cover(machine, 1).rents / machine.count / Decimal(str(hours_per_day))
        return running

    def removal(self, price: Decimal | None) -> Money:
        """A professional's price for taking a tree down: as entered, never estimated."""
        if price is None:
            return Money(ZERO, "placeholder", True, "no price yet: ask for one")
        return Money(price, "yours", True, "as quoted")

    def disposal(self, place: Destination | None, loads: int) -> Money:
        """Fees of a destination for a number of loads."""
        if place is None or place.fee_per_load is None:
            return Money(ZERO, "placeholder", True, "no fee given")
        return Money(place.fee_per_load * loads, "yours", True, f"{loads} at {self._each(place.fee_per_load)} a load")

    def haul_fee(self, place: Destination | None, machine: Equipment | None, pounds: float) -> Money:
        """Fees for hauling a weight [lb] to a destination, a fee a load; the payload is a placeholder if not given."""
        payload = None if machine is None else machine.working_capacity or machine.capacity
        size = payload if payload and machine is not None and machine.kind != "chip-truck" else None
        trips = loads(pounds, size or rate_book(self.inventory.local).value("truck-payload"))
        found = self.disposal(place, trips)
        return found if size or found.basis == "placeholder" else found._replace(basis="placeholder")

    def load_fee(self, place: Destination, machine: Equipment | None) -> tuple[float, float]:
        """Fee of one load [currency] and what a load weighs [lb], as `haul_fee` counts them."""
        payload = None if machine is None else machine.working_capacity or machine.capacity
        size = payload if payload and machine is not None and machine.kind != "chip-truck" else None
        return float(place.fee_per_load or ZERO), size or rate_book(self.inventory.local).value("truck-payload")

    def worth(self, yields: Yields) -> Decimal:
        """What the wood is worth, only where the user says so: fuel per cord, saw logs per 1000 bf, chips per yd3."""
        own = self.inventory.worth
        parts = (
            (own.firewood_per_cord, yields.cords),
            (own.sawlogs_per_thousand_bf, yields.sawlog_bf / 1000),
            (own.chips_per_yd3, yields.chips_yd3),
        )
        return sum((price * Decimal(str(amount)) for price, amount in parts if price is not None), ZERO)

    def notes(self, on: date) -> tuple[Diagnostic, ...]:
        """Warnings about prices: machine rates that are old, or in another currency."""
        used = {
            (rate.local, rate.year, rate.currency)
            for each in self.inventory.equipment
            if self.machine(each, 1.0).basis in PROXIES
            and (rate := self.rates.proxy(each.kind, each.working_capacity or each.capacity)) is not None
        }
        found: dict[str, None] = {}
        for local, year, currency in sorted(used):
            whose = "local" if local else "published"
            if on.year - year > int(defaults().old_after_years.value):
                found[f"the {whose} machine rates are of {year}"] = None
            if self.inventory.currency != currency:
                text = f"the {whose} machine rates are in {currency}, the site counts in {self.inventory.currency}"
                found[text] = None
        hint = "give your own rents or costs per hour"
        return tuple(Diagnostic("warning", "outside-range", text, subject="site", hint=hint) for text in found)
