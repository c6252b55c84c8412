"""An order that was given out before, as a plain record: what planning again holds on to, and is compared with."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from datetime import date

from barkwright.record import dataclass
from barkwright.schedule.jobs import Schedule
from barkwright.treatment.ways import Work


@dataclass(frozen=True, slots=True)
class EarlierJob:
    """A job as it stood on the order."""

    tree: str  # tree id, or "site"
    pieces: tuple[str, ...]
    work: Work
    way: str | None
    first: date
    last: date  # both included
    crew: str | None  # name of the crew, or of who comes from outside
    hours: float  # person-hours


@dataclass(frozen=True, slots=True)
class Earlier:
    """An order as it was given out."""

    on: date  # the day it was made for
    jobs: tuple[EarlierJob, ...]  # in the order of the order
    ways: Mapping[str, str]  # way ids by piece id; pieces without a way are left out
    facts: Mapping[str, str] = field(default_factory=dict)  # what it was made from, see `facts_of`; none: not kept


def earlier_of(schedule: Schedule, on: date, facts: Mapping[str, str] | None = None) -> Earlier:
    """The record of a schedule that is given out; `facts` are those of its site (`facts_of`)."""
    jobs = (
        EarlierJob(job.tree, job.pieces, job.work, job.way, job.first, job.last, job.crew, round(job.hours, 3))
        for job in schedule.jobs
    )
    ways = {choice.piece: choice.way for choice in schedule.choices if choice.way is not None}
    return Earlier(on, tuple(jobs), ways, dict(facts or {}))
