"""What a piece of the program may not do while it is watched: take long, or touch what nobody named."""

from __future__ import annotations

import contextlib
import signal
from collections.abc import Iterator, Sequence
from datetime import date
from types import FrameType

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
