"""Day by day: who does what, where, for how long, with what."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from datetime import date, timedelta
from typing import TYPE_CHECKING

from barkwright.output.blocks import Card, Items, Section
from barkwright.output.view import View
from barkwright.output.words import amount, day, hours, hours_between, listing, piece_names, tree_names

if TYPE_CHECKING:
    from barkwright.schedule.jobs import Job


def day_by_day(view: View) -> Section | None:
    """The calendar of the work. Like jobs of one crew on one day are said together."""
    days: dict[date, dict[str, list[Job]]] = defaultdict(lambda: defaultdict(list))
    for job in view.plan.schedule.jobs:
        for when in _days(job):
            days[when][job.crew or "no one named yet"].append(job)
    if not days:
        return None
    blocks = [
        Card(f"{day(when)} - {crew}", (Items(_entries(view, jobs, when), "[ ]"),))
        for when in sorted(days)
        for crew, jobs in sorted(days[when].items())
    ]
    return Section("Day by day", tuple(blocks))


def _days(job: Job) -> Sequence[date]:
    if job.day_hours:
        return [when for when, _ in job.day_hours]
    return [job.first + timedelta(days=offset) for offset in range((job.last - job.first).days + 1)]


def _entries(view: View, jobs: Sequence[Job], when: date) -> tuple[tuple[str, tuple[str, ...]], ...]:
    groups: dict[tuple[str, int, tuple[str, ...], int | None], list[Job]] = {}
    for job in jobs:
        groups.setdefault((job.what, job.people, job.equipment, view.question_number(job)), []).append(job)
    return tuple(_entry(view, key, group, when) for key, group in groups.items())


def _entry(
    view: View, key: tuple[str, int, tuple[str, ...], int | None], jobs: Sequence[Job], when: date
) -> tuple[str, tuple[str, ...]]:
    what, people, equipment, question = key
    pieces = [piece for job in jobs for piece in job.pieces]
    where = piece_names(pieces) if pieces else tree_names(job.tree for job in jobs)
    text = f"{where}: {view.units.sentence(what)}"
    lines = [
        _how_long(jobs, people, when)
        + (f" With {listing([tool.replace('-', ' ') for tool in equipment])}." if equipment else "")
    ]
    if question is not None:
        lines.append(f"Only after question {question} is answered.")
    return text, tuple(lines)


def _how_long(jobs: Sequence[Job], people: int, when: date) -> str:
    today = sum(dict(job.day_hours).get(when, 0.0) for job in jobs)
    total = sum(job.hours for job in jobs)
    low, high = sum(job.hours_low for job in jobs), sum(job.hours_high for job in jobs)
    hands = max(people, 1)
    text = f"{amount(people, 'person', 'people')}, {hours(today / hands)}"
    if any(job.first != job.last for job in jobs):
        return text + f" today, {hours(total / hands)} in all (between {hours_between(low / hands, high / hands)})."
    return text + f" (between {hours_between(low / hands, high / hands)})."
