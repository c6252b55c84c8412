"""The records of a place's year: its flights, and spells of days in which bark, ground and flight stay the same."""

from __future__ import annotations

from datetime import date
from typing import Literal

from barkwright.record import dataclass
from barkwright.sources import Citation

MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December",
)  # fmt: skip
BarkState = Literal["slipping", "dormant", "frozen"]


@dataclass(frozen=True, slots=True)
class Caution:
    """Something that makes a date earlier than one would guess, and by how much."""

    what: str  # a clause for the client: "the early year in place of the middle one"
    days: int  # that it moves finish-by [days]


@dataclass(frozen=True, slots=True)
class FlightYear:
    """One flight: when beetles first leave, when half are out, when it is over, and what the dates rest on."""

    year: int
    onset: date
    half: date
    end: date
    margin_days: int  # taken off the onset for finish-by
    basis: str  # one sentence for the client
    citations: tuple[Citation, ...]
    rule: Literal["calendar", "weather"] = "calendar"
    cautions: tuple[Caution, ...] = ()  # in the order in which they are applied; they end at finish-by
    local: bool = False  # by a flight calendar of the user's own


@dataclass(frozen=True, slots=True)
class Spell:
    """Days, both ends included, in which nothing that matters to a method changes."""

    first: date
    last: date
    bark: BarkState  # of a living or fresh stem; a log's own condition may overrule it
    ground_frozen: bool
    flying: bool  # inside some year's onset..end
    chips_draw: bool  # fresh chips draw beetles to live spruce now
    frost_deep: bool = False  # the frost is too thick for a digging machine, or its thickness not known


def in_words(day: date) -> str:
    """A day as it is written in a sentence: 7 May 2027."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"
