"""How long split spruce takes to dry, as a three-way answer: likely, uncertain or unlikely by a day."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, timedelta
from typing import Literal, NamedTuple

from barkwright.season.days import day_index
from barkwright.season.moisture import emc_c
from barkwright.season.numbers import DRYING

Answer = Literal["likely", "uncertain", "unlikely"]


class DryingAir(NamedTuple):
    """By day of a leap year: the moisture that wood settles at [%], and the share of the way left at the day's end."""

    settles: tuple[float, ...]
    low: tuple[float, ...]
    mid: tuple[float, ...]
    high: tuple[float, ...]


class DryOn(NamedTuple):
    """First days on which wood is dry by the slow, the middling and the fast rate; None: not within two years."""

    low: date | None
    mid: date | None
    high: date | None


def saturation_hpa(temp_c: float) -> float:
    """Vapour pressure of saturated air over water.

    temp_c : float    Air temperature, T. [degrees C]
    Returns the pressure [hPa].
    Valid: -40 to 50 degrees C.  Error: 0.4 %.  Source: [alduchov1996] Magnus form.  Differs: nothing.
    """
    return DRYING["vapour_hpa"] * math.exp(DRYING["vapour_slope"] * temp_c / (DRYING["vapour_offset_c"] + temp_c))


def drying_rate(temp_c: float, rate_15: float) -> float:
    """Share of the way to the air's moisture that split wood goes in a day, k.

    temp_c : float     Mean temperature of the day, T. [degrees C]
    rate_15 : float    The rate at 15 degrees C, k15. [1/day]
    Returns k [1/day]; 0 at or below 0 degrees C, where frozen wood is given no credit.
    Valid: split pieces up to 6 in, off the ground, top covered.  Error: not known; between the low and the high rate.
    Source: none; ours: the rate follows the vapour pressure of saturated air.
    """
    if temp_c <= 0:
        return 0.0
    return rate_15 * saturation_hpa(temp_c) / saturation_hpa(DRYING["reference_c"])


def drying_air(temps_c: Sequence[float], rhs_pct: Sequence[float]) -> DryingAir:
    """What the mean days of a leap year do to split wood, 1 January first.

    temps_c : mean temperatures [degrees C]; rhs_pct : mean relative humidities [%]
    """
    coldest = DRYING["coldest_c"]
    settles = tuple(emc_c(max(temp, coldest), rh) for temp, rh in zip(temps_c, rhs_pct, strict=True))
    paces = [drying_rate(temp, 1.0) for temp in temps_c]
    stays = (tuple(math.exp(-rate * pace) for pace in paces) for rate in (DRYING["low"], DRYING["mid"], DRYING["high"]))
    return DryingAir(settles, *stays)


def dry_dates(split_on: date, air: DryingAir) -> DryOn:
    """First days on which wood split on a day is dry: 20 % of dry weight, by each of the three rates."""
    return DryOn(*(_dry_on(split_on, air.settles, stays) for stays in (air.low, air.mid, air.high)))


def dry_by(dry: DryOn, use_on: date) -> Answer:
    """Is wood with these dates dry before a day? Likely when the slow rate says so, unlikely when the fast one denies.

    It says nothing of the brood: beetles under the bark may finish in wood that dries.
    """
    if dry.low is not None and dry.low < use_on:
        return "likely"
    return "uncertain" if dry.high is not None and dry.high < use_on else "unlikely"


def last_split(air: DryingAir, use_on: date, at_least: Literal["likely", "uncertain"]) -> date:
    """The last day on which wood may be split to be dry before a day, as surely as `at_least` says.

    Wood split later is never dry sooner, so the day is searched for by halves; at worst it is the day two years back.
    """
    stays = air.low if at_least == "likely" else air.high
    length = int(DRYING["longest"])
    first = use_on - timedelta(days=length)
    days = list(_indexes(first, length))
    late = bisect_left(range(length), True, key=lambda start: _days_to_dry(air.settles, stays, days[start:]) is None)
    return first + timedelta(days=late - 1)


def _dry_on(split_on: date, settles: Sequence[float], stays: Sequence[float]) -> date | None:
    days = _days_to_dry(settles, stays, _indexes(split_on, int(DRYING["longest"])))
    return None if days is None else split_on + timedelta(days=days)


def _days_to_dry(settles: Sequence[float], stays: Sequence[float], days: Iterable[int]) -> int | None:
    """After how many of these days of the year wood split on the first of them is dry; None: after none."""
    wet, dry = DRYING["green"], DRYING["dry"]
    for number, at in enumerate(days):
        end = settles[at]
        wet = end + (wet - end) * stays[at]
        if wet <= dry:
            return number
    return None


def _indexes(first: date, length: int) -> Iterator[int]:
    return (day_index(first + timedelta(days=number)) for number in range(length))
