"""What so many days of use of a hired machine cost at least, whichever days they are; and rents for part of a day."""

from __future__ import annotations

from barkwright.costs.tariff import HALF_DAY_H, NEARLY_H
from barkwright.schedule.hires import cover
from barkwright.schedule.model import SiteModel


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


def least_a_day(model: SiteModel, place: int, most: int) -> float:
    """The least that a day of use costs, however long a hire of up to `most` days is [currency/day]."""
    return min((float(cover(model, place, days)[0]) / days for days in range(1, most + 1)), default=0.0)


def brief_rents(model: SiteModel, place: int) -> list[tuple[float, float]]:
    """Hours of all machines of a line that a rent by the hour or the half day holds [h], and its price [currency]."""
    entry = model.machines[place].entry
    rents = ((1, entry.rent_per_hour), (HALF_DAY_H, entry.rent_per_half_day))
    return [(entry.count * (hours + NEARLY_H), float(entry.count * rent)) for hours, rent in rents if rent is not None]
