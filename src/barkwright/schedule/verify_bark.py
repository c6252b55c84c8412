"""The checker's part on stripped bark: with grown beetles in it, it is destroyed before they walk away."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, timedelta
from functools import lru_cache

from barkwright.brood.finding import PieceBrood
from barkwright.brood.look import look_book
from barkwright.schedule.jobs import Job
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.sitework import SiteWork
from barkwright.schedule.verify_days import hours_of
from barkwright.schedule.verify_needs import Need
from barkwright.season.flight import day_of, flight_year
from barkwright.season.site import Season
from barkwright.season.spells import spells

DAY = timedelta(days=1)


def broken_bark(brood: PieceBrood, jobs: Sequence[Job], needs: Mapping[str, Need], work: SiteWork) -> Iterator[str]:
    """Bark of a piece that lies longer than grown beetles in it allow; `jobs` are those of the piece, in order."""
    if brood.adults_from is None or brood.brood == "none":
        return
    stripped: Job | None = None
    for job in jobs:
        do = needs[job.id].do if job.id in needs else ""
        if do in ("peel", "peel-stump"):
            stripped = job
        destroys = do.startswith("destroy-bark") or do == "haul-bark"
        if not destroys or stripped is None or stripped.last < brood.adults_from:
            continue
        if _too_long(stripped.last, job, work):
            yield f"{job.id} comes too long after {stripped.id}: grown beetles walk away from bark that lies."


def _too_long(stripped: date, job: Job, work: SiteWork) -> bool:
    """Are there more days of work between than bark may lie, and any warm day?"""
    span = [stripped + DAY * step for step in range((job.last - stripped).days + 1)]
    worked = sum(any(hours_of(crew, day, work) > 0 for crew in work.inventory.crew) for day in span[1:])
    return worked > SETTINGS["bark_kept_warm"] and any(is_warm(work.season, day) for day in span)


@lru_cache(maxsize=2048)
def is_warm(season: Season, day: date) -> bool:
    """Do grown beetles walk on that day? The sap runs, a flight is near or under way, or adults move in autumn."""
    flight = flight_year(season, day.year)
    begins, ends = (day_of(one, day.year) for one in look_book().move)
    near = flight.onset - DAY * int(SETTINGS["bark_warm_before"]) <= day <= flight.end
    return near or begins <= day <= ends or spells(season, day, day)[0].bark == "slipping"
