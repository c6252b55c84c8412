"""Fahrenheit or Celsius? Told from the values, where only one of the two is a climate that spruce could grow in."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from datetime import date
from statistics import fmean

from barkwright.diagnostics import Diagnostic
from barkwright.record import dataclass
from barkwright.season.weather import Day
from barkwright.season.weatherfiles.dates import day_of, style_of
from barkwright.season.weatherfiles.limits import limits
from barkwright.season.weatherfiles.part import Draft
from barkwright.season.weatherfiles.values import from_fahrenheit, same, times


@dataclass(frozen=True, slots=True)
class Reading:
    """The temperatures of one day as they stand in the file."""

    day: date
    tmax: float | None
    tmin: float | None


def readings(found: Iterable[Draft]) -> tuple[Reading, ...]:
    """The temperatures of some rows as they stand; rows without a date that can be read are left out."""
    held = tuple(found)
    style = style_of(dict.fromkeys(draft.day for draft in held))
    days = {text: day_of(text, style) for text in dict.fromkeys(draft.day for draft in held)}
    return tuple(
        Reading(day, draft.numbers[0], draft.numbers[1]) for draft in held if (day := days[draft.day]) is not None
    )


def believable(readings: Iterable[Reading], turn: Callable[[float], float]) -> str | None:
    """What speaks against reading the temperatures so, in words; None where nothing does. `turn` gives Celsius.

    Held against it: more than a few readings that no weather station ever had, a month whose mean Tmax is outside the
    climates of spruce, and a mean difference of Tmax and Tmin that is none.
    """
    limit = limits()
    low, high = limit.possible.temperature_c
    months: dict[tuple[int, int], list[float]] = defaultdict(list)
    spans, count, outside = [], 0, 0
    for one in readings:
        tmax, tmin = (None if value is None else turn(value) for value in (one.tmax, one.tmin))
        for value in (tmax, tmin):
            count += value is not None
            outside += value is not None and not low <= value <= high
        if tmax is not None and low <= tmax <= high:
            months[one.day.year, one.day.month].append(tmax)
        if tmax is not None and tmin is not None:
            spans.append(tmax - tmin)
    if outside > limit.outside_share * count:
        return f"{outside:,} of {count:,} temperatures would be outside {low:g} to {high:g} C"
    for (year, month), values in sorted(months.items()):
        coldest, hottest = limit.monthly_tmax_c[month - 1]
        mean = fmean(values)
        if len(values) >= limit.month_days and not coldest <= mean <= hottest:
            return f"the mean Tmax of {year}-{month:02} would be {mean:.0f} C"
    least, most = limit.daily_range_c
    if len(spans) >= limit.month_days and not least <= abs(fmean(spans)) <= most:
        return f"Tmax and Tmin would lie {abs(fmean(spans)):.1f} C apart in the mean"
    return None


def against_stated(readings: Iterable[Reading], turn: Callable[[float], float]) -> str | None:
    """What speaks for the other unit than the one that a header states, in words; None where nothing does.

    turn : gives Celsius from the unit that is stated, degrees F or C
    """
    held = tuple(readings)
    why = believable(held, turn) if len(held) >= limits().month_days else None
    return why if why and believable(held, same if turn is from_fahrenheit else from_fahrenheit) is None else None


def climate_notes(days: Mapping[date, Day]) -> list[Diagnostic]:
    """A warning where the readings of a record are no climate that spruce could grow in."""
    why = believable((Reading(day, one.tmax_c, one.tmin_c) for day, one in days.items()), same)
    if not why:
        return []
    message = f"read as the file says, {why}: spruce grows in no such climate"
    return [Diagnostic("warning", "weather-doubt", message, hint="see that its columns and their units are right")]


def against_tenths(readings: Iterable[Reading]) -> str | None:
    """What speaks against tenths of a degree C, which the header says they are; None where nothing does.

    Whole degrees read as tenths make days of next to no difference between Tmax and Tmin.
    """
    held = tuple(readings)
    tenth = times(0.1)
    why = believable(held, tenth)
    spans = [abs(one.tmax - one.tmin) / 10 for one in held if one.tmax is not None and one.tmin is not None]
    if why or not spans or fmean(spans) >= limits().tenths_daily_range_c:
        return why
    if believable(held, same) and believable(held, from_fahrenheit):
        return None
    return f"Tmax and Tmin would lie {fmean(spans):.1f} C apart in the mean, while as whole degrees they are believable"


def told(readings: Iterable[Reading]) -> tuple[str | None, str]:
    """("imperial" or "metric", why the other cannot be), or (None, why neither can be told)."""
    held = tuple(readings)
    against = {"imperial": believable(held, from_fahrenheit), "metric": believable(held, same)}
    left = [units for units, why in against.items() if why is None]
    if len(left) == 1:
        other, letter = ("metric", "C") if left == ["imperial"] else ("imperial", "F")
        return left[0], f"read as {letter}, {against[other]}"
    if left:
        return None, "as F and as C the temperatures are believable"
    return None, f"read as F, {against['imperial']}; read as C, {against['metric']}"
