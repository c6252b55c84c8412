"""The bytes of a file that a user named, read without being led to wait: no device, no pipe that nobody writes to."""

from __future__ import annotations

import errno
import os
import stat

MOST_BYTES = 8_000_000  # of a file that people write; ours


class NotAFileError(OSError):
    """What has that name is no file to read."""


class TooLongError(OSError):
    """The file is longer than what is read."""


def content_of(path: str, most_bytes: int = MOST_BYTES, pipes: bool = False) -> bytes:
    """The whole of a regular file; with `pipes` also of a pipe into which somebody writes.

    Raises NotAFileError or TooLongError, or OSError as `open` does; its `strerror` says why.
    """
    flags = (getattr(os, name, 0) for name in ("O_NONBLOCK", "O_NOCTTY", "O_BINARY", "O_CLOEXEC"))
    handle = os.open(path, os.O_RDONLY | sum(flags))
    with os.fdopen(handle, "rb", closefd=True) as stream:
        mode = os.fstat(handle).st_mode
        if stat.S_ISFIFO(mode) and pipes:
            begun = _begun(handle)
        elif stat.S_ISREG(mode):
            begun = b""
        else:
            kind = "pipe" if stat.S_ISFIFO(mode) else "device"
            raise NotAFileError(errno.EINVAL, f"it is a {kind}, not a file")
        content = begun + stream.read(most_bytes + 1 - len(begun))
    if len(content) > most_bytes:
        raise TooLongError(errno.EFBIG, f"it is longer than {most_bytes // 1_000_000} MB")
    return content


def _begun(handle: int) -> bytes:
    """What already stands in a pipe; from now on it is waited for. One that is empty and has no writer is refused."""
    try:
        begun = os.read(handle, 4096)
    except BlockingIOError:  # somebody is about to write
        begun = b""
    else:
        if not begun:
            raise NotAFileError(errno.EINVAL, "it is an empty pipe that nobody writes to")
    os.set_blocking(handle, True)
    return begun
