"""The journal beside an inventory: found by name, read whole, added to by one writer at a time."""

from __future__ import annotations

import contextlib
import itertools
import os
import re
import shlex
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

ENDING = ".journal.yaml"
MOST_NAMES, MOST_READ, MOST_HEAD = 5_000, 5, 4_096  # files of a folder, journals read there, letters of each; ours
WAIT_S = 20.0  # how long a writer waits for another before it gives up


def journal_of(site: str) -> str:
    """The name of the journal of an inventory: heron.yaml has heron.journal.yaml."""
    stem, dot, ending = site.rpartition(".")
    return f"{stem if dot and ending.casefold() in ('yaml', 'yml') else site}{ENDING}"


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
        return inventory, (*found, *lost(site, inventory.site.name)), text
    from barkwright.journal.applied import as_it_stands as applied
    from barkwright.journal.reading import still_to_come

    stands, more = applied(inventory, journal, on, journal_of(site))
    return stands, (*found, *more, *still_to_come(journal, text, journal_of(site), on)), text


def lost(site: str, name: str) -> tuple[Diagnostic, ...]:
    """A word about each journal in the folder that is likely this site's: its own is missing, there is one of a site
    of the same name whose inventory is gone."""
    if site == files.STDIN or os.path.lexists(journal_of(site)):
        return ()
    folder, own = os.path.split(journal_of(site))
    try:
        with os.scandir(folder or ".") as entries:
            names = {entry.name for entry in itertools.islice(entries, MOST_NAMES) if entry.is_file()}
    except (OSError, ValueError):
        return ()
    taken = {journal_of(one) for one in names}
    alone = sorted(one for one in names if one.endswith(ENDING) and one not in taken)[:MOST_READ]
    return tuple(
        _lost(site, folder, one.removesuffix(ENDING), own.removesuffix(ENDING))
        for one in alone
        if _site_of(os.path.join(folder, one)) == name
    )


def _lost(site: str, folder: str, old: str, new: str) -> Diagnostic:
    from barkwright.diagnostics import Diagnostic

    ends = [ENDING, *([".issued.json"] if os.path.exists(os.path.join(folder, f"{old}.issued.json")) else [])]
    moves = " && ".join(
        f"mv {_typed(os.path.join(folder, old + end))} {_typed(os.path.join(folder, new + end))}" for end in ends
    )
    message = (
        f"it has no journal, but {old}{ENDING} is of a site of the same name whose inventory is gone: what is recorded "
        "there does not count"
    )
    hint = f"if the inventory was renamed: {moves}; if it is another site, give it another name"
    return Diagnostic("warning", "lost-journal", message, subject=site, hint=hint)


def _typed(path: str) -> str:
    """The path as it is typed into a shell."""
    return f'"{path}"' if re.fullmatch(r"[\w./ -]* [\w./ -]*", path) else shlex.quote(path)


def _site_of(journal: str) -> str | None:
    """The site that a journal says it is of, from its first lines."""
    import yaml

    try:
        with open(journal, encoding="utf-8-sig", errors="replace") as stream:
            said = re.search(r"^site:.*$", stream.read(MOST_HEAD), re.MULTILINE)
        found = yaml.safe_load(said[0]) if said else None
    except (OSError, ValueError, yaml.YAMLError):
        return None
    return str(found["site"]) if isinstance(found, dict) else None


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
