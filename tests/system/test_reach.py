"""What a run reaches for: the files that were named and its own data; no network, no other program, no other file."""

from __future__ import annotations

import ast
import json
import subprocess
import sys
from pathlib import Path

import pytest
from started import ROOT, environment, every_command, examples_in

WATCHED = """
import json, sys
seen = {"calls": [], "written": []}
BAD = ("socket.", "subprocess.", "os.system", "os.exec", "os.fork", "os.posix_spawn", "os.spawn", "os.startfile",
       "pty.", "urllib.", "http.", "ftplib.", "smtplib.", "webbrowser.")
def watch(event, args):
    if event.startswith(BAD):
        seen["calls"].append(event)
    elif event == "open" and args[0] is not None and not isinstance(args[0], int):
        if (isinstance(args[1], str) and set(args[1]) & set("wax+")) or (args[2] or 0) & 0o103:
            seen["written"].append(str(args[0]))
sys.addaudithook(watch)
import atexit
def report():
    with open(sys.argv[-1], "w") as out:
        json.dump(seen, out)
atexit.register(report)
where = sys.argv.pop()
sys.argv.append(where)
words = sys.argv[1:-1]
from barkwright.cli.main import main
main(words)
"""
COMMANDS = [*every_command(), ("order", "examples/yard-tree.yaml", "--on", "2026-11-25", "--format", "ics")]


KEPT = ("yard-tree.journal.yaml",)


def files_in(folder: Path) -> dict[str, bytes | None]:
    found = folder.rglob("*")
    return {str(path.relative_to(folder)): path.read_bytes() if path.is_file() else None for path in found}


@pytest.mark.parametrize("words", COMMANDS, ids=lambda words: f"{words[0]}-{words[-1]}"[:24])
@pytest.mark.parametrize("to_file", [False, True])
def test_a_run_reaches_for_nothing_that_was_not_named(words: tuple[str, ...], to_file: bool, tmp_path: Path) -> None:
    folder = examples_in(tmp_path / "work")
    places = {name: tmp_path / name for name in ("HOME", "TMPDIR", "XDG_CACHE_HOME", "XDG_CONFIG_HOME")}
    for place in places.values():
        place.mkdir()
    before = files_in(tmp_path)
    report = tmp_path.parent / f"{tmp_path.name}-seen.json"
    done = subprocess.run(
        [sys.executable, "-B", "-c", WATCHED, *words, *(["-o", "out"] if to_file else []), str(report)],
        cwd=folder, env=environment(**{name: str(place) for name, place in places.items()}),
        capture_output=True, check=False, stdin=subprocess.DEVNULL,
    )  # fmt: skip
    assert done.returncode in (0, 4), done.stderr
    seen = json.loads(report.read_text())
    assert seen["calls"] == []
    new = {name for name, content in files_in(tmp_path).items() if content != before.get(name, b"?")}
    journal = {f"work/examples/{name}" for name in KEPT} if words[0] == "done" else set()
    assert new == ({"work/out"} if to_file else set()) | journal


def test_no_module_can_call_out() -> None:
    """No import in the program brings the network, another program, or code made of text."""
    forbidden = {
        "socket", "ssl", "http", "urllib", "ftplib", "smtplib", "webbrowser", "subprocess", "multiprocessing", "pty",
        "pickle", "marshal", "shelve", "ctypes", "requests", "httpx", "asyncio", "xmlrpc", "telnetlib", "code",
    }  # fmt: skip
    calls = {"eval", "exec", "compile", "__import__"}
    found = []
    for path in sorted((ROOT / "src").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            names = [one.name for one in node.names] if isinstance(node, ast.Import) else []
            names += [node.module or ""] if isinstance(node, ast.ImportFrom) else []
            found += [(path.name, name) for name in names if name.split(".")[0] in forbidden]
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in calls:
                found.append((path.name, node.func.id))
            words = ast.unparse(node) if isinstance(node, ast.Attribute) else ""
            if words.startswith(("os.system", "os.popen", "os.exec", "os.spawn", "os.fork", "os.posix_spawn")):
                found.append((path.name, words))
    writers = {("building.py", "eval"), ("building.py", "exec"), ("record.py", "exec")}  # of code made of our own types
    assert set(found) <= writers, found
