"""Dates as files and spreadsheets write them: read where all rows together leave one meaning, otherwise refused."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date, timedelta

from barkwright.record import dataclass
from barkwright.season.year import MONTHS as MONTH_NAMES

ISO = re.compile(r"([0-9]{4})-([0-9][0-9])-([0-9][0-9])(?:[T ]00:00(?::00(?:\.0+)?)?)?")
COMPACT = re.compile(r"((?:18|19|20)[0-9][0-9])([0-9][0-9])([0-9][0-9])")
YEAR_FIRST = re.compile(r"([0-9]{4})[/.]([0-9][0-9]?)[/.]([0-9][0-9]?)")
YEAR_LAST = re.compile(r"([0-9][0-9]?)([/.-])([0-9][0-9]?)\2([0-9]{4}|[0-9][0-9])(?: 0?0:00(?::00)?)?")
NAMED = re.compile(r"([0-9][0-9]?)[ -]([A-Za-z]{3,9})\.?[ -]([0-9]{4}|[0-9][0-9])")
NAMED_FIRST = re.compile(r"([A-Za-z]{3,9})\.? ([0-9][0-9]?),? ([0-9]{4})")
SERIAL = re.compile(r"[1-9][0-9]{4}(?:\.0+)?")  # days since 1899-12-30, as spreadsheets count
MONTHS = tuple(name.lower() for name in MONTH_NAMES)
SPREADSHEET_DAY_0 = date(1899, 12, 30)
TURN = 70  # two-digit years from here on are of the last century; ours
FIRST_YEAR, LAST_YEAR = 1840, 2199


@dataclass(frozen=True, slots=True)
class Style:
    """What the dates of a file leave open: which comes first, and how they are to be named in a note."""

    day_first: bool | None  # None: the file has no date that turns on it, or does not tell
    undecided: bool  # there are such dates, and they do not tell
    both: bool  # some dates have the day first and some the month
    note: str | None


def style_of(texts: Iterable[str]) -> Style:
    """How the dates of a file are written, judged over all of them."""
    first = second = turning = serial = short = False
    for text in texts:
        if found := YEAR_LAST.fullmatch(text):
            turning = True
            first = first or int(found[1]) > 12
            second = second or int(found[3]) > 12
            short = short or len(found[4]) == 2
        elif SERIAL.fullmatch(text):
            serial = True
        elif found := NAMED.fullmatch(text):
            short = short or len(found[3]) == 2
    said = []
    if turning and first != second:
        said.append("day first" if first else "month first")
    if serial:
        said.append("as a spreadsheet's count of days since 1900")
    if short:
        said.append(f"two-digit years from {TURN} on as 19..")
    day_first = first if first != second else None
    return Style(day_first, turning and not (first or second), first and second, ", ".join(said) or None)


def day_of(text: str, style: Style) -> date | None:
    """The day in a field, None where it is none."""
    parts = _parts(text, style)
    if isinstance(parts, date) or parts is None:
        return parts
    year, month, day = parts
    if not FIRST_YEAR <= year <= LAST_YEAR:
        return None
    try:
        return date(year, month, day)
    except ValueError:
        return None


def _parts(text: str, style: Style) -> tuple[int, int, int] | date | None:
    if found := ISO.fullmatch(text) or COMPACT.fullmatch(text) or YEAR_FIRST.fullmatch(text):
        return int(found[1]), int(found[2]), int(found[3])
    if found := YEAR_LAST.fullmatch(text):
        if style.day_first is None:
            return None
        day, month = (found[1], found[3]) if style.day_first else (found[3], found[1])
        return _year(found[4]), int(month), int(day)
    if found := NAMED.fullmatch(text):
        return _named(_year(found[3]), found[2], int(found[1]))
    if found := NAMED_FIRST.fullmatch(text):
        return _named(int(found[3]), found[1], int(found[2]))
    if SERIAL.fullmatch(text):
        return SPREADSHEET_DAY_0 + timedelta(days=int(text.partition(".")[0]))
    return None


def _named(year: int, name: str, day: int) -> tuple[int, int, int] | None:
    months = [number for number, month in enumerate(MONTHS, 1) if month == name.casefold() or month[:3] == name.lower()]
    return (year, months[0], day) if months else None


def _year(text: str) -> int:
    if len(text) == 4:
        return int(text)
    return int(text) + (1900 if int(text) >= TURN else 2000)
