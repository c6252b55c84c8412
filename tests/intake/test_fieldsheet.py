from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from barkwright.intake.fieldsheet import filled, inventory_text, left_out_notes
from barkwright.intake.grid import NoTableError
from barkwright.intake.opening import open_sheet
from barkwright.intake.starter import Start, starter_text
from barkwright.intake.understood import Asked
from barkwright.inventory.reading import read_inventory

ON = date(2026, 11, 25)
START = Start("Reed Bend, lot 3", 43.5, -110.25)
RAW = """\
PLT_CN,CONDID,SUBP,TREE,STATUSCD,SPCD,DIA,HT,AGENTCD,STANDING_DEAD_CD,TPA_UNADJ
777,1,1,1,2,19,6.1000000000000005,37,70,1,6.018
777,1,1,2,1,93,5.3,39,,,6.018
777,1,1,7,2,93,5.1000000000000005,43,10,1,6.018
777,1,2,7,2,94,12.4,,10,1,6.018
777,1,2,8,2,93,,,10,0,6.018
777,1,2,9,2,93,9.5,40,10,0,6.018
777,1,2,10,1,90,9.5,40,,,6.018
777,1,2,11,2,93,165,72,10,1,6.018
"""
TIDY = """\
tree_id,species_code,species,dbh_in,height_ft,status,note,PLT_CN,SUBP,TREE,MEASYEAR,SPCD,STATUSCD,DIA,HT,AGENTCD,STANDING_DEAD_CD
777-1-2,93,Engelmann spruce,5.3,39.0,live,,777,1.0,2.0,2013,93.0,1.0,5.3,39.0,,
777-1-7,93,Engelmann spruce,5.1,43.0,dead,AGENTCD 10 insect; standing dead,777,1.0,7.0,2013,93.0,2.0,5.1,43.0,10.0,1.0
777-2-7,94,white spruce,12.4,,dead,AGENTCD 10 insect; standing dead,777,2.0,7.0,2013,94.0,2.0,12.4,,10.0,1.0
"""


def made(table, start=START):
    read = filled(open_sheet(table.encode(), Asked()), start.units, ON)
    text = inventory_text(read, "plot.csv", start, ON)
    inventory, found = read_inventory(text, "site.yaml", ON)
    assert inventory is not None, [str(one) for one in found]
    return text, inventory, left_out_notes(read.rows, "plot.csv")


def test_the_raw_table_becomes_an_inventory_that_is_accepted():
    _, inventory, _ = made(RAW)
    assert [(tree.id, tree.species, tree.dbh_in, tree.height_ft) for tree in inventory.trees] == [
        ("1-2", "engelmann", 5.3, 39),
        ("1-7", "engelmann", 5.1, 43),
        ("2-7", "white", 12.4, None),
    ]
    assert (inventory.site.name, inventory.site.latitude, inventory.site.longitude) == (
        "Reed Bend, lot 3",
        43.5,
        -110.25,
    )


def test_a_dead_tree_is_not_taken_for_an_infested_one():
    _, inventory, _ = made(RAW)
    assert {tree.attacked for tree in inventory.trees} == {"unknown"}
    assert {tree.found for tree in inventory.trees} == {None}
    assert [tree.note for tree in inventory.trees][:2] == [
        "alive when measured",
        "dead when measured, cause noted: insect",
    ]


def test_what_is_left_out_is_listed_with_its_reason_and_its_line():
    text, _, notes = made(RAW)
    reasons = {
        "1-1": (2, "subalpine fir is no spruce"),
        "2-8": (6, "no diameter was measured: it may be dead and down"),
        "2-9": (7, "it is dead and down: measure it again as windthrown, or as logs"),
        "2-10": (
            8,
            "spruce, kind not named: the kind of spruce must be known: add --species white, or name it",
        ),
        "2-11": (9, "dbh 165 in is out of range"),
    }
    assert [(one.code, one.where.line) for one in notes] == [("left-out", line) for line, _ in reasons.values()]
    for one, (name, (line, reason)) in zip(notes, reasons.items(), strict=True):
        assert reason.replace("'", "") in one.message.replace("'", "")
        assert f"#   row {line}, {name}: " in text
    assert "5 of 8 rows" in text


def test_both_tables_of_a_plot_give_the_same_trees():
    raw, tidy = made(RAW)[1], made(TIDY)[1]
    plain = [[tree.model_copy(update={"note": None}) for tree in one.trees] for one in (raw, tidy)]
    assert plain[0] == plain[1]
    assert tidy.trees[1].note == "dead when measured in 2013, cause noted: insect"


def test_what_the_table_cannot_know_is_asked():
    text, _, _ = made(RAW)
    for key in ("attacked:", "found:", "near:", "hazards:", "crew:", "equipment:", "calendar:", "burning:", "region:"):
        assert any(line.lstrip("# -").startswith(key) for line in text.splitlines() if "#" in line), key


def test_the_public_tables_own_units_hold_in_a_metric_inventory_too():
    start = Start("Reed Bend", 43.5, -110.25, "metric", 2800.0)
    _, inventory, _ = made(RAW, start)
    assert inventory.trees[0].dbh_in == 5.3
    assert inventory.site.elevation_ft == pytest.approx(2800 / 0.3048)


@pytest.mark.parametrize(
    ("table", "dbh"),
    [
        ("id,species,dbh,height\nA,white,16.5,72\n", 16.5),
        ("Tag;Species;DBH_cm;Height_m\nA;white spruce;41.91;21.9456\n", 16.5),
        ("\ufeffid\tspp\tdiameter\nA\tEngelmann\t16.5\n", 16.5),
    ],
)
def test_a_sheet_of_ones_own_is_read_by_its_column_names(table, dbh):
    assert [(tree.id, tree.dbh_in) for tree in made(table)[1].trees] == [("A", dbh)]


def test_ids_stay_unique_and_fit_for_pieces():
    table = "id,species,dbh\nN 1/2,white,12\nN 1/2,white,13\n,white,14\n"
    assert [tree.id for tree in made(table)[1].trees] == ["N-1-2", "N-1-2-row-3", "row-4"]


@pytest.mark.parametrize(
    "table", ["", "a,b\n1,2\n", "id,species,dbh\n", "id,species,dbh\nA,oak,12\n", "species,height\nwhite,3\n"]
)
def test_a_table_without_spruce_is_refused(table):
    with pytest.raises(NoTableError):
        made(table)


@settings(max_examples=60)
@given(st.lists(st.lists(st.text(max_size=8), min_size=4, max_size=5), max_size=4))
def test_whatever_stands_in_the_cells_the_inventory_is_accepted_or_the_table_refused(cells):
    rows = "\n".join(",".join(cell.replace('"', "") for cell in row) for row in cells)
    table = f"id,species,dbh,height,note\nA,white,12,60,x\n{rows}\n"
    try:
        read = filled(open_sheet(table.encode("utf-8", "replace"), Asked(maps=("dbh=dbh:in",))), "imperial", ON)
    except NoTableError:
        return
    assert read.summary().startswith(f"{read.read:,} row")
    text = inventory_text(read, "plot.csv", START, ON)
    assert read_inventory(text, "site.yaml", ON)[0] is not None


def test_a_starter_is_accepted_once_its_empty_lines_are_filled():
    text = starter_text(Start())
    _, found = read_inventory(text, "site.yaml", ON)
    assert {one.code for one in found} == {"missing-value"}
    site = {"name": "here", "latitude": "53.9", "longitude": "-123"}
    for key, value in {**site, "where": "by the gate", "species": "white", "dbh": "12", "height": "60"}.items():
        text = text.replace(f" {key}:", f" {key}: {value}", 1)
    inventory, found = read_inventory(text, "site.yaml", ON)
    assert inventory is not None, [str(one) for one in found]
    assert found == ()
