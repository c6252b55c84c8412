"""`new` with field sheets: what is asked, what is said, what is written."""

import csv
import io
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner

from barkwright.cli.main import main
from barkwright.inventory.reading import read_inventory

PLACE = ("--lat", "53.4", "--lon", "-122.3", "--on", "2026-11-27")
SURE = "tree,species,dbh cm,height m\n1,white,40,25\n2,oak,30,20\n"
DOUBTFUL = "tree,species,dbh\n1,white,24\n2,white,26\n"
SITE = """\
# the yard
barkwright: 1
site: {name: Yard, units: metric, latitude: 53, longitude: -122}
trees:
  - {id: A, species: white, dbh: 30}   # by the gate
"""


def run(*words, stdin=None):
    result = CliRunner().invoke(main, words, input=stdin)
    return result.exit_code, result.stdout, result.stderr


def sheet(folder: Path, text: str, name: str = "walk.csv") -> str:
    (folder / name).write_text(text, encoding="utf-8")
    return str(folder / name)


def trees(text: str):
    inventory, found = read_inventory(text, "site.yaml", date(2026, 11, 27))
    assert inventory is not None, [str(one) for one in found]
    return {tree.id: tree for tree in inventory.trees}


@pytest.fixture
def terminal(monkeypatch):
    monkeypatch.setattr("barkwright.cli.sheetscreen._can_ask", lambda name: True)


def test_what_is_certain_goes_through_without_a_terminal_and_is_said(tmp_path):
    code, text, told = run("new", "--from", sheet(tmp_path, SURE), *PLACE)
    assert code == 0
    assert list(trees(text)) == ["1"]
    assert "2 rows are read: 1 tree, 1 left out" in told
    assert "left out: row 3, 2: oak is no spruce" in told


WALK = """\
Tree,Species,DBH in,Height ft,Dist,Down?
1,w. spruce,14,70,5,no
1,w. spruce,14,70,5,no
2,white spruce,12,60,,yes
3,spruce,12,60,3,
4,white spruce,12,60,3,stump
4,white spruce,13,60,3,fallen
"""


def test_what_is_not_used_or_left_out_is_said_with_what_to_do(tmp_path):
    code, text, told = run("new", "--from", sheet(tmp_path, WALK), *PLACE)
    assert code == 0
    assert "not used: Dist\n" in told
    assert "# Columns of '" in text
    assert "that were not used: Dist\n" in text
    status = {name: tree.status for name, tree in trees(text).items()}
    assert status == {"1": "standing", "2": "windthrown", "4": "stump", "4-row-7": "windthrown"}
    assert "doubt: 'Down?' says that 1 tree is down, not how" in told
    assert "row 3, 1-row-3: it is row 2 again, word for word" in told
    assert "the kind of spruce must be known: add --species white, or name it in the sheet" in told


def test_a_doubt_about_sizes_ends_it_with_the_words_that_settle_it(tmp_path):
    name = sheet(tmp_path, DOUBTFUL)
    code, text, told = run("new", "--from", name, *PLACE)
    assert (code, text) == (2, "")
    assert "--map 'dbh=dbh:cm'" in told
    code, text, _ = run("new", "--from", name, *PLACE, "--map", "dbh=dbh:in")
    assert code == 0
    assert trees(text)["1"].dbh_in == 24
    assert run("new", "--from", name, *PLACE, "--yes")[0] == 0


def test_units_that_were_said_settle_it_where_the_sizes_allow(tmp_path):
    code, text, _ = run("new", "--from", sheet(tmp_path, DOUBTFUL), *PLACE, "--units", "metric")
    assert code == 0
    assert trees(text)["1"].dbh_in == pytest.approx(24 / 2.54)


def test_the_screen_names_every_column_and_takes_a_change(tmp_path, terminal):
    name = sheet(tmp_path, "tree,species,dbh,crew\n1,white,24,Ada\n2,white,26,Bo\n")
    code, text, told = run("new", "--from", name, *PLACE, stdin="dbh=mm\nnonsense\ndbh=in\ny\n")
    assert code == 0
    assert trees(text)["1"].dbh_in == 24
    first = told.split("> ")[0]
    for said in ("tree", "species", "cm?", "not used: crew", "cannot be told", "to settle it: dbh=dbh:cm", "24, 26"):
        assert said in first, said
    assert "'nonsense' is not column=meaning" in told
    assert all(len(line) <= 80 for line in first.splitlines() if not line.startswith(name))


@pytest.mark.parametrize("answer", ["q\n", ""])
def test_leaving_the_screen_writes_nothing(tmp_path, terminal, answer):
    out = tmp_path / "new.yaml"
    code, text, _ = run("new", "--from", sheet(tmp_path, SURE), *PLACE, "-o", str(out), stdin=answer)
    assert code != 0
    assert text == ""
    assert not out.exists()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--map", "dhb=dbh"), "did you mean 'dbh cm'"),
        (("--map", "tree=size"), "'size' is no meaning"),
        (("--map", "tree=id:cm"), "'id' has no unit"),
        (("--map", "dbh cm=dbh:kg"), "units are cm"),
        (("--map", "tree"), "is not column=meaning"),
        (("--species", "oak"), "no kind of spruce"),
        (("--sheet",), "take one of them"),
        (("--format", "html"), "goes with --sheet"),
    ],
)
def test_slips_are_named(tmp_path, words, said):
    code, text, told = run("new", "--from", sheet(tmp_path, SURE), *PLACE, *words)
    assert (code, text) == (2, "")
    assert said in told


def test_options_of_a_sheet_need_one():
    assert run("new", "--map", "a=b")[0] == 2
    assert run("new", "--rows", "3")[0] == 2


def test_one_kind_for_all_trees(tmp_path):
    name = sheet(tmp_path, "tree,dbh cm\n1,30\n")
    assert run("new", "--from", name, *PLACE)[0] == 3
    code, text, _ = run("new", "--from", name, *PLACE, "--species", "Picea x lutzii")
    assert (code, trees(text)["1"].species) == (0, "lutz")


def test_without_the_library_it_says_how_to_get_it(tmp_path, monkeypatch):
    import openpyxl

    book = openpyxl.Workbook()
    book.active.append(["id", "species", "dbh cm"])
    book.save(tmp_path / "walk.xlsx")
    monkeypatch.setitem(__import__("sys").modules, "openpyxl", None)
    code, _, told = run("new", "--from", str(tmp_path / "walk.xlsx"), *PLACE)
    assert code == 1
    assert "barkwright[excel]" in told
    assert "CSV" in told


def test_trees_are_added_and_the_file_before_is_kept(tmp_path):
    site = tmp_path / "yard.yaml"
    site.write_text(SITE)
    code, text, told = run("new", "--from", sheet(tmp_path, SURE), "--into", str(site))
    assert (code, text) == (0, "")
    assert site.read_text().startswith(SITE)
    assert trees(site.read_text())["1"].dbh_in == pytest.approx(40 / 2.54)
    assert (tmp_path / "yard.yaml.bak").read_text() == SITE
    assert "yard.yaml.bak" in told
    longer = site.read_text()
    code, _, told = run("new", "--from", sheet(tmp_path, SURE), "--into", str(site))
    assert code == 0
    assert "measured the same: 1" in told
    assert site.read_text() == longer
    third = sheet(tmp_path, "tree,species,dbh cm\n9,white,22\n")
    assert run("new", "--from", third, "--into", str(site))[0] == 0
    assert (tmp_path / "yard.yaml.bak").read_text() == SITE
    assert (tmp_path / "yard.yaml.bak2").read_text() == longer


def test_into_with_another_name_leaves_the_site_as_it_is(tmp_path):
    site, out = tmp_path / "yard.yaml", tmp_path / "longer.yaml"
    site.write_text(SITE)
    assert run("new", "--from", sheet(tmp_path, SURE), "--into", str(site), "-o", str(out))[0] == 0
    assert site.read_text() == SITE
    assert list(trees(out.read_text())) == ["A", "1"]
    assert not list(tmp_path.glob("*.bak*"))


def test_a_site_that_is_no_yaml_is_left_alone(tmp_path):
    site = tmp_path / "yard.yaml"
    site.write_text("trees: [\n")
    code, _, _ = run("new", "--from", sheet(tmp_path, SURE), "--into", str(site))
    assert code == 3
    assert site.read_text() == "trees: [\n"
    assert not list(tmp_path.glob("*.bak*"))


@pytest.mark.parametrize("units", ["imperial", "metric"])
def test_the_blank_sheet_filled_in_reads_back_without_a_doubt(tmp_path, units):
    code, text, _ = run("new", "--sheet", "--format", "csv", "--units", units)
    assert code == 0
    head, example = list(csv.reader(io.StringIO(text)))
    assert example[0].startswith("EXAMPLE")
    out = io.StringIO()
    mine = ["17", *example[1:]]
    csv.writer(out).writerows([head, example, mine])
    code, made, told = run("new", "--from", sheet(tmp_path, out.getvalue()), *PLACE)
    assert code == 0
    assert "doubt" not in told
    assert "row 2: the example, no tree" in told
    tree = trees(made)["17"]
    across, high, house = (16.5, 72, 80) if units == "imperial" else (42 / 2.54, 22 / 0.3048, 25 / 0.3048)
    assert (tree.dbh_in, tree.height_ft) == (pytest.approx(across), pytest.approx(high))
    assert (tree.attacked, tree.attack, tree.hazards) == (2025, "mass", ("lean",))
    assert (tree.found.insect, tree.found.stages) == ("spruce-beetle", ("larvae", "adults"))
    assert (tree.found.looked, tree.found.exit_holes) == (("base", "sunny", "shaded"), "none")
    assert (tree.found.crown, tree.found.seen) == ("green", date(2026, 10, 20))
    assert (tree.near.line, tree.near.building) == ("out-of-reach", pytest.approx(house))
    assert (tree.where, tree.note) == ("left of the gate", "woodpecker holes")


def test_the_codes_of_the_paper_sheet_are_read():
    from barkwright.intake.cells import word, words
    from barkwright.output.blank_sheet import blank_columns

    keys = {"exit holes": "exit_holes"}
    for column in blank_columns():
        table = getattr(words(), keys.get(column.head, column.head), None)
        for mark in column.marks:
            assert mark == "?" or word(mark, table), (column.head, mark)


def test_the_paper_sheet_has_its_rows_and_explains_every_code():
    code, page, _ = run("new", "--sheet", "--format", "html", "--rows", "7", "--name", "Otter <Run>")
    assert code == 0
    assert page.count('<td class="box">') % 7 == 0
    assert "Otter &lt;Run&gt;" in page
    assert "http" not in page
    for said in ("larvae", "Look up before you walk up", "root plate", "4.5 ft"):
        assert said in page
    assert "1.3 m" in run("new", "--sheet", "--format", "html", "--units", "metric")[1]
    text = run("new", "--sheet", "--rows", "2")[1]
    assert text.count("Where it stands") == 2
    assert all(len(line) <= 100 for line in text.splitlines())
