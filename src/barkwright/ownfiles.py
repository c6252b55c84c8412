"""The user's own files of local knowledge: regular files of a size that is read at once, parsed, their parts known."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from functools import cache

from barkwright.diagnostics import Code, Diagnostic, Place
from barkwright.record import dataclass
from barkwright.userfile import TooLongError, content_of
from barkwright.yamldoc import Document, decode, read_document

PARTS = ("rules", "rates", "settings", "regions", "species", "machine_rates")
MOST_BYTES = 4_000_000  # of local knowledge that is read for one site; ours
MOST_ODD_PARTS = 50  # told of one file; ours
_HINT = "local: names files, from the place of the site file"


@dataclass(frozen=True, slots=True)
class Own:
    """One sound entry of the user's own, and what it takes the place of."""

    part: str  # one of PARTS
    id: str
    title: str
    source: str  # in the user's words, or the basis: ours
    where: Place
    now: str  # what it says
    was: str | None = None  # what the shipped entry with this id says; None: there is none
    was_source: str | None = None


@dataclass(frozen=True, slots=True)
class OwnFiles:
    """The files that could be read, in their order, and what is wrong with them as files."""

    documents: tuple[Document, ...]
    diagnostics: tuple[Diagnostic, ...]


@cache
def own_files(local: tuple[str, ...]) -> OwnFiles:
    """The files named (paths as they can be opened). What is in their parts is left to the rooms that they are for."""
    documents: list[Document] = []
    found: list[Diagnostic] = []
    left = MOST_BYTES
    for path in local:
        content, fault = _content(path, left)
        left -= len(content)
        if fault is not None:
            found.append(fault)
            continue
        text, faults = decode(content, path)
        document, more = read_document(text, path) if text is not None else (None, ())
        found += (*faults, *more)
        if document is not None and _parts_known(document, found):
            documents.append(document)
    return OwnFiles(tuple(documents), tuple(found))


def near(word: str, known: Iterable[str]) -> str:
    """A hint with the nearest known word."""
    words = sorted(known)
    close = difflib.get_close_matches(word, words, 1, 0.5)
    return f"did you mean '{close[0]}'?" if close else "one of " + ", ".join(words[:12])


def _parts_known(document: Document, found: list[Diagnostic]) -> bool:
    if not isinstance(document.data, dict):
        message = f"a file of local knowledge begins with one of {', '.join(f'{part}:' for part in PARTS)}"
        where = document.place(())
        found.append(Diagnostic("error", "odd-shape", message, where, hint="see 'barkwright schema local'"))
        return False
    odd = [key for key in document.root.value if key not in PARTS]
    for key in odd[:MOST_ODD_PARTS]:
        where = document.key_place((key,))
        found.append(Diagnostic("error", "unknown-key", f"unknown key '{key}'", where, None, key, near(key, PARTS)))
    return True


def _content(path: str, left: int) -> tuple[bytes, Diagnostic | None]:
    """The bytes of a file, or why not. Never waits for a pipe, never reads more than is of use."""
    try:
        content = content_of(path, left)
    except TooLongError:
        files = "the file is" if left == MOST_BYTES else "with this one the files of local knowledge are"
        message = f"{files} longer than {MOST_BYTES // 1_000_000} MB"
        return b"", _fault("too-large", message, path, "keep what this site needs")
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or str(error)
        return b"", _fault("unreadable", f"cannot be read: {why}", path, _HINT)
    return content, None


def _fault(code: Code, message: str, path: str, hint: str) -> Diagnostic:
    return Diagnostic("error", code, message, Place(path, 1, 1), hint=hint)
