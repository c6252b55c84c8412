"""The journal beside an inventory: found by name, read whole, added to by one writer at a time."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from barkwright.cli import files
from barkwright.cli.errors import FAILED, WRONG_USE, StopError

if TYPE_CHECKING:
    from datetime import date

    from barkwright.diagnostics import Diagnostic
    from barkwright.inventory.model import Inventory
    from barkwright.journal.entries import Journal

WAIT_S = 20.0  # how long a writer waits for another before it gives up


def journal_of(site: str) -> str:
    """The name of the journal of an inventory: heron.yaml has heron.journal.yaml."""
    stem, dot, ending = site.rpartition(".")
    return f"{stem}.journal.yaml" if dot and ending.casefold() in ("yaml", "yml") else f"{site}.journal.yaml"


def read(site: str) -> tuple[Journal | None, tuple[Diagnostic, ...], str]:
    """The journal of an inventory, what is wrong with it, and its text; an empty one where there is no file."""
    from barkwright.journal.entries import Journal
    from barkwright.journal.reading import read_journal
    from barkwright.yamldoc import decode

    name = journal_of(site)
    if site == files.STDIN or not os.path.lexists(name):
        return Journal(), (), ""
    content, shown = files.read_bytes(name)
    text, found = decode(content, shown)
    if text is None:
        return None, found, ""
    journal, found = read_journal(text, shown)
    return journal, found, text


def as_it_stands(inventory: Inventory, site: str, on: date) -> tuple[Inventory, tuple[Diagnostic, ...], str]:
    """The inventory with its journal put in, what is wrong with that, and the journal's text."""
    journal, found, text = read(site)
    if journal is None or not journal.entries:
        return inventory, found, text
    from barkwright.journal.applied import as_it_stands as applied

    stands, more = applied(inventory, journal, on, journal_of(site))
    return stands, (*found, *more), text


@contextlib.contextmanager
def alone(site: str) -> Iterator[None]:
    """Hold the journal so that nobody else writes it meanwhile; whoever comes later waits."""
    from filelock import FileLock, Timeout

    path = Path(os.path.realpath(journal_of(site)))
    lock = path.with_name(f".{path.name}.lock")
    try:
        held = FileLock(str(lock), timeout=WAIT_S)
        held.acquire()
    except Timeout:
        hint = "try again in a moment"
        raise StopError(f"somebody else is writing {journal_of(site)!r}", FAILED, hint) from None
    except OSError as fault:
        why = fault.strerror or str(fault)
        raise StopError(f"{journal_of(site)!r} cannot be written: {why}", FAILED, "check who may write there") from None
    try:
        yield
    finally:
        held.release()


def write(site: str, text: str) -> None:
    """The new text in place of the old, whole or not at all."""
    if site == files.STDIN:
        raise StopError("an inventory from standard input has no journal", WRONG_USE, "name the file")
    files.write(text, journal_of(site), own=True)
