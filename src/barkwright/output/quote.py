"""The quotation: a sheet that one hands to a client, and the contractor's own sheet behind it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from barkwright.output.blocks import Page, Para, Section
from barkwright.output.quote_head import parties, why_estimate
from barkwright.output.quote_price import build_sheet, options, price
from barkwright.output.quote_scope import not_stopped, saw_logs, scope
from barkwright.output.quote_terms import acceptance, how, not_included, rests, terms
from barkwright.output.view import View
from barkwright.output.words import day

if TYPE_CHECKING:
    from barkwright.quote.quotation import Quotation

SECTIONS = (
    parties,
    why_estimate,
    price,
    options,
    scope,
    not_stopped,
    saw_logs,
    how,
    not_included,
    terms,
    rests,
    acceptance,
)
UNPAID = (
    "Nobody who works here is paid, and nothing is hired or bought. A quotation needs a crew with a `rate`, a machine "
    "with a rent or a cost per hour, or a tree service with a price."
)
NO_NEED = "Nothing needs doing against beetles on this site, so there is nothing to price."
NO_WORK = "No work is planned here, so there is nothing to price. The work order says why, and what would change it."


def quote_page(quote: Quotation, view: View, build_up: bool = False) -> Page:
    """The quotation or estimate as sections; with `build_up` the contractor's own sheet follows."""
    plan = quote.plan
    if quote.kind == "nothing":
        nothing = Section("Nothing to quote", (Para(_nothing(quote)),))
        return Page(f"No quotation: {plan.inventory.site.name}", f"Made on {day(plan.on)}.", (nothing,), view.small)
    sections = [section for make in SECTIONS if (section := make(quote, view)) is not None and section.blocks]
    if build_up:
        sections.append(build_sheet(quote, view))
    word = "Quotation" if quote.kind == "quotation" else "Estimate"
    number = plan.inventory.quote.number
    title = f"{word}{f' {number}' if number else ''}: {plan.inventory.site.name}"
    said = "" if quote.kind == "quotation" else " This is not an offer."
    return Page(title, f"Made on {day(plan.on)}.{said}", tuple(sections), view.small)


def _nothing(quote: Quotation) -> str:
    """Why there is no price: no work is needed, none is planned, or nobody is paid for it."""
    schedule = quote.plan.schedule
    if schedule.jobs:
        return UNPAID
    left = schedule.unmet or schedule.infested_left_ft2 > 0 or schedule.host_left_ft2 > 0
    return NO_WORK if left else NO_NEED
