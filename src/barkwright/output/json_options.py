"""The shape of the options sheet in JSON."""

from __future__ import annotations

from typing import Literal

from typing_extensions import TypedDict

from barkwright.output.json_results import SiteRecord
from barkwright.output.json_types import Iso, Money, ReasonRecord, SpreadRecord


class PieceWayRecord(TypedDict):
    """A piece in a course: its way, and the days on which that is as it says."""

    piece: str
    way: str
    title: str
    first: Iso
    last: Iso
    end: Literal["done", "partial", "not done"]
    hours: SpreadRecord
    planned: bool


class OptionCostRecord(TypedDict):
    """Money of a course, reckoned by itself; of the plan of a whole site, as its work order has it."""

    to_pay_low: Money
    to_pay: Money
    to_pay_high: Money
    unpaid_worth: Money
    unpriced: list[str]
    published_rates: list[str]
    local_rates: list[str]
    hires: list[str]


class LeftOverRecord(TypedDict):
    """What a course leaves or gives."""

    chips_yd3: float
    cords: float
    bark_yd3: float
    ash_lb: float
    smoke_pm25_lb: float
    soil_dug_yd3: float
    soil_loose_yd3: float
    hauled_lb: float
    sawlog_bf: float


class BarredRecord(TypedDict):
    """What keeps a course from being taken, and what would rule it in."""

    reason: ReasonRecord
    opens: str | None


class CourseRecord(TypedDict):
    """One course for all the wood of the scope."""

    course: str
    title: str
    fit: Literal["fits", "fits with care", "against a wish", "with means", "does not count", "ruled out"]
    planned: bool
    stops: Literal["all", "part", "none"]
    missing: list[str]
    pieces: list[PieceWayRecord]
    beside: list[PieceWayRecord]
    not_dealt_with: list[str]
    hours: SpreadRecord
    hours_mean: float
    days_low: int
    days_high: int
    people_at_once: int
    cost: OptionCostRecord | None
    opens: Iso | None
    begin_by: Iso | None
    begin_by_usual_pace: Iso | None
    left_over: LeftOverRecord
    heaviest_log_lb: float
    look: str
    reasons: list[ReasonRecord]
    barred: list[BarredRecord]


class ReadingRecord(TypedDict):
    """A plain wish, and the course that answers it."""

    wish: Literal["drawknife", "fuel", "gone", "boards", "money", "hours"]
    course: str | None


class OptionsResult(TypedDict):
    """The ways of dealing with a site, a tree or a piece, side by side; the plan's own first."""

    site: SiteRecord
    currency: str
    local: list[str]
    trees: list[str]
    pieces: list[str]
    felling_included: bool
    courses: list[CourseRecord]
    readings: list[ReadingRecord]
