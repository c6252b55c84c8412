from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner

from barkwright.cli.main import main
from barkwright.inventory.reading import read_inventory

TABLE = "tag,species,dbh_in,height_ft\n1,Engelmann spruce,12.5,60\n2,lodgepole pine,9,50\n3,Engelmann spruce,,\n"
PLACE = ("--name", "Plot 7", "--lat", "43.4", "--lon", "-110.3")


def run(*words: str) -> tuple[int, str, str]:
    result = CliRunner().invoke(main, words)
    return result.exit_code, result.stdout, result.stderr


def test_a_table_becomes_an_inventory_that_is_accepted(tmp_path: Path):
    table = tmp_path / "plot.csv"
    table.write_text(TABLE)
    code, text, told = run("new", "--from", str(table), *PLACE, "--on", "2026-11-25")
    assert code == 0
    inventory, _ = read_inventory(text, "new.yaml", date(2026, 11, 25))
    assert inventory is not None
    assert [tree.dbh_in for tree in inventory.trees] == [12.5]
    assert "3 rows are read: 1 tree, 2 left out" in told
    assert "lodgepole" in text


def test_nothing_is_overwritten(tmp_path: Path):
    mine = tmp_path / "mine.yaml"
    mine.write_text("my notes")
    code, _, told = run("new", "-o", str(mine))
    assert code == 2
    assert "is there already" in told
    assert mine.read_text() == "my notes"


@pytest.mark.parametrize("missing", ["--lat", "--lon"])
def test_a_table_needs_a_place(tmp_path: Path, missing: str):
    table = tmp_path / "plot.csv"
    table.write_text(TABLE)
    words = ["--lat", "43.4", "--lon", "-110.3"]
    at = words.index(missing)
    del words[at : at + 2]
    code, text, told = run("new", "--from", str(table), *words)
    assert (code, text) == (2, "")
    assert "--latitude" in told


def test_a_table_without_spruce_is_refused_at_its_row(tmp_path: Path):
    table = tmp_path / "plot.csv"
    table.write_text("species,dbh_in\naspen,9\n")
    code, text, told = run("new", "--from", str(table), *PLACE)
    assert (code, text) == (3, "")
    assert "plot.csv:2:1" in told


def test_a_table_that_no_inventory_can_hold_is_refused_and_nothing_is_written(tmp_path: Path, monkeypatch):
    monkeypatch.setattr("barkwright.yamldoc.MAX_NODES", 400)
    table, out = tmp_path / "plot.csv", tmp_path / "site.yaml"
    table.write_text("species,dbh,height\n" + "white,14,60\n" * 100)
    code, _, told = run("new", "--from", str(table), *PLACE, "-o", str(out))
    assert code == 3
    assert "100 rows are too many for one inventory" in told
    assert "split the table" in told
    assert not out.exists()


def test_a_cell_that_never_ends_is_named_by_its_line(tmp_path: Path):
    table = tmp_path / "plot.csv"
    table.write_text('species,dbh,note\nwhite,14,"' + "x" * 140_000 + "\n")
    code, _, told = run("new", "--from", str(table), *PLACE)
    assert code == 3
    assert "a cell in line 2 has more than 131,072 letters" in told
    assert "name the columns" not in told
