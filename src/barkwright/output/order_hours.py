"""What the hours of the plan rest on: work lost to weather, days shorter than the crew's, and days without sun."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from datetime import date, timedelta
from typing import TYPE_CHECKING

from barkwright.output.view import View
from barkwright.output.words import amount, listing, number
from barkwright.season.daylight import daylight_hours, sunless
from barkwright.season.lostdays import lost_days
from barkwright.season.numbers import LOST_DAYS
from barkwright.season.year import MONTHS, in_words
from barkwright.units import CM_PER_IN, KM_PER_MILE

if TYPE_CHECKING:
    from barkwright.season.losses import MonthLoss
    from barkwright.season.lostdays import LostDays

CAUSES = (("cold", "cold"), ("wind", "wind"), ("wet", "rain and snow"), ("thunder", "thunder"))


def working_hours(view: View) -> Iterator[str]:
    """Everything that makes the plan's hours other than the crews' own, for the months in which the crews work."""
    days, (first, last) = _crew_days(view), _window(view)
    yield from _weather(view, days, first, last)
    yield from _capped(view, days)
    yield from _dark(view, first, last)


def _window(view: View) -> tuple[date, date]:
    """The first day of the plan and its last: of its work, or of the last flight where work is missing."""
    plan = view.plan
    start, ends = plan.inventory.calendar.start, [job.last for job in plan.schedule.jobs]
    if plan.misses or not ends:
        ends += [flight.half for flight in plan.flights]
    return plan.on if start is None else max(plan.on, start), max(ends)


def _crew_days(view: View) -> Mapping[date, float]:
    """The days on which a crew of the site works, with the longest day that one of those crews has [h]."""
    full = {crew.name: crew.hours_per_day for crew in view.plan.inventory.crew}
    days: dict[date, float] = {}
    for job in view.plan.schedule.jobs:
        if job.crew in full:
            for day, _ in job.day_hours:
                days[day] = max(days.get(day, 0.0), full[job.crew])
    return days


def _weather(view: View, days: Mapping[date, float], first: date, last: date) -> Iterator[str]:
    """Of the months with work, and of those in between that have none because weather takes most of them."""
    lost = lost_days(view.plan.season)
    if lost is None:
        return
    between = (first + timedelta(days=offset) for offset in range(min(366, (last - first).days + 1)))
    taken = [day for day in between if lost.shares[day.month - 1] > LOST_DAYS["named_from"]]
    months = list(dict.fromkeys(day.month for day in sorted([*days, *taken])))
    told = [lost.months[month - 1] for month in months]
    known = [month for month in told if month.known]
    if known:
        yield _taken(view, lost, known)
        yield from untold(known)
    unknown = [MONTHS[month.month - 1] for month in told if not month.known]
    if unknown:
        fewest = amount(LOST_DAYS["fewest_days"], "day")
        yield (
            f"The daily record of {lost.station.name} has fewer than {fewest} of {listing(unknown, 'or')}: no hours "
            "are taken off there."
        )


def _taken(view: View, lost: LostDays, known: Sequence[MonthLoss]) -> str:
    parts = [f"{_percent(month.share)} in {MONTHS[month.month - 1]}{_causes(month)}" for month in known if month.share]
    quiet = [MONTHS[month.month - 1] for month in known if not month.share]
    if quiet:
        parts.append(f"nothing in {listing(quiet)}")
    overlap = "; causes overlap" if any(_causes(month).count("%") > 1 for month in known) else ""
    years = str(lost.first.year) if lost.first.year == lost.last.year else f"{lost.first.year} to {lost.last.year}"
    return (
        f"Hours are expected hours: by the daily record of {lost.station.name}, {years}, weather takes of each working "
        f"day {listing(parts)}{overlap}. {' '.join(_limits(view, known))}"
    )


def _limits(view: View, known: Sequence[MonthLoss]) -> Iterator[str]:
    """By what a day counts as lost, for the causes that take any; their sources go on the list."""
    ours: list[str] = []
    by: list[str] = []
    if any(month.wind for month in known):
        part, whole = (_speed(view, LOST_DAYS[name]) for name in ("strong_gust", "gale_gust"))
        ours.append(f"gusts of {part} cost {_part('gust_share')}, of {whole} all of it")
        by.append("gale_gust")
    if any(month.wet for month in known):
        part, whole = (_depth(view, LOST_DAYS[name]) for name in ("rain", "heavy_rain"))
        some, much = (_snow(view, LOST_DAYS[name]) for name in ("snow", "heavy_snow"))
        ours.append(
            f"{part} of rain or melted snow or {some} of new snow cost {_part('wet_share')}, {whole} or {much} all "
            "of it"
        )
        by.append("heavy_rain")
    if any(month.thunder for month in known):
        ours.append(f"thunder costs {_part('thunder_share')}")
        by.append("thunder_share")
    if ours:
        yield f"Ours: {'; '.join(ours)}."
    if any(month.cold for month in known):
        by.append("slow_from_step")
        yield "Cold counts by a published schedule of work and warm-up breaks, at the warmest of the day."
    if all(month.thunder is None for month in known):
        yield "Thunder is not counted."
    view.cited.extend(citation for name in by for citation in LOST_DAYS.whole[name].citations)


def _part(name: str) -> str:
    share = LOST_DAYS[name]
    return "half a day" if share == 0.5 else f"{_percent(share)} of a day"


def _speed(view: View, kmh: float) -> str:
    return f"{number(kmh)} km/h" if view.units.metric else f"{number(kmh / KM_PER_MILE)} mph"


def _depth(view: View, mm: float) -> str:
    return f"{number(mm)} mm" if view.units.metric else f"{number(mm / CM_PER_IN / 10, 2)} in"


def _snow(view: View, cm: float) -> str:
    return f"{number(cm)} cm" if view.units.metric else f"{number(cm / CM_PER_IN)} in"


def _causes(month: MonthLoss) -> str:
    shares = [(word, getattr(month, name)) for name, word in CAUSES]
    said = [f"{word} {_percent(share)}" for word, share in shares if share]
    return f" ({', '.join(said)})" if said else ""


def untold(known: Sequence[MonthLoss]) -> Iterator[str]:
    """Causes of which the record does not tell, or not enough; that few stations note thunder is not worth a word."""
    causes = [(name, word) for name, word in CAUSES if name != "thunder"]
    missing = [word for name, word in causes if any(getattr(month, name) is None for month in known)]
    if missing:
        yield f"The record says too little of {listing(missing, 'or')} to count on: no hours are taken off for that."
    if any(month.calm and month.cold is not None for month in known):
        yield "Where the daily record has no mean wind, cold is judged as in still air."


def _percent(share: float) -> str:
    return "under 1 %" if 0.0 < share < 0.005 else f"{number(share * 100)} %"


def _capped(view: View, days: Mapping[date, float]) -> Iterator[str]:
    """Working days that daylight makes shorter than the crew's."""
    season = view.plan.season
    light: dict[int, list[float]] = {}
    for day in sorted(days):
        hours = daylight_hours(season.latitude, season.longitude, day)
        if hours < days[day]:
            light.setdefault(day.month, []).append(hours)
    if light:
        parts = [f"{_between(hours)} in {MONTHS[month - 1]}" for month, hours in light.items()]
        yield f"Daylight, from sunrise to sunset, caps the working day at {listing(parts)}."


def _between(hours: Sequence[float]) -> str:
    low, high = (f"{math.floor(value * 10) / 10:.1f}" for value in (min(hours), max(hours)))
    return f"{low} h" if low == high else f"{low} to {high} h"


def _dark(view: View, day: date, last: date) -> Iterator[str]:
    """Days without sun between the first day of the plan and its last."""
    season = view.plan.season
    while day <= last and (night := sunless(season.latitude, season.longitude, day, last)) is not None:
        first, end = night
        dark = f"{in_words(first)} to {in_words(end)}"
        yield f"The sun does not rise here from {dark}: nobody works outside on those days."
        day = end + timedelta(days=1)
