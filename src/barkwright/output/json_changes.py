"""What an order changes of one that was given out before, as plain data."""

from __future__ import annotations

from typing import Literal

from typing_extensions import TypedDict

from barkwright.output.json_types import Iso


class ChangedJobRecord(TypedDict("ChangedJobKeys", {"from": Iso, "to": Iso})):
    """A job as it was ordered, or as it is in this order."""

    crew: str | None
    hours: float


class ChangeRecord(TypedDict):
    """One thing that differs; `was` is null for what is new, `now` for what is dropped, both for pieces as a whole."""

    kind: Literal["new", "dropped", "other way", "moved", "other crew", "other hours"]
    tree: str
    pieces: list[str]
    work: str | None
    was_way: str | None
    way: str | None
    was: ChangedJobRecord | None
    now: ChangedJobRecord | None
    cause: Literal[
        "done", "day passed", "closed", "hands", "waits", "makes room", "hire", "takes room", "facts", "site", "better"
    ]
    why: str


class SinceRecord(TypedDict):
    """What differs from the order of a date."""

    on: Iso
    changes: list[ChangeRecord]
