"""The limits that the checks go by, as data."""

from __future__ import annotations

from functools import cache

from barkwright.datafile import load
from barkwright.inventory.model import Crown
from barkwright.record import dataclass


@dataclass(frozen=True, slots=True)
class Slenderness:
    """Height over diameter of a tree, in the same unit, below and above which something is odd or wrong."""

    warn_below: float
    warn_above: float
    error_below: float
    error_above: float


@dataclass(frozen=True, slots=True)
class Limits:
    """data/inventory/limits.yaml; what each means stands there."""

    checked_on: str
    basis: str
    slenderness: Slenderness
    girth_and_dbh_share: float
    girth_and_dbh_in: float
    logs_over_height_share: float
    thin_end_over_dbh_share: float
    butt_over_dbh_times: float
    butt_under_dbh_share: float
    next_butt_over_top_share: float
    most_trees: int
    id_letters: int
    stand_tree_over_in: float


@dataclass(frozen=True, slots=True)
class Months:
    """Months since the attack."""

    usual: tuple[float, float]
    possible: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Signs:
    """data/inventory/signs.yaml."""

    checked_on: str
    basis: str
    attack_season: dict[str, str]  # from, to: month-day
    crowns: dict[Crown, Months]


@cache
def limits() -> Limits:
    """The limits of the checks across records. Ours."""
    return load("inventory/limits.yaml", Limits)


@cache
def signs() -> Signs:
    """Which crown goes with which time since the attack. From memory."""
    return load("inventory/signs.yaml", Signs)
