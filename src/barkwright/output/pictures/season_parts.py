"""What the picture of the season is drawn from, in pixels as in characters."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from datetime import date, timedelta

from barkwright.output.pictures.drawing import Fill
from barkwright.output.words import MONTHS
from barkwright.record import dataclass

Days = tuple[date, date]


@dataclass(frozen=True, slots=True)
class Lane:
    """One kind of days: in a word or two, in a line of words, and as spans, both ends included."""

    short: str
    title: str
    when: str  # the days in full
    spans: tuple[Days, ...]
    fill: Fill


@dataclass(frozen=True, slots=True)
class Mark:
    """A day that an upright line marks; the day of flight heavier than the others."""

    on: date
    text: str
    heavy: bool


@dataclass(frozen=True, slots=True)
class Flying:
    """A flight with its spread, and by when work against it ends."""

    year: int
    onset: date
    half: date
    end: date
    matters: bool  # does any brood of this site fly in it, or is wood here open to it?

    @property
    def title(self) -> str:
        """The flight in a line of words."""
        if self.matters:
            return f"Flight {self.year}: {short_span(self.onset, self.end)}, half out {short_day(self.half)}"
        return f"Flight {self.year}, from elsewhere: {short_span(self.onset, self.end)}"

    def height(self, on: date) -> float:
        """How high it is drawn on a day: rising from the first beetles to the day when half are out, then falling."""
        if on <= self.onset or on >= self.end:
            return 0.0
        side = self.onset if on < self.half else self.end
        share = (on - side).days / ((self.half - side).days or 1)
        return (1 - math.cos(math.pi * share)) / 2


@dataclass(frozen=True, slots=True)
class Shown:
    """All that the picture shows, between two days."""

    first: date
    last: date
    lanes: tuple[Lane, ...]
    flights: tuple[Flying, ...]
    lead: str
    marks: tuple[Mark, ...]

    @property
    def length(self) -> int:
        """Days from the first to the last, both included."""
        return (self.last - self.first).days + 1

    def months(self) -> Iterator[Days]:
        """The months, the first and the last as far as they are shown."""
        start = self.first
        while start <= self.last:
            after = (start.replace(day=1) + timedelta(days=32)).replace(day=1)
            yield start, min(after - timedelta(days=1), self.last)
            start = after

    def named_months(self, room: float, width: Callable[[str], float]) -> Iterator[Days]:
        """Every month, or every second, third or sixth, as far as their names stand in `room` for all the days."""
        per_month = room / self.length * 30.4
        step = next((step for step in (1, 2, 3, 6) if per_month * step >= width("2027 ")), 12)
        yield from (month for month in self.months() if (month[0].month - 1) % step == 0)


def month_name(start: date) -> str:
    """Jan."""
    return MONTHS[start.month - 1]


def joined(days: Sequence[date]) -> tuple[Days, ...]:
    """Sorted days as spans of days in a row."""
    spans: list[Days] = []
    for one in days:
        if spans and (one - spans[-1][1]).days <= 1:
            spans[-1] = (spans[-1][0], one)
        else:
            spans.append((one, one))
    return tuple(spans)


def short_day(value: date) -> str:
    """7 May, under an axis that names the years."""
    return f"{value.day} {MONTHS[value.month - 1]}"


def short_span(first: date, last: date) -> str:
    """7 May - 9 Jun."""
    return short_day(first) if first == last else f"{short_day(first)} - {short_day(last)}"
