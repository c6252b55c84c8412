"""Our own earlier results for stems: they guard against change, they prove nothing about the sources."""

import csv
from pathlib import Path

import pytest

from barkwright.stem import nsvb
from barkwright.stem.curves import chapman_ft, curtis_arney_ft, wykoff_ft
from barkwright.stem.profile import profile
from barkwright.stem.stump import stump_dob_in
from barkwright.stem.tables import coefficient_row

LINES = (Path(__file__).parent / "stem_trees.csv").read_text(encoding="utf-8").splitlines()
TREES = list(csv.DictReader(line for line in LINES if not line.startswith("#")))


@pytest.mark.parametrize(
    "row", TREES, ids=lambda row: f"{row['spcd']}-{row['division']}-{row['dbh_in']}x{row['height_ft']}"
)
def test_snapshot_tree(row):
    code, dbh, height = int(row["spcd"]), float(row["dbh_in"]), float(row["height_ft"])
    division = row["division"] if row["division"] not in ("", "species") else None
    stem = profile(code, division, dbh, height)
    assert stem.wood_ft3 == pytest.approx(float(row["wood_ft3"]), abs=6e-5)
    assert stem.bark_ft3 == pytest.approx(float(row["bark_ft3"]), abs=6e-5)
    assert stem.inside == pytest.approx(float(row["inside"]), abs=6e-5)
    alpha, beta = stem.outer.alpha, stem.outer.beta
    for at in ("1", "4.5", "9", "17", "33", "49"):
        if row[f"dob_{at}"]:
            drawn = nsvb.diameter_in(float(at), height, stem.outer_ft3, alpha, beta)
            assert drawn == pytest.approx(float(row[f"dob_{at}"]), abs=6e-4)
    for top in ("5", "4"):
        found = nsvb.height_to_top_ft(float(top), height, stem.outer_ft3, alpha, beta)
        assert found == pytest.approx(float(row[f"height_{top}"]), abs=6e-4)
    for table, name in (("S6", "bark_lb"), ("S7", "branch_lb"), ("S9", "foliage_lb")):
        density = {95: 0.38}.get(code, 0.36)
        total = coefficient_row(table, code, division).total(dbh, height, density)
        assert total == pytest.approx(float(row[name]), abs=6e-3)


def test_snapshot_stump_diameters():
    assert stump_dob_in(16, 1, 0.14525) == pytest.approx(20.07, abs=5e-3)


def test_snapshot_heights_from_diameter():
    assert wykoff_ft(12, 4.633182, -6.81926) == pytest.approx(65.36, abs=5e-3)
    assert wykoff_ft(12, 4.5293, -7.7725) == pytest.approx(55.48, abs=5e-3)
    assert curtis_arney_ft(12, 3844.388, 7.068, -0.2122) == pytest.approx(63.81, abs=5e-3)
    assert chapman_ft(16, 115.991446, -0.068079, 1.059224) == pytest.approx(79.62, abs=5e-3)
