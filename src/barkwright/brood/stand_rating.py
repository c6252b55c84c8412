"""How hard spruce beetle hits a stand: the published rating of four rows, and what is open where a row is not known."""

from __future__ import annotations

from datetime import date
from typing import Literal

from barkwright import datafile
from barkwright.record import dataclass
from barkwright.units import half_up

Known = Literal["read", "secondary", "from memory"]
MOST, LEAST = 3, 1  # points of one row


@dataclass(frozen=True, slots=True)
class Row:
    """One row of the rating: from `high` on 3 points, from `middle` on 2, below it 1."""

    high: float
    middle: float
    unit: str
    known: Known
    cite: str


@dataclass(frozen=True, slots=True)
class SiteRow:
    """The row of the place: site index from `middle` to `most` 2 points, from `least` up to `middle` 1."""

    middle: float
    least: float
    most: float
    unit: str
    known: Known
    cite: str


@dataclass(frozen=True, slots=True)
class RatingClass:
    """A class, and the least sum of points that is in it."""

    least: int
    name: str


@dataclass(frozen=True, slots=True)
class Outbreak:
    """The basal area of large spruce from which on outbreaks become likelier."""

    basal_area: float
    unit: str
    cite: str


@dataclass(frozen=True, slots=True)
class RatingBook:
    """The whole file, data/brood/stand_rating.yaml."""

    checked_on: date
    rows: dict[str, Row]
    site: SiteRow
    classes: tuple[RatingClass, ...]  # from high to low
    classes_cite: str
    outbreak: Outbreak
    white_cite: str


def rating_book() -> RatingBook:
    """The rows, classes and sources of the rating."""
    return datafile.load("brood/stand_rating.yaml", RatingBook)


def dbh_points(mean_dbh_in: float) -> int:
    """Points for the mean diameter of the living spruce, 3 where beetles hit hardest.

    mean_dbh_in : float    Mean diameter at breast height of the living spruce over 10 in. [in]
    Returns: points [1 to 3].  Valid: Engelmann spruce, Rocky Mountains.  Error: not published.
    Source: schmid1976, limits as foster2018 gives them.
    Differs: rounded to a tenth first, so that 40.64 cm is the limit of 16 in.
    >>> dbh_points(15.9), dbh_points(16.0)
    (2, 3)
    """
    return _points("mean_dbh", mean_dbh_in)


def basal_area_points(basal_area_ft2_per_ac: float) -> int:
    """Points for the basal area of the stand, 3 where beetles hit hardest.

    basal_area_ft2_per_ac : float    Basal area of the stand. [ft2/ac]
    Returns: points [1 to 3].  Valid: Engelmann spruce, Rocky Mountains.  Error: not published.
    Source: schmid1976, limits as foster2018 gives them.
    Differs: rounded to a tenth first, so that 34.43 m2/ha, as printed, is the limit of 150 ft2/ac.
    >>> basal_area_points(99.9), basal_area_points(100.0)
    (1, 2)
    """
    return _points("basal_area", basal_area_ft2_per_ac)


def canopy_points(spruce_in_canopy_percent: float) -> int:
    """Points for the share of spruce in the canopy, 3 where beetles hit hardest.

    spruce_in_canopy_percent : float    Share of spruce in the canopy. [%]
    Returns: points [1 to 3].  Valid: Engelmann spruce, Rocky Mountains.  Error: not published.
    Source: schmid1976, limits as foster2018 gives them.
    Differs: rounded to a tenth first, like the other rows.
    >>> canopy_points(64.9), canopy_points(65.0)
    (2, 3)
    """
    return _points("spruce_in_canopy", spruce_in_canopy_percent)


def site_points(creek_bottom: bool | None, site_index_ft: float | None) -> tuple[int, int]:
    """Points for the place, as the least and the most that they can be: both the same where it is known.

    creek_bottom : bool or None       Do the spruce stand in a well-drained creek bottom? None: not known.
    site_index_ft : float or None     Site index. [ft]
    Returns: least and most points [1 to 3].  Valid: site index 40 to 120 ft.  Error: not published.
    Source: schmid1976, from memory.
    Differs: the value on the limit of 80 ft belongs to the higher class (ours); outside 40 to 120 ft the rows say
    nothing, so nothing is taken from the site index.
    >>> site_points(False, 80.0), site_points(None, None)
    ((2, 2), (1, 3))
    """
    if creek_bottom:
        return MOST, MOST
    most = 2 if creek_bottom is False else MOST
    row = rating_book().site
    if site_index_ft is None or not row.least <= site_index_ft <= row.most:
        return LEAST, most
    points = 2 if site_index_ft >= row.middle else 1
    return points, points


def rating_class(points: int) -> str:
    """The class of a sum of four rows.

    points : int    Sum of the points of the four rows. [4 to 12]
    Returns: high, medium-high, medium, low-medium or low.  Valid: 4 to 12; raises ValueError outside.
    Source: schmid1976, from memory.
    Differs: nothing.
    >>> rating_class(10), rating_class(9)
    ('medium-high', 'medium')
    """
    if not 4 * LEAST <= points <= 4 * MOST:
        raise ValueError(f"{points} is no sum of four rows")
    return next(one.name for one in rating_book().classes if points >= one.least)


def _points(row: str, value: float) -> int:
    limit, shown = rating_book().rows[row], float(half_up(value, 1))
    return MOST if shown >= limit.high else 2 if shown >= limit.middle else LEAST
