"""When to look at living spruce again: the looks that follow a flight, by the dates of this place's own flights."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from datetime import date, timedelta
from typing import Literal

from barkwright.brood.numbers import FOLLOW
from barkwright.record import dataclass
from barkwright.season.flight import finish_by, flight_year
from barkwright.season.site import Season

Kind = Literal["now", "flight-over", "late-summer", "spring", "year-after"]


@dataclass(frozen=True, slots=True)
class Look:
    """One look: what for, after which flight, and between which days."""

    kind: Kind
    flight: int  # the flight whose attacks it finds
    first: date
    last: date


@dataclass(frozen=True, slots=True)
class Follow:
    """The follow-up on the plan's date."""

    year: int  # the flight that it follows
    ended: int  # the last flight that is over
    under_way: bool  # beetles fly on the plan's date
    of_use_from: date | None  # None where the flight that it follows is over
    looks: tuple[Look, ...]  # those that are still to come or open, in order


def follow_up(season: Season, on: date, to_beat: Collection[int]) -> Follow:
    """The looks of a site. Until the autumn they follow the flight that is over, from then on the coming one.

    Where nothing has to beat a coming flight, they follow the one that is over all year.
    to_beat : Collection    Years of the flights that some piece has to beat.
    """
    own = flight_year(season, on.year)
    under_way = own.onset <= on <= own.end
    ended = on.year if on > own.end else on.year - 1
    year = ended
    if under_way or (on > FOLLOW.day("autumn_over", ended) and any(one > ended for one in to_beat)):
        year = ended + 1
    looks = [*(_after(season, ended, on) if ended < year and not under_way else ()), *_after(season, year, on)]
    looks.append(Look("year-after", year + 1, *_fresh(season, year + 1)))
    open_or_to_come = [look for look in looks if look.last >= on]
    if not under_way and not any(look.first <= on for look in open_or_to_come):
        before = min(look.first for look in open_or_to_come) - timedelta(days=1)
        open_or_to_come.insert(0, Look("now", ended, on, before))
    end = flight_year(season, year).end
    return Follow(year, ended, under_way, end + timedelta(days=1) if on <= end else None, tuple(open_or_to_come))


def _after(season: Season, year: int, on: date) -> Iterator[Look]:
    """The looks at what a flight attacked, up to the next flight."""
    yield Look("flight-over", year, *_fresh(season, year))
    rested = flight_year(season, year).end + timedelta(days=int(FOLLOW["rest_days"]))
    first = max(FOLLOW.day("late_summer", year), rested)
    yield Look("late-summer", year, first, max(FOLLOW.day("autumn_over", year), first))
    after = flight_year(season, year + 1)
    by = finish_by(after)
    last = by if on <= by else after.onset - timedelta(days=1)
    yield Look("spring", year, by - timedelta(days=int(FOLLOW["spring_days"])), last)


def _fresh(season: Season, year: int) -> tuple[date, date]:
    end = flight_year(season, year).end
    return end + timedelta(days=1), end + timedelta(days=int(FOLLOW["fresh_days"]))
