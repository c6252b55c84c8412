"""An entry as text at the end of a journal: what stands there already is never changed."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import yaml

from barkwright.journal.entries import VERSION, Entry

_HEAD = """\
# Work done and looks taken at this site, written by 'barkwright done'. It is only added to: what was wrong is taken
# back by an entry of its own ('barkwright done SITE --undo NUMBER'). Every command reads it together with the site.
"""


def begun(site: str) -> str:
    """A journal without entries."""
    return f"{_HEAD}barkwright-journal: {VERSION}\n{_dumped({'site': site})}entries:\n"


def with_entries(text: str, entries: Iterable[Entry]) -> str:
    """The text of a journal with some more entries at its end, in the line ends that it has."""
    plain = text if text.endswith(("\n", "\r")) or not text else text + "\n"
    more = "".join(_item(entry) for entry in entries)
    return plain + (more.replace("\n", "\r\n") if "\r\n" in text else more)


def _item(entry: Entry) -> str:
    record = entry.model_dump(mode="json", by_alias=True, exclude_none=True, exclude_defaults=True)
    lines = _dumped({key: record[key] for key in record}).rstrip("\n").split("\n")
    return "".join(f"  {'- ' if not number else '  '}{line}\n" for number, line in enumerate(lines))


def _dumped(record: dict[str, Any]) -> str:
    return "".join(f"{key}: {_value(value)}\n" for key, value in record.items())


def _value(value: Any) -> str:
    """A value on one line, quoted where it would be read as something else."""
    text = yaml.safe_dump(value, default_flow_style=True, allow_unicode=True, width=2**30)
    return text.removesuffix("...\n").rstrip("\n")
