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
NOTHING = (
    "Nobody who works here is paid, and nothing is hired or bought. A quotation needs a crew with a `rate`, a machine "
    "with a rent or a cost per hour, or a tree service with a price."
)


def quote_page(quote: Quotation, view: View, build_up: bool = False) -> Page:
    """The quotation or estimate as sections; with `build_up` the contractor's own sheet follows."""
    plan = quote.plan
    if quote.kind == "nothing":
        nothing = Section("Nothing to quote", (Para(NOTHING),))
        return Page(f"No quotation: {plan.inventory.site.name}", f"Made on {day(plan.on)}.", (nothing,), view.small)
    sections = [section for make in SECTIONS if (section := make(quote, view)) is not None and section.blocks]
    if build_up:
        sections.append(build_sheet(quote, view))
    word = "Quotation" if quote.kind == "quotation" else "Estimate"
    number = plan.inventory.quote.number
    title = f"{word}{f' {number}' if number else ''}: {plan.inventory.site.name}"
    said = "" if quote.kind == "quotation" else " This is not an offer."
    return Page(title, f"Made on {day(plan.on)}.{said}", tuple(sections), view.small)
