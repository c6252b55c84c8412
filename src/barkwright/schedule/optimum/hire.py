"""What so many days of use of a hired machine cost at least, whichever days they are."""

from __future__ import annotations

from barkwright.schedule.model import SiteModel
from barkwright.schedule.money import cover


def least_hire(model: SiteModel, place: int, days: list[int], most: int) -> list[float]:
    """Least price of 0, 1, ... `most` days of use among `days`, deliveries and days between included [currency].

    Exact over all ways to cover them with hires; by a table over days and numbers of days used.
    """
    import numpy as np

    most = min(most, len(days))
    best = np.full((len(days) + 1, most + 1), np.inf)
    best[0, 0] = 0.0
    for end in range(1, len(days) + 1):
        row = best[end]
        row[:] = best[end - 1]
        for used in range(1, min(end, most) + 1):
            start = end - used
            price = float(cover(model, place, days[end - 1] - days[start] + 1)[0])
            np.minimum(row[used:], best[start, : most + 1 - used] + price, out=row[used:])
    return [float(value) for value in best[len(days)]]
