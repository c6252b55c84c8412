"""Heights that nobody measured: the right curve for the place, and a spread that holds the others."""

import pytest

from barkwright.stem import heights
from barkwright.stem.curves import chapman_ft, curtis_arney_ft, wykoff_ft
from barkwright.stem.heights import estimate_height

PLACES = {
    "far-northwest": (61.5, -149.5),
    "inland-northwest": (47.5, -116.0),
    "eastern-cascades": (46.5, -120.8),
    "pacific-coast": (47.5, -123.8),
    "southern-rockies": (39.5, -106.5),
    "elsewhere": (46.0, -70.0),
}


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("species", ["white", "engelmann", "sitka", "lutz", "black", "red", "blue", "norway"])
def test_the_spread_holds_the_likely_height_and_grows_with_the_tree(species, place):
    before = 0.0
    for dbh in (1, 3, 5, 8, 12, 16, 20, 28, 36, 50):
        height = estimate_height(species, dbh, *PLACES[place]).height_ft
        assert 4.5 <= height.low <= 0.91 * height.likely or height.low == pytest.approx(4.5)
        assert height.high >= 1.09 * height.likely
        assert before < height.likely < 260
        before = height.likely


@pytest.mark.parametrize(
    ("species", "place", "key", "at_home"),
    [
        ("white", "far-northwest", "usfs-growth-ak", True),
        ("lutz", "far-northwest", "usfs-growth-ak", True),
        ("sitka", "pacific-coast", "usfs-growth-pn", True),
        ("engelmann", "southern-rockies", "usfs-growth-cr", True),
        ("engelmann", "inland-northwest", "usfs-growth-ie", True),
        ("engelmann", "eastern-cascades", "usfs-growth-ec", True),
        ("engelmann", "pacific-coast", "usfs-growth-wc", True),
        ("blue", "southern-rockies", "usfs-growth-cr", True),
        ("white", "elsewhere", "usfs-growth-ak", False),
        ("red", "elsewhere", "usfs-growth-ak", False),
    ],
)
def test_the_curve_is_the_regions_own_where_there_is_one(species, place, key, at_home):
    guess = estimate_height(species, 16, *PLACES[place])
    assert guess.cite[0].startswith(key)
    assert guess.at_home is at_home


def test_a_seedling_is_just_taller_than_breast_height():
    for form, numbers in ((wykoff_ft, (4.633182, -6.81926)), (chapman_ft, (115.991446, -0.068079, 1.059224))):
        assert 4.5 <= form(0.05, *numbers) < 6
    assert curtis_arney_ft(0.3, 3844.388, 7.068, -0.2122) == pytest.approx(4.51)
    below, at = (curtis_arney_ft(dbh, 3844.388, 7.068, -0.2122) for dbh in (3 - 1e-9, 3.0))
    assert below == pytest.approx(at, abs=1e-6)


def test_every_curve_named_in_the_data_is_there():
    data = heights._data()
    named = {*data.elsewhere.values(), *(name for names in data.spread.values() for name in names)}
    named |= {name for area in data.areas for name in area.likely.values()}
    assert named == set(data.curves)
