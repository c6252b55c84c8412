"""The shape of recorded work in the results."""

from __future__ import annotations

from typing_extensions import TypedDict

from barkwright.output.json_types import Iso


class DoneRecord(TypedDict):
    """Recorded work on one piece, and what it comes to."""

    piece: str
    method: str
    way: str
    date: Iso
    by: str | None
    bark: str | None
    left: str | None
    end: str
    status: str
    entry: int


class EntryRecord(TypedDict):
    """One entry of the journal."""

    id: int
    recorded: str
    did: str
    date: Iso
    pieces: list[str]
    method: str | None
    bark: str | None
    left: str | None
    by: str | None
    hours: float | None
    stages: list[str] | None
    looked: list[str]
    insect: str | None
    exit_holes: str | None
    crown: str | None
    appointment: Iso | None
    undoes: int | None
    note: str | None


class DoneResult(TypedDict):
    """Result of `done`: what was recorded, how many entries the journal has, and what the work comes to."""

    recorded: list[EntryRecord]
    entries: int
    done: list[DoneRecord]
