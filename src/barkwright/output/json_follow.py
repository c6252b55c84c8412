"""The shape of the follow-up after a flight as JSON, and of the stand rating."""

from __future__ import annotations

from typing import Literal

from typing_extensions import TypedDict

from barkwright.output.json_results import SiteRecord
from barkwright.output.json_stand import StandRecord
from barkwright.output.json_types import Iso

LookRecord = TypedDict(
    "LookRecord",
    {
        "kind": str,
        "flight": int,
        "from": Iso,
        "to": Iso,
        "why": str,
        "grade": Literal["A", "B", "C"],
        "sources": list[str],
    },
)
LookRecord.__doc__ = "When to look, and why then."


class SayingRecord(TypedDict):
    """One sentence, how good its evidence is, and where it is from."""

    id: str
    text: str
    grade: Literal["A", "B", "C"]
    basis: str
    sources: list[str]


class DistanceRecord(TypedDict):
    """How far to look."""

    id: str
    out_to_ft: float
    text: str
    grade: Literal["A", "B", "C"]
    sources: list[str]


class WatchedRecord(TypedDict):
    """A living spruce of the list, in the order in which they are looked at."""

    id: str
    why: str
    species: str
    dbh_in: float | None
    to_be_felled: bool


class DueRecord(TypedDict):
    """Pieces that are still to be done, and by when."""

    date: Iso
    pieces: list[str]


class TreatedRecord(TypedDict):
    """A piece on which work was done."""

    piece: str
    method: str
    date: Iso
    partial: bool
    left: str | None


class FollowResult(TypedDict):
    """Result of `flight --after`."""

    site: SiteRecord
    flight: int
    last_flight_over: int
    flight_under_way: bool
    of_use_from: Iso | None
    looks: list[LookRecord]
    trees: list[WatchedRecord]
    nearest_live_spruce_ft: float | None
    no_live_spruce: bool
    distances: list[DistanceRecord]
    first: list[SayingRecord]
    signs: list[SayingRecord]
    how: SayingRecord
    infested_trees: list[str]
    other_insect_trees: list[str]
    stumps: list[str]
    due: list[DueRecord]
    treated: list[TreatedRecord]
    protection: list[SayingRecord]
    cautions: list[SayingRecord]
    stand: StandRecord | None
