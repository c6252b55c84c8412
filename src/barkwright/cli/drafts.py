"""The file in which answers are kept while they are given."""

from __future__ import annotations

import os
from pathlib import Path

from barkwright.cli import files
from barkwright.cli.errors import StopError

MOST_DRAFTS = 99  # side by side in one folder; ours


class Draft:
    """A file of answers; it is made with the first answer and taken away when the inventory is written."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.fault: str | None = None  # why it could not be written

    def keep(self, text: str) -> bool:
        """Write the text, whole or not at all; False the first time that this cannot be done."""
        try:
            files.write(text, self.name, own=True)
        except StopError as fault:
            new = self.fault is None
            self.fault = str(fault)
            return not new
        self.fault = None
        return True

    def read(self) -> str:
        """What is kept in it; nothing where it cannot be read."""
        try:
            return files.read_bytes(self.name)[0].decode("utf-8", "replace")
        except StopError:
            return ""

    def drop(self) -> None:
        """Take it away; it is no longer needed."""
        if os.path.isfile(self.name) and not os.path.islink(self.name):
            Path(self.name).unlink(missing_ok=True)


def draft_name(command: str, target: str | None) -> str:
    """The name of a draft: that of the file to be written, or of the command."""
    return f"{target}.draft" if target else f"barkwright-{command}.draft"


def kept(name: str) -> Draft | None:
    """The latest draft of that name, or of that name with a number."""
    there = [one for one in _names(name) if os.path.isfile(one) and not os.path.islink(one)]
    return Draft(max(there, key=os.path.getmtime)) if there else None


def fresh(name: str) -> Draft:
    """A draft under a name that is free."""
    return Draft(next((one for one in _names(name) if not os.path.lexists(one)), name))


def _names(name: str) -> list[str]:
    stem = name.removesuffix(".draft")
    return [name, *(f"{stem}-{number}.draft" for number in range(2, MOST_DRAFTS + 1))]
