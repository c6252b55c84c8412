"""What can stop a command, and the exit code that each stop ends with."""

from __future__ import annotations

DONE = 0
FAILED = 1
WRONG_USE = 2
FILE_FAULT = 3
MISSES = 4

EXIT_CODES = """\b
Exit codes:
  0  done
  1  the program failed, or was stopped
  2  the command was used wrongly
  3  a file has errors
  4  a plan was made, but infested bark misses its date or has no way, or it was interrupted
"""


class StopError(Exception):
    """Ends the command with one line for the user and an exit code."""

    def __init__(self, message: str, code: int, hint: str | None = None) -> None:
        super().__init__(message)
        self.code = code
        self.hint = hint


class UserStopError(StopError):
    """The user has stopped: said without a word of error."""


class FaultyFileError(Exception):
    """A file has errors: they have been shown; the command ends with exit code 3."""
