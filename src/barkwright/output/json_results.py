"""The shape of the results: what each command puts under `result`. The JSON Schemas are made from these too."""

from __future__ import annotations

from typing import NotRequired

from typing_extensions import TypedDict

from barkwright.output.json_changes import SinceRecord
from barkwright.output.json_crew import BriefingRecord
from barkwright.output.json_done import DoneRecord
from barkwright.output.json_optimum import OptimumRecord
from barkwright.output.json_risk import RiskRecord
from barkwright.output.json_stand import StandRecord
from barkwright.output.json_tries import TryRecord
from barkwright.output.json_types import (
    BroodPieceRecord,
    BroodRecord,
    FlightRecord,
    Iso,
    Money,
    OrderPieceRecord,
    OrderTreeRecord,
    PieceRecord,
    QuestionRecord,
    ReasonRecord,
    SourceRecord,
    SpreadRecord,
    StationRecord,
    TreeBroodRecord,
    TreeRecord,
    WeekRecord,
    YearRecord,
)


class DayHoursRecord(TypedDict):
    """Hours on one day."""

    date: Iso
    hours: float


class JobRecord(TypedDict):
    """A piece of scheduled work."""

    id: str
    tree: str
    pieces: list[str]
    work: str
    what: str
    way: str | None
    date: Iso
    end: Iso
    after: list[str]
    hours: float
    hours_low: float
    hours_high: float
    day_hours: list[DayHoursRecord]
    people: int
    crew: str | None
    equipment: list[str]
    provisional: bool
    question: str | None
    finish_by: Iso | None
    status: str


class EquipmentDayRecord(TypedDict):
    """A machine or tool on one day."""

    date: Iso
    equipment: str
    hours: float


RentalRecord = TypedDict(
    "RentalRecord", {"equipment": str, "label": str, "from": Iso, "to": Iso, "billed": str, "cost": Money}
)


class HoursRecord(TypedDict):
    """Person-hours of the whole plan."""

    low: float
    planned: float
    high: float


class CostLineRecord(TypedDict):
    """One line of the costs."""

    what: str
    kind: str
    quantity: str
    amount: Money
    basis: str
    paid: bool


class CostRecord(TypedDict):
    """What the plan costs."""

    to_pay: Money
    valued: Money
    estimate: bool
    lines: list[CostLineRecord]
    rentals: list[RentalRecord]


class BarkRecord(TypedDict):
    """Infested bark."""

    before: float
    left_at_onset: float
    host_left: float


class UnmetRecord(TypedDict):
    """Pieces that miss their date."""

    tree: str
    pieces: list[str]
    infested_ft2: float
    why: str
    change: str


class CautionRecord(TypedDict):
    """A sentence that belongs to the work."""

    id: str
    kind: str
    topic: str
    text: str
    basis: str
    sources: list[str]


class SiteRecord(TypedDict):
    """The place."""

    name: str
    latitude: float
    longitude: float
    region: str | None


class TotalsRecord(TypedDict):
    """Sums over pieces of one kind."""

    kind: str
    count: int
    wood_ft3: float
    bark_ft2: float
    green_lb: float
    cords: float
    chips_yd3: float


class TallyResult(TypedDict):
    """Result of `tally`."""

    site: SiteRecord
    trees: list[TreeRecord]
    pieces: list[PieceRecord]
    worked_on: list[str]
    totals: list[TotalsRecord]


class FlightResult(TypedDict):
    """Result of `flight`."""

    site: SiteRecord
    flight: list[FlightRecord]
    station: StationRecord | None
    years: list[YearRecord]
    strip: list[WeekRecord]
    trees: list[TreeBroodRecord]
    pieces: list[BroodPieceRecord]
    questions: list[QuestionRecord]
    stand: StandRecord | None


class OrderResult(TypedDict):
    """Result of `order` and `tree`."""

    site: SiteRecord
    currency: str
    local: list[str]
    flight: list[FlightRecord]
    questions: list[QuestionRecord]
    trees: list[OrderTreeRecord]
    pieces: list[OrderPieceRecord]
    done: list[DoneRecord]
    jobs: list[JobRecord]
    equipment_days: list[EquipmentDayRecord]
    hours: HoursRecord
    cost: CostRecord
    infested_bark_ft2: BarkRecord
    unmet: list[UnmetRecord]
    optimum: OptimumRecord
    risk: RiskRecord | None
    tries: list[TryRecord]
    changes: list[TryRecord]
    cautions: list[CautionRecord]
    briefing: BriefingRecord
    since: NotRequired[SinceRecord]  # only where an order was given out before


class FactRecord(TypedDict):
    """One fact that rules may ask about."""

    name: str
    scope: str
    meaning: str
    value: str
    unit: str | None
    origin: str


class FiredRecord(TypedDict):
    """One rule that spoke, what it asked and what it did."""

    reason: ReasonRecord
    title: str
    asked: list[str]
    verdict: str
    end: str


class EffortRecord(TypedDict):
    """One step with what it takes."""

    work: str
    what: str
    person_hours: SpreadRecord | None
    machine_hours: SpreadRecord | None
    people: int
    equipment: list[str]
    wait_days: int


class WhyWindowRecord(TypedDict):
    """Days with one verdict, and what stands behind it."""

    first: Iso
    last: Iso
    verdict: str
    end: str
    bark: str
    steps: list[EffortRecord]
    facts: list[FactRecord]
    rules: list[FiredRecord]


class WhyWayRecord(TypedDict):
    """A way and its windows."""

    id: str
    method: str
    title: str
    finish_by: Iso | None
    too_late: Iso | None
    windows: list[WhyWindowRecord]


class LimitRecord(TypedDict):
    """One number that rules hold things against."""

    what: str
    value: str
    basis: str


class WhyResult(TypedDict):
    """Result of `why`."""

    site: SiteRecord
    piece: PieceRecord
    brood: BroodRecord
    stem_sources: list[str]
    facts: list[FactRecord]
    ways: list[WhyWayRecord]
    limits: list[LimitRecord]


class SourcesResult(TypedDict):
    """Result of `sources`."""

    sources: list[SourceRecord]
