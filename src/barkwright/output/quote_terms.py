"""The words of a quotation: how the work is done, what is not in it, terms, what it rests on, and who signs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from barkwright.output.blocks import Facts, Items, Para, Section, plain
from barkwright.output.names import tree_names
from barkwright.output.own_words import plan_lines
from barkwright.output.view import View
from barkwright.output.words import day, listing

if TYPE_CHECKING:
    from barkwright.quote.quotation import Quotation
    from barkwright.quote.terms import Group

GAP = "_" * 28
DATE = "_" * 14


def how(quote: Quotation, view: View) -> Section:
    """Access, protection, debris, permits, and the clauses about the work."""
    terms = view.plan.inventory.quote
    pairs = [
        (label, text)
        for label, text in (
            ("Access", terms.access),
            ("Parking", terms.parking),
            ("Protected", listing(list(terms.protect)) if terms.protect else None),
            ("Debris", terms.debris),
            ("Permits", f"got and paid by {terms.permits_by}" if terms.permits_by else None),
        )
        if text
    ]
    pairs += [("Arranged", f"{call.what}{_for(call.trees)}, {day(call.on)}") for call in view.plan.inventory.calls]
    return Section("How the work is done", (*([Facts(tuple(pairs))] if pairs else []), _clauses(quote, view, "work")))


def not_included(quote: Quotation, view: View) -> Section | None:
    """What is not in the price: as the contractor says, and hidden conditions."""
    own = [*view.plan.inventory.quote.exclusions, *_texts(quote, view, "out")]
    return Section("Not in the price", (plain([_capital(text) for text in own]),)) if own else None


def terms(quote: Quotation, view: View) -> Section:
    """The terms that belong to this work, and the contractor's own."""
    own = [*_texts(quote, view, "terms"), *view.plan.inventory.quote.terms]
    return Section("Terms", (plain([_capital(text) for text in own]),))


def rests(quote: Quotation, view: View) -> Section:
    """What the quantities behind the price are: measured, estimated or reckoned."""
    lines = [*_texts(quote, view, "rests"), *map(view.units.sentence, plan_lines(view))]
    return Section("What the quantities rest on", (plain(lines),))


def acceptance(quote: Quotation, view: View) -> Section | None:
    """Lines to sign, on a quotation alone."""
    if quote.kind != "quotation":
        return None
    inventory = quote.plan.inventory
    ticked = ", with the options ticked above" if inventory.quote.options or quote.look is not None else ""
    lead = Para(f"The client accepts this quotation{ticked}.")
    sign = f"{GAP}  date {DATE}"
    names = (("Client", inventory.client.name or ""), ("Contractor", inventory.contractor.name or ""))
    signs = tuple(pair for name in names for pair in (name, ("Signed", sign)))
    return Section("Accepted", (lead, Facts(signs)))


def _for(trees: Sequence[str]) -> str:
    return f" for {tree_names(trees)}" if trees else ""


def _clauses(quote: Quotation, view: View, group: Group) -> Items:
    return plain(list(_texts(quote, view, group)))


def _texts(quote: Quotation, view: View, group: Group) -> Iterator[str]:
    return (view.units.sentence(clause.text) for clause in quote.clauses if clause.group == group)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
