"""Height of a tree from its diameter, where nobody measured it."""

from __future__ import annotations

import math
from collections.abc import Callable
from datetime import date
from functools import cache
from typing import Literal

from barkwright.datafile import load
from barkwright.inventory.model import Species
from barkwright.record import dataclass
from barkwright.spread import Spread
from barkwright.stem.stump import BREAST_HEIGHT_FT
from barkwright.stem.tables import factor

_SMALL_IN, _SEEDLING_IN, _SEEDLING_FT = 3.0, 0.3, 4.51


@dataclass(frozen=True, slots=True)
class Curve:
    """One published curve."""

    form: Literal["wykoff", "chapman", "curtis-arney"]
    p: tuple[float, ...]
    cite: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Area:
    """Where a curve is the likely one."""

    id: str
    latitude: tuple[float, float]
    longitude: tuple[float, float]
    likely: dict[Species, str]


@dataclass(frozen=True, slots=True)
class HeightCurves:
    """The file data/stem/heights.yaml."""

    curves: dict[str, Curve]
    areas: tuple[Area, ...]
    elsewhere: dict[Species, str]
    spread: dict[Species, tuple[str, ...]]
    basis: str
    checked_on: date


@dataclass(frozen=True, slots=True)
class EstimatedHeight:
    """A height from dbh, with the spread of the published curves."""

    height_ft: Spread
    cite: tuple[str, ...]
    at_home: bool  # the likely curve was made for this species in this region


def wykoff_ft(dbh_in: float, p1: float, p2: float) -> float:
    """Height from diameter, Wykoff form: H = 4.5 + exp(p1 + p2 / (D + 1)).

    dbh_in : float    Diameter at breast height, D. [in]   Returns total height. [ft]
    Valid for forest trees; open-grown trees are shorter.
    Source: [usfs-growth-ak], [usfs-growth-cr], [usfs-growth-ie], [usfs-growth-ec], [usfs-growth-wc].
    """
    return BREAST_HEIGHT_FT + math.exp(p1 + p2 / (dbh_in + 1))


def chapman_ft(dbh_in: float, p1: float, p2: float, p3: float) -> float:
    """Height from diameter, Chapman-Richards form: H = 4.5 + p1 (1 - exp(p2 D)) ^ p3.

    dbh_in : float    Diameter at breast height, D. [in]   Returns total height. [ft]
    Valid for forest trees.  Source: [usfs-growth-ak].
    """
    return float(BREAST_HEIGHT_FT + p1 * (1 - math.exp(p2 * dbh_in)) ** p3)


def curtis_arney_ft(dbh_in: float, p1: float, p2: float, p3: float) -> float:
    """Height from diameter, Curtis-Arney form: H = 4.5 + p1 exp(-p2 D ^ p3).

    dbh_in : float    Diameter at breast height, D. [in]   Returns total height. [ft]
    Valid for forest trees; under 3 in a line from 4.51 ft at 0.3 in.  Source: [usfs-growth-pn].
    """
    if dbh_in < _SMALL_IN:
        top = curtis_arney_ft(_SMALL_IN, p1, p2, p3)
        return _SEEDLING_FT + (top - _SEEDLING_FT) * max(0.0, dbh_in - _SEEDLING_IN) / (_SMALL_IN - _SEEDLING_IN)
    return float(BREAST_HEIGHT_FT + p1 * math.exp(-p2 * dbh_in**p3))


FORMS: dict[str, Callable[..., float]] = {"wykoff": wykoff_ft, "chapman": chapman_ft, "curtis-arney": curtis_arney_ft}


def estimate_height(species: Species, dbh_in: float, latitude: float, longitude: float) -> EstimatedHeight:
    """Total height of a spruce from its diameter and where it stands.

    Likely: the curve of the species' region. Low and high: the lowest and highest of the curves that hold for the
    species anywhere, and at least the spread of single trees about a curve. [ft]  Which curve is taken where is ours;
    the curves are published.
    """
    data = _data()
    likely, at_home = data.elsewhere[species], False
    for area in data.areas:
        inside = (
            area.latitude[0] <= latitude <= area.latitude[1] and area.longitude[0] <= longitude <= area.longitude[1]
        )
        if inside and species in area.likely:
            likely, at_home = area.likely[species], True
            break
    height = _height(likely, dbh_in)
    least = factor("height-spread")
    others = [height * (1 - least), height * (1 + least), *(_height(name, dbh_in) for name in data.spread[species])]
    cite = tuple(f"{text}, height from diameter" for text in data.curves[likely].cite)
    return EstimatedHeight(Spread(min(max(min(others), BREAST_HEIGHT_FT), height), height, max(others)), cite, at_home)


def _height(name: str, dbh_in: float) -> float:
    curve = _data().curves[name]
    return FORMS[curve.form](dbh_in, *curve.p)


@cache
def _data() -> HeightCurves:
    return load("stem/heights.yaml", HeightCurves)
