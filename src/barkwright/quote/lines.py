"""The client's price, line by line: each tree, hired machines, fees, and what belongs to no tree."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import ROUND_FLOOR, Decimal
from typing import Literal

from barkwright.costs.currency import least_amount
from barkwright.quote.buildup import BuildUp
from barkwright.quote.direct import job_cost, rates_of
from barkwright.record import dataclass
from barkwright.schedule.jobs import Schedule
from barkwright.schedule.paying import to_pay
from barkwright.schedule.sitework import SiteWork

ZERO, CENT = Decimal(0), Decimal("0.01")

Part = Literal["tree", "machines", "fees", "site"]
NAMES = {
    "machines": "machines: hire and delivery",
    "fees": "fees at the places where wood goes",
    "site": "visits and other work on the site",
}


@dataclass(frozen=True, slots=True)
class PriceLine:
    """One line of the price before tax."""

    part: Part
    tree: str | None
    what: str
    amount: Decimal  # as it is counted in the currency
    unpriced: bool = False  # taking the tree down has no price yet and is not in the amount


def price_lines(work: SiteWork, schedule: Schedule, built: BuildUp) -> tuple[PriceLine, ...]:
    """The price shared out by direct cost, overhead and all; the lines add up to the price exactly."""
    unpriced = _unpriced(work, schedule)
    shares = _shares(work, schedule, unpriced)
    least = least_amount(work.inventory.currency)
    amounts = shared_out(built.price, [share for _, _, _, share in shares], least)
    rows = zip(shares, amounts, strict=True)
    return tuple(PriceLine(part, tree, what, amount, tree in unpriced) for (part, tree, what, _), amount in rows)


def shared_out(total: Decimal, weights: Sequence[Decimal], least: Decimal = CENT) -> tuple[Decimal, ...]:
    """A total in whole cents shared out by weights: floors first, the cents left over by largest remainder.

    least : what is shared out in the place of cents where the currency has none
    Error: ValueError for a total without any weight to carry it.
    """
    whole = sum(weights, ZERO)
    if whole <= 0:
        if total:
            raise ValueError("nothing carries the total")
        return tuple(ZERO for _ in weights)
    exact = [total * weight / whole for weight in weights]
    floors = [each.quantize(least, rounding=ROUND_FLOOR) for each in exact]
    left = int((total - sum(floors, ZERO)) / least)
    first = sorted(range(len(exact)), key=lambda place: (floors[place] - exact[place], place))
    more = set(first[:left])
    return tuple(floor + least if place in more else floor for place, floor in enumerate(floors))


def _unpriced(work: SiteWork, schedule: Schedule) -> frozenset[str | None]:
    """Trees whose taking down nobody has priced: one from outside without a price, an own crew without its hours."""
    own, trees = {crew.name for crew in work.inventory.crew}, {tree.id: tree for tree in work.inventory.trees}
    found: set[str | None] = set()
    for job in schedule.jobs:
        if job.work != "fell" or job.tree not in trees:
            continue
        removal = trees[job.tree].removal
        if job.hours <= 0 if job.crew in own else removal is None or removal.price is None:
            found.add(job.tree)
    return frozenset(found)


def _shares(
    work: SiteWork, schedule: Schedule, unpriced: frozenset[str | None]
) -> list[tuple[Part, str | None, str, Decimal]]:
    """What each line costs directly; lines without any cost are left out, but for trees that lack a price."""
    rates, paid = rates_of(work), [line for line in schedule.costs if line.paid]
    trees = {tree.id: ZERO for tree in work.inventory.trees}
    own = {crew.name for crew in work.inventory.crew}
    for job in schedule.jobs:
        if job.tree in trees:
            trees[job.tree] += job_cost(job, rates)
    for tree in work.inventory.trees:
        called = any(job.tree == tree.id and job.work == "fell" and job.crew not in own for job in schedule.jobs)
        if called and tree.removal is not None and tree.removal.price is not None:
            trees[tree.id] += tree.removal.price
    hire = to_pay([line for line in paid if line.kind in ("rental", "delivery")])
    fees = to_pay([line for line in paid if line.kind == "disposal"])
    site = sum((job_cost(job, rates) for job in schedule.jobs if job.tree not in trees), ZERO)
    if hire + fees + site + sum(trees.values(), ZERO) <= 0:
        site = to_pay(paid)  # too little on each tree to be told apart
    rows: list[tuple[Part, str | None, str, Decimal]] = [
        ("tree", tree.id, f"{'stump' if tree.status == 'stump' else 'tree'} {tree.id}", trees[tree.id])
        for tree in work.inventory.trees
    ]
    rows += [("machines", None, NAMES["machines"], hire), ("fees", None, NAMES["fees"], fees)]
    rows.append(("site", None, NAMES["site"], site))
    return [row for row in rows if row[3] > 0 or row[1] in unpriced]
