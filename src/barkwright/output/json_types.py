"""The shape of the JSON output. Field names end in their unit; money is decimal text; dates are ISO text.

These classes are what the shipped JSON Schemas are made from.
"""

from __future__ import annotations

from typing import Literal

from typing_extensions import TypedDict

Iso = str
Money = str


class ReasonRecord(TypedDict):
    """Why: rule, sentence, evidence."""

    rule: str
    because: str
    grade: Literal["A", "B", "C"]
    basis: str
    local: bool
    sources: list[str]


class SpreadRecord(TypedDict):
    """A number that is not known exactly."""

    low: float
    likely: float
    high: float


class FlightRecord(TypedDict):
    """One flight and what its dates rest on."""

    year: int
    onset: Iso
    half: Iso
    end: Iso
    finish_by: Iso
    margin_days: int
    basis: str
    sources: list[str]


class QuestionRecord(TypedDict):
    """Something only the user can answer."""

    subject: str
    code: str
    rank: int
    text: str
    how: str
    then: str


class TreeRecord(TypedDict):
    """A tree cut up on paper."""

    id: str
    species: str
    status: str
    where: str | None
    dbh_in: float | None
    height_ft: SpreadRecord | None
    height_estimated: bool


class TreeBroodRecord(TypedDict):
    """What lives in a tree."""

    id: str
    possible_attack_years: list[int]
    needs_inspection: bool
    may_stay_standing: str | None


class FellingRecord(TypedDict):
    """How a tree comes down."""

    who: str
    reasons: list[ReasonRecord]
    cautions: list[str]


class OrderTreeRecord(TreeRecord, TreeBroodRecord):
    """A tree on the work order."""

    felling: FellingRecord | None
    keep_out_ft: float | None


class PieceRecord(TypedDict):
    """One piece, measured or modelled."""

    id: str
    tree: str
    kind: Literal["log", "stump", "top", "limbs"]
    from_ft: float
    length_ft: float
    butt_dob_in: float
    top_dob_in: float
    butt_dib_in: float
    top_dib_in: float
    wood_ft3: float
    bark_ft3: float
    bark_ft2: float
    green_lb: float
    lift_lb: float
    cords: float
    chips_yd3: float
    measured: bool


class BroodRecord(TypedDict):
    """What lives in one piece."""

    brood: Literal["none", "possible", "likely"]
    stage: Literal["larvae", "adults", "unknown"] | None
    host: bool
    flight_to_beat: int | None
    adults_from: Iso | None
    confidence: Literal["high", "medium", "low"]
    weight: float
    reasons: list[ReasonRecord]


class BroodPieceRecord(BroodRecord):
    """What lives in a piece, with its name."""

    id: str
    tree: str


class WindowRecord(TypedDict("WindowKeys", {"from": Iso, "to": Iso})):
    """Days with one verdict, one effort and one end."""

    verdict: Literal["fits", "fits with care", "ruled out"]
    end: Literal["done", "partial", "not done"]
    bark: str
    hours: SpreadRecord | None
    reasons: list[ReasonRecord]


class StepRecord(TypedDict):
    """One step of a way."""

    work: str
    what: str


class WayRecord(TypedDict):
    """A method as it would be done here."""

    id: str
    method: str
    title: str
    tools: list[str]
    then: str
    finish_by: Iso | None
    too_late: Iso | None
    steps: list[StepRecord]
    windows: list[WindowRecord]


class OrderPieceRecord(PieceRecord, BroodRecord):
    """A piece on the work order: what it is, what lives in it, what may be and what will be done."""

    method: str | None
    way: str | None
    then: str | None
    finish_by: Iso | None
    too_late: Iso | None
    done_on: Iso | None
    wait_until: Iso | None
    why: str
    ways: list[WayRecord]


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


class LevelRecord(TypedDict):
    """One level of the objective, with its bound."""

    name: str
    value: float
    bound: float | None
    gap: float | None


class OptimumRecord(TypedDict):
    """How the ways and days were chosen, and what that proves."""

    levels: list[LevelRecord]
    stopped: str
    solver: str | None


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
    totals: list[TotalsRecord]


class FlightResult(TypedDict):
    """Result of `flight`."""

    site: SiteRecord
    flight: list[FlightRecord]
    trees: list[TreeBroodRecord]
    pieces: list[BroodPieceRecord]
    questions: list[QuestionRecord]


class OrderResult(TypedDict):
    """Result of `order` and `tree`."""

    site: SiteRecord
    currency: str
    flight: list[FlightRecord]
    questions: list[QuestionRecord]
    trees: list[OrderTreeRecord]
    pieces: list[OrderPieceRecord]
    jobs: list[JobRecord]
    equipment_days: list[EquipmentDayRecord]
    hours: HoursRecord
    cost: CostRecord
    infested_bark_ft2: BarkRecord
    unmet: list[UnmetRecord]
    optimum: OptimumRecord
    risk: None
    cautions: list[CautionRecord]


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


class CheckResult(TypedDict):
    """Result of `check`."""

    faults: int
    warnings: int
    open_questions: int
    trees: int


class SourceRecord(TypedDict):
    """One publication and where it is used."""

    key: str
    author: str
    year: int
    title: str
    seen: str
    text: str
    used_in: list[str]


class SourcesResult(TypedDict):
    """Result of `sources`."""

    sources: list[SourceRecord]


class DiagnosticRecord(TypedDict):
    """One fault, warning or note."""

    severity: Literal["error", "warning", "note"]
    code: str
    message: str
    file: str | None
    line: int | None
    column: int | None
    subject: str | None
    value: str | None
    hint: str | None


class ProgramRecord(TypedDict):
    """Which program made this."""

    name: str
    version: str
