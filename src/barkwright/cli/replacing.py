"""A new file in place of an old one: whoever looks, and whenever the program is killed, sees the one or the other."""

from __future__ import annotations

import contextlib
import errno
import os
import stat
from collections.abc import Iterator
from pathlib import Path

MARK = ".barkwright-part"  # ends the name of what is being written: .NAME.RANDOM.barkwright-part beside NAME
TRIES = 20


class NoPlaceError(Exception):
    """Nothing can be put there."""


class NobodyReadsError(Exception):
    """A pipe without a reader."""


def replace(target: Path, content: bytes) -> None:
    """Put the content there. A link stays a link; a pipe or a terminal is written to, never replaced."""
    try:
        status = os.stat(target)
    except FileNotFoundError:
        status = None
    if status is not None and not stat.S_ISREG(status.st_mode):
        _pour(target, status.st_mode, content)
        return
    real = Path(os.path.realpath(target))
    _sweep(real)
    handle, part = _begun(real)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
            os.chmod(part, _mode(status))
            if os.name != "nt":  # while it is held open, nobody takes it for left over
                os.replace(part, real)
        if os.name == "nt":
            os.replace(part, real)
    except BaseException:
        with contextlib.suppress(OSError):
            part.unlink(missing_ok=True)
        raise
    _settle(real.parent)


def _pour(target: Path, mode: int, content: bytes) -> None:
    """Write into what is no regular file, without waiting for a reader."""
    if stat.S_ISDIR(mode):
        raise IsADirectoryError(target)
    if not (stat.S_ISFIFO(mode) or stat.S_ISCHR(mode)):
        raise NoPlaceError("is a disk" if stat.S_ISBLK(mode) else "is no file")
    try:
        handle = os.open(target, os.O_WRONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_NOCTTY", 0))
    except OSError as fault:
        if fault.errno == errno.ENXIO:
            raise NobodyReadsError from None
        raise
    with os.fdopen(handle, "wb") as stream:
        os.set_blocking(stream.fileno(), True)
        stream.write(content)


def _mode(status: os.stat_result | None) -> int:
    """The rights of the old file, or those that a new one gets."""
    if status is not None:
        return status.st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


def _begun(real: Path) -> tuple[int, Path]:
    """A new file beside the target, open, and held so that another run does not sweep it away."""
    import tempfile

    for _ in range(TRIES):
        handle, name = tempfile.mkstemp(dir=real.parent, prefix=f".{real.name[:100]}.", suffix=MARK)
        try:
            if _hold(handle) and os.path.samestat(os.fstat(handle), os.stat(name)):
                return handle, Path(name)
        except FileNotFoundError:  # swept away between its making and its holding
            pass
        os.close(handle)
        with contextlib.suppress(OSError):
            os.unlink(name)
    raise OSError(errno.EBUSY, os.strerror(errno.EBUSY))


def _hold(handle: int) -> bool:
    """Is the file ours? Where a file system knows no locks, it is, and nothing is swept there."""
    try:
        import fcntl
    except ImportError:
        return True
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    except OSError:
        return True
    return True


def _sweep(real: Path) -> None:
    """Take away what runs that were killed have left of this file."""
    for part in _left_over(real):
        with contextlib.suppress(OSError):
            if os.name == "nt":  # what is held open there cannot be taken away
                part.unlink()
                continue
            handle = os.open(part, os.O_RDWR | os.O_NOFOLLOW | os.O_NONBLOCK)
            try:
                if _locked(handle):
                    part.unlink()
            finally:
                os.close(handle)


def _left_over(real: Path) -> Iterator[Path]:
    start = f".{real.name[:100]}."
    with contextlib.suppress(OSError), os.scandir(real.parent) as entries:
        for entry in entries:
            middle = entry.name[len(start) : -len(MARK)]
            if entry.name.startswith(start) and entry.name.endswith(MARK) and "." not in middle:
                yield Path(entry.path)


def _locked(handle: int) -> bool:
    """Nobody writes it any more: the lock of a run that has ended is gone."""
    try:
        import fcntl
    except ImportError:
        return False
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True


def _settle(folder: Path) -> None:
    """Have the disk remember the new name, where that can be asked for."""
    if os.name == "nt":
        return
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
