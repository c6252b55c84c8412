"""The stand rating of a site: what its numbers are worth, and which classes stay open where some are not known."""

from __future__ import annotations

from barkwright.brood.stand_rating import (
    LEAST,
    MOST,
    basal_area_points,
    canopy_points,
    dbh_points,
    rating_book,
    rating_class,
    site_points,
)
from barkwright.inventory.model import Stand
from barkwright.record import dataclass
from barkwright.sources import Citation, cite


@dataclass(frozen=True, slots=True)
class StandRow:
    """One row: the least and the most points that it can be worth, and whether the user gave a number for it."""

    name: str  # mean_dbh, basal_area, spruce_in_canopy, site
    low: int
    high: int
    given: bool


@dataclass(frozen=True, slots=True)
class StandRating:
    """The rating: its rows, the sum of points between two ends, and the classes that are possible, low to high."""

    rows: tuple[StandRow, ...]
    low: int
    high: int
    classes: tuple[str, ...]
    index_outside: bool  # a site index was given that the rows do not hold
    outbreak_likelier: bool  # by the other paper, from basal area alone
    citations: tuple[Citation, ...]


def rate_stand(stand: Stand | None) -> StandRating | None:
    """The rating of a stand; None where nothing is known of it."""
    if stand is None or not any(value is not None for value in stand.model_dump().values()):
        return None
    book = rating_book()
    index = stand.site_index_ft
    bottom = None if stand.place is None else stand.place == "creek-bottom"
    least, most = site_points(bottom, index)
    rows = (
        _row("mean_dbh", None if stand.mean_dbh_in is None else dbh_points(stand.mean_dbh_in)),
        _row(
            "basal_area",
            None if stand.basal_area_ft2_per_ac is None else basal_area_points(stand.basal_area_ft2_per_ac),
        ),
        _row(
            "spruce_in_canopy",
            None if stand.spruce_in_canopy_percent is None else canopy_points(stand.spruce_in_canopy_percent),
        ),
        StandRow("site", least, most, bottom is not None or index is not None),
    )
    low, high = sum(row.low for row in rows), sum(row.high for row in rows)
    area, outbreak = stand.basal_area_ft2_per_ac, book.outbreak
    likelier = area is not None and area >= outbreak.basal_area
    cites = (*(row.cite for row in book.rows.values()), book.site.cite, book.classes_cite)
    return StandRating(
        rows,
        low,
        high,
        tuple(dict.fromkeys(rating_class(points) for points in range(low, high + 1))),
        index is not None and not book.site.least <= index <= book.site.most,
        likelier,
        tuple(cite(text) for text in (*cites, *([outbreak.cite] if likelier else []))),
    )


def _row(name: str, points: int | None) -> StandRow:
    return StandRow(name, LEAST if points is None else points, MOST if points is None else points, points is not None)
