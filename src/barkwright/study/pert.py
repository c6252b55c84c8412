"""Task times from three estimates, and what follows for their sums in closed form."""

from __future__ import annotations

import math
from collections.abc import Sequence

Estimate = tuple[float, float, float]  # low, likely, high


def pert_mean(low: float, likely: float, high: float) -> float:
    """Mean of a task time that is beta-PERT distributed.

    low, likely, high : float    Optimistic, most likely and pessimistic time: a, m, b. [any]
    Returns the mean, in the same unit.
    Valid: low <= likely <= high.  Error: none published.
    Source: [malcolm1959] expected time of an activity.
    """
    return (low + 4.0 * likely + high) / 6.0


def textbook_variance(low: float, high: float) -> float:
    """Variance of a task time as textbooks take it: the range is six standard deviations.

    low, high : float    Optimistic and pessimistic time: a, b. [any]
    Returns the variance, in the unit squared.
    Valid: low <= high.  Error: 4 for the times 2, 5 and 14, whose distribution has 4.571.
    Source: [malcolm1959] variance of an activity.
    """
    return ((high - low) / 6.0) ** 2


def pert_variance(low: float, likely: float, high: float) -> float:
    """Variance of the distribution that is drawn from: a beta with shapes 1 + 4(m-a)/(b-a) and 1 + 4(b-m)/(b-a).

    low, likely, high : float    Optimistic, most likely and pessimistic time: a, m, b. [any]
    Returns the variance, in the unit squared.
    Valid: low <= likely <= high.  Error: exact.
    Source: variance of a beta distribution, (mean - a)(b - mean) / 7; no source needed.
    """
    mean = pert_mean(low, likely, high)
    return (mean - low) * (high - mean) / 7.0


def triangular_mean(low: float, likely: float, high: float) -> float:
    """Mean of a task time with a triangular distribution.

    low, likely, high : float    Optimistic, most likely and pessimistic time: a, m, b. [any]
    Returns the mean, in the same unit.
    Valid: low <= likely <= high.  Error: exact.
    Source: [gao-89g] distribution of table 2; the formula needs no source.
    """
    return (low + likely + high) / 3.0


def triangular_variance(low: float, likely: float, high: float) -> float:
    """Variance of a task time with a triangular distribution.

    low, likely, high : float    Optimistic, most likely and pessimistic time: a, m, b. [any]
    Returns the variance, in the unit squared.
    Valid: low <= likely <= high.  Error: exact.
    Source: [gao-89g] distribution of table 2; the formula needs no source.
    """
    squares = low * low + likely * likely + high * high
    return (squares - low * likely - low * high - likely * high) / 18.0


def path_probability(due: float, mean: float, variance: float) -> float:
    """Probability that a path of tasks ends by a time, its sum taken as normally distributed.

    due : float              The time. [any]
    mean, variance : float   Of the whole path: the sums of those of its tasks. [the same, and squared]
    Returns a probability, 0 to 1; a step where the variance is 0.
    Valid: many tasks of like length, and no other path that is nearly as long: else it is too high.
    Error: 0.963 for a path whose own distribution gives 0.938 (Taylor's, four tasks).
    Source: [taylor2010] probability of completing the project by a time.
    """
    if variance <= 0.0:
        return float(mean <= due)
    return 0.5 * math.erfc((mean - due) / math.sqrt(2.0 * variance))


def expected_ends(tasks: Sequence[Estimate], preds: Sequence[Sequence[int]]) -> list[float]:
    """Earliest end of each task of a network, every task taking its mean.

    tasks : (low, likely, high)    Estimates; each task stands after those it waits for. [any]
    preds : places of the tasks that must have ended before each begins
    Returns the ends, in the same unit.
    Valid: as a forward pass; the mean of a network's end is later (merge bias).  Error: none of its own.
    Source: [malcolm1959] earliest expected time.
    """
    ends: list[float] = []
    for task, before in zip(tasks, preds, strict=True):
        ends.append(max((ends[place] for place in before), default=0.0) + pert_mean(*task))
    return ends
