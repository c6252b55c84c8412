"""Working days: who can work how long on which day, as far as the last flight to beat."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from datetime import date, timedelta
from functools import partial

from barkwright.inventory.model import Calendar, Crew, Inventory, Span
from barkwright.record import dataclass
from barkwright.season.daylight import daylight_hours
from barkwright.season.lostdays import lost_days
from barkwright.season.site import Season

WEEK = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
Daylight = Callable[[date], float]
NOTHING_LOST = (0.0,) * 12


@dataclass(frozen=True, slots=True)
class Outdoors:
    """What a place leaves of a working day."""

    daylight: Daylight  # [h]
    lost: tuple[float, ...] = NOTHING_LOST  # expected share of a working day lost to weather, January to December

    def hours(self, day: date, most: float) -> float:
        """Of `most` hours a day those that one may expect to work [h]: while it is light, less what weather takes."""
        return max(0.0, min(most, self.daylight(day))) * (1.0 - self.lost[day.month - 1])


@dataclass(frozen=True, slots=True)
class Week:
    """A week from its Monday on: days on which anybody can work, and what all can expect to work."""

    first: date
    days: int
    person_hours: float  # [h]


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


def outdoors(season: Season) -> Outdoors:
    """Daylight at a place, and the weather that its record of daily weather leads one to expect."""
    daylight = partial(daylight_hours, season.latitude, season.longitude)
    lost = lost_days(season)
    return Outdoors(daylight) if lost is None else Outdoors(daylight, lost.shares)


def hours_on(crew: Crew, calendar: Calendar, day: date, place: Outdoors) -> float:
    """Hours that each person of a crew can expect to work on a day [h]: 0 on days off, capped by daylight."""
    off = WEEK[day.weekday()] not in crew.days or within(day, crew.off) or within(day, calendar.off)
    if off and day not in crew.extra_days:
        return 0.0
    return place.hours(day, crew.hours_per_day)


def first_day(calendar: Calendar, on: date) -> date:
    """The first day on which work may be done: the plan's date, or the start that the user gave if later."""
    return on if calendar.start is None else max(on, calendar.start)


def crew_days(
    crew: Crew, calendar: Calendar, first: date, length: int, place: Outdoors, rate: float, paid: bool
) -> CrewDays:
    """A crew's hours on each of `length` days from `first` on."""
    days = (first + timedelta(days=offset) for offset in range(length))
    if crew.hours_per_day <= shortest_h(first, place.daylight):
        place = replace(place, daylight=always_light)
    hours = tuple(hours_on(crew, calendar, day, place) for day in days)
    return CrewDays(crew.name, crew.people, frozenset(crew.skills), hours, rate, paid)


def weekly_hours(inventory: Inventory, season: Season, first: date, last: date) -> tuple[Week, ...]:
    """The weeks that hold any day from `first` to `last`: of those days, what the site's crews can expect to work.

    No day counts before work may begin. Weeks without work are there too, with 0; none when last < first.
    """
    place, opens = outdoors(season), first_day(inventory.calendar, season.on)
    length = max(0, (last - first).days + 1)
    crews = [crew_days(crew, inventory.calendar, first, length, place, 0.0, paid=False) for crew in inventory.crew]
    weeks: dict[date, list[float]] = {}
    for offset in range(length):
        day = first + timedelta(days=offset)
        hours = 0.0 if day < opens else sum(crew.hours[offset] * crew.people for crew in crews)
        weeks.setdefault(day - timedelta(days=day.weekday()), []).append(hours)
    return tuple(Week(monday, sum(each > 0.0 for each in hours), sum(hours)) for monday, hours in weeks.items())


def shortest_h(day: date, daylight: Daylight) -> float:
    """Less daylight than on any day of a year [h]: a quarter of an hour under the shorter of the two solstices."""
    return min(daylight(day.replace(month=6, day=21)), daylight(day.replace(month=12, day=21))) - 0.25


def always_light(_: date) -> float:
    """Daylight where no working day is as long as the shortest day [h]: no day needs to be reckoned."""
    return 24.0
