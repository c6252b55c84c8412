"""What -o names may be no file, or not writable; and a run may be killed while it writes: old or new, never half."""

from __future__ import annotations

import errno
import os
import random
import signal
import stat
import subprocess
import sys
import time
from pathlib import Path

import pytest
from started import ON, YARD, examples_in, no_inside, one_message, run

from barkwright.cli import replacing
from barkwright.cli.replacing import MARK, replace

pytestmark = pytest.mark.slow  # a process for each case: run by hand

TALLY = ("tally", YARD, *ON)


@pytest.mark.parametrize(("kind", "code"), [("pipe", 2), ("folder", 2), ("loop", 2), ("/dev/full", 1), ("long", 2)])
def test_what_cannot_be_written_is_said_in_a_line(kind: str, code: int, tmp_path: Path) -> None:
    target = tmp_path / ("x" * 300 if kind == "long" else "out.txt")
    if kind == "pipe":
        os.mkfifo(target)
    elif kind == "folder":
        target.mkdir()
    elif kind != "long":
        target.symlink_to(target.name if kind == "loop" else kind)
    before = sorted(os.listdir(tmp_path))
    done = run(*TALLY, "-o", target)
    assert done.returncode == code
    assert one_message(done.stderr), done.stderr
    assert b"hint: " in done.stderr
    assert sorted(os.listdir(tmp_path)) == before


def test_standard_output_that_is_full_is_said(tmp_path: Path) -> None:
    with open("/dev/full", "wb") as full:
        done = run(*TALLY, stdout=full)
    assert done.returncode == 1
    assert one_message(done.stderr), done.stderr


def test_nothing_and_the_terminal_are_written_to_and_stay(tmp_path: Path) -> None:
    product = run(*TALLY).stdout
    assert run(*TALLY, "-o", "/dev/null").returncode == 0
    assert stat.S_ISCHR(os.stat("/dev/null").st_mode)
    assert run(*TALLY, "-o", "/dev/stdout").stdout == product


def test_a_disk_is_never_written_to(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    target = tmp_path / "disk"
    target.write_bytes(b"old")
    real = os.stat(target)
    block = os.stat_result((stat.S_IFBLK | 0o600, *real[1:]))
    monkeypatch.setattr(replacing.os, "stat", lambda *_: block)
    with pytest.raises(replacing.NoPlaceError):
        replace(target, b"new")
    monkeypatch.undo()
    assert target.read_bytes() == b"old"


def test_a_disk_that_fills_up_leaves_the_old_file(tmp_path: Path) -> None:
    mounted = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=16k", "none", tmp_path], check=False, capture_output=True
    )
    if mounted.returncode:
        pytest.skip("nothing can be mounted here")
    try:
        (tmp_path / "out.html").write_text("old")
        done = run("order", YARD, *ON, "--format", "html", "-o", tmp_path / "out.html")
        assert done.returncode == 1
        assert b"make room" in done.stderr
        assert {path.name: path.read_text() for path in tmp_path.iterdir()} == {"out.html": "old"}
    finally:
        subprocess.run(["umount", tmp_path], check=True)


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write everywhere")
def test_a_folder_that_may_not_be_written_to_is_said(tmp_path: Path) -> None:
    tmp_path.chmod(0o555)
    done = run(*TALLY, "-o", tmp_path / "out.txt")
    tmp_path.chmod(0o755)
    assert done.returncode == 1
    assert one_message(done.stderr)


def test_the_rights_of_a_file_are_kept_and_a_new_one_gets_those_of_the_mask(tmp_path: Path) -> None:
    old = tmp_path / "old.txt"
    old.write_text("old")
    old.chmod(0o604)
    for name in ("old.txt", "new.txt"):
        assert run(*TALLY, "-o", tmp_path / name, preexec_fn=lambda: os.umask(0o077)).returncode == 0
    assert [stat.S_IMODE((tmp_path / name).stat().st_mode) for name in ("old.txt", "new.txt")] == [0o604, 0o600]


@pytest.mark.parametrize("name", ["lake-lot-weather.yaml", "otter-narrows-daily.csv", "./otter-narrows-daily.csv"])
def test_no_file_that_was_read_is_written_over(name: str, tmp_path: Path) -> None:
    folder = examples_in(tmp_path) / "examples"
    before = (folder / name).read_bytes()
    done = run("flight", "lake-lot-weather.yaml", *ON, "-o", name, cwd=folder)
    assert done.returncode == 2
    assert b"is the file the result was made from" in done.stderr
    os.link(folder / name, folder / "linked")
    (folder / "pointing").symlink_to(name)
    for other in ("linked", "pointing"):
        assert run("flight", "lake-lot-weather.yaml", *ON, "-o", other, cwd=folder).returncode == 2
    assert (folder / name).read_bytes() == before


def test_where_another_program_holds_the_file_it_is_said(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """As Windows answers while a spreadsheet has the file open."""
    from click.testing import CliRunner

    from barkwright.cli.main import main

    def held(*_: object) -> None:
        fault = PermissionError(errno.EACCES, "Access is denied")
        fault.winerror = 5  # type: ignore[attr-defined]
        raise fault

    (tmp_path / "out.csv").write_text("old")
    monkeypatch.setattr(replacing.os, "replace", held)
    result = CliRunner().invoke(main, [*map(str, TALLY), "--format", "csv", "-o", str(tmp_path / "out.csv")])
    assert result.exit_code == 1
    assert "close the program that has it open" in result.stderr
    assert [(path.name, path.read_text()) for path in tmp_path.iterdir()] == [("out.csv", "old")]


# ---- killed in the midst of writing ------------------------------------------------------------------------------

WRITER = """
import sys
from pathlib import Path
from barkwright.cli.replacing import replace
print("ready", flush=True)
while True:
    for letter in b"ab":
        replace(Path(sys.argv[1]), bytes([letter]) * 400_000)
"""


def killed(target: Path, dice: random.Random) -> int:
    """How many left-over parts there are after a process that writes over and over was killed at some moment."""
    with subprocess.Popen([sys.executable, "-S", "-c", WRITER, target], stdout=subprocess.PIPE) as writer:
        assert writer.stdout is not None
        writer.stdout.readline()
        time.sleep(dice.random() * 0.02)
        writer.send_signal(signal.SIGKILL)
    content = target.read_bytes()
    assert content in (b"a" * 400_000, b"b" * 400_000, b"old"), (len(content), content[:20])
    return sum(name.endswith(MARK) for name in os.listdir(target.parent))


@pytest.mark.parametrize("times", [20, pytest.param(1000, marks=pytest.mark.slow)])
def test_a_kill_leaves_the_old_file_or_the_new_one(times: int, tmp_path: Path) -> None:
    target = tmp_path / "site.yaml"
    target.write_bytes(b"old")
    dice = random.Random(times)
    left = [killed(target, dice) for _ in range(times)]
    assert max(left) <= 1  # each run takes away what the one before it has left
    replace(target, b"new")
    assert os.listdir(tmp_path) == ["site.yaml"]


@pytest.mark.parametrize("signal_", [signal.SIGTERM, signal.SIGHUP, signal.SIGINT, signal.SIGKILL])
def test_a_whole_run_that_is_stopped_leaves_the_old_file_or_the_new_one(
    signal_: signal.Signals, tmp_path: Path
) -> None:
    from started import start

    target = tmp_path / "tally.txt"
    product = run(*TALLY).stdout
    dice = random.Random(int(signal_))
    for _ in range(6):
        target.write_bytes(b"old")
        with start(*TALLY, "-o", target, stderr=subprocess.PIPE) as program:
            time.sleep(0.03 + dice.random() * 0.5)
            program.send_signal(signal_)
            assert program.stderr is not None
            said = program.stderr.read()
        assert target.read_bytes() in (b"old", product)
        assert program.returncode in (0, 1, -signal_)
        if signal_ == signal.SIGINT and program.returncode == 1:
            assert said == b"barkwright: error: stopped\n"
    assert run(*TALLY, "-o", target).returncode == 0
    assert os.listdir(tmp_path) == ["tally.txt"]
    assert no_inside(said) or signal_ == signal.SIGINT


def test_what_another_run_is_writing_is_not_taken_away(tmp_path: Path) -> None:
    target = tmp_path / "site.yaml"
    handle, part = replacing._begun(target)
    (tmp_path / f".site.yaml.old{MARK}").write_bytes(b"half")  # nobody holds it
    (tmp_path / f".other.yaml.old{MARK}").write_bytes(b"half")  # of another file
    replace(target, b"new")
    names = {path.name for path in tmp_path.iterdir()}
    assert names == {"site.yaml", part.name, f".other.yaml.old{MARK}"}
    os.close(handle)
    replace(target, b"newer")
    assert not part.exists()
