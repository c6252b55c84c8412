"""The records of changes that were tried."""

from __future__ import annotations

from typing import TYPE_CHECKING

from barkwright.output.json_basics import iso, near
from barkwright.output.json_tries import OutcomeRecord, TryRecord
from barkwright.study.compare import compared, verdict_of
from barkwright.units import half_up

if TYPE_CHECKING:
    from barkwright.study.outcome import Outcome, Tried


def try_record(tried: Tried, currency: str) -> TryRecord:
    """A change as plain data."""
    return {
        "phrase": tried.change.phrase,
        "change": tried.change.title,
        "assumed": list(tried.change.assumed),
        "placeholder": tried.change.placeholder,
        "now": _outcome(tried.now),
        "then": None if tried.then is None else _outcome(tried.then),
        "saved_ft2": near(tried.saved_ft2),
        "quick_guess": tried.guess_ft2 is not None,
        "verdict": verdict_of(tried),
        "text": compared(tried, currency),
    }


def _outcome(outcome: Outcome) -> OutcomeRecord:
    return {
        "infested_left_ft2": near(outcome.left_ft2),
        "to_pay": str(half_up(outcome.to_pay, 2)),
        "estimate": outcome.estimate,
        "unpriced": list(outcome.unpriced),
        "days": outcome.days,
        "last": iso(outcome.last),
        "probability": None if outcome.sure is None else near(outcome.sure),
    }
