"""Reading what the user named, writing what he asked for: one message when it cannot be done, never half a file."""

from __future__ import annotations

import errno
import os
import sys
from pathlib import Path
from typing import BinaryIO

from barkwright.cli.errors import FAILED, FILE_FAULT, WRONG_USE, StopError

STDIN = "<stdin>"
MISNAMED = (errno.ENAMETOOLONG, errno.ENOTDIR, errno.EINVAL, errno.ELOOP)  # no file can have that name
MOST_BYTES = 64_000_000  # longest file that is read; ours


def read_bytes(name: str) -> tuple[bytes, str]:
    """The bytes of a file, or of standard input for '-', and the name to show for it."""
    if name == "-":
        if sys.stdin is None:
            raise StopError("standard input is closed", WRONG_USE, "name a file instead of -")
        return _whole(sys.stdin.buffer, STDIN), STDIN
    try:
        with Path(name).open("rb") as stream:
            return _whole(stream, name), name
    except FileNotFoundError:
        raise StopError(f"there is no file {name!r}", WRONG_USE, _nearby(name)) from None
    except IsADirectoryError:
        raise StopError(f"{name!r} is a folder, not a file", WRONG_USE, "name the inventory file in it") from None
    except PermissionError:
        raise StopError(f"{name!r} may not be read", WRONG_USE, "check who may read the file") from None
    except (OSError, ValueError) as fault:
        raise StopError(f"{name!r} cannot be read: {getattr(fault, 'strerror', None) or fault}", WRONG_USE) from None


def _whole(stream: BinaryIO, name: str) -> bytes:
    """All of it, or a refusal: never the beginning of a file as if it were the file."""
    content = stream.read(MOST_BYTES + 1)
    if len(content) > MOST_BYTES:
        most = f"{MOST_BYTES // 1_000_000} MB"
        raise StopError(f"{name!r} is longer than {most}", FILE_FAULT, "cut it into several files")
    return content


def write(product: str | bytes, name: str, keep: str | None = None) -> None:
    """Write the product: to standard output for '-', otherwise to a whole new file that then takes its place.

    `keep` is the file that the product was made from, which is never written over.
    """
    if name == "-":
        _print(product)
        return
    if not name:
        raise StopError("-o names no file", WRONG_USE, "name a file, or - for standard output")
    target = Path(name)
    if keep is not None and keep != STDIN and _same(target, Path(keep)):
        raise StopError(f"{name!r} is the file the result was made from", WRONG_USE, "choose another name")
    try:
        _replace(target, product.encode("utf-8") if isinstance(product, str) else product)
    except IsADirectoryError:
        raise StopError(f"{name!r} is a folder, not a file", WRONG_USE) from None
    except FileNotFoundError:
        if target.parent.is_dir():
            raise StopError(f"{name!r} cannot be written: its folder takes no new files", WRONG_USE) from None
        raise StopError(f"there is no folder {str(target.parent)!r} to write to", WRONG_USE) from None
    except (OSError, ValueError) as fault:
        code = FAILED if isinstance(fault, OSError) and fault.errno not in MISNAMED else WRONG_USE
        why = getattr(fault, "strerror", None) or fault
        raise StopError(f"{name!r} cannot be written: {why}", code) from None


def shows(letters: str) -> bool:
    """Can standard output show these letters?"""
    try:
        letters.encode(getattr(sys.stdout, "encoding", None) or "ascii")
    except (UnicodeEncodeError, LookupError):
        return False
    return True


def _print(product: str | bytes) -> None:
    """To standard output. Of text whatever it can show: a letter that it has no code for is written as an escape."""
    if sys.stdout is None:
        raise StopError("standard output is closed", WRONG_USE, "name a file: -o FILE")
    try:
        if isinstance(product, bytes):
            sys.stdout.buffer.write(product)
        else:
            sys.stdout.write(_shown(product))
        sys.stdout.flush()
    except BrokenPipeError:
        raise
    except OSError as fault:
        raise StopError(f"standard output cannot be written: {fault.strerror}", FAILED) from None


def _shown(text: str) -> str:
    if shows(text):
        return text
    code = sys.stdout.encoding or "ascii"
    return text.encode(code, "backslashreplace").decode(code)


def _replace(target: Path, content: bytes) -> None:
    """A new file in place of the old. A link stays a link; a device or a pipe is written to, never replaced."""
    import tempfile

    target = Path(os.path.realpath(target))
    if target.is_dir():
        raise IsADirectoryError(target)
    if target.exists() and not target.is_file():
        with target.open("wb") as stream:
            stream.write(content)
        return
    try:
        mode = target.stat().st_mode & 0o777
    except FileNotFoundError:
        mask = os.umask(0)
        os.umask(mask)
        mode = 0o666 & ~mask
    handle, temporary = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.")
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        os.chmod(temporary, mode)
        os.replace(temporary, target)
    except BaseException:
        Path(temporary).unlink(missing_ok=True)
        raise


def _same(one: Path, two: Path) -> bool:
    try:
        return one.samefile(two)
    except OSError:
        return one.absolute() == two.absolute()


def _nearby(name: str) -> str | None:
    import difflib

    folder = Path(name).parent
    try:
        names = sorted(entry.name for entry in folder.iterdir() if entry.is_file())
    except OSError:
        return None
    close = difflib.get_close_matches(Path(name).name, names, n=1)
    return f"did you mean {str(folder / close[0])!r}?" if close else None
