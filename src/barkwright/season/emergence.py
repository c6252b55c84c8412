"""When spruce beetles leave the bark, and how much brood takes one year: the published model, from temperature."""

from __future__ import annotations

import math
from datetime import date

from barkwright import datafile
from barkwright.record import dataclass

_ROUNDING = 1e-9  # an hour at exactly the threshold counts


@dataclass(frozen=True, slots=True)
class Parents:
    """Coefficients of the share of one-year beetles among the parents."""

    constant: float
    warm_days: float


@dataclass(frozen=True, slots=True)
class Emerged:
    """Coefficients of the share of beetles that are out."""

    constant: float
    warm_days: float
    one_year_parents: float


@dataclass(frozen=True, slots=True)
class Brood:
    """Coefficients of one-year brood by side and height of the stem."""

    from_days: int
    constant: float
    hours: float
    north: float
    high: float
    ground: float


@dataclass(frozen=True, slots=True)
class Heights:
    """Shares of a tree's brood by height on the stem."""

    high: float
    middle: float
    ground: float


@dataclass(frozen=True, slots=True)
class Stand:
    """Coefficients of one-year brood in a whole stand."""

    constant: float
    hours: float
    from_days: int
    to_days: int


@dataclass(frozen=True, slots=True)
class BeetleModel:
    """The whole file, data/season/beetle_model.yaml."""

    checked_on: date
    warm_day_c: float
    warm_hour_c: float
    warmest_hour: int
    parents: Parents
    emerged: Emerged
    brood: Brood
    tree: Heights
    cite: tuple[str, ...]
    stand: Stand
    stand_cite: tuple[str, ...]


def model() -> BeetleModel:
    """The coefficients that the program ships."""
    return datafile.load("season/beetle_model.yaml", BeetleModel)


def one_year_parents(prior_warm_days: float) -> float:
    """Share of one-year beetles among the parents that fly this year [0 to 1], V in the source.

    prior_warm_days : float    Days of the calendar year before with a highest temperature of 15 C or more. [days]
    Valid: western North America.  Error: not published.  Source: nrcan2026, after hansen2001.
    >>> round(one_year_parents(100), 4)
    0.16
    """
    c = model().parents
    return _share(c.constant + c.warm_days * prior_warm_days)


def emerged(warm_days: float, parents: float) -> float:
    """Share of the beetles that have left the bark [0 to 1], E in the source.

    warm_days : float    Days of this calendar year so far with a highest temperature of 15 C or more. [days]
    parents : float      Share of one-year beetles among them, from `one_year_parents`.
    Valid: from about a tenth on; with no warm day at all it is 0.07 already, so it gives no onset.
    Error: the day of half emergence has been wrong by 3 to 4 weeks (bleiker2025).  Source: nrcan2026.
    """
    c = model().emerged
    return _share(c.constant + c.warm_days * warm_days + c.one_year_parents * parents)


def warm_days_until(share: float, parents: float) -> int:
    """Warm days of the year by which that share of the beetles is out [days], whole days, rounded up.

    share : float    Between 0 and 1, both excluded; one half is the source's own use.
    Source: nrcan2026, `emerged` solved for its warm days.
    >>> warm_days_until(0.5, one_year_parents(125))
    20
    """
    c = model().emerged
    logit = math.log(share / (1.0 - share))
    return math.ceil((logit - c.constant - c.one_year_parents * parents) / c.warm_days)


def warm_hours(tmin_c: float, tmax_c: float) -> int:
    """Hours of a day at or above 17 C [h], by the model's own curve: a cosine, highest at 16 h and lowest at 4 h.

    tmin_c, tmax_c : float    Lowest and highest temperature of the day. [degrees C]
    Source: nrcan2026.
    >>> warm_hours(5, 25)
    11
    """
    m = model()
    mean, half_range = (tmin_c + tmax_c) / 2, (tmax_c - tmin_c) / 2
    least = m.warm_hour_c - _ROUNDING
    if tmax_c < least:
        return 0
    curve = (mean + half_range * math.cos(math.pi * (hour - m.warmest_hour) / 12) for hour in range(24))
    return sum(temperature >= least for temperature in curve)


def one_year_brood(hours: float, north: bool = False, high: bool = False, ground: bool = False) -> float:
    """Share of the brood that grows up in one year at one place of the stem [0 to 1].

    hours : float    Hours at or above 17 C from 40 days after half emergence to the end of that year. [h]
    north : bool     North side; else south.
    high, ground : bool    15 ft (4.6 m) up, or at the ground; else 6 ft (1.8 m) up.
    Valid: western North America.  Error: predicted and observed shares were similar (bleiker2025).  Source: nrcan2026.
    >>> round(one_year_brood(400, high=True), 4)
    0.7068
    """
    c = model().brood
    return _share(c.constant + c.hours * hours + c.north * north + c.high * high + c.ground * ground)


def tree_brood(hours: float) -> float:
    """Share of one-year brood in a whole standing tree [0 to 1], from its sides and heights. Source: nrcan2026.

    hours : float    As for `one_year_brood`. [h]
    >>> round(tree_brood(400), 4)
    0.5103
    """
    at = model().tree
    both = (True, False)
    high = sum(one_year_brood(hours, north, high=True) for north in both) / 2
    middle = sum(one_year_brood(hours, north) for north in both) / 2
    low = sum(one_year_brood(hours, north, ground=True) for north in both) / 2
    return at.high * high + at.middle * middle + at.ground * low


def stand_brood(hours: float) -> float:
    """Share of one-year brood in a stand by the older model [0 to 1].

    hours : float    Hours above 17 C between 40 and 90 days after the peak of flight. [h]
    Valid: Utah, Colorado and Alaska, where it was fitted.  Error: not published.  Source: foster2018, supplement.
    >>> round(stand_brood(100), 3)
    0.118
    """
    c = model().stand
    return _share(c.constant + c.hours * hours)


def _share(logit: float) -> float:
    return 1.0 / (1.0 + math.exp(-logit))
