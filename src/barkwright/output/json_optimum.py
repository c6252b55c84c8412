"""How good the plan is and how that is known, as plain data."""

from __future__ import annotations

from typing_extensions import TypedDict


class LevelRecord(TypedDict):
    """One of the things that plans are compared by, in their order; `gap` in the unit of the level."""

    name: str
    unit: str
    value: float
    bound: float | None
    gap: float | None
    tolerance: float


class OptimumRecord(TypedDict):
    """How the ways and days were chosen, and what that proves."""

    by: str
    levels: list[LevelRecord]
    stopped: str
    solver: str | None
