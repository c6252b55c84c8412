"""The drawn stem: what must hold for every tree, whatever its size and species."""

import math
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from barkwright.stem import measures, stump
from barkwright.stem.profile import profile

CODES = st.sampled_from([91, 93, 94, 95, 96, 97, 98])
DIVISIONS = st.sampled_from([None, "130", "M130", "210", "220", "M210", "M240", "M330", "M340"])
DBH = st.floats(3, 60)
SLENDER = st.floats(1.8, 9)  # ft of height per inch of diameter
PART = st.floats(0.001, 0.999)


def stem(code, division, dbh, slender):
    height = dbh * slender
    assume(6 < height < 250)
    return profile(code, division, dbh, height)


@given(CODES, DIVISIONS, DBH, SLENDER, PART, PART)
@settings(max_examples=200)
def test_the_diameter_falls_all_the_way_up(code, division, dbh, slender, low, high):
    tree = stem(code, division, dbh, slender)
    low, high = sorted((low * tree.height_ft, high * tree.height_ft))
    assume(low > tree.floor_ft and high - low > 0.01)
    assert tree.dob_in(low) > tree.dob_in(high) > 0
    assert tree.dob_in(tree.height_ft) == 0


@given(CODES, DIVISIONS, DBH, SLENDER, PART)
@settings(max_examples=200)
def test_the_height_of_a_diameter_gives_back_the_height(code, division, dbh, slender, part):
    tree = stem(code, division, dbh, slender)
    height = part * tree.height_ft
    assume(height > tree.floor_ft)
    assert tree.height_of_ft(tree.dob_in(height)) == pytest.approx(height, abs=1e-6)


@given(CODES, DIVISIONS, DBH, SLENDER)
@settings(max_examples=100)
def test_the_stem_passes_through_the_measured_diameter(code, division, dbh, slender):
    tree = stem(code, division, dbh, slender)
    assert tree.dob_in(4.5) == pytest.approx(dbh, rel=1e-12)
    assert tree.dob_in(4.5 - 1e-9) == pytest.approx(dbh, rel=1e-6)
    assert 0 < tree.inside < 1


@given(CODES, DIVISIONS, st.floats(3, 25), SLENDER)
@settings(max_examples=100)
def test_wood_is_most_of_a_stem_of_common_size(code, division, dbh, slender):
    assert stem(code, division, dbh, slender).inside > 0.75


@given(CODES, DIVISIONS, DBH, SLENDER, st.lists(PART, min_size=1, max_size=6, unique=True))
@settings(max_examples=100)
def test_shares_of_wood_add_up_to_the_whole(code, division, dbh, slender, parts):
    tree = stem(code, division, dbh, slender)
    cuts = [0.0, *sorted(part * tree.height_ft for part in parts), tree.height_ft]
    shares = [tree.share(low, high) for low, high in pairwise(cuts)]
    assert min(shares) >= 0
    assert math.fsum(shares) == pytest.approx(1, abs=1e-12)


@pytest.mark.parametrize(("code", "dbh", "height"), [(93, 12, 65), (94, 20, 90), (98, 36, 120), (94, 5, 38)])
def test_bark_area_is_the_circumference_summed_up_the_stem(code, dbh, height):
    tree = profile(code, None, dbh, height)
    steps = 20000
    for low, high in ((0, 0.5), (0.5, 8.5), (2, 4), (8.5, 16.5), (16.5, height - 1)):
        width = (high - low) / steps
        summed = math.fsum(math.pi / 12 * tree.dob_in(low + (k + 0.5) * width) * width for k in range(steps))
        assert tree.bark_area_ft2(low, high) == pytest.approx(summed, rel=0.02 if high > 17 else 1e-3)


def test_a_broken_stem_ends_at_the_break():
    whole, broken = profile(94, None, 16, 80), profile(94, None, 16, 80, end_ft=30)
    assert broken.height_of_ft(5.0) == 30
    assert broken.dob_in(20) == whole.dob_in(20)


def test_a_tree_no_taller_than_breast_height_is_refused():
    with pytest.raises(ValueError, match="taller than"):
        profile(94, None, 3, 4.5)


@given(st.floats(3, 60), st.floats(0.2, 4.4))
def test_stump_equations_turn_round(dbh, height):
    dob = stump.stump_dob_in(dbh, height, 0.14525)
    assert stump.dbh_from_stump_in(dob, height, 0.14525) == pytest.approx(dbh)
    assert stump.height_of_stump_dob_ft(dob, dbh, 0.14525) == pytest.approx(height)


def test_the_side_of_a_cylinder_and_of_a_cone():
    assert measures.side_ft2(12, 12, 10) == pytest.approx(math.pi * 10)
    assert measures.side_ft2(24, 0, math.sqrt(3)) == pytest.approx(math.pi * 2)  # radius 1 ft, slant 2 ft
