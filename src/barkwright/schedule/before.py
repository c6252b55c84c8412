"""The earlier order in the calendar of today, indexed by what a plan is compared by."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TypeVar

from barkwright.record import dataclass
from barkwright.schedule.calendar import CrewDays, WorkDays
from barkwright.schedule.earlier import Earlier
from barkwright.treatment.ways import Work

Key = tuple[str, str | None, str, int]  # piece, or tree where its wood is not parted; way, work, which of its kind
Row = TypeVar("Row")
Named = tuple[Iterable[str], str | None, Work, Row]  # pieces or tree, way, work, and what it belongs to


@dataclass(frozen=True, slots=True)
class Unit:
    """One step of one piece, or of a tree, as the earlier order has it. Days are indices; before today negative."""

    first: int
    last: int
    crew: str | None
    forced: bool  # its day has passed, or its crew does not work on it any more: it cannot keep it
    gone: bool  # its crew is not there any more
    place: int  # in the list of the order's jobs


@dataclass(frozen=True, slots=True)
class Before:
    """The steps of the order that was given out, and its ways."""

    units: dict[Key, Unit]
    ways: dict[str, str]  # by piece


def before_of(earlier: Earlier, days: WorkDays) -> Before:
    """The units of an earlier order in the calendar of today."""
    crews = {crew.name: crew for crew in days.crews}
    units: dict[Key, Unit] = {}
    rows = ((job.pieces or (job.tree,), job.way, job.work, (at, job)) for at, job in enumerate(earlier.jobs))
    for key, (place, job) in keyed(rows):
        first, last = days.index(job.first), days.index(job.last)
        crew = crews.get(job.crew or "")
        gone = crew is None and f"crew {job.crew}" in earlier.facts
        closed = first < 0 or gone or (crew is not None and not _works(crew, first))
        units[key] = Unit(first, last, job.crew, closed, gone, place)
    return Before(units, dict(earlier.ways))


def keyed(rows: Iterable[Named[Row]]) -> Iterator[tuple[Key, Row]]:
    """Rows of jobs or tasks, once for each piece, with what tells a step of a piece from all others."""
    seen: dict[tuple[str, str | None, str], int] = {}
    for names, way, work, row in rows:
        for name in names:
            key = (name, way, work)
            seen[key] = seen.get(key, 0) + 1
            yield (*key, seen[key]), row


def _works(crew: CrewDays, day: int) -> bool:
    return day < len(crew.hours) and crew.hours[day] > 0.0
