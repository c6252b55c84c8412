"""Curves of height from diameter, in the forms in which they are published."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Literal

from barkwright.record import dataclass
from barkwright.stem.stump import BREAST_HEIGHT_FT

_SMALL_IN, _SEEDLING_IN, _SEEDLING_FT = 3.0, 0.3, 4.51


@dataclass(frozen=True, slots=True)
class Curve:
    """One published curve."""

    form: Literal["wykoff", "chapman", "curtis-arney"]
    p: tuple[float, ...]
    cite: tuple[str, ...]


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
