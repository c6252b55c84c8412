"""What the plan costs, and on whose figures that rests."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from barkwright.output.blocks import Items, Para, Section, Table, plain
from barkwright.output.view import FROM_OPTIONS, View
from barkwright.output.words import hours, money
from barkwright.schedule.paying import is_estimate, price_names, to_pay, unpriced

if TYPE_CHECKING:
    from barkwright.schedule.jobs import CostLine

FEW = 2  # so many lines of cost need no table
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
    "local rate": "local rate",
    "placeholder": "placeholder",
    "ours": "our figure",
}


def costs(view: View) -> Section | None:
    """Amounts by kind, what is paid and what is only valued."""
    lines = sorted(view.plan.schedule.costs, key=lambda line: (not line.paid, KINDS.index(line.kind)))
    if not lines:
        return None
    paid = [line for line in lines if line.paid]
    blocks: list[Table | Para | Items] = [_paid(view, paid)]
    valued = [_valued(view, line) for line in lines if not line.paid]
    if valued:
        blocks.append(Para(f"Not paid, valued only to compare hand work with machines: {'; '.join(valued)}."))
    notes = [*_notes(view, paid), *_later(view)]
    budget = view.plan.inventory.limits.budget
    if budget is not None:
        notes.append(f"Your limit is {money(budget, view.currency)}.")
    if notes:
        blocks.append(Para(" ".join(notes)))
    return Section("Costs: an estimate" if is_estimate(lines) else "Costs", tuple(blocks))


def _paid(view: View, lines: Sequence[CostLine]) -> Table | Para | Items:
    """A table, or on a small site a line each."""
    if not lines:
        return Para("Nothing has to be paid.")
    rows = [_row(view, line) for line in _together(lines)]
    total = money(to_pay(lines), view.currency)
    if len(lines) <= FEW:
        said = [f"{what}, {much}: {price} ({whose})." for _, what, much, price, whose in rows]
        return plain([*said, f"To pay: {total}."] if len(lines) > len(unpriced(lines)) else said)
    head = ("Kind", "What", "How much", "Amount", "Whose figure")
    return Table(head, (*rows, ("to pay", "", "", total, "")), "lllrl", wrap=1)


def _together(lines: Sequence[CostLine]) -> list[CostLine]:
    """The lines, with all the trees that wait for a price of the same kind in one."""
    waiting = [line for line in lines if line.kind == "professional" and unpriced([line])]
    if len(waiting) <= FEW:
        return list(lines)
    one = replace(waiting[0], what=price_names(unpriced(waiting)), quantity=f"{len(waiting):,} trees")
    return [one, *(line for line in lines if line not in waiting)]


def _notes(view: View, paid: Sequence[CostLine]) -> Iterator[str]:
    """What the prices are and are not."""
    if is_estimate(paid):
        yield "This is an estimate, not an offer."
    if unpriced(paid):
        yield "What has no price yet is not in it: ask for one."
        removals = [view.trees[tree].removal for tree in view.felled]
        if any(one is not None and one.price is None for one in removals):  # what has none is asked about
            where = "with --removal" if view.made_from == FROM_OPTIONS else "under `removal` of the tree"
            yield f"Say what taking it down costs {where}."
    if any(line.basis == "published proxy" for line in paid):
        yield "A published rate is what a machine costs its owner, not a price."
    if any(line.basis == "local rate" for line in paid):
        yield "A local rate, from a file of yours, is what a machine costs its owner, not a price."
    if any(line.basis == "placeholder" and line.amount for line in paid):
        yield "A placeholder is a number that nobody published: enter your own."


def _later(view: View) -> Iterator[str]:
    """Work of the sheet that no line of cost counts: the look after the flight."""
    crews = {crew.name for crew in view.plan.inventory.crew}
    later = sum(job.hours for job in view.plan.schedule.jobs if job.work == "look again" and job.crew in crews)
    if later > 0:
        yield f"The look after the flight, {hours(later)}, is not in it."


def _row(view: View, line: CostLine) -> tuple[str, ...]:
    known = line.amount or line.basis != "placeholder"
    price = money(line.amount, view.currency) if known else "no price yet"
    return (
        NAMES[line.kind],
        view.units.sentence(line.what if known else line.what.partition(", no price")[0]),
        view.units.sentence(line.quantity),
        price,
        BASIS[line.basis],
    )


def _valued(view: View, line: CostLine) -> str:
    say = view.units.sentence
    return f"{say(line.what)}, {say(line.quantity)}, {money(line.amount, view.currency)} ({BASIS[line.basis]})"
