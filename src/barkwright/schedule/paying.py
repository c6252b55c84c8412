"""What the lines of a plan's costs come to."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from barkwright.schedule.jobs import CostLine


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
