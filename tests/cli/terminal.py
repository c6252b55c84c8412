"""A person at a terminal: the program on a pseudo-terminal, what is typed at its prompts, and what is shown."""

from __future__ import annotations

import codecs
import fcntl
import os
import re
import select
import signal
import struct
import subprocess
import sys
import termios
import time
from pathlib import Path

PROMPT = "> "
_RUN = "import sys; from barkwright.cli.main import main; sys.exit(main())"


class Terminal:
    """The program at a pseudo-terminal of so many columns."""

    def __init__(self, folder: Path, *words: str, columns: int = 80, **env: str) -> None:
        self.master, slave = os.openpty()
        fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", 40, columns, 0, 0))
        full = {key: value for key, value in os.environ.items() if key not in ("COLUMNS", "LINES")}
        self.process = subprocess.Popen(
            [sys.executable, "-c", _RUN, *words],
            stdin=slave,
            stdout=slave,
            stderr=slave,
            cwd=folder,
            env={**full, "TERM": "dumb", **env},
            start_new_session=True,
            preexec_fn=lambda: fcntl.ioctl(0, termios.TIOCSCTTY, 0),
        )
        os.close(slave)
        self.shown = ""
        self._decode = codecs.getincrementaldecoder("utf-8")("replace").decode
        self.keys = 0
        self._asked = 0  # where in what was shown the next prompt is looked for

    def wait(self, seconds: float = 60) -> str:
        """What was shown up to the next prompt, or to the end."""
        until = time.monotonic() + seconds
        while time.monotonic() < until:
            found = re.search(r"(?:^|\n)> $", self.shown[self._asked :])
            if found:
                break
            if not self._read(until):
                break
        said, self._asked = self.shown[self._asked :], len(self.shown)
        return said.replace("\r", "")

    def type(self, line: str) -> str:
        """Type a line; what is shown then."""
        self.keys += len(line) + 1
        os.write(self.master, f"{line}\r".encode())
        return self.wait()

    def type_all(self, *lines: str) -> str:
        """Type lines one after the other, each at its prompt."""
        said = ""
        for line in lines:
            said = self.type(line)
        return said

    def press(self, key: bytes) -> str:
        """Press a key by itself."""
        os.write(self.master, key)
        return self.wait()

    def kill(self) -> None:
        """As when the machine loses power."""
        os.kill(self.process.pid, signal.SIGKILL)
        self.process.wait()
        os.close(self.master)

    def hang_up(self) -> None:
        """As when the window is closed."""
        os.close(self.master)
        self.process.wait(60)

    def end(self) -> int:
        """Wait for the end; the exit code."""
        until = time.monotonic() + 60
        while self._read(until):
            pass
        try:
            code = self.process.wait(5)
        except subprocess.TimeoutExpired:
            self.kill()
            raise
        os.close(self.master)
        return code

    def _read(self, until: float) -> bool:
        ready, _, _ = select.select([self.master], [], [], max(until - time.monotonic(), 0))
        if not ready:
            return False
        try:
            part = os.read(self.master, 65536)
        except OSError:  # the other end is closed
            return False
        self.shown += self._decode(part).replace("\r", "")
        return bool(part)
