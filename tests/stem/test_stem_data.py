"""The stem stage's data: cited, complete, and what the sources print."""

import pytest
from trees import inventory

from barkwright.datafile import rows
from barkwright.sources import cite
from barkwright.stem import heights
from barkwright.stem.bucking import cut_tree
from barkwright.stem.tables import coefficient_row, division_limit_in, factors, species_facts

SPECIES = ("white", "engelmann", "sitka", "lutz", "black", "red", "blue", "norway")


def test_every_number_has_a_source_that_exists_or_says_that_it_is_ours():
    cited = [text for facts in map(species_facts, SPECIES) for text in facts.cite]
    cited += [text for curve in heights._data().curves.values() for text in curve.cite]
    for name, record in factors().items():
        assert record.cite or record.basis == "ours", name
        cited += record.cite
    for text in cited:
        assert cite(text).locator


def test_what_a_tree_rests_on_can_be_looked_up():
    stump = {"id": "T2", "species": "white", "status": "stump", "diameter": 9.0, "height": 1.0}
    whole = inventory({"id": "T1", "species": "sitka", "dbh": 20.0}, stump)
    for tree in whole.trees:
        for text in cut_tree(tree, whole).basis:
            assert cite(text).locator


def test_each_table_falls_back_by_itself():
    # Westfall et al. 2024: blue spruce has wood rows of its own and takes the spruce group for the rest.
    levels = {
        table: coefficient_row(table, 96, "M330").level for table in ("S1", "S5", "S2", "S3", "S4", "S6", "S7", "S9")
    }
    assert [levels[table] for table in ("S1", "S5")] == ["species", "species"]
    assert {levels[table] for table in ("S2", "S3", "S4", "S6", "S7", "S9")} == {"group 5"}
    assert coefficient_row("S1", 93, "M330").level == "M330"
    assert coefficient_row("S2", 93, "M130").level == "species"
    assert coefficient_row("S1", 94, None).level == "species"
    with pytest.raises(KeyError):
        coefficient_row("S12", 94, None)


def test_every_division_row_of_wood_has_a_limit():
    for row in rows("stem/nsvb_spruce.csv"):
        if row["table"] == "S1" and row["division"] and row["spcd"] != "90":
            assert division_limit_in(int(row["spcd"]), row["division"]) is not None, row
