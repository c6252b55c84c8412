"""Help: its examples work, its errors name what to type next, shells complete, the manual page is one."""

from __future__ import annotations

import ast
import os
import re
import shlex
import shutil
import subprocess
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from barkwright.cli import group
from barkwright.cli.examples import EXAMPLES
from barkwright.cli.main import main

ROOT = Path(__file__).parents[2]
YARD = str(ROOT / "examples" / "yard-tree.yaml")
PRINTED = [(name, line) for name, lines in EXAMPLES.items() for line in lines]
TYPED: dict[str, str] = {}  # what is typed in answer to an example that asks


def run(*words: str, text: str | None = None, env: dict[str, str | None] | None = None) -> Result:
    return CliRunner().invoke(main, list(words), input=text, env=env)


@pytest.mark.parametrize(("name", "line"), PRINTED, ids=lambda text: text.replace(" ", "_")[:40])
def test_each_example_works_in_the_repository(
    name: str, line: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shutil.copytree(ROOT / "examples", tmp_path / "examples")
    monkeypatch.chdir(tmp_path)
    words = shlex.split(line)
    assert words[0] == "barkwright"
    result = run(*words[1:], text=TYPED.get(line))
    assert result.exit_code in (0, 4), result.output
    assert ": error: " not in result.stderr
    product = Path(words[words.index("-o") + 1]).read_bytes() if "-o" in words else result.stdout_bytes
    assert len(product) > 60


@pytest.mark.parametrize("name", list(main.commands))
def test_each_help_ends_with_its_examples(name: str) -> None:
    ends = [line.strip() for line in run(name, "--help").stdout.rstrip().splitlines()]
    assert EXAMPLES[name]
    assert tuple(ends[-len(EXAMPLES[name]) :]) == EXAMPLES[name]
    assert all(line.split()[1] == name for line in EXAMPLES[name])


@pytest.mark.parametrize(
    ("words", "message", "hint"),
    [
        (("ordr", YARD), "there is no command 'ordr'", "barkwright order"),
        ((YARD,), "there is no command", f"barkwright order {YARD}"),
        (("order",), "SITE is missing", "barkwright new -o SITE.yaml"),
        (("why", YARD), "PIECE is missing", "barkwright tally SITE.yaml"),
        (("order", YARD, "--fromat", "json"), "--fromat", "--format"),
        (("order", YARD, "--format", "docx"), "'docx' is not one of", "barkwright order --help"),
        (("order", "no-such.yaml"), "there is no file 'no-such.yaml'", "barkwright new -o SITE.yaml"),
        (("completion",), "SHELL is missing", "barkwright completion --help"),
        (("completion", "tcsh"), "'tcsh' is not one of", "barkwright completion --help"),
        (("order", YARD, "-q", "-v"), "do not go together", "leave one of them out"),
        (("why", YARD, "T9/1", "--on", "2026-11-25"), "there is no piece 'T9/1'", "T1/1"),
        (("options", YARD, "T9", "--on", "2026-11-25"), "there is no tree or piece 'T9'", "T1"),
    ],
)
def test_an_error_names_what_to_type_next(words: tuple[str, ...], message: str, hint: str) -> None:
    result = run(*words)
    assert result.exit_code == 2
    assert message in result.stderr.splitlines()[0]
    assert hint in result.stderr
    assert result.stderr.startswith("barkwright: error: ")
    assert len(result.stderr.splitlines()) == 2


def test_no_stop_is_a_dead_end() -> None:
    """Each StopError that is raised for wrong use carries a hint."""
    calls = [
        (path.name, node)
        for path in sorted((ROOT / "src" / "barkwright" / "cli").glob("*.py"))
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "StopError"
    ]
    assert len(calls) > 20
    bare = [
        (name, node.lineno)
        for name, node in calls
        if len(node.args) + len(node.keywords) < 3 and ast.unparse(node.args[1]) != "FAILED"
    ]
    assert bare == []


def test_quiet_says_only_errors_and_changes_nothing(tmp_path: Path) -> None:
    site = tmp_path / "site.yaml"
    site.write_text(Path(YARD).read_text(encoding="utf-8").replace("longitude: -", "longitude: "), encoding="utf-8")
    loud = run("order", str(site), "--on", "2026-11-25")
    quiet = run("order", str(site), "--on", "2026-11-25", "-q")
    assert "warning" in loud.stderr
    assert (quiet.stdout, quiet.stderr, quiet.exit_code) == (loud.stdout, "", loud.exit_code)
    site.write_text("barkwright: 1\n", encoding="utf-8")
    assert "error" in run("order", str(site), "-q").stderr


def test_verbose_says_what_is_read_and_done() -> None:
    plain = run("order", YARD, "--on", "2026-11-25")
    verbose = run("order", YARD, "--on", "2026-11-25", "--verbose")
    assert verbose.stdout == plain.stdout
    lines = verbose.stderr.splitlines()
    assert all(re.match(r" *\d+\.\d\d s  \S", line) for line in lines), lines
    assert f"read {YARD}" in lines[0]
    assert len(lines) > 2


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_a_shell_gets_its_script(shell: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(subprocess, "run", None)  # no shell is asked for anything
    text = run("completion", shell).stdout
    assert "_BARKWRIGHT_COMPLETE" in text
    assert "barkwright" in text


def completed(typed: str, last: str, monkeypatch: pytest.MonkeyPatch, shell: str = "bash") -> list[str]:
    words = [*shlex.split(typed), last]
    monkeypatch.setenv("COMP_WORDS", typed + " " + last)
    monkeypatch.setenv("COMP_CWORD", last if shell == "fish" else str(len(words) - 1))
    result = run(env={group.COMPLETE: f"{shell}_complete"})
    assert result.exit_code == 0
    assert result.stderr == ""
    return [line.partition(",")[2] for line in result.stdout.splitlines()]


def test_the_shell_completes_what_could_follow(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shutil.copy(YARD, tmp_path / "yard tree.yaml")
    for name in ("notes.txt", "yard tree.journal.yaml", "other.yml"):
        (tmp_path / name).write_text("x")
    (tmp_path / "plots").mkdir()
    monkeypatch.chdir(tmp_path)
    assert completed("barkwright", "o", monkeypatch) == ["order", "options"]
    assert "--format" in completed("barkwright order x", "--fo", monkeypatch)
    assert completed("barkwright order x --format", "c", monkeypatch) == ["csv"]
    assert completed("barkwright order", "", monkeypatch) == ["other.yml", "plots/", "yard\\ tree.yaml"]
    assert completed("barkwright why 'yard tree.yaml'", "T1/s", monkeypatch) == ["T1/stump"]
    assert completed("barkwright options 'yard tree.yaml'", "", monkeypatch)[:2] == ["T1", "T1/stump"]
    assert completed("barkwright done 'yard tree.yaml'", "", monkeypatch)[:2] == ["T1", "T1/stump"]
    assert completed("barkwright done 'yard tree.yaml' T1/1", "T1/st", monkeypatch) == ["T1/stump"]


@pytest.mark.parametrize(
    "content", [b"", b"\xff\xfe\x00", b"trees:\n  - {id: T1\n  - [", b"- id: T1\n  species: \x1b]0;x\x07"]
)
def test_a_broken_file_is_completed_without_a_word(
    content: bytes, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "site.yaml").write_bytes(content)
    monkeypatch.chdir(tmp_path)
    assert completed("barkwright why site.yaml", "T", monkeypatch) == (["T1"] if b"T1" in content else [])
    os.mkfifo(tmp_path / "pipe.yaml")
    assert completed("barkwright why pipe.yaml", "T", monkeypatch) == []
    assert completed("barkwright why missing.yaml", "T", monkeypatch) == []


def test_the_manual_page_holds_every_command_and_option() -> None:
    page = run("man").stdout
    assert page.startswith('.TH BARKWRIGHT 1 "" "barkwright ')
    known = {"TH", "SH", "SS", "TP", "PP", "nf", "fi", "RS", "RE"}
    assert {line[1:].split()[0] for line in page.splitlines() if line.startswith(".")} <= known
    assert not [line for line in page.splitlines() if line.startswith("'")]
    for name, command in main.commands.items():
        assert f".SS {name}\n" in page
        for option in command.params:
            for word in option.opts if option.param_type_name == "option" else ():
                assert word.replace("-", "\\-") in page, word
    assert page == run("man", env={"SOURCE_DATE_EPOCH": "1"}).stdout


@pytest.mark.skipif(shutil.which("groff") is None, reason="groff is not installed")
def test_groff_has_nothing_to_say_about_the_manual_page(tmp_path: Path) -> None:
    (tmp_path / "page.1").write_text(run("man").stdout)
    words = ["groff", "-man", "-ww", "-z", str(tmp_path / "page.1")]
    said = subprocess.run(words, capture_output=True, text=True, check=False)
    assert (said.returncode, said.stderr) == (0, "")


def test_a_new_inventory_names_the_schema_that_lies_beside_it(tmp_path: Path) -> None:
    first, told = run("new").stdout.splitlines()[:2]
    name = re.fullmatch(r"# yaml-language-server: \$schema=(\S+)", first)
    assert name is not None
    assert "/" not in name[1]
    words = told.partition("barkwright ")[2].split()
    assert words[-1] == name[1]
    words[-1] = str(tmp_path / words[-1])
    assert run(*words).exit_code == 0
    assert (tmp_path / name[1]).read_text() == run("schema", "inventory").stdout
