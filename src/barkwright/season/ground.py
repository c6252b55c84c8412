"""When the ground is frozen: by the user's word, else daily weather, else climate normals, else the latitude."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from functools import lru_cache

from barkwright import datafile
from barkwright.record import dataclass
from barkwright.season.bands import MonthDays, SpellBook, band_of, dated
from barkwright.season.climate import mean_c, normals_of
from barkwright.season.days import LEAP_DAY, by_day
from barkwright.season.frost import Winter, winter_of
from barkwright.season.numbers import FROST
from barkwright.season.site import Season
from barkwright.season.weather import Weather
from barkwright.season.year import MONTHS
from barkwright.sources import Citation, cite

ANY_YEAR = 2026  # its winter has no leap day
NAMED = ("tm5-852-6, modified Berggren equation with lambda 1", "pavement-interactive, silt")
DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class FrostSpan:
    """Days, both ends included, on which the ground is frozen."""

    first: date
    last: date
    deep: bool  # too thick for a digging machine, or its thickness not known


@dataclass(frozen=True, slots=True)
class Ground:
    """When the ground is frozen in a year, and what that rests on."""

    given: tuple[FrostSpan, ...] | None  # the user's own days; they overrule the rest
    deep: MonthDays | None
    thin: MonthDays | None
    name: str  # what it rests on, in a few words: "by the climate normals of Banff"
    words: str  # the same in a sentence
    citations: tuple[Citation, ...] = ()


def frost_spans(season: Season, first_year: int, last_year: int) -> Iterator[FrostSpan]:
    """The days on which the ground is frozen, in spans that begin in these years; or all that the user wrote."""
    ground = ground_of(season)
    if ground.given is not None:
        yield from ground.given
        return
    for year in range(first_year, last_year + 1):
        for span, deep in ((ground.deep, True), (ground.thin, False)):
            if span is not None:
                yield FrostSpan(*dated(span, year), deep)


@lru_cache(maxsize=16)
def ground_of(season: Season) -> Ground:
    """When the ground of this place is frozen, by the best that is known."""
    if season.frozen is not None:
        spans = tuple(FrostSpan(one.first, one.last, True) for one in season.frozen)
        return Ground(spans, None, None, "as you wrote", "When the ground is frozen is what you wrote.")
    winters = _winters(season.weather, season.on) if season.weather else []
    if season.weather and len(winters) >= FROST["fewest_winters"]:
        station = season.weather.station.name
        words = f"the daily weather of {station}, the middle of {len(winters)} winters"
        return _reckoned(_middle(winters), f"by the daily weather of {station}", words)
    near = normals_of(season)
    if near is not None:
        days = by_day(near.mean_c)
        turn = FROST.day("winter_from", ANY_YEAR).timetuple().tm_yday  # of a leap year: one day on
        days = days[turn:] + days[:LEAP_DAY] + days[LEAP_DAY + 1 : turn]
        return _reckoned(winter_of(days), f"by {near.name}", near.words, (cite(near.station.source),))
    band = band_of(datafile.load("season/spells.yaml", SpellBook), season.latitude)
    words = "When the ground is frozen is taken from the latitude alone: common practice, no source."
    return Ground(None, band.ground_frozen, None, "by the latitude alone", words)


def _reckoned(winter: Winter | None, name: str, rests: str, citations: tuple[Citation, ...] = ()) -> Ground:
    lead = f"When the ground is frozen is reckoned coarsely from {rests}"
    tail = "Your own answer overrules it: frozen, under ground, in the site."
    if winter is None:
        return Ground(None, None, None, name, f"{lead}: it does not freeze. {tail}", citations)
    begin, thin, end = (_month_day(day) for day in (winter.frozen_from, winter.thin_from, winter.frozen_to))
    last, last_deep = _month_day(winter.frozen_to - 1), _month_day(winter.thin_from - 1)
    words = (
        f"{lead}: from about {_said(begin)} to {_said(last)}, at most {winter.depth_ft:.1f} ft deep, no snow reckoned "
        f"with. {tail}"
    )
    return Ground(
        None,
        (begin, last_deep) if winter.thin_from > winter.frozen_from else None,
        (thin, last) if end != thin else None,
        name,
        words,
        (*citations, *map(cite, NAMED)),
    )


def _winters(weather: Weather, on: date) -> list[Winter | None]:
    """Every winter on record with few enough days missing; a missing day neither freezes nor thaws."""
    found = []
    years = [day.year for day in weather.days]
    for year in range(min(years, default=0) - 1, max(years, default=-2) + 1):
        begin, end = (FROST.day("winter_from", each) for each in (year, year + 1))
        temps = []
        missing = 0
        for number in range((end - begin).days):
            day = begin + number * DAY
            reading = weather.days.get(day) if day <= on else None
            temp = mean_c(reading) if reading else None
            missing += temp is None
            temps.append(temp or 0.0)
        if missing < FROST["most_missing"]:
            found.append(winter_of(temps))
    return found


def _middle(winters: list[Winter | None]) -> Winter | None:
    """Each date the middle one of the winters that freeze; None where most do not."""
    frozen = [one for one in winters if one is not None]
    if 2 * len(frozen) <= len(winters):
        return None
    at = (len(frozen) - 1) // 2
    begin, thin, end = (sorted(days)[at] for days in zip(*(one[:3] for one in frozen), strict=True))
    return Winter(begin, thin, end, sorted(one.depth_ft for one in frozen)[at])


def _month_day(number: int) -> str:
    return f"{FROST.day('winter_from', ANY_YEAR) + min(number, 364) * DAY:%m-%d}"


def _said(month_day: str) -> str:
    day = date.fromisoformat(f"{ANY_YEAR}-{month_day}")
    return f"{day.day} {MONTHS[day.month - 1]}"
