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
    "published proxy": "published rate",
    "placeholder": "placeholder",
    "ours": "our figure",
}


def to_pay(lines: Sequence[CostLine]) -> Decimal:
    """What has to be paid; the worth of unpaid hours and of kept wood is no part of it."""
    return sum((line.amount for line in lines if line.paid), Decimal(0))


def is_estimate(lines: Sequence[CostLine]) -> bool:
    """Does anything that is paid rest on a published rate or a placeholder?"""
    return any(line.paid and line.basis in ("published proxy", "placeholder") for line in lines)


def unpriced(lines: Sequence[CostLine]) -> list[str]:
    """What has to be paid for, at a price that nobody has given yet."""
    return [
        line.what.partition(",")[0] for line in lines if line.paid and line.basis == "placeholder" and not line.amount
    ]


def costs(view: View) -> Section | None:
    """Amounts by kind, what is paid and what is only valued."""
    lines = sorted(view.plan.schedule.costs, key=lambda line: (not line.paid, KINDS.index(line.kind)))
    if not lines:
        return None
    rows = [_row(view, line) for line in lines if line.paid]
    rows.append(("to pay", "", "", money(to_pay(lines), view.currency), ""))
    head = ("Kind", "What", "How much", "Amount", "Whose figure")
    blocks: list[Table | Para] = [
        Table(head, tuple(rows), "lllrl", wrap=1) if rows[1:] else Para("Nothing has to be paid.")
    ]
    valued = [_valued(view, line) for line in lines if not line.paid]
    if valued:
        blocks.append(
            Para(f"Not paid, only valued so that hand work and machines can be compared: {'; '.join(valued)}.")
        )
    if unpriced(lines):
        blocks.append(Para("The sum is without what has no price yet."))
    if is_estimate(lines):
        blocks.append(
            Para(
                "This is an estimate, not an offer. A published rate is what a machine costs its owner, not a price; "
                "a placeholder is a number that nobody published: enter your own."
            )
        )
    budget = view.plan.inventory.limits.budget
    if budget is not None:
        blocks.append(Para(f"Your limit is {money(budget, view.currency)}."))
    return Section("Costs: an estimate" if is_estimate(lines) else "Costs", tuple(blocks))


def _row(view: View, line: CostLine) -> tuple[str, ...]:
    known = line.amount or line.basis != "placeholder"
    price = money(line.amount, view.currency) if known else "not known"
    return (
        NAMES[line.kind],
        view.units.sentence(line.what),
        view.units.sentence(line.quantity),
        price,
        BASIS[line.basis],
    )


def _valued(view: View, line: CostLine) -> str:
    say = view.units.sentence
    return f"{say(line.what)}, {say(line.quantity)}, {money(line.amount, view.currency)} ({BASIS[line.basis]})"
