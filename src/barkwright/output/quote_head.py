"""The head of a quotation: who offers what to whom, and what keeps an estimate from being a quotation."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from barkwright.output.blocks import Facts, Items, Para, Section, plain
from barkwright.output.names import tree_names
from barkwright.output.needs import COVERS
from barkwright.output.quote_dates import dated
from barkwright.output.view import View
from barkwright.output.words import day, listing, span

if TYPE_CHECKING:
    from barkwright.output.asking import Asked
    from barkwright.quote.quotation import Quotation


def parties(quote: Quotation, view: View) -> Section | None:
    """Who works for whom, where and when; only what was filled in."""
    facts = tuple(_parties(quote, view))
    return Section("Who and when", (Facts(facts),)) if facts else None


def _parties(quote: Quotation, view: View) -> Iterator[tuple[str, str]]:
    inventory = quote.plan.inventory
    client, contractor, terms = inventory.client, inventory.contractor, inventory.quote
    for label, one in (("For", client), ("By", contractor)):
        said = _joined((one.name, one.address, one.phone, one.email))
        if said:
            yield label, said
    if contractor.licence:
        yield "Licence", contractor.licence
    cover = contractor.insurance
    insured = [
        f"{name}: {text}"
        for name, text in (("liability", cover.liability), ("workers' compensation", cover.workers_compensation))
        if text
    ]
    if insured:
        yield "Insurance", "; ".join(insured)
    if contractor.standards:
        yield "Standards", listing(list(contractor.standards))
    looked = _joined((contractor.inspected_by, contractor.credential))
    when = f"on {day(terms.inspected_on)}" if terms.inspected_on else ""
    by = f"by {looked}" if looked else ""
    if when or by:
        yield "Inspected", " ".join(part for part in (when, by) if part)
    if quote.window is not None:
        people = listing([f"{name} ({count} {'person' if count == 1 else 'people'})" for name, count in quote.crews])
        yield "Work", f"planned for {span(*quote.window)}" + (f", by {people}." if people else ".")
    yield from dated(view)
    if quote.kind == "quotation":
        yield "Valid until", f"{day(quote.valid_until)}."


def why_estimate(quote: Quotation, view: View) -> Section | None:
    """Each reason with the way to mend it, and the questions that are open."""
    if not quote.shortfalls:
        return None
    same: dict[str, list[str]] = {}
    for one in quote.shortfalls:
        same.setdefault(one.how, []).append(view.units.sentence(one.text))
    entries = tuple((" ".join(texts), (f"To mend it: {how}",)) for how, texts in same.items())
    blocks: list[Items | Para] = [Items(entries)]
    asked = [one for one in view.asked if one.code in quote.open or COVERS.get(one.code) in quote.open]
    if asked:
        blocks.append(Para("Open questions (the work order says how to find out):"))
        blocks.append(plain([_asked(view, one) for one in asked]))
    return Section("Why this is an estimate and not a quotation", tuple(blocks))


def _asked(view: View, asked: Asked) -> str:
    names = tree_names(asked.subjects)
    lead = "" if asked.subjects == ("site",) or names in asked.text else f"{names}: "
    return lead + view.units.sentence(asked.text)


def _joined(parts: Iterable[str | None]) -> str:
    return ", ".join(part.strip() for part in parts if part and part.strip())
