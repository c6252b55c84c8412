"""Answers of the period model: level after level, each with its bound, and what they say of trees and pieces."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import field

from barkwright.record import dataclass
from barkwright.schedule.levels import AVOIDED, BARK, FLOWN, HOST, LATE, LIKED, MONEY, NAMES, REMOVALS, RENTAL, Stated
from barkwright.schedule.optimum.period import PeriodModel
from barkwright.schedule.optimum.program import Solver
from barkwright.schedule.optimum.supply import WAITING
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.watch import Watch

ORDER = (BARK, FLOWN, REMOVALS, AVOIDED, HOST, MONEY, LIKED, RENTAL, LATE)
LITTLE = 1e-6
CENTS = 0.05  # that the rounding of lines to cents may add to a budget [currency], as the checker allows


@dataclass(slots=True)
class Reading:
    """What the model says."""

    values: list[float]  # by column
    bounds: list[float | None] = field(default_factory=lambda: [None] * len(NAMES))
    reached: list[float | None] = field(default_factory=lambda: [None] * len(NAMES))
    proven: bool = True


def by_levels(period: PeriodModel, prices: Stated, watch: Watch, known: Sequence[float] = ()) -> Reading:
    """Solve level after level, each with those before it held at what they reached and its tolerance.

    known : by level, what all answers of the model reach and none betters; those levels are not solved.
    """
    solver = _solver(period)
    found = Reading([0.0] * solver.columns)
    for level in ORDER:
        costs, fixed = period.costs[level], period.fixed[level]
        if level < len(known):
            found.bounds[level] = found.reached[level] = known[level]
            continue
        if not any(costs):
            found.bounds[level] = found.reached[level] = fixed
            continue
        if watch.stop or level > RENTAL:
            break
        before = sum(cost * each for cost, each in zip(costs, found.values, strict=True) if cost)
        if any(found.values) and before <= LITTLE and min(costs) >= 0.0:
            found.bounds[level] = found.reached[level] = fixed  # what is there already costs nothing here
            solver.cap(costs, before + LITTLE)
            continue
        answer = solver.solve(costs, found.values if any(found.values) else None)
        found.values = answer.values
        found.proven &= answer.proven
        value = sum(cost * each for cost, each in zip(costs, answer.values, strict=True) if cost)
        found.bounds[level] = answer.bound + fixed
        found.reached[level] = value + fixed
        slack = LITTLE * max(1.0, abs(value))
        solver.cap(costs, value + slack + prices.of(level, value + fixed))
    if period.whole and not watch.stop and _later_than_need_be(period, found):
        _sooner(period, solver, found)
    return found


def _solver(period: PeriodModel) -> Solver:
    """The program in the solver, within the limits of effort and of the budget."""
    solver = Solver(period.program)
    solver.nodes(int(SETTINGS["solver_nodes"]))
    budget, paid = period.model.work.inventory.limits.budget, period.paid()
    if paid is not None and budget is not None:
        solver.cap(paid, float(budget) + CENTS)
    return solver


def _later_than_need_be(period: PeriodModel, found: Reading) -> bool:
    """Is a tree taken in a later season though it has an earlier one?"""
    return any(
        found.values[one.tree] > 0.5 and one.season.opens > min(each.opens for each in one.columns.seasons)
        for one in period.taken
    )


def _sooner(period: PeriodModel, solver: Solver, found: Reading) -> None:
    """Of all answers that cost the same, the one whose seasons and ways open first."""
    money = sum(cost * each for cost, each in zip(period.costs[MONEY], found.values, strict=True) if cost)
    solver.cap(period.costs[MONEY], money + LITTLE * max(1.0, abs(money)))
    found.values = solver.solve(period.costs[WAITING], found.values).values


def bound_beside(period: PeriodModel, level: int, values: Sequence[float], watch: Watch) -> float:
    """The least value of a level where the levels before it are no worse than a plan's own."""
    solver = _solver(period)
    for before in ORDER[: ORDER.index(level)]:
        costs = period.costs[before]
        if any(costs):
            most = values[before] - period.fixed[before]
            solver.cap(costs, most + LITTLE * max(1.0, abs(most)))
    return solver.solve(period.costs[level]).bound + period.fixed[level]
