"""What the client pays, what may be ordered beside it, and, for the contractor alone, how the price comes about."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import TYPE_CHECKING

from barkwright.costs.currency import decimals
from barkwright.output.blocks import Items, Para, Section, Table
from barkwright.output.view import View
from barkwright.output.words import day, exact_money, hours, listing, money, number, span

if TYPE_CHECKING:
    from barkwright.quote.lines import PriceLine
    from barkwright.quote.quotation import Alternative, Quotation


def price(quote: Quotation, view: View) -> Section:
    """Line by line, then tax, total, deposit and balance."""
    built, terms = quote.built, view.plan.inventory.quote
    if not built.price:
        return Section("Price", (Para("There is no price yet."),))
    least = ", AT LEAST" if quote.at_least else ""
    rows = [(_what(view, line), _amount(view, line)) for line in quote.lines]
    rows.append(("PRICE" + (" before tax" if built.taxes else "") + least, _figure(view, built.price)))
    rows += [(f"{tax.name}, {tax.basis}", _figure(view, tax.amount)) for tax in built.taxes]
    if built.taxes:
        rows.append((f"TOTAL with tax{least}", _figure(view, built.total)))
    if built.deposit.amount and quote.kind == "quotation":
        rows.append((f"deposit on acceptance, {built.deposit.basis}", _figure(view, built.deposit.amount)))
        rows.append(("balance", _figure(view, built.balance)))
    head = ("What", f"{'Amount' if quote.kind == 'quotation' else 'Estimate'}\n{view.currency}")
    notes = ["* Without taking it down: that has no price yet."] if any(line.unpriced for line in quote.lines) else []
    notes += ["Each line holds its share of all that the price covers."] if len(quote.lines) > 1 else []
    notes += [] if terms.tax else ["Tax: none is named here."]
    return Section("Price", (Table(head, tuple(rows), "lr", wrap=0), *map(Para, notes)))


def options(quote: Quotation, view: View) -> Section | None:
    """Work to be ordered beside the rest, and the same work with one thing changed; neither is in the price."""
    rows = [(one.what, _figure(view, one.price)) for one in view.plan.inventory.quote.options]
    if quote.look is not None:
        job = quote.look.job
        what = f"look again after the flight, {span(job.first, job.last)}, about {hours(job.hours)} of work"
        rows.append((what, _figure(view, quote.look.price)))
    blocks: list[Table | Items | Para] = []
    if rows:
        tick = "; tick what you order" if quote.kind == "quotation" else ""
        blocks.append(Para(f"Not in the price above{tick}. Before tax."))
        head = ("", "What", f"Amount\n{view.currency}")
        blocks.append(Table(head, tuple(("[ ]", *row) for row in rows), "llr", wrap=1))
    if quote.alternatives:
        blocks.append(Para("Instead of the price above, with one thing changed:"))
        blocks.append(Items(tuple(_alternative(quote, view, one) for one in quote.alternatives)))
    return Section("Options, priced apart", tuple(blocks)) if blocks else None


def build_sheet(quote: Quotation, view: View) -> Section:
    """Every line of the build-up, for the contractor."""
    built = quote.built
    say = view.units.sentence
    rows = [(say(line.name), say(line.basis), _figure(view, line.amount)) for line in built.direct_lines]
    rows.append(("DIRECT COST", "the work order's lines to pay, and burden", _figure(view, built.direct)))
    rows += [(line.name, line.basis, _figure(view, line.amount)) for line in (built.overhead, built.contingency)]
    rows.append(("COST", "", _figure(view, built.cost)))
    rows.append((built.profit.name, built.profit.basis, _figure(view, built.profit.amount)))
    rows.append(("PRICE", "before tax", _figure(view, built.price)))
    rows += [(f"tax: {line.name}", line.basis, _figure(view, line.amount)) for line in built.taxes]
    if not built.taxes:
        rows.append(("tax", "not given, so nothing", _figure(view, Decimal(0))))
    rows.append(("TOTAL", "", _figure(view, built.total)))
    rows.append((built.deposit.name, built.deposit.basis, _figure(view, built.deposit.amount)))
    rows.append(("balance", "", _figure(view, built.balance)))
    head = ("What", "How", f"Amount\n{view.currency}")
    return Section("Build-up: the contractor's own sheet, not for the client", (Table(head, tuple(rows), "llr"),))


def _amount(view: View, line: PriceLine) -> str:
    if not line.unpriced:
        return _figure(view, line.amount)
    return f"* {_figure(view, line.amount)}" if line.amount else "*"


def _what(view: View, line: PriceLine) -> str:
    tree = None if line.tree is None else view.trees.get(line.tree)
    return line.what if tree is None or not tree.where else f"{line.what}, {tree.where}"


def _alternative(quote: Quotation, view: View, one: Alternative) -> tuple[str, tuple[str, ...]]:
    name = view.units.sentence(one.title)
    if one.price is None or one.total is None:
        return f"{name}: no plan came of it.", ()
    more = one.price - quote.built.price
    than = "the same" if not more else f"{money(abs(more), view.currency)} {'more' if more > 0 else 'less'}"
    said = f"{name}: {exact_money(one.price, view.currency)} before tax, {than}"
    if quote.built.taxes:
        said += f"; {exact_money(one.total, view.currency)} with tax"
    return f"{said}.", tuple(_differs(view, one))


def _differs(view: View, one: Alternative) -> Iterator[str]:
    parts = []
    if one.left_ft2 is not None:
        left = view.units.square_feet(one.left_ft2) if one.left_ft2 > 0 else "no"
        parts.append(f"{left} infested bark is left when the beetles fly")
    if one.last is not None:
        parts.append(f"the last day of work is {day(one.last)}")
    if parts:
        said = listing(parts)
        yield f"{said[0].upper()}{said[1:]}."
    if one.estimate:
        yield "An estimate: it rests on figures that are not the contractor's own."
    if one.assumed:
        yield view.units.sentence(" ".join(one.assumed))


def _figure(view: View, amount: Decimal) -> str:
    return number(amount, decimals(view.currency))
