"""What a piece of the program may not do while it is watched: take long, or touch what nobody named."""

from __future__ import annotations

import contextlib
import os
import signal
import sys
from collections.abc import Iterator, Sequence
from datetime import date
from types import FrameType

import barkwright
from barkwright.diagnostics import Diagnostic
from barkwright.output.faults import diagnostic_lines

ON = date(2026, 11, 27)
SECONDS = 5  # of the processor, for one input


class TooSlowError(Exception):
    """It took longer than one input may."""


@contextlib.contextmanager
def soon(what: object, seconds: float = SECONDS) -> Iterator[None]:
    """Whatever is done here ends within some seconds of the processor's time."""

    def late(_: int, frame: FrameType | None) -> None:
        raise TooSlowError(f"{what!r:.300} takes longer than {seconds} s")

    before = signal.signal(signal.SIGVTALRM, late)
    signal.setitimer(signal.ITIMER_VIRTUAL, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        signal.signal(signal.SIGVTALRM, before)


def told(found: Sequence[Diagnostic], text: str = "") -> None:
    """Everything said has a place that can be, and is shown in lines that cannot steer a terminal."""
    for one in found:
        assert one.message
        assert one.where is None or (one.where.line >= 1 and one.where.column >= 1), one
    for _, line in diagnostic_lines(found, text):
        assert line == "" or line.isprintable(), line
        assert len(line) < 5_000, len(line)


def errors(found: Sequence[Diagnostic]) -> bool:
    """Is one of them an error?"""
    return any(one.severity == "error" for one in found)


WRITES = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC | os.O_APPEND
CHANGES = (
    "os.remove",
    "os.rename",
    "os.mkdir",
    "os.rmdir",
    "os.chmod",
    "os.chown",
    "os.link",
    "os.symlink",
    "os.truncate",
    "os.utime",
)
NEVER = (
    "subprocess.Popen", "os.system", "os.exec", "os.posix_spawn", "os.fork", "os.forkpty", "os.startfile", "pty.spawn",
    "socket.connect", "socket.bind", "socket.getaddrinfo", "socket.sendto", "urllib.Request", "ftplib.connect",
)  # fmt: skip
KNOWN = tuple(
    {
        os.path.realpath(one)
        for one in (sys.prefix, sys.base_prefix, os.path.dirname(barkwright.__file__), "/usr/share/zoneinfo", *sys.path)
        if one
    }
)
_watched: list[tuple[str, list[str]]] = []  # the folder that may be touched, and what was touched elsewhere


def _look(event: str, words: tuple[object, ...]) -> None:
    if not _watched:
        return
    folder, found = _watched[-1]
    if event in NEVER:
        found.append(f"{event} {words!r:.200}")
    elif event == "open" and isinstance(words[0], str | bytes):
        path = os.path.realpath(os.fsdecode(words[0]))
        write = isinstance(words[2], int) and bool(words[2] & WRITES)
        if path != os.devnull and not path.startswith(folder) and (write or not path.startswith(KNOWN)):
            found.append(f"{'writes' if write else 'reads'} {path}")
    elif event in CHANGES and isinstance(words[0], str | bytes | os.PathLike):
        path = os.path.realpath(os.fsdecode(words[0]))
        if not path.startswith(folder):
            found.append(f"{event} {path}")


@contextlib.contextmanager
def within(folder: str) -> Iterator[list[str]]:
    """What is opened or changed outside a folder, and what is started or reached for over the network."""
    if not _hooked:
        sys.addaudithook(_look)
        _hooked.append(True)
    found: list[str] = []
    _watched.append((os.path.realpath(folder), found))
    try:
        yield found
    finally:
        _watched.pop()


_hooked: list[bool] = []
