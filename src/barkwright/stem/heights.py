"""Height of a tree from its diameter, where nobody measured it."""

from __future__ import annotations

from datetime import date
from functools import cache

from barkwright.datafile import load
from barkwright.inventory.model import Species
from barkwright.record import dataclass
from barkwright.spread import Spread
from barkwright.stem.curves import FORMS, Curve
from barkwright.stem.stump import BREAST_HEIGHT_FT
from barkwright.stem.tables import factor


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


def estimate_height(
    species: Species, dbh_in: float, latitude: float, longitude: float, own: Curve | None = None
) -> EstimatedHeight:
    """Total height of a spruce from its diameter and where it stands.

    Likely: the curve of the species' region. Low and high: the lowest and highest of the curves that hold for the
    species anywhere, and at least the spread of single trees about a curve. [ft]  Which curve is taken where is ours;
    the curves are published.
    own : a curve of the user's own, which is then the likely one; low and high stay as far apart as without it
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
    height = _height(likely, dbh_in) if own is None else FORMS[own.form](dbh_in, *own.p)
    least = factor("height-spread")
    others = [height * (1 - least), height * (1 + least), *(_height(name, dbh_in) for name in data.spread[species])]
    cite = tuple(f"{text}, height from diameter" for text in data.curves[likely].cite) if own is None else ()
    return EstimatedHeight(
        Spread(min(max(min(others), BREAST_HEIGHT_FT), height), height, max(others)), cite, at_home or own is not None
    )


def _height(name: str, dbh_in: float) -> float:
    curve = _data().curves[name]
    return FORMS[curve.form](dbh_in, *curve.p)


@cache
def _data() -> HeightCurves:
    return load("stem/heights.yaml", HeightCurves)
