"""Do the terms of a quotation hold together?"""

from __future__ import annotations

from barkwright.inventory.parts import Parts
from barkwright.inventory.report import Report


def check_quote(parts: Parts, report: Report) -> None:
    """Profit is a margin or a markup, each tax has a name of its own, nobody has inspected in the future."""
    quote = parts.quote
    if quote is None:
        return
    if quote.margin_percent is not None and quote.markup_percent is not None:
        message = "both margin_percent and markup_percent are given"
        hint = "keep one: markup_percent is a share of the cost, margin_percent a share of the price"
        report.error("margin-and-markup", ("quote", "markup_percent"), message, hint)
    names: set[str] = set()
    for number, tax in enumerate(quote.tax):
        if tax.name in names:
            at = ("quote", "tax", number, "name")
            report.error(
                "duplicate-name", at, f"tax '{tax.name}' is there twice", "delete one of them, or name them apart"
            )
        names.add(tax.name)
    if quote.inspected_on is not None and quote.inspected_on > parts.on:
        message = f"inspected_on {quote.inspected_on} is after {parts.on}, the day this is planned for"
        report.error("seen-in-future", ("quote", "inspected_on"), message, "correct the date")
