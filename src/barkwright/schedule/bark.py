"""Stripped bark with grown beetles in it: how long it may lie before it is destroyed."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from barkwright.brood.look import look_book
from barkwright.schedule.settings import SETTINGS
from barkwright.season.flight import day_of, flight_year
from barkwright.season.site import Season
from barkwright.season.spells import spells

PEELS = ("peel", "peel-stump")
DESTROYS = ("destroy-bark-burn", "destroy-bark-bury", "destroy-bark-chip", "haul-bark")


def warm_days(season: Season, first: date, length: int) -> tuple[bool, ...]:
    """For each day: do grown beetles walk away from bark that lies?

    While the bark of living trees slips, from some days before a flight to its end, and while adults move in autumn.
    """
    last = first + timedelta(days=max(0, length - 1))
    spans = [(one.first, one.last) for one in spells(season, first, last) if one.bark == "slipping"]
    before = timedelta(days=int(SETTINGS["bark_warm_before"]))
    for year in range(first.year, last.year + 1):
        flight = flight_year(season, year)
        begins, ends = (day_of(day, year) for day in look_book().move)
        spans += [(flight.onset - before, flight.end), (begins, ends)]
    warm = [False] * length
    for begin, end in spans:
        for day in range(max(0, (begin - first).days), min(length, (end - first).days + 1)):
            warm[day] = True
    return tuple(warm)


def destroyed_by(warm: Sequence[bool], working: Sequence[bool], stripped: int) -> int:
    """The last day on which bark stripped on a day may be destroyed.

    In the warm season the day of work after it, and in the cold the last day before it is warm, if that is later.
    """
    left = int(SETTINGS["bark_kept_warm"])
    soon = stripped
    while left > 0 and soon + 1 < len(working):
        soon += 1
        left -= working[soon]
    if warm[stripped]:
        return soon
    cold = stripped
    while cold + 1 < len(warm) and not warm[cold + 1]:
        cold += 1
    return max(soon, cold)
