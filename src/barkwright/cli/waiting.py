"""What is said to somebody who waits for a plan, and Ctrl-C, which ends the search and keeps the best plan so far."""

from __future__ import annotations

import contextlib
import signal
import threading
from collections.abc import Iterator
from typing import Any

from barkwright.cli import voice
from barkwright.schedule.watch import Watch

PATIENCE_S = 2.0  # a plan that is there sooner is made without a word


class Waiting(Watch):
    """Says on standard error what is being done, a line for each stage, once the user has waited for a while."""

    def __init__(self) -> None:
        self.stop = False
        self._doing = ""
        self._said = ""
        self._waited = False
        self._quiet = voice.quiet()  # known here: the clock speaks from a thread of its own
        self._lock = threading.Lock()

    def tell(self, doing: str) -> None:
        """Say what is being done, or keep it until the user has waited."""
        voice.tell(doing)
        with self._lock:
            self._doing = doing
            self._say()

    def waited(self) -> None:
        """From now on every stage is said; first of all the one that is under way."""
        with self._lock:
            self._waited = True
            self._say()

    def interrupted(self, *_: Any) -> None:
        """The first Ctrl-C: the search is to end. The next one ends the program."""
        self.stop = True
        signal.signal(signal.SIGINT, signal.default_int_handler)
        with contextlib.suppress(RuntimeError):  # it came while something was being written
            voice.say("stopping: the best plan so far is printed; Ctrl-C again ends at once")

    def _say(self) -> None:
        if self._waited and not self._quiet and self._doing != self._said:
            self._said = self._doing
            voice.say(f"planning: {self._doing}")


@contextlib.contextmanager
def waiting() -> Iterator[Waiting]:
    """A watch for as long as a plan is made."""
    watch = Waiting()
    timer = threading.Timer(PATIENCE_S, watch.waited)
    timer.daemon = True
    timer.start()
    before = signal.getsignal(signal.SIGINT)
    caught = threading.current_thread() is threading.main_thread() and before is signal.default_int_handler
    if caught:
        signal.signal(signal.SIGINT, watch.interrupted)
    try:
        yield watch
    finally:
        timer.cancel()
        if caught:
            signal.signal(signal.SIGINT, before)
