"""What lives in a piece and when it would fly: the records that the rest of the path reads."""

from __future__ import annotations

from datetime import date
from typing import Literal

from barkwright.diagnostics import Diagnostic
from barkwright.record import dataclass
from barkwright.sources import Reason

BroodLevel = Literal["none", "possible", "likely"]
Stage = Literal["larvae", "adults", "unknown"]
Confidence = Literal["high", "medium", "low"]


@dataclass(frozen=True, slots=True)
class PieceBrood:
    """The brood of one piece."""

    piece: str
    brood: BroodLevel
    stage: Stage | None  # as it stands on the plan's date; None without brood
    host: bool  # green spruce without brood that lies or is to be taken down: the next flight takes it first
    flight_to_beat: int | None  # year; for a host, the flight that would attack it
    adults_from: (
        date | None
    )  # first day new adults must be expected under this bark; on or before the plan's date for stage adults
    confidence: Confidence
    weight: float  # share of bark area counted as infested, from data (likely over possible, base over bole); hosts 0
    reasons: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class Question:
    """Something only the user can answer, and what hangs on it."""

    subject: str  # tree or piece id, or "site"
    code: str  # kebab, stable: look-under-bark, line-not-checked, permit-unknown ...
    text: str  # the question, as one would ask it
    how: str  # how to find out
    then: str  # what each answer changes
    rank: int  # 1 danger, 2 brood, 3 way, 4 money; printed in this order


@dataclass(frozen=True, slots=True)
class TreeBrood:
    """The brood of one tree, its pieces, and what has to be looked at."""

    tree: str
    pieces: tuple[PieceBrood, ...]  # same order as the tree's pieces
    possible_attack_years: tuple[int, ...]  # signs give a set; the worst decides
    needs_inspection: bool
    may_stay_standing: str | None  # why this tree may not need felling at all, and what to look at
    questions: tuple[Question, ...]
    notes: tuple[Diagnostic, ...]
    early_flight: int | None = None  # the first flight that may come of brood that has to be looked at [year]
