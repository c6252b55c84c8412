"""What a record does not hold: runs of days without a highest temperature, years and summers that are missing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from itertools import pairwise

from barkwright.diagnostics import Diagnostic
from barkwright.season.weather import Day
from barkwright.season.weatherfiles.limits import limits

ONE = timedelta(days=1)
HINT = "add files that hold the missing days, if there are any: a year without them dates no flight"


def gap_notes(days: Mapping[date, Day], first: date, last: date) -> list[Diagnostic]:
    """The longest gaps by first and last day, and the years and summers that lack days. Nothing is filled.

    first, last : the span of the files' rows, whether they hold a reading or not
    """
    with_tmax = sorted(day for day, one in days.items() if one.tmax_c is not None)
    if not with_tmax:
        return []
    return [*_gaps([first - ONE, *with_tmax, last + ONE]), *_years(with_tmax, first, last)]


def _gaps(days: list[date]) -> Iterator[Diagnostic]:
    holes = [(after - before - ONE, before + ONE, after - ONE) for before, after in pairwise(days)]
    holes = [hole for hole in holes if hole[0] > timedelta(0)]
    total = sum(length.days for length, _, _ in holes)
    long = [hole for hole in holes if hole[0].days >= limits().gap_days]
    if not holes:
        return
    shown = sorted(sorted(long, key=lambda hole: (-hole[0], hole[1]))[: limits().shown_gaps], key=lambda hole: hole[1])
    named = "; ".join(f"{start} to {end} ({length.days} days)" for length, start, end in shown)
    more = f" and {len(long) - len(shown)} more of {limits().gap_days} days or longer" if len(long) > len(shown) else ""
    span = (days[-1] - days[0]).days - 1
    message = f"{total:,} of {span:,} days {'has' if total == 1 else 'have'} no highest temperature" + (
        f"; the longest {'gap is' if len(shown) == 1 else 'gaps are'} {named}{more}" if shown else ""
    )
    yield Diagnostic("warning" if shown else "note", "weather-gap", message, hint=HINT if shown else None)


def _years(days: list[date], first: date, last: date) -> Iterator[Diagnostic]:
    begin, end = limits().summer
    held = set(days)
    years = {day.year for day in held}
    missing = [year for year in range(first.year, last.year + 1) if year not in years]
    if missing:
        yield Diagnostic("warning", "weather-gap", f"no day with a highest temperature in {_listed(missing)}")
    thin = []
    for year in sorted(years):
        start, stop = (date.fromisoformat(f"{year}-{edge}") for edge in (begin, end))
        whole = (stop - start).days + 1
        count = sum(start + n * ONE in held for n in range(whole))
        if count < limits().thin_summer_share * whole and not (year == last.year and last < stop):
            thin.append(f"{year} ({count} of {whole})")
    if thin:
        message = f"summers with few days on record from {begin} to {end}: {', '.join(thin)}"
        yield Diagnostic("warning", "weather-gap", message)


def _listed(years: list[int]) -> str:
    return ", ".join(map(str, years[:12])) + (f" and {len(years) - 12} more years" if len(years) > 12 else "")
