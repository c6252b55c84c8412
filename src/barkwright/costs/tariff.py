"""The cheapest way to rent a machine for days in a row, from its half-day, day, week and month rents."""

from __future__ import annotations

from decimal import Decimal
from functools import lru_cache
from typing import NamedTuple

from barkwright.datafile import load
from barkwright.inventory.model import Equipment
from barkwright.record import dataclass

ZERO = Decimal(0)
NAMES = ("month", "week", "day", "half day", "hour")
HALF_DAY_H = 4  # hours that a rent by the half day covers: common practice, no source
NEARLY_H = 1e-6  # sums of hours are not exact
IN_A_DAY = {"half day": 2, "hour": 8}  # rents that one day on site takes: common practice, no source


@dataclass(frozen=True, slots=True)
class Default:
    """One assumed figure."""

    value: Decimal
    unit: str
    basis: str
    note: str
    source: str | None = None


@dataclass(frozen=True, slots=True)
class Defaults:
    """data/costs/defaults.yaml."""

    checked_on: str
    unpaid_worth: Default
    old_after_years: Default
    week_days: Default
    month_days: Default


class Cover(NamedTuple):
    """Rents that cover a run of days."""

    cost: Decimal  # delivery included
    text: str  # "1 week + 2 days, delivered"
    rents: Decimal  # without delivery
    delivery: Decimal
    hours: float | None = None  # that a hire of one day is billed by, of each machine; None: by the day or longer [h]


def defaults() -> Defaults:
    """What is assumed about money where the inventory is silent."""
    return load("costs/defaults.yaml", Defaults)


def rentable(machine: Equipment) -> bool:
    """Does the inventory name a rent for it?"""
    return bool(_tariff(machine))


def cover(machine: Equipment, days: int, hours: float | None = None) -> Cover:
    """The cheapest rents that cover `days` days in a row (count machines of one line together), with one delivery.

    hours : on a single day, the hours that the machine runs there, for rents by the hour or the half day [h].
    Error: ValueError when the machine names no rent, or days < 1.
    """
    if days < 1:
        raise ValueError(f"a rental runs for a day or more, not {days}")
    tariff = _tariff(machine)
    if not tariff:
        raise ValueError(f"no rent is given for the {machine.kind}")
    options = [_days_cover(tariff, days)]
    if hours is not None and hours > 0 and days == 1:
        options += _short(machine, hours)
    best = min(options, key=lambda each: each[0])
    rents, text = best
    delivery = machine.delivery or ZERO
    if machine.delivery:
        text += ", delivered"
    by = None if best is options[0] else hours
    return Cover(rents * machine.count + delivery, text, rents * machine.count, delivery, by)


def cheapest_cover(machine: Equipment, days_in_a_row: int) -> tuple[Decimal, str]:
    """Cost with delivery, and the rents in words: "1 week + 2 days, delivered"."""
    found = cover(machine, days_in_a_row)
    return found.cost, found.text


def _short(machine: Equipment, hours: float) -> list[tuple[Decimal, str]]:
    found: list[tuple[Decimal, str]] = []
    if machine.rent_per_half_day is not None and hours <= HALF_DAY_H + NEARLY_H:
        found.append((machine.rent_per_half_day, "half a day"))
    if machine.rent_per_hour is not None:
        whole = max(1, -int(-(hours - NEARLY_H) // 1))
        found.append((machine.rent_per_hour * whole, f"{whole} hour{'s' if whole > 1 else ''}"))
    return found


def _tariff(machine: Equipment) -> tuple[tuple[int, Decimal, str], ...]:
    """Days covered, rent and name of each rent; a day on site may be two half days, or 8 hours, where that is less."""
    known = defaults()
    half, hour = machine.rent_per_half_day, machine.rent_per_hour
    rents = (
        (1, machine.rent_per_day, "day"),
        (1, None if half is None else half * IN_A_DAY["half day"], "half day"),
        (1, None if hour is None else hour * IN_A_DAY["hour"], "hour"),
        (int(known.week_days.value), machine.rent_per_week, "week"),
        (int(known.month_days.value), machine.rent_per_month, "month"),
    )
    return tuple((days, rent, name) for days, rent, name in rents if rent is not None)


@lru_cache(maxsize=4096)
def _days_cover(tariff: tuple[tuple[int, Decimal, str], ...], days: int) -> tuple[Decimal, str]:
    """Least cost of covering `days`, by a table over days; of equal costs the one with the fewest rents."""
    best: list[tuple[Decimal, int, tuple[str, ...]]] = [(ZERO, 0, ())]
    for day in range(1, days + 1):
        choices = []
        for length, rent, name in tariff:
            cost, count, names = best[max(0, day - length)]
            choices.append((cost + rent, count + 1, (*names, name)))
        best.append(min(choices, key=lambda each: (each[0], each[1])))
    cost, _, names = best[days]
    said = (_counted(names.count(name) * IN_A_DAY.get(name, 1), name) for name in NAMES if name in names)
    return cost, " + ".join(said)


def _counted(count: int, name: str) -> str:
    return f"{count} {name}{'s' if count > 1 else ''}"
