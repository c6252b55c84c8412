"""Frost in the ground: freezing index, depth of frost and thaw, and when a winter's ground can be dug."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from barkwright.season.numbers import FROST

F_PER_C = 1.8


class Winter(NamedTuple):
    """Frost in the ground over one winter, in days from its first."""

    frozen_from: int
    thin_from: int  # from here on so little of it is left, down to a trench's bottom, that a machine breaks through
    frozen_to: int  # first day on which a trench can be dug again; past the last where it never can
    depth_ft: float


def fahrenheit_days(celsius_days: float) -> float:
    """A freezing or thawing index in degree F-days, from degree C-days.

    Source: definition of the scales.

    >>> fahrenheit_days(10)
    18.0
    """
    return celsius_days * F_PER_C


def latent_heat_btu_ft3(density_lb_ft3: float, water_pct: float) -> float:
    """Heat that the water in a soil gives off as it freezes, L.

    density_lb_ft3 : float    Dry density. [lb/ft3]
    water_pct : float         Water, of dry weight. [%]
    Returns L [Btu/ft3].  Source: [tm5-852-6] definition, 144 Btu per lb of water.

    >>> latent_heat_btu_ft3(100, 15)
    2160.0
    """
    return 144 * density_lb_ft3 * water_pct / 100


def stefan_ft(conductivity: float, n: float, index_fdays: float, latent_btu_ft3: float) -> float:
    """Depth to which ground freezes, or thaws, by Stefan's equation, X.

    conductivity : float      Of the frozen (thawed) soil, k. [Btu/(h ft degree F)]
    n : float                 Surface index over air index. [1]
    index_fdays : float       Air freezing (thawing) index, FI. [degree F-days]
    latent_btu_ft3 : float    Latent heat of the soil, L. [Btu/ft3]
    Returns X [ft].
    Error: an upper bound: no snow, and no heat but that of freezing water.
    Source: [tm5-852-6] modified Berggren equation with its factor lambda = 1.  Differs: no lambda.

    >>> round(stefan_ft(0.76, 1, 2500, 2160), 2)
    6.5
    """
    return math.sqrt(48 * conductivity * n * index_fdays / latent_btu_ft3)


def winter_of(temps_c: Sequence[float]) -> Winter | None:
    """What one winter does to the ground, from the mean temperature of each day between two summers [degrees C].

    Frozen from the first day on which the running index (warm days take off, never below nothing) reaches the limit;
    open again when the thaw reaches the trench's bottom, or the frost's. None: it does not freeze. Ours, see
    data/season/frost.yaml.
    """
    running = most = 0.0
    peak = 0
    limit = FROST["frozen_from"]
    frozen_from = None
    for day, temp in enumerate(temps_c):
        running = max(0.0, running - temp)
        if running > most:
            most, peak = running, day
        if frozen_from is None and running >= limit:
            frozen_from = day
    if frozen_from is None:
        return None
    depth = _depth_ft(FROST["freezing_n"], most)
    to_dig = min(depth, FROST["trench_ft"])
    thin_from = frozen_from if depth <= FROST["machine_ft"] else None
    thaw = thawed = 0.0
    for day in range(peak + 1, len(temps_c)):
        thaw = max(0.0, thaw + temps_c[day])
        thawed = _depth_ft(FROST["thawing_n"], thaw)
        if thin_from is None and to_dig - thawed <= FROST["machine_ft"]:
            thin_from = day
        if thawed >= to_dig:
            return Winter(frozen_from, day if thin_from is None else thin_from, day, depth)
    return Winter(frozen_from, len(temps_c) if thin_from is None else thin_from, len(temps_c), depth)


def _depth_ft(n: float, index_cdays: float) -> float:
    latent = latent_heat_btu_ft3(FROST["density"], FROST["water"])
    return stefan_ft(FROST["conductivity"], n, fahrenheit_days(index_cdays), latent)
