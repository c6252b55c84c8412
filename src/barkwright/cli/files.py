"""Reading what the user named, writing what he asked for: one message when it cannot be done, never half a file."""

from __future__ import annotations

import errno
import os
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import BinaryIO

import click

from barkwright.cli.errors import FAILED, FILE_FAULT, WRONG_USE, StopError

STDIN = "<stdin>"
MISNAMED = (errno.ENAMETOOLONG, errno.ENOTDIR, errno.EINVAL, errno.ELOOP)  # no file can have that name
MOST_BYTES = 64_000_000  # longest file that is read; ours
READABLE = "name a file, or - for standard input"
READ = "barkwright.read"  # of one run: the files that it has read, none of which is written over


def read_bytes(name: str) -> tuple[bytes, str]:
    """The bytes of a file, or of standard input for '-', and the name to show for it. Never waits for a pipe that
    nobody writes to, and reads no device."""
    if name == "-":
        if sys.stdin is None:
            raise StopError("standard input is closed", WRONG_USE, "name a file instead of -")
        return _from_stdin(sys.stdin.buffer), STDIN
    from barkwright.userfile import NotAFileError, TooLongError, content_of

    try:
        content = content_of(name, MOST_BYTES, pipes=True)
    except NotAFileError as fault:
        raise StopError(f"{name!r} cannot be read: {fault.strerror}", WRONG_USE, READABLE) from None
    except TooLongError as fault:
        raise StopError(f"{name!r} cannot be read: {fault.strerror}", FILE_FAULT, "cut it into several files") from None
    except FileNotFoundError:
        hint = _nearby(name) or "check the name; 'barkwright new -o SITE.yaml' starts an inventory"
        raise StopError(f"there is no file {name!r}", WRONG_USE, hint) from None
    except IsADirectoryError:
        raise StopError(f"{name!r} is a folder, not a file", WRONG_USE, "name the inventory file in it") from None
    except PermissionError:
        raise StopError(f"{name!r} may not be read", WRONG_USE, "check who may read the file") from None
    except (OSError, ValueError) as fault:
        why = getattr(fault, "strerror", None) or fault
        raise StopError(f"{name!r} cannot be read: {why}", WRONG_USE, "check the name and where it leads") from None
    protect((name,))
    return content, name


def protect(names: Iterable[str]) -> None:
    """From now on this run writes over none of these files: its result was made from them."""
    context = click.get_current_context(silent=True)
    if context is not None:
        context.meta.setdefault(READ, set()).update(names)


def _protected() -> frozenset[str]:
    context = click.get_current_context(silent=True)
    return frozenset(context.meta.get(READ, ())) if context is not None else frozenset()


def _from_stdin(stream: BinaryIO) -> bytes:
    """All of it, or a refusal: never the beginning of a file as if it were the file."""
    try:
        content = stream.read(MOST_BYTES + 1)
    except OSError as fault:
        raise StopError(f"standard input cannot be read: {fault.strerror}", WRONG_USE, "name a file") from None
    if len(content) > MOST_BYTES:
        most = f"{MOST_BYTES // 1_000_000} MB"
        raise StopError(f"{STDIN!r} is longer than {most}", FILE_FAULT, "cut it into several files")
    return content


def write(product: str | bytes, name: str, keep: str | None = None, own: bool = False) -> None:
    """Write the product: to standard output for '-', otherwise to a whole new file that then takes its place.

    `keep` is a file that the product was made from; neither it nor what this run has read is ever written over,
    but for a file that the program keeps itself (`own`).
    """
    if name == "-":
        _print(product)
        return
    if not name:
        raise StopError("-o names no file", WRONG_USE, "name a file, or - for standard output")
    target = Path(name)
    kept = () if own else (*_protected(), *([keep] if keep is not None and keep != STDIN else []))
    if any(_same(target, Path(one)) for one in kept):
        raise StopError(f"{name!r} is the file the result was made from", WRONG_USE, "choose another name")
    _put(target, product.encode("utf-8", "backslashreplace") if isinstance(product, str) else product, name)


def _put(target: Path, content: bytes, name: str) -> None:
    """Write it, or say in a line why not."""
    from barkwright.cli.replacing import NobodyReadsError, NoPlaceError, replace

    try:
        replace(target, content)
    except IsADirectoryError:
        raise StopError(f"{name!r} is a folder, not a file", WRONG_USE, "name a file in it") from None
    except NoPlaceError as fault:
        raise StopError(f"{name!r} {fault}", WRONG_USE, "name a file, or - for standard output") from None
    except NobodyReadsError:
        hint = "start what reads it first, or name a file"
        raise StopError(f"{name!r} is a pipe that nobody reads", WRONG_USE, hint) from None
    except FileNotFoundError:
        if _is_folder(target.parent):
            hint = "choose another folder"
            raise StopError(f"{name!r} cannot be written: its folder takes no new files", WRONG_USE, hint) from None
        hint = "make the folder first, or choose another"
        raise StopError(f"there is no folder {str(target.parent)!r} to write to", WRONG_USE, hint) from None
    except (OSError, ValueError) as fault:
        code = FAILED if isinstance(fault, OSError) and fault.errno not in MISNAMED else WRONG_USE
        why = getattr(fault, "strerror", None) or fault
        raise StopError(f"{name!r} cannot be written: {why}", code, _remedy(fault)) from None


def _remedy(fault: Exception) -> str:
    number = getattr(fault, "errno", None)
    if getattr(fault, "winerror", None) in (5, 32, 33):  # access denied, sharing violation, lock violation
        return "close the program that has it open, or choose another name; what was there is unchanged"
    if number in (errno.ENOSPC, errno.EDQUOT):
        return "make room, or choose another disk; what was there is unchanged"
    if number in (errno.EACCES, errno.EPERM, errno.EROFS):
        return "choose a folder in which you may write; what was there is unchanged"
    return "choose another name; what was there is unchanged"


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
        message = f"standard output cannot be written: {fault.strerror}"
        raise StopError(message, FAILED, "name a file: -o FILE") from None


def _shown(text: str) -> str:
    if shows(text):
        return text
    code = sys.stdout.encoding or "ascii"
    return text.encode(code, "backslashreplace").decode(code)


def _is_folder(path: Path) -> bool:
    try:
        return path.is_dir()
    except OSError:
        return False


def _same(one: Path, two: Path) -> bool:
    try:
        return one.samefile(two)
    except (OSError, ValueError):
        return os.path.normcase(os.path.abspath(one)) == os.path.normcase(os.path.abspath(two)) if _here() else False


def _here() -> bool:
    """Is there still a folder that we are in?"""
    try:
        os.getcwd()
    except OSError:
        return False
    return True


def _nearby(name: str) -> str | None:
    import difflib

    folder = Path(name).parent
    try:
        names = sorted(entry.name for entry in folder.iterdir() if entry.is_file())
    except (OSError, ValueError):
        return None
    close = difflib.get_close_matches(Path(name).name, names, n=1)
    return f"did you mean {str(folder / close[0])!r}?" if close else None
