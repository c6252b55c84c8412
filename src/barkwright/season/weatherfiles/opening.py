"""The files that some paths name: regular files only, each of a size that is read at once."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterable, Sequence

from barkwright.diagnostics import Code, Diagnostic
from barkwright.record import dataclass
from barkwright.season.weatherfiles.limits import limits

LOOK = "check the name, and that it lies beside the inventory"


@dataclass(frozen=True, slots=True)
class Source:
    """A file to read."""

    path: str
    in_folder: bool  # found in a folder, so it may turn out to be no weather


def sources_of(paths: Iterable[str]) -> tuple[tuple[Source, ...], tuple[Diagnostic, ...]]:
    """Every file that the paths name, folders opened one level deep and sorted, none twice; or what is wrong."""
    found: dict[str, Source] = {}
    faults: list[Diagnostic] = []
    for path in paths:
        try:
            mode = os.stat(path).st_mode
            inside = _listing(path) if stat.S_ISDIR(mode) else None
        except (OSError, ValueError) as error:
            why = getattr(error, "strerror", None) or str(error)
            faults.append(_fault("unreadable", f"the weather file '{path}' cannot be read: {why}", path, LOOK))
            continue
        if inside is None and not stat.S_ISREG(mode):
            faults.append(_fault("unreadable", f"the weather file '{path}' is no regular file", path, LOOK))
        elif inside is None:
            found.setdefault(os.path.realpath(path), Source(path, False))
        elif not inside:
            hint = "put the downloaded files in it; their names end in .csv"
            faults.append(_fault("empty", f"the weather folder '{path}' holds no .csv file", path, hint))
        else:
            for one in inside:
                found.setdefault(os.path.realpath(one), Source(one, True))
    most = limits().most_files
    if len(found) > most:
        message = f"the weather is in {len(found):,} files, and at most {most:,} are read"
        faults.append(_fault("too-large", message, "", "join them, or keep only the station's own"))
    return tuple(found.values()), tuple(faults)


def content_of(source: Source, left: int) -> tuple[bytes, Diagnostic | None]:
    """The bytes of a file, or why not; `left` is how many may still be read in all. Never waits for a pipe."""
    most = limits().most_bytes
    try:
        handle = os.open(source.path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
        with os.fdopen(handle, "rb") as stream:
            if not stat.S_ISREG(os.fstat(stream.fileno()).st_mode):
                return b"", _fault("unreadable", f"'{source.path}' is no regular file", source.path, LOOK)
            content = stream.read(min(most, left) + 1)
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or str(error)
        return b"", _fault("unreadable", f"'{source.path}' cannot be read: {why}", source.path, LOOK)
    if len(content) > most:
        message = f"'{source.path}' is longer than {most // 1_000_000} MB"
        return b"", _fault("too-large", message, source.path, "keep only the station's own rows")
    if len(content) > left:
        message = f"the weather files are longer than {limits().most_bytes_in_all // 1_000_000} MB together"
        return b"", _fault("too-large", message, source.path, "keep only the station's own files")
    return content, None


def _listing(path: str) -> Sequence[str]:
    with os.scandir(path) as entries:
        names = sorted(entry.name for entry in entries if entry.name.casefold().endswith(".csv") and not _folder(entry))
    return [os.path.join(path, name) for name in names]


def _folder(entry: os.DirEntry[str]) -> bool:
    try:
        return entry.is_dir()
    except OSError:  # a link to itself: said when it is opened
        return False


def _fault(code: Code, message: str, path: str, hint: str) -> Diagnostic:
    return Diagnostic("error", code, message, value=path or None, hint=hint)
