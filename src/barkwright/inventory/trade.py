"""The trade side of an inventory: for whom, by whom and on which terms; only what is filled in is ever printed."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Annotated

from barkwright.inventory.measure import Bounds
from barkwright.inventory.part import Record


class Client(Record):
    """For whom the work is done."""

    name: str | None = None
    address: str | None = None
    phone: str | None = None
    email: str | None = None


class Insurance(Record):
    """What the contractor is insured for, in his own words."""

    liability: str | None = None
    workers_compensation: str | None = None


class Contractor(Record):
    """Who does the work, in his own words; nothing of it is checked or assumed."""

    name: str | None = None
    address: str | None = None
    phone: str | None = None
    email: str | None = None
    licence: str | None = None
    insurance: Insurance = Insurance()
    standards: tuple[str, ...] = ()
    inspected_by: str | None = None
    credential: str | None = None


class Tax(Record):
    """One tax on the price."""

    name: str
    percent: Annotated[Decimal, Bounds(0, 100, "%")]


class PricedOption(Record):
    """Work that the client may order beside the rest."""

    what: str
    price: Annotated[Decimal, Bounds(0, 1000000)]


class Quote(Record):
    """Terms and build-up of a quotation. What is left out counts as nothing, and the build-up says so."""

    number: str | None = None
    inspected_on: date | None = None
    valid_days: Annotated[int | None, Bounds(1, 365, "days")] = None
    burden_percent: Annotated[Decimal | None, Bounds(0, 300, "%")] = None
    overhead_percent: Annotated[Decimal | None, Bounds(0, 500, "%")] = None
    contingency_percent: Annotated[Decimal | None, Bounds(0, 200, "%")] = None
    margin_percent: Annotated[Decimal | None, Bounds(0, 99, "%")] = None
    markup_percent: Annotated[Decimal | None, Bounds(0, 1000, "%")] = None
    deposit_percent: Annotated[Decimal | None, Bounds(0, 100, "%")] = None
    payment_due_days: Annotated[int | None, Bounds(0, 365, "days")] = None
    tax: tuple[Tax, ...] = ()
    access: str | None = None
    parking: str | None = None
    protect: tuple[str, ...] = ()
    debris: str | None = None
    permits_by: str | None = None
    options: tuple[PricedOption, ...] = ()
    exclusions: tuple[str, ...] = ()
    terms: tuple[str, ...] = ()
