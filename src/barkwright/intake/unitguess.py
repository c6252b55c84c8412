"""Which units the sizes of a sheet are in, told from the sizes themselves: how thick, how high, how slender."""

from __future__ import annotations

import math
from collections.abc import Sequence
from statistics import median

from barkwright.intake.grid import Usual, sheet_limits
from barkwright.record import dataclass

ACROSS, ALONG = ("in", "cm", "mm"), ("ft", "m")
_PER_IN = {"in": 1.0, "cm": 1 / 2.54, "mm": 1 / 25.4}
_PER_FT = {"ft": 1.0, "m": 1 / 0.3048, "dm": 1 / 3.048}


@dataclass(frozen=True, slots=True)
class Units:
    """The likeliest units, how likely each is, and whether sizes like these are those of trees at all."""

    across: str
    along: str
    across_share: float
    along_share: float
    odd: bool


def told_units(
    across: Sequence[float],
    along: Sequence[float],
    pairs: Sequence[tuple[float, float]],
    known: tuple[str | None, str | None] = (None, None),
    lean: tuple[float, float] = (1.0, 1.0),
    logs: bool = False,
) -> Units:
    """The units of diameters and heights by what is usual.

    pairs : diameter and height of the same tree
    known : units that are certain already
    lean : how much more likely in and ft, or cm and m, are for other reasons
    """
    weights: dict[tuple[str, str], float] = {}
    spreads: dict[tuple[str, str], float] = {}
    for one in (known[0],) if known[0] else ACROSS:
        for two in (known[1],) if known[1] else ALONG:
            off = _off(across, along, pairs, one, two, logs)
            metric = (one != "in", two != "ft")
            lean_by = math.prod(lean[1 if side else 0] for side in metric) ** 0.5
            mixed = sheet_limits().mixed if metric[0] != metric[1] and along else 1.0
            weights[one, two] = -sum(z * z for z in off) / 2 + math.log(lean_by * mixed)
            spreads[one, two] = max(map(abs, off), default=0.0)
    best = max(weights, key=lambda key: weights[key])
    shares = {key: math.exp(value - weights[best]) for key, value in weights.items()}
    whole = sum(shares.values())
    return Units(
        *best,
        sum(share for key, share in shares.items() if key[0] == best[0]) / whole,
        sum(share for key, share in shares.items() if key[1] == best[1]) / whole,
        spreads[best] > sheet_limits().odd,
    )


def _off(
    across: Sequence[float],
    along: Sequence[float],
    pairs: Sequence[tuple[float, float]],
    one: str,
    two: str,
    logs: bool,
) -> list[float]:
    limits = sheet_limits()
    off = []
    if across:
        off.append(_z(median(across) * _PER_IN[one], limits.across_in))
    if along:
        off.append(_z(median(along) * _PER_FT[two], limits.log_ft if logs else limits.along_ft))
    if pairs and not logs:
        ratio = median(high / wide for wide, high in pairs)
        off.append(_z(ratio * 12 * _PER_FT[two] / _PER_IN[one], limits.slenderness))
    return off


def _z(value: float, usual: Usual) -> float:
    return (math.log(value) - math.log(usual.usual)) / usual.spread
