"""Questions at a pseudo-terminal: asked, kept, gone on with, written; and never asked where there is no terminal."""

from __future__ import annotations

import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner
from terminal import Terminal

from barkwright.cli.main import main
from barkwright.intake.interview import Interview
from barkwright.intake.replying import all_options, reply
from barkwright.inventory.reading import read_inventory

ON = ("--on", "2026-11-27")
SAFETY = ("far", "85 ft", "far", "120 ft", "none")
REST = (
    "53.1, -122.4", "", "white", "52 in", "72 ft", "2026", "larvae", "base, sunny", "", "2", "", "saw",
    "chain saw, drawknife", "chipper 9 in 310/day delivery 90", "dk", "",
)  # fmt: skip
DRAFT = "barkwright-tree.draft"


def start(folder: Path, *words: str, columns: int = 80, **env: str) -> Terminal:
    terminal = Terminal(folder, *(words or ("tree",)), *ON, columns=columns, **env)
    terminal.wait()
    return terminal


def sound(path: Path) -> bool:
    inventory, _ = read_inventory(path.read_text(encoding="utf-8"), path.name, date(2026, 11, 27))
    return inventory is not None


def test_a_yard_tree_from_nothing_to_its_order(tmp_path: Path) -> None:
    terminal = start(tmp_path)
    said = terminal.type_all(*SAFETY, *REST)
    assert "Your answers:" in said
    assert "Under which name" in terminal.type("")
    terminal.type("")
    assert terminal.end() == 0
    assert "WORK ORDER" in terminal.shown
    assert terminal.shown.rstrip().endswith("barkwright order one-tree.yaml")
    assert [path.name for path in tmp_path.iterdir()] == ["one-tree.yaml"]
    checked = CliRunner().invoke(main, ["check", str(tmp_path / "one-tree.yaml"), *ON])
    assert (checked.exit_code, "no faults" in " ".join(checked.stdout.split())) == (0, True)
    assert terminal.keys < 250


def test_the_order_is_that_of_the_same_answers_as_options(tmp_path: Path) -> None:
    interview = Interview("tree", date(2026, 11, 27))
    for text in (*SAFETY, *REST):
        interview = reply(interview, text).interview
    words = ["tree", *ON, "--save", str(tmp_path / "options.yaml")]
    for name, value in all_options(interview).items():
        for one in value if isinstance(value, tuple) else (value,):
            words += [f"--{name.replace('_', '-')}", one]
    by_options = CliRunner().invoke(main, words)
    terminal = start(tmp_path)
    terminal.type_all(*SAFETY, *REST, "", "asked")
    assert terminal.end() == by_options.exit_code == 0, by_options.stderr
    plain = terminal.shown.replace("asked.yaml", "options.yaml")
    body = by_options.stdout[by_options.stdout.index("AT A GLANCE") : by_options.stdout.index("SOURCES ===")]
    assert body in plain


@pytest.mark.parametrize("end", ["kill", "hang_up"])
def test_answers_outlive_the_terminal_and_are_gone_on_with(tmp_path: Path, end: str) -> None:
    terminal = start(tmp_path)
    terminal.type_all(*SAFETY, "54.0, -123.0")
    getattr(terminal, end)()
    assert [path.name for path in tmp_path.iterdir()] == [DRAFT]
    again = Terminal(tmp_path, "tree", *ON)
    said = again.wait()
    assert "holds 6 answers" in said
    assert DRAFT in said
    assert "Question 7" in again.type("yes")
    again.type_all(*REST[1:], "", "")
    assert again.end() == 0
    assert [path.name for path in tmp_path.iterdir()] == ["one-tree.yaml"]
    assert "latitude: 54" in (tmp_path / "one-tree.yaml").read_text(encoding="utf-8")


def test_answers_of_every_sitting_are_kept(tmp_path: Path) -> None:
    first = start(tmp_path)
    first.type_all("far", "quit")
    first.end()
    second = Terminal(tmp_path, "tree", *ON)
    second.wait()
    second.type_all("yes", "85 ft", "far", "quit")
    second.end()
    assert "cannot be kept" not in second.shown
    third = Terminal(tmp_path, "tree", *ON)
    assert "holds 3 answers" in third.wait()
    third.type("quit")
    third.end()


@pytest.mark.parametrize(("key", "code"), [(b"\x03", 1), (b"\x04", 1), (b"quit\r", 1)])
def test_stopping_says_that_the_answers_are_kept(tmp_path: Path, key: bytes, code: int) -> None:
    terminal = start(tmp_path)
    terminal.type("far")
    terminal.press(key)
    assert terminal.end() == code
    assert f"your answers are kept in '{DRAFT}'" in " ".join(terminal.shown.split())
    assert "go on from there" in " ".join(terminal.shown.split())
    assert "Traceback" not in terminal.shown
    assert "error:" not in terminal.shown


def test_stopping_before_the_first_answer_leaves_nothing(tmp_path: Path) -> None:
    terminal = start(tmp_path)
    terminal.type("quit")
    assert terminal.end() == 1
    assert "nothing is kept" in terminal.shown
    assert list(tmp_path.iterdir()) == []


def test_a_draft_that_is_not_wanted_is_left_as_it_is(tmp_path: Path) -> None:
    terminal = start(tmp_path)
    terminal.type("35 ft")
    terminal.kill()
    old = (tmp_path / DRAFT).read_bytes()
    again = Terminal(tmp_path, "tree", *ON)
    again.wait()
    assert "Question 1 " in again.type("no")
    again.type("far")
    again.type("quit")
    again.end()
    assert (tmp_path / DRAFT).read_bytes() == old
    assert (tmp_path / "barkwright-tree-2.draft").exists()


def test_back_help_units_and_wrong_answers(tmp_path: Path) -> None:
    terminal = start(tmp_path)
    assert "first question" in terminal.type("back")
    assert "within reach" in terminal.type("?")
    assert "Not taken" in terminal.type("near by")
    terminal.type_all("35 ft", "house")
    assert "metres" in terminal.type("metric")
    assert "= 25 m" in terminal.type("25")
    assert "Question 3" in terminal.type("back")
    assert "Question 2" in terminal.type("back")
    said = terminal.type("back")
    assert "keeps: 35 ft" in said
    said = terminal.type("far")
    assert "Question 3" in said  # the kind of line is no longer asked
    assert "road" in said
    terminal.type("quit")
    terminal.end()


def test_an_answer_is_changed_by_its_number_and_nothing_is_written_over(tmp_path: Path) -> None:
    (tmp_path / "mine.yaml").write_text("my notes")
    terminal = start(tmp_path)
    terminal.type_all(*SAFETY, *REST)
    assert "Not taken" in terminal.type("99")
    assert "How tall" in terminal.type("10")
    assert "Height: 60 ft" in terminal.type("60 ft")
    terminal.type("")
    assert "is there already" in terminal.type("mine.yaml")
    assert "Not taken" in terminal.type("no-folder/tree.yaml")
    terminal.type("new-one")
    assert terminal.end() == 0
    assert (tmp_path / "mine.yaml").read_text() == "my notes"
    assert "height: 60 ft" in (tmp_path / "new-one.yaml").read_text(encoding="utf-8")


def test_new_takes_several_trees(tmp_path: Path) -> None:
    terminal = start(tmp_path, "new", "-o", "lot.yaml", "--name", "Lot 7")
    terminal.type_all(*SAFETY, "53.1, -122.4", "", "fence", "white", "52 in", "72", "never", "yes")
    said = terminal.type_all("far", "85", "far", "120", "none", "", "shed", "", "40 in", "")
    assert "Not taken" in said  # a height has no empty line
    terminal.type_all("dk", "", "no", "2", "", "", "", "saw", "chain saw", "", "dk", "")
    terminal.type("")
    assert terminal.end() == 0
    text = (tmp_path / "lot.yaml").read_text(encoding="utf-8")
    assert "id: T2" in text
    assert "Lot 7" in text
    assert sound(tmp_path / "lot.yaml")
    assert "barkwright order lot.yaml" in terminal.shown


def test_what_is_not_known_is_left_to_be_filled_in(tmp_path: Path) -> None:
    terminal = start(tmp_path)
    while "Your answers" not in terminal.type("dk"):
        assert terminal.keys < 200
    terminal.type_all("", "")
    assert terminal.end() == 3
    assert "barkwright check one-tree.yaml" in terminal.shown
    assert "# latitude:" in (tmp_path / "one-tree.yaml").read_text(encoding="utf-8")
    assert not sound(tmp_path / "one-tree.yaml")


def test_it_fits_forty_columns(tmp_path: Path) -> None:
    terminal = start(tmp_path, columns=40)
    terminal.type_all(*SAFETY, *REST)
    assert max(map(len, terminal.shown.splitlines())) <= 40
    terminal.type("quit")
    terminal.end()


def test_plain_letters_are_enough(tmp_path: Path) -> None:
    terminal = start(tmp_path, LC_ALL="C", PYTHONUTF8="0", PYTHONCOERCECLOCALE="0", PYTHONIOENCODING="ascii")
    said = terminal.type_all(*SAFETY, *REST)
    assert said.isascii()
    assert "Your answers" in said
    terminal.type("quit")
    assert terminal.end() == 1


def test_control_characters_reach_neither_terminal_nor_file(tmp_path: Path) -> None:
    terminal = start(tmp_path, "new", "-o", "lot.yaml")
    terminal.type_all(*SAFETY, "53.1, -122.4")
    said = terminal.type("bad\x16\x1b[31mname")
    assert "Not taken" in said
    terminal.type("quit")
    terminal.end()
    assert "\\u001b" not in (tmp_path / "lot.yaml.draft").read_text()


def test_a_folder_that_takes_no_files_is_said_and_the_questions_go_on(tmp_path: Path) -> None:
    (tmp_path / "lot.yaml.draft").mkdir()
    terminal = start(tmp_path, "tree", "--save", str(tmp_path / "gone" / "tree.yaml"))
    said = terminal.type("far")
    assert "cannot be kept" in said
    assert "Question 2" in said
    terminal.type("quit")
    terminal.end()


def test_options_that_are_given_are_not_asked(tmp_path: Path) -> None:
    terminal = start(tmp_path, "tree", "--species", "white", "--near", "line=out-of-reach", "--own", "drawknife")
    said = terminal.type_all(
        "85", "far", "far", "none", "53.1,-122.4", "", "52", "72", "never", "2", "", "no", "", "dk", ""
    )
    assert "Your answers" in said
    assert "spruce is it" not in terminal.shown
    terminal.type_all("", "")
    assert terminal.end() == 0
    assert "drawknife" in (tmp_path / "one-tree.yaml").read_text(encoding="utf-8")


@pytest.mark.parametrize("words", [("tree",), ("tree", "--species", "white"), ("tree", "--ask")])
def test_without_a_terminal_nothing_is_asked(tmp_path: Path, words: tuple[str, ...]) -> None:
    command = [sys.executable, "-c", "from barkwright.cli.main import main; main()", *words]
    result = subprocess.run(command, input="far\n", capture_output=True, text=True, cwd=tmp_path, check=False)
    assert (result.returncode, result.stdout) == (2, "")
    assert "missing option" in result.stderr.casefold()
    assert list(tmp_path.iterdir()) == []


def test_new_without_a_terminal_or_asking_prints_the_empty_inventory(tmp_path: Path) -> None:
    assert "barkwright: 1" in CliRunner().invoke(main, ["new"]).stdout
    terminal = Terminal(tmp_path, "new", "--no-ask", *ON)
    assert terminal.end() == 0
    assert "barkwright: 1" in terminal.shown


USUAL = (  # a terminal for each takes its time: the others are run by hand
    "test_a_yard_tree_from_nothing_to_its_order",
    "test_answers_of_every_sitting_are_kept",
    "test_without_a_terminal_nothing_is_asked",
)
for _name, _test in tuple(globals().items()):
    if _name.startswith("test_") and _name not in USUAL:
        pytest.mark.slow(_test)
