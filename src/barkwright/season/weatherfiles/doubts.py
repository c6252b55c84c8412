"""Readings that cannot be believed: left out by day, and named with dates and counts."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Mapping, Sequence
from datetime import date, timedelta

from barkwright.diagnostics import Diagnostic, Place, Severity
from barkwright.record import dataclass
from barkwright.season.weather import Day
from barkwright.season.weatherfiles.limits import limits
from barkwright.season.weatherfiles.merging import dates

NAMES = {
    "tmax_c": "Tmax", "tmin_c": "Tmin", "precip_mm": "precipitation", "snow_cm": "new snow", "gust_kmh": "gust",
    "wind_kmh": "mean wind", "rh_pct": "relative humidity",
}  # fmt: skip
UNITS = {
    "tmax_c": "C",
    "tmin_c": "C",
    "precip_mm": "mm",
    "snow_cm": "cm",
    "gust_kmh": "km/h",
    "wind_kmh": "km/h",
    "rh_pct": "%",
}
TEMPERATURES = ("tmax_c", "tmin_c")
ONE = timedelta(days=1)
FUZZ = 1e-6  # of conversions


@dataclass(frozen=True, slots=True)
class Doubt:
    """Days on which something cannot be believed, and which of their readings are left out."""

    what: str
    days: tuple[date, ...]
    left_out: tuple[str, ...]


def cleared(days: Mapping[date, Day], places: Mapping[date, Place]) -> tuple[dict[date, Day], list[Diagnostic]]:
    """The days without what cannot be believed, and what was left out; an error where the columns stand swapped.

    places : where each day is written; a doubt stands where its first day does
    """
    held, notes = dict(days), []
    swapped = _swapped(held)
    if swapped:
        return held, [swapped]
    for look in (_impossible, _reversed, _single, _partial, _stuck, _jumps):
        for doubt in look(held):
            for day in doubt.days:
                held[day] = dataclasses.replace(held[day], **dict.fromkeys(doubt.left_out))
            end = f"left out: {' and '.join(NAMES[name] for name in doubt.left_out)}" if doubt.left_out else "kept"
            severity: Severity = "warning" if doubt.left_out else "note"
            message = f"{dates(doubt.days)}: {doubt.what}; {end}"
            notes.append(Diagnostic(severity, "weather-doubt", message, places.get(doubt.days[0])))
    empty = Day()
    return {day: one for day, one in held.items() if one != empty}, notes


def _both(days: Mapping[date, Day], hold: Callable[[float, float], bool]) -> tuple[date, ...]:
    return tuple(
        day
        for day, one in days.items()
        if one.tmax_c is not None and one.tmin_c is not None and hold(one.tmax_c, one.tmin_c)
    )


def _swapped(days: Mapping[date, Day]) -> Diagnostic | None:
    pairs = len(_both(days, lambda _high, _low: True))
    wrong = len(_both(days, lambda high, low: low > high))
    if wrong <= limits().reversed_share * pairs:
        return None
    message = f"Tmin is above Tmax on {wrong:,} of {pairs:,} days: the columns stand in each other's place"
    return Diagnostic("error", "weather-doubt", message, hint="swap the two columns, or download the file again")


def _impossible(days: Mapping[date, Day]) -> list[Doubt]:
    """Readings that no place has."""
    possible = limits().possible
    ranges = {
        "tmax_c": possible.temperature_c, "tmin_c": possible.temperature_c, "precip_mm": possible.precip_mm,
        "snow_cm": possible.snow_cm, "gust_kmh": possible.wind_kmh, "wind_kmh": possible.wind_kmh,
        "rh_pct": possible.rh_pct,
    }  # fmt: skip
    found = []
    for name, (low, high) in ranges.items():
        odd = tuple(
            day for day, one in days.items() if (value := getattr(one, name)) is not None and not low <= value <= high
        )
        if odd:
            what = f"{NAMES[name]} outside {low:g} to {high:g} {UNITS[name]}"
            found.append(Doubt(what, odd, (name,)))
    return found


def _reversed(days: Mapping[date, Day]) -> list[Doubt]:
    odd = _both(days, lambda high, low: low > high)
    return [Doubt("Tmin above Tmax", odd, TEMPERATURES)] if odd else []


def _single(days: Mapping[date, Day]) -> list[Doubt]:
    """A day whose highest and lowest reading are the same was read once."""
    odd = _both(days, lambda high, low: low == high)
    return [Doubt("Tmax and Tmin are the same, as if read once that day", odd, TEMPERATURES)] if odd else []


def _partial(days: Mapping[date, Day]) -> list[Doubt]:
    """A day of hardly any range beside a day without readings was read for some of its hours only."""
    least = limits().partial_range_c
    read = set(_both(days, lambda _high, _low: True))
    if not read:
        return []
    first, last = min(read), max(read)
    odd = tuple(
        day
        for day in _both(days, lambda high, low: high - low < least)
        if any(first < beside < last and beside not in read for beside in (day - ONE, day + ONE))
    )
    what = f"Tmax and Tmin less than {least:g} C apart beside a day without them, as if read for some hours only"
    return [Doubt(what, odd, TEMPERATURES)] if odd else []


def _stuck(days: Mapping[date, Day]) -> list[Doubt]:
    """The same two temperatures for many days in a row."""
    odd: list[date] = []
    run: list[date] = []
    for day in [*sorted(days), date.max]:
        one, before = days.get(day), days.get(run[-1]) if run else None
        same = one and before and day - run[-1] == ONE and None not in (one.tmax_c, one.tmin_c)
        if same and one and before and (one.tmax_c, one.tmin_c) == (before.tmax_c, before.tmin_c):
            run.append(day)
            continue
        if len(run) >= limits().stuck_days:
            odd += run
        run = [day]
    what = f"the same Tmax and Tmin for {limits().stuck_days} or more days in a row"
    return [Doubt(what, tuple(odd), TEMPERATURES)] if odd else []


def _jumps(days: Mapping[date, Day]) -> list[Doubt]:
    """Readings far above or far below those of both neighbouring days."""
    far, odd = limits().jump_c, limits().odd_jump_c
    found = []
    for name in TEMPERATURES:
        leaps = {day: leap for day in days if (leap := _leap(days, day, name)) >= odd - FUZZ}
        out = tuple(day for day, leap in leaps.items() if leap >= far - FUZZ)
        kept = tuple(day for day, leap in leaps.items() if leap < far - FUZZ)
        if out:
            found.append(Doubt(f"{NAMES[name]} {far:g} C or more from both neighbouring days", out, (name,)))
        if kept:
            found.append(
                Doubt(f"{NAMES[name]} {odd:g} C or more from both neighbouring days, as a front may do", kept, ())
            )
    return found


def _leap(days: Mapping[date, Day], day: date, name: str) -> float:
    """How far a reading is from the nearer of its two neighbours, where it is above or below both; else 0."""
    around: Sequence[Day | None] = [days.get(day - ONE), days.get(day), days.get(day + ONE)]
    before, here, after = (None if one is None else getattr(one, name) for one in around)
    if before is None or here is None or after is None or (here - before) * (here - after) <= 0:
        return 0.0
    return float(min(abs(here - before), abs(here - after)))
