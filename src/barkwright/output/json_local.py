"""The shape of what `check --rules` tells: local entries, and what they change."""

from __future__ import annotations

from typing import Literal

from typing_extensions import TypedDict

from barkwright.output.json_types import Iso, Money, SpreadRecord


class LocalEntryRecord(TypedDict):
    """One entry of the user's own files."""

    part: str
    id: str
    title: str
    file: str
    line: int
    says: str
    source: str
    replaces: str | None
    replaced_source: str | None
    used: bool


class FlightDifferenceRecord(TypedDict):
    """One flight with other dates."""

    year: int
    onset_before: Iso
    onset_after: Iso
    finish_by_before: Iso
    finish_by_after: Iso


class SizeDifferenceRecord(TypedDict):
    """One tree of another height or weight."""

    tree: str
    height_ft_before: float | None
    height_ft_after: float | None
    green_lb_before: float
    green_lb_after: float


class PieceDifferenceRecord(TypedDict):
    """One piece treated otherwise, or on another day."""

    piece: str
    way_before: str | None
    way_after: str | None
    done_before: Iso | None
    done_after: Iso | None
    rules: list[str]
    because: list[str]


class VerdictDifferenceRecord(TypedDict):
    """One way of one piece that is judged otherwise."""

    piece: str
    way: str
    verdict_before: Literal["fits", "fits with care", "ruled out"]
    verdict_after: Literal["fits", "fits with care", "ruled out"]
    end_before: Literal["done", "partial", "not done"]
    end_after: Literal["done", "partial", "not done"]
    rules: list[str]
    sources: list[str]


class TotalsOfPlanRecord(TypedDict):
    """A plan in figures."""

    hours: SpreadRecord
    days: int
    last: Iso | None
    to_pay: Money
    infested_ft2: float
    infested_left_ft2: float
    host_left_ft2: float
    pieces_missed: int


class LocalDifferenceRecord(TypedDict):
    """The plan without the local files against the plan with them."""

    flights: list[FlightDifferenceRecord]
    sizes: list[SizeDifferenceRecord]
    pieces: list[PieceDifferenceRecord]
    verdicts: list[VerdictDifferenceRecord]
    before: TotalsOfPlanRecord
    after: TotalsOfPlanRecord


class LocalRecord(TypedDict):
    """What local knowledge a site brings; `changes` is null where it names no files."""

    entries: list[LocalEntryRecord]
    changes: LocalDifferenceRecord | None


class CheckResult(TypedDict):
    """Result of `check`."""

    faults: int
    warnings: int
    open_questions: int
    trees: int
    local: LocalRecord | None
