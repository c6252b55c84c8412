"""Random numbers that are the same on every machine, and task times made from them.

Each draw owns a fixed stretch of one seeded stream of bits, so what it gets depends neither on the other draws nor on
how many are made at a time. Times come from tables of the beta-PERT distribution on a grid of 2^-20, on which the last
digits of a machine's logarithms leave no mark.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy as np

    Numbers = np.ndarray[Any, np.dtype[np.float64]]
    Bits = np.ndarray[Any, np.dtype[np.uint16]]

WHOLE = 65536  # values of one throw
CELLS = 1024  # of a table; a throw picks one
KNOTS = 64  # tables of the family, by where the likely time lies between low and high
GRID = 2.0**20
STEPS = 4096  # of the numerical integration


class Dice:
    """Throws by draw: rows of 16-bit numbers, one for each thing that is left to chance."""

    def __init__(self, seed: int, things: int) -> None:
        from numpy.random import PCG64

        self.words = -(-things // 4)  # of 64 bits, for each draw
        self.things = things
        self._bits = PCG64(seed)

    def throw(self, draws: int) -> Bits:
        """The throws of the next draws, one row for each thing, one column for each draw."""
        import numpy as np

        raw = self._bits.random_raw(draws * self.words).astype("<u8", copy=False)
        rows = raw.view("<u2").reshape(draws, 4 * self.words)[:, : self.things]
        return np.ascontiguousarray(rows.T)


def times(low: float, likely: float, high: float, throws: Bits) -> Numbers:
    """Task times drawn from the beta-PERT distribution of three estimates, in their unit, one for each throw."""
    found: Numbers = table(low, likely, high)[throws >> 6]
    return found


def table(low: float, likely: float, high: float) -> Numbers:
    """The equally likely values that a task time is drawn from, in rising order."""
    import numpy as np

    if high <= low:
        return np.full(CELLS, float(low))
    at = (likely - low) / (high - low) * KNOTS
    knot = min(int(at), KNOTS - 1)
    part = at - knot
    shares = _shares(knot) if part <= 0.0 else (1.0 - part) * _shares(knot) + part * _shares(knot + 1)
    found: Numbers = low + (high - low) * shares
    return found


@cache
def _shares(knot: int) -> Numbers:
    """Mean of each cell of equal probability, of a beta-PERT between 0 and 1 whose likely value is knot / KNOTS."""
    import numpy as np

    likely = knot / KNOTS
    at = (np.arange(STEPS) + 0.5) / STEPS
    density = at ** (4.0 * likely) * (1.0 - at) ** (4.0 * (1.0 - likely))
    below = np.concatenate(([0.0], np.cumsum(density)))
    moment = np.concatenate(([0.0], np.cumsum(density * at)))
    edges = np.linspace(0.0, below[-1], CELLS + 1)
    means = np.diff(np.interp(edges, below, moment)) * (CELLS / below[-1])
    found: Numbers = np.round(means * GRID) / GRID
    return found
