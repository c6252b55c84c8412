"""What the lines of a plan's costs come to."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal

from barkwright.costs.prices import PROXIES
from barkwright.schedule.jobs import CostLine
from barkwright.treatment.listing import listing

NAMED = 4  # so many trees are named; of more, their number


def to_pay(lines: Sequence[CostLine]) -> Decimal:
    """What has to be paid; the worth of unpaid hours and of kept wood is no part of it."""
    return sum((line.amount for line in lines if line.paid), Decimal(0))


def is_estimate(lines: Sequence[CostLine]) -> bool:
    """Does anything that is paid rest on a published or local rate or a placeholder?"""
    return any(line.paid and line.basis in (*PROXIES, "placeholder") for line in lines)


def unpriced(lines: Sequence[CostLine]) -> list[str]:
    """What has to be paid for, at a price that nobody has given yet."""
    return [
        line.what.partition(",")[0] for line in lines if line.paid and line.basis == "placeholder" and not line.amount
    ]


def price_names(names: Iterable[str]) -> str:
    """What has no price: tree service for 34 trees and 19 in chipper."""
    return listing(short_names(names))


def short_names(names: Iterable[str]) -> list[str]:
    """Names of cost lines, those of the same for many trees in one with their number."""
    groups: dict[str, list[str]] = {}
    for name in dict.fromkeys(names):
        what, _, tree = name.partition(" for ")
        groups.setdefault(what, []).append(tree)
    return [f"{what} for {_trees(trees)}" if trees[0] else what for what, trees in groups.items()]


def _trees(trees: list[str]) -> str:
    return listing(trees) if len(trees) <= NAMED else f"{len(trees)} trees"
