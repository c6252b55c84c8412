"""Nothing in any file steers the terminal: no control character or turned text of theirs is ever printed."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from barkwright.cli.main import main

EXAMPLES = Path(__file__).parents[2] / "examples"
ON = ("--on", "2026-11-25")
MARKS = (
    "\x1b[31m",
    "\x1b]0;title\x07",
    "\x9b31m",
    "\x08\x08",
    "\u202egnp",
    "\u2066x\u2069",
    "\x7f",
    "\r",
    "\u2028",
    "\x00",
)
STEERING = re.compile(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2028\u2029\u2066-\u2069]")
RULES = """\
rules:
  - id: no-spud-here
    title: the spud broke
    ways: [debark-spud-burn-bark]
    when: [{fact: piece.butt_dob_in, at_least: 8 in}]
    then: {verdict: ruled out}
    because: "Logs of {piece.butt_dob_in} are not spudded here."
    grade: C
    basis: ours
    checked_on: 2026-11-01
"""
JOURNAL = """\
barkwright-journal: 1
site: Tamarack Bend
entries:
  - {id: 1, recorded: 2026-11-24T10:00+00:00, did: felled, date: 2026-11-23, pieces: [T1], by: Ana, note: windy}
"""


def harmless(text: str) -> bool:
    """Has the text nothing but letters and line ends?"""
    return not STEERING.search(text)


def said_by(*words: str) -> str:
    result = CliRunner().invoke(main, [*words, "--color", "never"] if words[0] != "schema" else list(words))
    assert "fault of the program" not in result.stderr, result.stderr
    return result.stdout + result.stderr


def site(folder: Path, change: Callable[[str], str] = lambda text: text, more: str = "") -> str:
    path = folder / "site.yaml"
    text = change((EXAMPLES / "yard-tree.yaml").read_text(encoding="utf-8")) + more
    path.write_bytes(text.encode("utf-8", "surrogatepass"))
    return str(path)


def escaped(mark: str) -> str:
    """As it may be written between double quotes of YAML, so that the text has the very letters."""
    return json.dumps(mark, ensure_ascii=True).strip('"')


@pytest.mark.parametrize("mark", MARKS, ids=ascii)
def test_of_an_inventory(mark: str, tmp_path: Path) -> None:
    for written in (mark, escaped(mark)):
        for old, new in (
            ("name: Tamarack Bend, house 12", f'name: "Tam{written}arack"'),
            ("species: white", f'species: "wh{written}te"'),
            ("  - id: T1", f'  - "i{written}d": T1\n    id: T1'),
            ("id: T1", f'id: "T{written}1"'),
            ("north fence", f"no{written}rth"),
        ):
            name = site(tmp_path, lambda text, old=old, new=new: text.replace(old, new, 1))
            for words in (("tally", name, "-v"), ("flight", name), ("check", name), ("why", name, f"T{mark}1/1")):
                assert harmless(said_by(*words, *ON)), (words, written)


@pytest.mark.parametrize("mark", MARKS, ids=ascii)
def test_of_what_stands_beside_it(mark: str, tmp_path: Path) -> None:
    weather = (EXAMPLES / "otter-narrows-daily.csv").read_text(encoding="utf-8")
    shutil.copy(EXAMPLES / "lake-lot-weather.yaml", tmp_path / "lake.yaml")
    for old in ("Otter", "date", "2016-05-1", "# station"):
        (tmp_path / "otter-narrows-daily.csv").write_text(weather.replace(old, f"{old}{mark}", 3), encoding="utf-8")
        assert harmless(said_by("flight", str(tmp_path / "lake.yaml"), "-v", *ON)), old
    for old in ("no-spud", "the spud", "Logs of", "verdict", "ruled out", "piece.butt", "rules"):
        for written in (mark, escaped(mark)):
            (tmp_path / "own.yaml").write_text(RULES.replace(old, f'"{old}{written}"', 1), encoding="utf-8")
            name = site(tmp_path, more="\nlocal: [own.yaml]\n")
            assert harmless(said_by("why", name, "T1/1", "-v", *ON)), old
            assert harmless(said_by("check", name, *ON)), old
    (tmp_path / "own.yaml").unlink()
    for old in ("Ana", "windy", "felled", "T1", "did"):
        for written in (mark, escaped(mark)):
            (tmp_path / "site.journal.yaml").write_text(JOURNAL.replace(old, f"{old}{written}", 1), encoding="utf-8")
            name = site(tmp_path)
            assert harmless(said_by("done", name, "--list", "-v", *ON)), old
            assert harmless(said_by("tally", name, *ON)), old


@pytest.mark.parametrize("mark", MARKS, ids=ascii)
def test_of_a_table_of_trees(mark: str, tmp_path: Path) -> None:
    table = "tag,species,dbh_in,height_ft,notes\n1,Engelmann spruce,12.5,60,x\n2,lodgepole pine,9,50,y\n"
    for old in ("tag", "species", "1,", "Engelmann", "lodgepole", "12.5", "notes", "x"):
        (tmp_path / "plot.csv").write_text(table.replace(old, f"{mark}{old}{mark}", 1), encoding="utf-8")
        said = said_by("new", "--from", str(tmp_path / "plot.csv"), "--lat", "43", "--lon", "-110", "-v", *ON)
        assert harmless(said), old


def test_the_journal_and_the_rules_that_are_spoilt_are_sound_before(tmp_path: Path) -> None:
    (tmp_path / "site.journal.yaml").write_text(JOURNAL)
    (tmp_path / "own.yaml").write_text(RULES)
    name = site(tmp_path, more="\nlocal: [own.yaml]\n")
    assert "windy" in said_by("done", name, "--list", *ON)
    assert "no faults" in said_by("check", name, *ON)


def options() -> Iterator[tuple[str, ...]]:
    name = str(EXAMPLES / "yard-tree.yaml")
    for mark in MARKS:
        yield from (
            ("order", name, "--try", mark), ("why", name, mark), ("options", name, mark), ("order", mark),
            ("schema", mark), (mark,), ("order", name, "--format", mark), ("order", name, f"--{mark}"),
            ("order", name, "--on", mark), ("order", name, "--weather", mark), ("tally", name, "-o", f"/no/{mark}"),
            ("tree", "--species", mark, "--dbh", mark, "--lat", mark, "--lon", mark), ("done", name, mark, "--felled"),
            ("completion", mark), ("new", "--from", mark, "--lat", "1", "--lon", "1"),
        )  # fmt: skip


def test_of_the_command_line() -> None:
    for words in options():
        result = CliRunner().invoke(main, list(words))
        assert result.exit_code in (1, 2, 3), words
        assert "fault of the program" not in result.stderr, result.stderr
        assert harmless(result.stdout + result.stderr), words


@settings(max_examples=60)
@given(st.text(st.characters(categories=("Cc", "Cf", "Zl", "Zp", "Co", "Cs", "Ll")), min_size=1, max_size=12))
def test_of_any_letters_anywhere(letters: str) -> None:
    text = (EXAMPLES / "yard-tree.yaml").read_text(encoding="utf-8").replace("north fence", letters)
    text = text.replace("Tamarack Bend, house 12", f'"{escaped(letters)}"')
    result = CliRunner().invoke(main, ["tally", "-", *ON], input=text.encode("utf-8", "surrogatepass"))
    assert "fault of the program" not in result.stderr
    assert harmless(result.stdout + result.stderr)
