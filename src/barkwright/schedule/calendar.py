"""Working days: who can work how long on which day, as far as the last flight to beat."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from datetime import date, timedelta

from barkwright.inventory.model import Calendar, Crew, Span
from barkwright.record import dataclass

WEEK = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
Daylight = Callable[[date], float]


@dataclass(frozen=True, slots=True)
class CrewDays:
    """One crew by day: hours of each person, from the first day of the calendar on."""

    name: str
    people: int
    skills: frozenset[str]
    hours: tuple[float, ...]  # per person and day [h]; 0 on days off
    rate: float  # what one person-hour is worth, paid or valued
    paid: bool

    def with_people(self, people: int) -> CrewDays:
        """The same crew with fewer hands."""
        return replace(self, people=people)


@dataclass(frozen=True, slots=True)
class WorkDays:
    """The calendar of a site: day 0 is the first day on which work may be done."""

    first: date
    length: int
    crews: tuple[CrewDays, ...]

    def index(self, day: date) -> int:
        """Days from the first day; negative before it."""
        return (day - self.first).days

    def day(self, index: int) -> date:
        """The day with that index."""
        return self.first + timedelta(days=index)


def within(day: date, spans: Iterable[Span]) -> bool:
    """Is the day inside any of the spans, both ends included?"""
    return any(span.first <= day <= span.last for span in spans)


def hours_on(crew: Crew, calendar: Calendar, day: date, daylight: Daylight) -> float:
    """Hours that each person of a crew can work on a day [h]: 0 on days off, capped by daylight."""
    if WEEK[day.weekday()] not in crew.days or within(day, crew.off) or within(day, calendar.off):
        return 0.0
    return max(0.0, min(crew.hours_per_day, daylight(day)))


def first_day(calendar: Calendar, on: date) -> date:
    """The first day on which work may be done: the plan's date, or the start that the user gave if later."""
    return on if calendar.start is None else max(on, calendar.start)


def crew_days(
    crew: Crew, calendar: Calendar, first: date, length: int, daylight: Daylight, rate: float, paid: bool
) -> CrewDays:
    """A crew's hours on each of `length` days from `first` on."""
    days = (first + timedelta(days=offset) for offset in range(length))
    if crew.hours_per_day <= shortest_h(first, daylight):
        daylight = always_light
    hours = tuple(hours_on(crew, calendar, day, daylight) for day in days)
    return CrewDays(crew.name, crew.people, frozenset(crew.skills), hours, rate, paid)


def shortest_h(day: date, daylight: Daylight) -> float:
    """Less daylight than on any day of a year [h]: a quarter of an hour under the shorter of the two solstices."""
    return min(daylight(day.replace(month=6, day=21)), daylight(day.replace(month=12, day=21))) - 0.25


def always_light(_: date) -> float:
    """Daylight where no working day is as long as the shortest day [h]: no day needs to be reckoned."""
    return 24.0
