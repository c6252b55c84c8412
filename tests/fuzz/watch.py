"""What a piece of the program may not do while it is watched: take long, or touch what nobody named."""

from __future__ import annotations

import contextlib
import signal
from collections.abc import Iterator
from types import FrameType

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
