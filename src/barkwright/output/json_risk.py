"""How sure the plan is, as plain data."""

from __future__ import annotations

from typing_extensions import TypedDict


class FlightRiskRecord(TypedDict):
    """The work that must be done before one flight; `spare_days` below 0: so many days sooner it would have to be."""

    year: int
    probability: float
    finish: str | None
    spare_days: int | None
    years: int


class TreeRiskRecord(TypedDict):
    """One tree: how likely all that the plan means to stop in it is stopped in time."""

    tree: str
    probability: float


class ProbabilityRangeRecord(TypedDict):
    """Where the probability may lie, so few years being on record."""

    low: float
    high: float
    level: float


class PaceRecord(TypedDict):
    """Fastest and slowest pace of the whole job, times the hours of the plan."""

    low: float
    high: float


class RiskRecord(TypedDict):
    """How likely the plan's work is done before the flights; what the plan leaves anyway is not in it.

    `finish` of a flight is the day by which `finish_share` of the draws have ended, `spare_days` the days by which
    all might come later and `sure_share` of them still be in time. `years` 0: the one date of a calendar.
    """

    probability: float
    range: ProbabilityRangeRecord | None
    flights: list[FlightRiskRecord]
    trees: list[TreeRiskRecord]
    finish_share: float
    sure_share: float
    infested_left_ft2: float
    years: int
    weather: bool
    pace: PaceRecord
    draws: int
    seed: int
