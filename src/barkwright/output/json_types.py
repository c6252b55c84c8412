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


class CautionDaysRecord(TypedDict):
    """Something that makes a date earlier, and by how much."""

    what: str
    days: int


class BesideRecord(TypedDict):
    """The same flight by the rule that was not taken."""

    rule: Literal["calendar", "weather"]
    onset: Iso
    half: Iso
    end: Iso
    finish_by: Iso
    margin_days: int


class FlightRecord(TypedDict):
    """One flight and what its dates rest on."""

    year: int
    onset: Iso
    half: Iso
    end: Iso
    finish_by: Iso
    margin_days: int
    rule: Literal["calendar", "weather"]
    cautions: list[CautionDaysRecord]
    beside: BesideRecord | None
    basis: str
    local: bool
    sources: list[str]


class StationRecord(TypedDict):
    """The weather station whose daily record is used."""

    id: str
    name: str
    kind: str
    first: Iso
    last: Iso
    distance_miles: float | None
    site_above_ft: float | None


class YearRecord(TypedDict):
    """One year of the daily record, and the flight that comes of it."""

    year: int
    warm_days: int
    missing_days: int
    left_out: str | None
    prior_warm_days: int | None
    one_year_parents_share: float | None
    needed_warm_days: int | None
    fifth_warm_day: Iso | None
    onset: Iso | None
    half: Iso | None
    end: Iso | None
    one_year_brood_share: float | None


class MarkRecord(TypedDict):
    """A date on the strip of weeks."""

    what: Literal["now", "finish by", "first beetles", "half out", "over"]
    date: Iso
    flight: int | None


class WeekRecord(TypedDict):
    """One week: the mean of the years on record, its own warm days so far, years in which beetles flew, dates."""

    monday: Iso
    warm_days: float | None
    own_warm_days: int | None
    years_flying: int | None
    working_days_left: int | None
    dates: list[MarkRecord]


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
    local: list[str]


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
    keep_out_ft: float | None  # while it is felled whole
    in_pieces: bool  # taken down piece by piece: whoever does it says how far to keep
    dangers: list[str]


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


class DecidedPieceRecord(PieceRecord, BroodRecord):
    """A piece, what lives in it, and what will be done."""

    method: str | None
    way: str | None
    then: str | None
    finish_by: Iso | None
    too_late: Iso | None
    done_on: Iso | None
    wait_until: Iso | None
    why: str


class OrderPieceRecord(DecidedPieceRecord):
    """A piece on the work order: what it is, what lives in it, what may be and what will be done."""

    ways: list[WayRecord]


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


class SourceRecord(TypedDict):
    """One publication and where it is used."""

    key: str
    author: str
    year: int
    title: str
    seen: str
    text: str
    used_in: list[str]
