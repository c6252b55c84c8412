"""The program as the shell starts it: in a process of its own, with what a test puts around it."""

from __future__ import annotations

import os
import re
import shlex
import shutil
import subprocess
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from barkwright.cli.examples import EXAMPLES
from barkwright.cli.main import main

ROOT = Path(__file__).parents[2]
YARD = ROOT / "examples" / "yard-tree.yaml"
ON = ("--on", "2026-11-25")
PROGRAM = (sys.executable, "-c", "from barkwright.cli.start import run; run()")
PATIENCE_S = 120  # by then a program that ends would have ended on any machine


def environment(**settings: str | None) -> dict[str, str]:
    """That of the tests with some settings more, or less where they are None."""
    env: Mapping[str, str | None] = {**os.environ, **settings}
    return {name: value for name, value in env.items() if value is not None}


def run(*words: str | Path, env: dict[str, str] | None = None, **more: Any) -> subprocess.CompletedProcess[bytes]:
    """Start it, wait for its end, keep what it said."""
    if "stdin" not in more and "input" not in more:
        more["stdin"] = subprocess.DEVNULL
    return subprocess.run(
        [*PROGRAM, *map(str, words)],
        stdout=more.pop("stdout", subprocess.PIPE),
        stderr=more.pop("stderr", subprocess.PIPE),
        check=False,
        timeout=PATIENCE_S,
        env=environment() if env is None else env,
        **more,
    )


def start(*words: str | Path, **more: Any) -> subprocess.Popen[bytes]:
    """Start it and go on."""
    return subprocess.Popen([*PROGRAM, *map(str, words)], **more)


def one_message(said: bytes) -> bool:
    """An error in one line, with at most a hint, and no trace of the program's inside."""
    lines = said.decode("utf-8", "replace").splitlines()
    return 1 <= len(lines) <= 2 and "error: " in lines[0] and "fault of the program" not in lines[0]


def every_command() -> Iterator[tuple[str, ...]]:
    """One use of each command on a small site, its result going to standard output; run where examples/ is."""
    for name in main.commands:
        words = shlex.split(EXAMPLES[name][0])[1:]
        words = words[: words.index("-o")] if "-o" in words else words
        yield tuple(word.replace("removal-24", "yard-tree").replace("quote-three-trees", "yard-tree") for word in words)


def every_form() -> Iterator[tuple[str, ...]]:
    """The same in each form that the command has, but for the PDF, which needs more libraries."""
    for words in every_command():
        forms = [one.type.choices for one in main.commands[words[0]].params if one.name == "format_"]
        plain = words[: words.index("--format")] if "--format" in words else words
        more = ("--sheet",) if words[0] == "new" else ()
        yield from ((*plain, *more, "--format", form) for form in forms[0] if form != "pdf") if forms else [words]


def examples_in(folder: Path) -> Path:
    """A folder with a copy of the examples."""
    shutil.copytree(ROOT / "examples", folder / "examples")
    return folder


def no_inside(text: bytes) -> bool:
    """Nothing that only a programmer would want to see."""
    return not re.search(rb"Traceback|Exception ignored|Error in sys|fault of the program", text)
