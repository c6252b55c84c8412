"""What the plan costs, and on whose figures that rests."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import TYPE_CHECKING

from barkwright.output.blocks import Para, Section, Table
from barkwright.output.view import View
from barkwright.output.words import money

if TYPE_CHECKING:
    from barkwright.schedule.jobs import CostLine

KINDS = ("professional", "labour", "machine", "rental", "delivery", "disposal", "worth")
NAMES = {
    "professional": "tree service",
    "labour": "labour",
    "machine": "own machine",
    "rental": "rental",
    "delivery": "delivery",
    "disposal": "disposal",
    "worth": "worth",
}
BASIS = {
    "yours": "your figure",
    "published proxy": "published rate, not an offer",
    "placeholder": "placeholder: enter your own",
    "ours": "our figure",
}


def to_pay(lines: Sequence[CostLine]) -> Decimal:
    """What has to be paid; the worth of unpaid hours and of kept wood is no part of it."""
    return sum((line.amount for line in lines if line.paid), Decimal(0))


def is_estimate(lines: Sequence[CostLine]) -> bool:
    """Does any amount rest on something else than the user's own figures?"""
    return any(line.basis != "yours" for line in lines)


def costs(view: View) -> Section | None:
    """Amounts by kind, what is paid and what is only valued."""
    lines = sorted(view.plan.schedule.costs, key=lambda line: (not line.paid, KINDS.index(line.kind)))
    if not lines:
        return None
    say = view.units.sentence
    rows = [
        (NAMES[line.kind], say(line.what), say(line.quantity), money(line.amount, view.currency), BASIS[line.basis])
        for line in lines
        if line.paid
    ]
    rows.append(("to pay", "", "", money(to_pay(lines), view.currency), ""))
    blocks: list[Table | Para] = [
        Table(("Kind", "What", "How much", "Amount", "Whose figure"), tuple(rows), "lllrl", wrap=1)
    ]
    valued = [line for line in lines if not line.paid]
    if valued:
        blocks.append(Para("Not paid, only valued so that hand work and machines can be compared:"))
        rows = [
            (NAMES[line.kind], say(line.what), say(line.quantity), money(line.amount, view.currency), BASIS[line.basis])
            for line in valued
        ]
        blocks.append(Table(("Kind", "What", "How much", "Amount", "Whose figure"), tuple(rows), "lllrl", wrap=1))
    if is_estimate(lines):
        blocks.append(Para("This is an estimate, not an offer: it does not rest on your own figures alone."))
    budget = view.plan.inventory.limits.budget
    if budget is not None:
        blocks.append(Para(f"Your limit is {money(budget, view.currency)}."))
    return Section("Costs: an estimate" if is_estimate(lines) else "Costs", tuple(blocks))
