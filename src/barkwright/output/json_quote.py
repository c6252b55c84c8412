"""The quotation as plain data."""

from __future__ import annotations

from typing_extensions import TypedDict

from barkwright.output.json_results import SiteRecord
from barkwright.output.json_types import Iso, Money, QuestionRecord


class ContactRecord(TypedDict):
    """A client or a contractor as filled in; null is not filled in."""

    name: str | None
    address: str | None
    phone: str | None
    email: str | None


class ContractorRecord(ContactRecord):
    """The contractor, in his own words."""

    licence: str | None
    liability: str | None
    workers_compensation: str | None
    standards: list[str]
    inspected_by: str | None
    credential: str | None


class ShortfallRecord(TypedDict):
    """One thing that keeps the sheet from being a quotation."""

    code: str
    text: str
    how: str


class PriceLineRecord(TypedDict):
    """One line of the price before tax; they add up to it."""

    part: str
    tree: str | None
    what: str
    amount: Money
    unpriced: bool  # taking the tree down has no price yet


class BuildLineRecord(TypedDict):
    """One amount of the build-up."""

    kind: str
    name: str
    basis: str
    amount: Money


class BuildUpRecord(TypedDict):
    """How the price comes about; not for the client."""

    lines: list[BuildLineRecord]
    direct: Money
    cost: Money


class OptionRecord(TypedDict):
    """Work that may be ordered beside the rest, before tax."""

    what: str
    price: Money


class LookRecord(TypedDict):
    """The look after the flight, which may be ordered beside the rest; before tax."""

    first: Iso
    last: Iso
    hours: float
    price: Money


class AlternativeRecord(TypedDict):
    """The work with one thing changed; prices are null where no plan came of it."""

    phrase: str
    title: str
    price: Money | None
    total: Money | None
    estimate: bool
    infested_left_ft2: float | None
    last: Iso | None
    assumed: list[str]


class SawLogRecord(TypedDict):
    """A log kept for sawing; Scribner is null outside of its table."""

    piece: str
    small_end_dib_in: float
    length_ft: float
    international_quarter_inch_bf: int
    scribner_decimal_c_bf: int | None


class OfferedRecord(TypedDict):
    """Pieces of one tree to which the same thing is done."""

    pieces: list[str]
    what: str
    work: bool
    finish_by: Iso | None
    planned: Iso | None
    then: str


class OfferedTreeRecord(TypedDict):
    """One tree of the offer."""

    tree: str
    needs_inspection: bool
    dbh_in: float | None
    height_ft: float | None
    height_estimated: bool
    felled: bool
    look_on: str | None
    stump_ft: float | None
    line_ft: float | None
    boundary_ft: float | None
    offered: list[OfferedRecord]
    saw_logs: list[SawLogRecord]
    not_stopped: list[str]


class ClauseRecord(TypedDict):
    """A clause that belongs to this work."""

    id: str
    group: str
    text: str
    basis: str


class QuoteResult(TypedDict):
    """Result of `quote`. `kind` is quotation, estimate or nothing; money is before tax unless it says otherwise."""

    site: SiteRecord
    currency: str
    local: list[str]
    kind: str
    number: str | None
    shortfalls: list[ShortfallRecord]
    questions: list[QuestionRecord]
    client: ContactRecord
    contractor: ContractorRecord
    inspected_on: Iso | None
    valid_until: Iso
    work_from: Iso | None
    work_to: Iso | None
    lines: list[PriceLineRecord]
    price: Money
    at_least: bool  # part of the work has no price yet
    taxes: list[BuildLineRecord]
    total: Money
    deposit: Money
    balance: Money
    build_up: BuildUpRecord
    options: list[OptionRecord]
    look_again: LookRecord | None
    alternatives: list[AlternativeRecord]
    trees: list[OfferedTreeRecord]
    clauses: list[ClauseRecord]
    exclusions: list[str]
    terms: list[str]
