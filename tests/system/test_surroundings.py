"""The program in odd surroundings: streams closed or left, old locales, narrow terminals, no home, other clocks."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from functools import partial
from pathlib import Path

import pytest
from started import ON, PROGRAM, ROOT, YARD, environment, every_command, every_form, examples_in, no_inside, run, start

pytestmark = pytest.mark.slow  # a process for each case: run by hand

TALLY = ("tally", YARD, *ON)
COMMANDS = [words for words in every_command() if words[0] != "done"]
FORMS = [words for words in every_form() if words[0] != "done"]
SOME = [words if number % 4 == 0 else pytest.param(words, marks=pytest.mark.slow) for number, words in enumerate(FORMS)]
FEW = [
    words if number % 3 == 0 else pytest.param(words, marks=pytest.mark.slow) for number, words in enumerate(COMMANDS)
]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return examples_in(tmp_path_factory.mktemp("site"))


@pytest.fixture(scope="module")
def usual(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """The order as it comes out in the surroundings of the tests."""
    target = tmp_path_factory.mktemp("usual") / "order.csv"
    assert run("order", YARD, *ON, "--format", "csv", "-o", target).returncode == 0
    return target.read_bytes()


@pytest.mark.parametrize("words", SOME, ids=lambda words: f"{words[0]}-{words[-1]}"[:30])
def test_a_reader_that_leaves_hears_nothing(words: tuple[str, ...], folder: Path) -> None:
    with start(*words, cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as program:
        assert program.stdout is not None
        assert program.stderr is not None
        program.stdout.close()
        said = program.stderr.read()
    assert b"roken" not in said
    assert no_inside(said)
    assert b"error" not in said
    assert program.returncode in (0, 1, 4)


@pytest.mark.parametrize("words", FEW, ids=lambda words: words[0])
def test_streams_may_be_closed(words: tuple[str, ...], folder: Path) -> None:
    for closed in (0, 1, 2):
        more = {"stdin": None, "stdout": subprocess.PIPE, "stderr": subprocess.PIPE}
        done = run(*words, cwd=folder, preexec_fn=partial(os.close, closed), **more)
        assert no_inside(done.stderr)
        assert done.returncode == (2 if closed == 1 else 0), done.stderr
        if closed == 1:
            assert b"standard output is closed" in done.stderr


@pytest.mark.parametrize("closed", [0, 1, 2])
def test_a_file_is_written_whole_whichever_stream_is_closed(closed: int, usual: bytes, tmp_path: Path) -> None:
    """Nothing that goes to a stream gets into a file that was given the number of one that is closed."""
    target = tmp_path / "order.csv"
    words = ("order", YARD, *ON, "--format", "csv", "-o", target)
    done = run(*words, stdin=None, preexec_fn=partial(os.close, closed))
    assert done.returncode == 0, done.stderr
    assert target.read_bytes() == usual


SETTINGS = {
    "C locale": {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"},
    "POSIX and ASCII": {"LC_ALL": "POSIX", "PYTHONUTF8": "0", "PYTHONIOENCODING": "ascii"},
    "Latin 1": {"PYTHONIOENCODING": "latin-1"},
    "no home": {"HOME": None, "XDG_CACHE_HOME": None, "USER": None, "LOGNAME": None},
    "home that is none": {"HOME": "/nowhere/at/all"},
    "no place for temporary files": {"TMPDIR": "/nowhere/at/all", "TMP": "/nowhere", "TEMP": "/nowhere"},
    "warnings are errors": {"PYTHONWARNINGS": "error"},
    "no assertions": {"PYTHONOPTIMIZE": "1"},
    "no docstrings": {"PYTHONOPTIMIZE": "2"},
    "40 columns": {"COLUMNS": "40"},
    "1 column": {"COLUMNS": "1"},
    "0 columns": {"COLUMNS": "0"},
    "columns that are no number": {"COLUMNS": "abc"},
    "no terminal type": {"TERM": None},
    "far east": {"TZ": "Pacific/Kiritimati"},
    "time zone that is none": {"TZ": "Nowhere/At_All"},
    "no environment": dict.fromkeys([name for name in os.environ if name not in ("PATH", "PYTHONPATH")]),
}


@pytest.mark.parametrize("named", SETTINGS)
def test_the_result_is_the_same_in_any_surroundings(named: str, usual: bytes, tmp_path: Path) -> None:
    env = environment(**SETTINGS[named])
    done = run("order", YARD, *ON, "--format", "csv", "-q", "-o", tmp_path / "order.csv", env=env)
    assert (done.returncode, done.stderr) == (0, b"")
    assert (tmp_path / "order.csv").read_bytes() == usual
    for words in (("tally", YARD, *ON), ("order", "--help"), ("order", "missing-é.yaml")):
        done = run(*words, env=env)
        assert no_inside(done.stderr), done.stderr
        assert done.returncode == (2 if "missing-é.yaml" in words else 0), done.stderr


@pytest.mark.parametrize("seconds", ["0", "2147483647", "2147483648", "4102444800"])
def test_any_day_of_the_clock_is_a_day(seconds: str) -> None:
    """1970, both sides of the end of 32 bits in 2038, 2100."""
    env = environment(SOURCE_DATE_EPOCH=seconds)
    for words in (("tally", YARD), ("check", YARD), ("sources",), ("new",)):
        done = run(*words, env=env)
        assert no_inside(done.stderr)
        assert done.returncode in (0, 3, 4), done.stderr


@pytest.mark.parametrize("day", ["1970-01-01", "2038-01-19", "2038-01-20", "2100-03-01"])
def test_any_day_may_be_asked_for(day: str) -> None:
    for command in ("order", "flight", "quote"):
        done = run(command, YARD, "--on", day)
        assert no_inside(done.stderr)
        assert done.returncode in (0, 2, 3, 4), done.stderr


def test_the_folder_may_be_gone(tmp_path: Path) -> None:
    gone = tmp_path / "gone"
    script = f'mkdir {gone} && cd {gone} && rmdir {gone} && exec {sys.executable} -c "$0" "$@"'
    for words in (TALLY, ("tally", "-", *ON), (*TALLY, "-o", tmp_path / "out.txt"), ("check", "site.yaml"), ("new",)):
        done = subprocess.run(
            ["bash", "-c", script, PROGRAM[2], *map(str, words)],
            input=YARD.read_bytes(), capture_output=True, check=False,
            env=environment(PYTHONPATH=str(ROOT / "src")),
        )  # fmt: skip
        assert no_inside(done.stderr), done.stderr
        assert done.returncode == (2 if "site.yaml" in words else 0), done.stderr


def test_the_package_may_lie_where_nothing_can_be_written(tmp_path: Path) -> None:
    shutil.copytree(ROOT / "src", tmp_path / "src", ignore=shutil.ignore_patterns("__pycache__"))
    before = sorted(str(path) for path in tmp_path.rglob("*"))
    env = environment(PYTHONPATH=str(tmp_path / "src"), PYTHONDONTWRITEBYTECODE="1")
    assert run(*TALLY, env=env).returncode == 0
    assert sorted(str(path) for path in tmp_path.rglob("*")) == before


def test_every_module_loads_where_the_system_is_another() -> None:
    """Windows has none of these modules; importing must not need them, nor the system's own calls."""
    names = sorted(
        ".".join(path.relative_to(ROOT / "src").with_suffix("").parts).removesuffix(".__init__")
        for path in (ROOT / "src").rglob("*.py")
    )
    blocked = ("fcntl", "resource", "pwd", "grp", "termios", "tty", "pty", "posix_ipc", "readline", "curses", "syslog")
    script = (
        "import importlib, os, sys\n"
        "import click, pydantic, yaml, tabulate, jinja2, icalendar, highspy, numpy, tempfile\n"
        f"for name in {blocked!r}: sys.modules[name] = None\n"
        "for name in ('fork', 'getuid', 'geteuid', 'mkfifo', 'O_NONBLOCK', 'O_NOFOLLOW', 'O_NOCTTY', 'O_CLOEXEC'):\n"
        "    delattr(os, name)\n"
        f"for name in {names!r}: importlib.import_module(name)\n"
        "from barkwright.cli.main import main\n"
        "main()\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", script, *map(str, TALLY), "-o", os.devnull], capture_output=True, check=False
    )
    assert done.returncode == 0, done.stderr.decode()
    assert len(names) > 300
