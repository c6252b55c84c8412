"""Spells: any span of days cut where bark, ground, flight or the pull of fresh chips changes."""

from __future__ import annotations

from datetime import date, timedelta

from barkwright import datafile
from barkwright.record import dataclass
from barkwright.season.flight import day_of, flight_year
from barkwright.season.site import Season
from barkwright.season.year import BarkState, Spell

MonthDays = tuple[str, str]  # month-day of the first and the last day; may cross the new year
DAY = timedelta(days=1)


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
class Book:
    """The whole file, data/season/spells.yaml."""

    checked_on: date
    basis: str
    bands: tuple[Band, ...]
    chips_draw: ChipsDraw


def spells(season: Season, first: date, last: date) -> tuple[Spell, ...]:
    """The days from first to last, both included, as spells in order, without gaps; none when last < first."""
    if last < first:
        return ()
    book = datafile.load("season/spells.yaml", Book)
    band = band_of(book, season.latitude)
    yearly = (band.slipping, band.bark_frozen, band.ground_frozen, book.chips_draw.span)
    starts = {first}
    for year in range(first.year - 1, last.year + 1):
        flight = flight_year(season, year)
        starts |= {flight.onset, flight.end + DAY}
        for span in yearly:
            begin, end = _dated(span, year)
            starts |= {begin, end + DAY}
    cuts = sorted(day for day in starts if first <= day <= last)
    ends = [day - DAY for day in cuts[1:]] + [last]
    return _joined([_spell(season, book, band, begin, end) for begin, end in zip(cuts, ends, strict=True)])


def band_of(book: Book, latitude: float) -> Band:
    """The band that holds a latitude [degrees north]."""
    return [band for band in book.bands if band.latitude_from <= max(latitude, 0.0)][-1]


def _spell(season: Season, book: Book, band: Band, first: date, last: date) -> Spell:
    flight = flight_year(season, first.year)
    bark: BarkState = "dormant"
    if _holds(band.bark_frozen, first):
        bark = "frozen"
    elif _holds(band.slipping, first):
        bark = "slipping"
    return Spell(
        first=first,
        last=last,
        bark=bark,
        ground_frozen=_holds(band.ground_frozen, first),
        flying=flight.onset <= first <= flight.end,
        chips_draw=_holds(book.chips_draw.span, first),
    )


def _joined(parts: list[Spell]) -> tuple[Spell, ...]:
    joined: list[Spell] = []
    for part in parts:
        if joined and _state(joined[-1]) == _state(part):
            part = Spell(joined.pop().first, part.last, *_state(part))
        joined.append(part)
    return tuple(joined)


def _state(spell: Spell) -> tuple[BarkState, bool, bool, bool]:
    return spell.bark, spell.ground_frozen, spell.flying, spell.chips_draw


def _dated(span: MonthDays, year: int) -> tuple[date, date]:
    begin, end = day_of(span[0], year), day_of(span[1], year)
    return (begin, end) if begin <= end else (begin, day_of(span[1], year + 1))


def _holds(span: MonthDays, day: date) -> bool:
    return any(begin <= day <= end for begin, end in (_dated(span, day.year - 1), _dated(span, day.year)))
