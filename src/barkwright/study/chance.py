"""Chances in closed form: good days among many, paths that meet, and how little a few years tell."""

from __future__ import annotations

import math


def good_days_probability(needed: int, days: int, lost: float) -> float:
    """Probability that among some working days enough are not lost to weather.

    needed : int     Good days that the work takes, k. [days]
    days : int       Working days there are, n. [days]
    lost : float     Probability that a day is lost, each on its own, q. [1]
    Returns P(Bin(n, 1 - q) >= k), 0 to 1.
    Valid: days that are lost independently of each other; bad weather comes in spells, so it is too hopeful.
    Error: exact.  Source: binomial distribution; no source needed.
    """
    return sum(math.comb(days, good) * (1.0 - lost) ** good * lost ** (days - good) for good in range(needed, days + 1))


def all_in_time(each: float, paths: int) -> float:
    """Probability that all of some independent paths end in time.

    each : float    Probability that one path does, p. [1]
    paths : int     Paths that meet, K.
    Returns p to the power of K: the later of many is later than any one of them (merge bias).
    Valid: independent paths.  Error: exact.  Source: product of probabilities; no source needed.
    """
    return each**paths


def latest_of(paths: int) -> float:
    """Mean of the latest of some independent standard normal ends.

    paths : int    Paths that meet, K, from 1 on.
    Returns the mean, in standard deviations after the mean of one.
    Valid: 1 to 1,000 paths.  Error: under 1e-9, of the numerical integration from -9 to 9 by Simpson's rule.
    Source: mean of the largest order statistic of normal numbers; no source needed.
    """
    steps, reach = 2000, 9.0
    width = 2.0 * reach / steps
    total = 0.0
    for number in range(steps + 1):
        at = -reach + number * width
        weight = 1 if number in (0, steps) else 4 if number % 2 else 2
        density = math.exp(-0.5 * at * at) / math.sqrt(2.0 * math.pi)
        total += weight * at * paths * density * (0.5 * math.erfc(-at / math.sqrt(2.0))) ** (paths - 1)
    return total * width / 3.0


def jeffreys_interval(successes: float, trials: float, level: float) -> tuple[float, float]:
    """Range in which a probability lies, seen that often in so few trials.

    successes, trials : float    Times that it went well, and times in all: x, n. A mean over draws need not be whole.
    level : float                Probability that the range is to hold, 1 - alpha. [1]
    Returns the lower and the upper end, 0 to 1: the alpha/2 quantiles of a beta with shapes x + 1/2 and n - x + 1/2.
    Valid: 0 <= x <= n; the lower end is 0 at x = 0 and the upper end 1 at x = n.
    Error: mean coverage near the level from 10 trials on.  Source: [brown2001] equal-tailed Jeffreys prior interval.
    """
    tail = (1.0 - level) / 2.0
    low = 0.0 if successes <= 0.0 else _beta_quantile(tail, successes + 0.5, trials - successes + 0.5)
    high = 1.0 if successes >= trials else _beta_quantile(1.0 - tail, successes + 0.5, trials - successes + 0.5)
    return low, high


def beta_probability(at: float, first: float, second: float) -> float:
    """Probability that a beta-distributed number is at most so large: the regularised incomplete beta function.

    at : float               x, 0 to 1.
    first, second : float    Shapes, a and b, above 0.
    Returns a probability.  Valid: shapes up to some thousands.  Error: about 1e-12.
    Source: continued fraction of the incomplete beta function by Lentz's method; mathematics, no source needed.
    """
    if at <= 0.0 or at >= 1.0:
        return float(at >= 1.0)
    if at > (first + 1.0) / (first + second + 2.0):
        return 1.0 - beta_probability(1.0 - at, second, first)
    scale = math.lgamma(first + second) - math.lgamma(first) - math.lgamma(second)
    scale += first * math.log(at) + second * math.log1p(-at)
    return math.exp(scale) * _fraction(at, first, second) / first


def _fraction(at: float, first: float, second: float) -> float:
    tiny = 1e-300
    top, below = 1.0, 1.0 - (first + second) * at / (first + 1.0)
    below = 1.0 / (below or tiny)
    found = below
    for number in range(1, 500):
        twice = first + 2 * number
        even = number * (second - number) * at / ((twice - 1.0) * twice)
        odd = -(first + number) * (first + second + number) * at / (twice * (twice + 1.0))
        change = 1.0
        for part in (even, odd):
            below = 1.0 / ((1.0 + part * below) or tiny)
            top = (1.0 + part / top) or tiny
            change = top * below
            found *= change
        if abs(change - 1.0) < 1e-14:
            break
    return found


def _beta_quantile(share: float, first: float, second: float) -> float:
    low, high = 0.0, 1.0
    for _ in range(60):
        middle = (low + high) / 2.0
        if beta_probability(middle, first, second) < share:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0
