"""Spells: any span of days cut where bark, ground, flight or the pull of fresh chips changes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta

from barkwright import datafile
from barkwright.season.bands import Band, SpellBook, band_of, dated, holds
from barkwright.season.flight import flight_year
from barkwright.season.ground import FrostSpan, frost_spans
from barkwright.season.site import Season
from barkwright.season.year import BarkState, Spell

DAY = timedelta(days=1)


def spells(season: Season, first: date, last: date) -> tuple[Spell, ...]:
    """The days from first to last, both included, as spells in order, without gaps; none when last < first."""
    if last < first:
        return ()
    book = datafile.load("season/spells.yaml", SpellBook)
    band = band_of(book, season.latitude)
    yearly = (band.slipping, band.bark_frozen, book.chips_draw.span)
    frost = tuple(frost_spans(season, first.year - 1, last.year))
    starts = {first, *(one.first for one in frost), *(one.last + DAY for one in frost)}
    for year in range(first.year - 1, last.year + 1):
        flight = flight_year(season, year)
        starts |= {flight.onset, flight.end + DAY}
        for span in yearly:
            begin, end = dated(span, year)
            starts |= {begin, end + DAY}
    cuts = sorted(day for day in starts if first <= day <= last)
    ends = [day - DAY for day in cuts[1:]] + [last]
    return _joined([_spell(season, book, band, frost, begin, end) for begin, end in zip(cuts, ends, strict=True)])


def bark_frozen(latitude: float, day: date) -> bool:
    """Is it the deep winter of this latitude [degrees north], when bark is frozen to the wood?"""
    return holds(band_of(datafile.load("season/spells.yaml", SpellBook), latitude).bark_frozen, day)


def without_ground(found: Iterable[Spell]) -> tuple[Spell, ...]:
    """The same spells where the ground does not matter: not cut by frost, and never frozen."""
    return _joined([replace(one, ground_frozen=False, frost_deep=False) for one in found])


def _spell(season: Season, book: SpellBook, band: Band, frost: tuple[FrostSpan, ...], first: date, last: date) -> Spell:
    flight = flight_year(season, first.year)
    bark: BarkState = "dormant"
    if holds(band.bark_frozen, first):
        bark = "frozen"
    elif holds(band.slipping, first):
        bark = "slipping"
    frozen = [one for one in frost if one.first <= first <= one.last]
    return Spell(
        first=first,
        last=last,
        bark=bark,
        ground_frozen=bool(frozen),
        flying=flight.onset <= first <= flight.end,
        chips_draw=holds(book.chips_draw.span, first),
        frost_deep=any(one.deep for one in frozen),
    )


def _joined(parts: Iterable[Spell]) -> tuple[Spell, ...]:
    joined: list[Spell] = []
    for part in parts:
        if joined and _state(joined[-1]) == _state(part):
            part = Spell(joined.pop().first, part.last, *_state(part))
        joined.append(part)
    return tuple(joined)


def _state(spell: Spell) -> tuple[BarkState, bool, bool, bool, bool]:
    return spell.bark, spell.ground_frozen, spell.flying, spell.chips_draw, spell.frost_deep
