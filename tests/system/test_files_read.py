"""What stands under the name of a file that is to be read may be no file: said in a line, never waited for."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
from pathlib import Path

import pytest
from started import ON, PROGRAM, YARD, no_inside, one_message, run

pytestmark = pytest.mark.slow  # a process for each case: run by hand

LOCAL = "local: [own.yaml]\n"
WEATHER = "  weather: [days.csv]\n"


def site_with(folder: Path, line: str) -> Path:
    """A site that names a second file, to be put beside it."""
    text = YARD.read_text(encoding="utf-8")
    text = text.replace("site:\n", f"site:\n{line}", 1) if line == WEATHER else f"{text}\n{line}"
    (folder / "site.yaml").write_text(text, encoding="utf-8")
    return folder / "site.yaml"


def put(kind: str, path: Path) -> None:
    """Something else than a file under that name."""
    if kind == "pipe":
        os.mkfifo(path)
    elif kind == "folder":
        path.mkdir()
    elif kind == "loop":
        path.symlink_to(path.name)
    elif kind == "socket":
        with socket.socket(socket.AF_UNIX) as server:
            server.bind(str(path))
    elif kind == "dangling":
        path.symlink_to("nowhere")
    elif kind == "sparse":
        with path.open("wb") as stream:
            stream.truncate(2**40)
    else:
        path.symlink_to(kind)


KINDS = ("pipe", "folder", "loop", "socket", "dangling", "sparse", "/dev/zero", "/dev/null", "/dev/tty")


@pytest.mark.parametrize("kind", KINDS)
def test_a_site_that_is_no_file_is_said_in_a_line(kind: str, tmp_path: Path) -> None:
    put(kind, tmp_path / "site.yaml")
    for words in (
        ("tally", tmp_path / "site.yaml"),
        ("new", "--from", tmp_path / "site.yaml", "--lat", 50, "--lon", 9),
    ):
        done = run(*words, *ON)
        assert done.returncode == (3 if kind == "sparse" else 2)
        assert one_message(done.stderr), done.stderr
        assert done.stdout == b""


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize(("line", "name"), [(LOCAL, "own.yaml"), (WEATHER, "days.csv")])
def test_nor_is_what_a_site_names(kind: str, line: str, name: str, tmp_path: Path) -> None:
    put(kind, tmp_path / name)
    done = run("check", site_with(tmp_path, line), *ON)
    assert done.returncode == 3
    assert b"error: " in done.stderr
    assert no_inside(done.stderr), done.stderr


def test_a_pipe_is_read_where_somebody_writes_into_it(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe.yaml"
    os.mkfifo(pipe)
    slowly = (
        "import sys, time; out = open(sys.argv[1], 'wb'); time.sleep(0.3); out.write(open(sys.argv[2], 'rb').read())"
    )
    writer = subprocess.Popen([sys.executable, "-c", slowly, pipe, YARD])
    try:
        while True:  # until the writer is there, nobody is
            done = run("tally", pipe, *ON)
            if b"nobody writes" not in done.stderr:
                break
    finally:
        assert writer.wait() == 0
    assert done.returncode == 0, done.stderr
    assert done.stdout.replace(bytes(pipe), bytes(YARD)) != b""


def test_what_a_shell_puts_in_place_of_a_command_is_read(tmp_path: Path) -> None:
    script = (
        f'sleep 0.2 | cat - {YARD} > /dev/null; {sys.executable} -c "$0" tally <(sleep 0.2; cat {YARD}) --on 2026-11-25'
    )
    done = subprocess.run(["bash", "-c", script, PROGRAM[2]], capture_output=True, check=False)
    assert done.returncode == 0, done.stderr
    empty = f'{sys.executable} -c "$0" tally <(true) --on 2026-11-25'
    done = subprocess.run(["bash", "-c", empty, PROGRAM[2]], capture_output=True, check=False)
    assert done.returncode in (2, 3)
    assert no_inside(done.stderr)


def test_standard_input_may_be_closed() -> None:
    done = run("tally", "-", *ON, stdin=None, preexec_fn=lambda: os.close(0))
    assert done.returncode == 2
    assert one_message(done.stderr), done.stderr


@pytest.mark.parametrize("breaks", [b"\r\n", b"\r"])
def test_line_ends_of_other_systems_are_line_ends(breaks: bytes, tmp_path: Path) -> None:
    """The same result, and faults in the same lines, as with those of this one."""
    said = []
    for number, ends in enumerate((b"\n", breaks)):
        folder = tmp_path / str(number)
        folder.mkdir()
        good = YARD.read_bytes().replace(b"\n", ends)
        (folder / "site.yaml").write_bytes(good)
        (folder / "bad.yaml").write_bytes(good.replace(b"species: white", b"species: whte"))
        results = [run("tally", "site.yaml", *ON, cwd=folder), run("check", "bad.yaml", *ON, cwd=folder)]
        said.append([(one.returncode, one.stdout, one.stderr) for one in results])
    assert said[0] == said[1]


NAMES = ("with space.yaml", "line\nbreak.yaml", "\x1b[31mred.yaml", b"\xff\xfe.yaml")
MORE_NAMES = (
    "Höhe.yaml", "Ho\u0308he.yaml", "ᓀᐦᐃᔭᐍᐏᐣ.yaml", "a'b\"c.yaml", "back\\slash.yaml", "-dash.yaml", "\u202egnp.yaml",
)  # fmt: skip


@pytest.mark.parametrize("name", [*NAMES, *(pytest.param(one, marks=pytest.mark.slow) for one in MORE_NAMES)])
def test_any_name_that_a_file_can_have_is_read_and_shown_harmlessly(name: str | bytes, tmp_path: Path) -> None:
    path = os.path.join(os.fsencode(tmp_path), os.fsencode(name))
    with open(path, "wb") as stream:
        stream.write(YARD.read_bytes())
    for words in (("tally",), ("tally", "-o", str(tmp_path / "out.txt")), ("check",), ("tally", "--format", "json")):
        done = run(*words, os.fsdecode(path), *ON)
        assert done.returncode == 0, done.stderr
        assert not any(mark in done.stdout + done.stderr for mark in (b"\x1b", "\u202e".encode(), b"line\nbreak"))
    with open(path, "wb") as stream:
        stream.write(YARD.read_bytes().replace(b"species: white", b"species: whte"))
    for words in (("tally", os.fsdecode(path)), ("tally", os.fsdecode(path) + "x"), ("tally", "-v", os.fsdecode(path))):
        done = run(*words, *ON)
        assert done.returncode in (2, 3)
        assert not any(mark in done.stderr for mark in (b"\x1b", "\u202e".encode(), b"line\nbreak")), done.stderr
        assert no_inside(done.stderr)
