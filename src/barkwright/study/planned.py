"""A plan as it is run: its jobs as tasks on the clocks of their crews, and the days that weather takes."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from functools import partial
from typing import TYPE_CHECKING

from barkwright.record import dataclass
from barkwright.schedule.calendar import NOTHING_LOST, Outdoors, crew_days, first_day
from barkwright.schedule.jobs import Job, Schedule
from barkwright.schedule.sitework import SiteWork
from barkwright.season.daylight import daylight_hours
from barkwright.season.lostdays import lost_days
from barkwright.study.network import OUTSIDE, Node

if TYPE_CHECKING:
    from barkwright.study.clocks import Clocks
    from barkwright.study.dice import Bits


@dataclass(frozen=True, slots=True)
class Planned:
    """What is run: tasks in the order of the plan, and the calendar of each crew without weather."""

    first: date
    length: int  # days
    ids: tuple[str, ...]  # of the jobs, in the order of the nodes
    nodes: tuple[Node, ...]
    hours: tuple[tuple[float, ...], ...]  # by crew, for each person and day [h]
    lost: tuple[float, ...] | None  # share of such days that weather takes, by day; None: no weather is known

    def clocks(self, throws: Bits, draws: int) -> Clocks:
        """The crews' clocks; `throws` has a row for each day."""
        from barkwright.study.clocks import Clocks, worked

        lost = self.lost or ()
        return Clocks([worked(hours, lost, throws if lost else None) for hours in self.hours], draws)

    def index(self, day: date) -> int:
        """Days from the first day, within the run."""
        return max(0, min(self.length, (day - self.first).days))


def planned(schedule: Schedule, work: SiteWork, last: date) -> Planned:
    """The plan's jobs up to the flights, to be run as far as a day."""
    jobs = [job for job in schedule.jobs if job.work != "look again"]
    first = first_day(work.inventory.calendar, work.on)
    length = max(1, (last - first).days + 1)
    light = Outdoors(partial(daylight_hours, work.season.latitude, work.season.longitude), NOTHING_LOST)
    crews = [
        crew_days(crew, work.inventory.calendar, first, length, light, 0.0, paid=False) for crew in work.inventory.crew
    ]
    places = {crew.name: place for place, crew in enumerate(crews)}
    numbers = {job.id: number for number, job in enumerate(jobs)}
    hires = _hires(schedule)
    counts: dict[str, int] = {}
    for entry in work.inventory.equipment:
        counts[entry.kind] = counts.get(entry.kind, 0) + entry.count
    people = [crew.people for crew in crews]
    return Planned(
        first,
        length,
        tuple(numbers),
        tuple(_node(job, numbers, places, people, counts, hires, first) for job in jobs),
        tuple(crew.hours for crew in crews),
        _lost(work, first, length),
    )


def _node(
    job: Job,
    numbers: dict[str, int],
    places: dict[str, int],
    people: Sequence[int],
    counts: dict[str, int],
    hires: dict[str, list[tuple[date, date]]],
    first: date,
) -> Node:
    preds = tuple(numbers[name] for name in job.after if name in numbers)
    likely = min(max((6.0 * job.hours - job.hours_low - job.hours_high) / 4.0, job.hours_low), job.hours_high)
    clock = places.get(job.crew or "", OUTSIDE)
    if clock == OUTSIDE:
        gate, length = (job.first - first).days, (job.last - job.first).days + 1
        return Node(job.hours_low, likely, job.hours_high, preds, OUTSIDE, gate=gate, wait=job.wait_days, days=length)
    opens = job.opens or job.first
    for kind in job.equipment:
        opens = max([opens, *_brought(hires.get(kind, ()), job.first)])
    rate = sum(hours for _, hours in job.machine_hours) / job.hours if job.hours > 0.0 else 0.0
    machines = tuple((kind, rate / counts.get(kind, 1)) for kind in job.equipment) if rate > 0.0 else ()
    pace = max([1.0 / max(1, job.people), *(busy for _, busy in machines)])
    return Node(
        job.hours_low,
        likely,
        job.hours_high,
        preds,
        clock,
        pace,
        1.0 / people[clock],
        max(0, (opens - first).days),
        job.wait_days,
        machines,
    )


def _hires(schedule: Schedule) -> dict[str, list[tuple[date, date]]]:
    found: dict[str, list[tuple[date, date]]] = {}
    for run in schedule.rentals:
        found.setdefault(run.equipment, []).append((run.first, run.last))
    return found


def _brought(hires: Sequence[tuple[date, date]], day: date) -> list[date]:
    """The day on which the hired machine that is used on a day is brought; nothing where none is hired."""
    return sorted(first for first, last in hires if first <= day <= last)[:1]


def _lost(work: SiteWork, first: date, length: int) -> tuple[float, ...] | None:
    lost = lost_days(work.season)
    if lost is None:
        return None
    return tuple(lost.shares[(first + timedelta(days=day)).month - 1] for day in range(length))
