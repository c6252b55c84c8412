"""What stands in a journal: one entry for each thing that was done, seen or taken back."""

from __future__ import annotations

from datetime import date
from typing import Annotated, Literal

from pydantic import Field

from barkwright.inventory.measure import Bounds
from barkwright.inventory.model import BroodStage, Crown, Looked, Method
from barkwright.inventory.part import Record
from barkwright.inventory.progress import BarkEnd
from barkwright.record import dataclass

Did = Literal["treated", "felled", "cut up", "looked", "called", "located", "issued", "undone"]
VERSION = 1


class Cut(Record):
    """How trees are cut up on paper when the entry is written: pieces are named after it."""

    log_length_ft: float
    stump_height_ft: float
    trim_ft: float
    treat_over_in: float


class Entry(Record):
    """One entry of the journal. Which keys belong to which `did` stands in `NEEDS` and `MAY`."""

    id: Annotated[int, Field(ge=1, le=1_000_000)]
    recorded: Annotated[str, Field(max_length=40)]  # day and time at which it was written down
    did: Did
    on: date = Field(alias="date")  # day on which it was done
    pieces: Annotated[tuple[str, ...], Field(max_length=20_000)] = ()  # of trees: their ids
    method: Method | None = None
    way: str | None = None
    bark: BarkEnd | None = None
    left: str | None = None
    by: str | None = None
    hours: Annotated[float | None, Bounds(0, 10_000), Field(ge=0, le=10_000)] = None  # person-hours that it took
    stages: tuple[BroodStage, ...] | None = None
    looked: tuple[Looked, ...] = ()
    insect: Literal["spruce-beetle", "engraver", "other", "not-sure"] | None = None
    exit_holes: Literal["none", "some", "many"] | None = None
    crown: Crown | None = None
    appointment: date | None = None  # day that somebody who was called has given
    undoes: int | None = None
    note: str | None = None
    cut: Cut | None = None


COMMON = frozenset(("id", "recorded", "did", "date", "by", "note"))
NEEDS: dict[str, frozenset[str]] = {
    "treated": frozenset(("pieces", "method")),
    "felled": frozenset(("pieces",)),
    "cut up": frozenset(("pieces",)),
    "looked": frozenset(("pieces",)),
    "called": frozenset(("pieces", "appointment")),
    "located": frozenset(),
    "issued": frozenset(),
    "undone": frozenset(("undoes",)),
}
MAY: dict[str, frozenset[str]] = {
    "treated": frozenset(("way", "bark", "left", "hours", "cut")),
    "felled": frozenset(("hours",)),
    "cut up": frozenset(("hours",)),
    "looked": frozenset(("stages", "looked", "insect", "exit_holes", "crown", "hours")),
    "called": frozenset(),
    "located": frozenset(),
    "issued": frozenset(),
    "undone": frozenset(),
}


@dataclass(frozen=True, slots=True)
class Journal:
    """All entries of a journal, in the order in which they were written."""

    entries: tuple[Entry, ...] = ()

    @property
    def next_id(self) -> int:
        """The number of the next entry."""
        return max((entry.id for entry in self.entries), default=0) + 1

    def standing(self, on: date) -> tuple[Entry, ...]:
        """The entries that hold on a day, by the day of the work: neither taken back nor later than that day."""
        undone = {entry.undoes for entry in self.entries if entry.did == "undone"}
        held = [one for one in self.entries if one.did != "undone" and one.id not in undone and one.on <= on]
        return tuple(sorted(held, key=lambda one: (one.on, one.id)))
