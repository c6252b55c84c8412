"""What the daily record says of each year: its warm days, and the flight that the model makes of them."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from functools import lru_cache

from barkwright.record import dataclass
from barkwright.season.emergence import model, one_year_parents, warm_days_until, warm_hours
from barkwright.season.numbers import FLIGHT
from barkwright.season.weather import Weather
from barkwright.season.year import in_words

DAY = timedelta(days=1)
MonthDay = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Spring:
    """The flight of one year by the model. Days that the model does not reach are None."""

    year: int
    prior_warm_days: int  # of the calendar year before [days]
    parents: float  # share of one-year beetles among those that fly
    needed: int  # warm days until half are out [days]
    fifth_day: date | None
    median: date | None  # half are out
    onset: date | None
    end: date | None
    whole: bool  # the record reaches the day when the flight is over; else its last warm day stands in for that day


@dataclass(frozen=True, slots=True)
class Summer:
    """The warmth that decides how much brood of an attack in that year takes one year only."""

    year: int
    hours: int  # at 17 C or more from 40 days after half emergence to the end of the year [h]
    stand_hours: int  # the same between 40 and 90 days after it [h]
    unread: int  # days of it up to the end of the season whose hours nobody can count [days]
    hours_at_most: int  # if each of those was as warm as the warmest day that was read [h]
    stand_hours_at_most: int
    complete: bool  # read to the end of the season, with few such days


@dataclass(frozen=True, slots=True)
class YearRead:
    """One year of the record: its flight and its summer, or why it is left out of either."""

    year: int
    warm_days: int  # on record, January to December [days]
    missing: int  # days without a highest temperature between spring and the end of the season [days]
    spring: Spring | None
    summer: Summer | None
    left_out: str | None  # why the year dates no flight


@lru_cache(maxsize=8)
def years_read(weather: Weather, on: date) -> tuple[YearRead, ...]:
    """Every calendar year of which the record tells up to a day, in order; readings after it do not count."""
    years = {day.year for day, reading in weather.days.items() if day <= on and reading.tmax_c is not None}
    return tuple(_read(weather, year, on) for year in sorted(years))


def warm_days(weather: Weather, year: int, until: date) -> tuple[MonthDay, ...]:
    """The warm days of a year up to a day, in order, as month and day."""
    least = model().warm_day_c
    found = []
    for day in _days(date(year, 1, 1), min(until, date(year, 12, 31))):
        reading = weather.days.get(day)
        if reading is not None and reading.tmax_c is not None and reading.tmax_c >= least:
            found.append((day.month, day.day))
    return tuple(found)


def spring_of(year: int, warm: Sequence[MonthDay], prior_warm_days: int) -> Spring:
    """The flight that the model makes of a year's warm days, in order.

    The onset is the later of the fifth warm day after 1 April and the modelled half emergence less its published
    miss, and never after half emergence itself.
    """
    parents = one_year_parents(prior_warm_days)
    needed = warm_days_until(0.5, parents)
    days = [_dated(one, year) for one in warm]
    counted = [day for day in days if day >= FLIGHT.day("count_from", year)]
    fifth = _nth(counted, int(FLIGHT["fifth_day"]))
    median = _nth(days, needed)
    onset = None
    if fifth is not None and median is not None:
        onset = min(max(fifth, median - timedelta(days=int(FLIGHT["miss_days"]))), median)
    over = _nth(days, warm_days_until(FLIGHT["over_share"], parents))
    end = None if median is None else over or max(days[-1], median)
    return Spring(year, prior_warm_days, parents, needed, fifth, median, onset, end, over is not None)


def missing_days(weather: Weather, first: date, last: date) -> tuple[int, int]:
    """Days without a highest temperature between two days, both included, and the longest run of them [days]."""
    count = run = longest = 0
    for day in _days(first, last):
        reading = weather.days.get(day)
        run = run + 1 if reading is None or reading.tmax_c is None else 0
        count += run > 0
        longest = max(longest, run)
    return count, longest


def thin(weather: Weather, first: date, last: date, most: str = "most_missing") -> str | None:
    """Why a span of days has too few readings to count warm days in it, or None when it has enough."""
    count, longest = missing_days(weather, first, last)
    if count > FLIGHT[most]:
        return f"{count} days between {in_words(first)} and {in_words(last)} have no highest temperature"
    if most == "most_missing" and longest > FLIGHT["longest_gap"]:
        return f"{longest} days in a row between {in_words(first)} and {in_words(last)} have no highest temperature"
    return None


def prior_of(weather: Weather, year: int, on: date) -> int | None:
    """Warm days of the calendar year before `year` [days]; None where too many of its days are not on record."""
    last = FLIGHT.day("season_end", year - 1)
    if last > on or thin(weather, FLIGHT.day("spring", year - 1), last, "prior_missing"):
        return None
    return len(warm_days(weather, year - 1, date(year - 1, 12, 31)))


def last_read(weather: Weather, year: int, on: date) -> date | None:
    """The last day of a year, up to a day, that has a highest temperature."""
    days = weather.days.items()
    return max((day for day, read in days if day.year == year and day <= on and read.tmax_c is not None), default=None)


def _read(weather: Weather, year: int, on: date) -> YearRead:
    first, last = FLIGHT.day("spring", year), FLIGHT.day("season_end", year)
    missing, _ = missing_days(weather, first, min(last, on))
    warm = warm_days(weather, year, on)
    prior = prior_of(weather, year, on)
    reason = None
    if FLIGHT.day("summer_end", year) > on:
        reason = "the year is not over"
    elif lack := thin(weather, first, FLIGHT.day("summer_end", year)):
        reason = lack
    elif prior is None:
        reason = f"the model needs the year before, and {_lack_before(weather, year)}"
    spring = None if reason or prior is None else spring_of(year, warm, prior)
    if spring is not None and not spring.whole and year == on.year and (last_read(weather, year, on) or first) < last:
        reason = "its flight is not over"
    elif spring is not None and spring.onset is None:
        reason = f"its {len(warm)} warm days are fewer than the {spring.needed} that half emergence takes"
    return YearRead(year, len(warm), missing, spring, _summer(weather, spring, on), reason)


def _lack_before(weather: Weather, year: int) -> str:
    first, last = FLIGHT.day("spring", year - 1), FLIGHT.day("season_end", year - 1)
    if all(day.year != year - 1 for day in weather.days):
        return f"{year - 1} is not on record"
    return thin(weather, first, last, "prior_missing") or f"{year - 1} is not over"


def _summer(weather: Weather, spring: Spring | None, on: date) -> Summer | None:
    if spring is None or spring.median is None:
        return None
    brood, stand = model().brood, model().stand
    first = spring.median + timedelta(days=brood.from_days)
    window = spring.median + timedelta(days=stand.from_days), spring.median + timedelta(days=stand.to_days)
    last = FLIGHT.day("season_end", spring.year)
    hours, unread = [], []
    for day in _days(first, min(date(spring.year, 12, 31), max(on, last))):
        reading = weather.days.get(day) if day <= on else None
        if reading is not None and reading.tmax_c is not None and reading.tmin_c is not None:
            hours.append((day, warm_hours(reading.tmin_c, reading.tmax_c)))
        elif day <= last:
            unread.append(day)
    most = max((warm for _, warm in hours), default=24)
    total = sum(warm for _, warm in hours)
    in_window = sum(warm for day, warm in hours if window[0] <= day <= window[1])
    return Summer(
        year=spring.year,
        hours=total,
        stand_hours=in_window,
        unread=len(unread),
        hours_at_most=total + most * len(unread),
        stand_hours_at_most=in_window + most * sum(window[0] <= day <= window[1] for day in unread),
        complete=last <= on and last not in unread and len(unread) <= FLIGHT["most_missing"],
    )


def _nth(days: Sequence[date], number: int) -> date | None:
    return days[number - 1] if len(days) >= number else None


def _dated(one: MonthDay, year: int) -> date:
    """A month and day in a year; 29 February is 1 March where there is none."""
    try:
        return date(year, *one)
    except ValueError:
        return date(year, 3, 1)


def _days(first: date, last: date) -> Sequence[date]:
    return [date.fromordinal(number) for number in range(first.toordinal(), last.toordinal() + 1)]
