"""Clocks of the crews: hours worked up to each day, by draw, with the days that weather takes left out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from barkwright.study.dice import WHOLE

if TYPE_CHECKING:
    import numpy as np

    from barkwright.study.dice import Bits, Numbers

    Places = np.ndarray[Any, np.dtype[np.int64]]

NEARLY = 1e-6  # hours; work that is over by so little on the next day is done on this one
GRID = 1024.0  # parts of an hour that days are counted in


class Clocks:
    """For each crew the hours of one person from the first day to the beginning of each day.

    An array has a row for each day and one more, and a column for each draw, or a single one where no day is lost.
    """

    def __init__(self, hours: Sequence[Numbers], draws: int) -> None:
        import numpy as np

        self.draws = draws
        self.length = len(hours[0])
        self._whole = [np.vstack((np.zeros((1, day.shape[1])), np.cumsum(day, axis=0))) for day in hours]
        self._flat: dict[int, tuple[Numbers, Numbers]] = {}

    @classmethod
    def endless(cls, draws: int) -> Clocks:
        """One clock that never stops."""
        import numpy as np

        return cls([np.full((1, 1), np.inf)], draws)

    def opens(self, clock: int, day: int) -> Numbers:
        """What a clock shows when a day begins: never less than that before, and as long as the days reach."""
        found: Numbers = self._whole[clock][max(0, min(day, self.length))]
        return found

    def opens_on(self, clock: int, days: Places) -> Numbers:
        """The same for a day of each draw."""
        import numpy as np

        whole, at = self._whole[clock], np.clip(days, 0, self.length)
        found: Numbers = whole[at, 0] if whole.shape[1] == 1 else whole[at, np.arange(self.draws)]
        return found

    def day_of(self, clock: int, at: Numbers) -> Places:
        """The day on which a clock comes to show so much; the number of days where none does."""
        import numpy as np

        whole = self._whole[clock]
        at = np.broadcast_to(at, self.draws) - NEARLY
        if whole.shape[1] == 1:
            return np.searchsorted(whole[1:, 0], at, side="left")
        flat, shift = self._flattened(clock)
        found: Places = np.searchsorted(flat, np.minimum(at, whole[-1] + 1.0) + shift, side="left")
        return found - np.arange(self.draws) * self.length

    def moved(self, clock: int, other: int, at: Numbers) -> Numbers:
        """What another clock shows at a moment, the day running evenly on both."""
        import numpy as np

        day = np.minimum(self.day_of(clock, at), self.length - 1)
        first, last = self.opens_on(clock, day), self.opens_on(clock, day + 1)
        part = np.clip((at - first) / np.maximum(last - first, NEARLY), 0.0, 1.0)
        begin, end = self.opens_on(other, day), self.opens_on(other, day + 1)
        found: Numbers = begin + part * (end - begin)
        return found

    def _flattened(self, clock: int) -> tuple[Numbers, Numbers]:
        """The ends of all days, draw after draw, each draw lifted over the one before: sorted as a whole."""
        import numpy as np

        known = self._flat.get(clock)
        if known is None:
            whole = self._whole[clock]
            shift = np.arange(self.draws, dtype=np.float64) * float(np.ceil(whole[-1].max()) + 2.0)
            flat: Numbers = (whole[1:] + shift).T.ravel()
            known = self._flat[clock] = (flat, shift)
        return known


def worked(hours: Sequence[float], lost: Sequence[float], throws: Bits | None) -> Numbers:
    """Hours that one person of a crew works on each day, by draw: all of a day or, when weather takes it, none.

    hours : float    of each day, without weather [h]
    lost : float     share of such days that weather takes, by day
    throws : rows    one for each day; None where no weather is known
    """
    import numpy as np

    day = (np.round(np.asarray(hours, dtype=float) * GRID) / GRID)[:, None]
    if throws is None:
        return day
    limit = np.round(np.asarray(lost) * WHOLE)[:, None]
    found: Numbers = np.where(throws < limit, 0.0, day)
    return found
