"""Bark, ground and chips by the time of year: spans of days that come back every year."""

from __future__ import annotations

from datetime import date

from barkwright.record import dataclass
from barkwright.season.flight import day_of

MonthDays = tuple[str, str]  # month-day of the first and the last day; may cross the new year


@dataclass(frozen=True, slots=True)
class Band:
    """Bark and ground by season from one latitude [degrees] up to the next band's."""

    latitude_from: float
    slipping: MonthDays
    bark_frozen: MonthDays
    ground_frozen: MonthDays


@dataclass(frozen=True, slots=True)
class ChipsDraw:
    """The time of year in which fresh chips draw beetles to live trees."""

    span: MonthDays
    cite: str
    basis: str


@dataclass(frozen=True, slots=True)
class SpellBook:
    """The whole file, data/season/spells.yaml."""

    checked_on: date
    basis: str
    bands: tuple[Band, ...]
    chips_draw: ChipsDraw


def band_of(book: SpellBook, latitude: float) -> Band:
    """The band that holds a latitude [degrees north]."""
    return [band for band in book.bands if band.latitude_from <= max(latitude, 0.0)][-1]


def dated(span: MonthDays, year: int) -> tuple[date, date]:
    """First and last day of the span that begins in a year; it may end in the next."""
    begin, end = day_of(span[0], year), day_of(span[1], year)
    return (begin, end) if begin <= end else (begin, day_of(span[1], year + 1))


def holds(span: MonthDays, day: date) -> bool:
    """Does the span of any year hold the day?"""
    return any(begin <= day <= end for begin, end in (dated(span, day.year - 1), dated(span, day.year)))
