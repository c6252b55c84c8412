"""What one thing changed on the site would buy, as plain data."""

from __future__ import annotations

from typing_extensions import TypedDict

from barkwright.output.json_types import Iso, Money


class OutcomeRecord(TypedDict):
    """A plan in a few figures; `unpriced` is what has to be paid for and has no price yet."""

    infested_left_ft2: float
    to_pay: Money
    estimate: bool
    unpriced: list[str]
    days: int
    last: Iso | None
    probability: float | None


class TryRecord(TypedDict):
    """One change: the plan as it stands, and the plan made with the change; `then` is null where none is shown."""

    phrase: str
    change: str
    assumed: list[str]
    placeholder: bool
    now: OutcomeRecord
    then: OutcomeRecord | None
    saved_ft2: float
    quick_guess: bool
    verdict: str
    text: str
