"""The stand rating: every limit on both sides, what stays open, and metric as imperial."""

from __future__ import annotations

from typing import Any

import pytest

from barkwright.brood.stand import rate_stand
from barkwright.brood.stand_rating import (
    basal_area_points,
    canopy_points,
    dbh_points,
    rating_class,
    site_points,
)
from barkwright.inventory.model import Stand

FULL: dict[str, Any] = {
    "mean_dbh_in": 13.0,
    "basal_area_ft2_per_ac": 120.0,
    "spruce_in_canopy_percent": 55.0,
    "site_index_ft": 90.0,
}


@pytest.mark.parametrize(("value", "points"), [(11.94, 1), (11.95, 2), (12.0, 2), (15.94, 2), (15.95, 3), (40, 3)])
def test_a_tenth_decides_the_diameter(value: float, points: int) -> None:
    assert dbh_points(value) == points


@pytest.mark.parametrize(("value", "points"), [(0, 1), (99.94, 1), (99.95, 2), (149.94, 2), (149.95, 3)])
def test_a_tenth_decides_the_basal_area(value: float, points: int) -> None:
    assert basal_area_points(value) == points


@pytest.mark.parametrize(("value", "points"), [(0, 1), (49.9, 1), (50, 2), (64.9, 2), (65, 3), (100, 3)])
def test_the_share_of_spruce_decides_the_canopy(value: float, points: int) -> None:
    assert canopy_points(value) == points


@pytest.mark.parametrize(
    ("bottom", "index", "points"),
    [
        (True, None, (3, 3)),
        (True, 50.0, (3, 3)),
        (False, 80.0, (2, 2)),
        (False, 79.9, (1, 1)),
        (None, 120.0, (2, 2)),
        (None, 40.0, (1, 1)),
        (None, 120.1, (1, 3)),
        (None, 39.9, (1, 3)),
        (False, 120.1, (1, 2)),
        (False, None, (1, 2)),
        (None, None, (1, 3)),
    ],
)
def test_the_place_is_known_or_left_open(bottom: bool | None, index: float | None, points: tuple[int, int]) -> None:
    assert site_points(bottom, index) == points


def test_sums_have_the_classes_of_the_rating_and_no_others() -> None:
    classes = [rating_class(points) for points in range(4, 13)]
    assert classes == ["low", "low-medium", "low-medium", "medium", "medium", "medium", "medium-high", "high", "high"]
    for points in (3, 13):
        with pytest.raises(ValueError, match="no sum"):
            rating_class(points)


def test_four_rows_give_one_class() -> None:
    rating = rate_stand(Stand(**FULL))
    assert rating is not None
    assert (rating.low, rating.high, rating.classes) == (8, 8, ("medium",))


@pytest.mark.parametrize("missing", sorted(FULL))
def test_a_row_that_is_not_given_leaves_its_two_points_open(missing: str) -> None:
    rating = rate_stand(Stand(**{name: value for name, value in FULL.items() if name != missing}))
    assert rating is not None
    assert (rating.low, rating.high) == (7, 9)
    assert rating.classes == ("medium",)
    assert sum(not row.given for row in rating.rows) == 1


def test_one_number_leaves_nearly_everything_open() -> None:
    rating = rate_stand(Stand(basal_area=160.0))
    assert rating is not None
    assert (rating.low, rating.high) == (6, 12)
    assert rating.classes == ("low-medium", "medium", "medium-high", "high")


@pytest.mark.parametrize(("area", "likelier"), [(149.9, False), (150.0, True)])
def test_the_other_paper_speaks_from_its_own_limit_on(area: float, likelier: bool) -> None:
    rating = rate_stand(Stand(basal_area=area))
    assert rating is not None
    assert rating.outbreak_likelier is likelier
    assert ("schmid1974" in {one.key for one in rating.citations}) is likelier


@pytest.mark.parametrize(("index", "outside"), [(39.9, True), (40.0, False), (120.0, False), (120.1, True)])
def test_an_index_that_the_rows_do_not_hold_is_said(index: float, outside: bool) -> None:
    rating = rate_stand(Stand(site_index=index))
    assert rating is not None
    assert rating.index_outside is outside


def test_nothing_known_is_no_rating() -> None:
    assert rate_stand(None) is None
    assert rate_stand(Stand()) is None
