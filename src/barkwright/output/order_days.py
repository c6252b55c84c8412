"""Day by day: who does what, where, for how long, with what."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

from barkwright.output.blocks import Card, Items, Para, Section
from barkwright.output.merging import merged, shape
from barkwright.output.names import piece_names, tools, tree_names
from barkwright.output.view import View
from barkwright.output.words import amount, day, hours, hours_between, listing

if TYPE_CHECKING:
    from barkwright.schedule.jobs import Job

NOBODY = "nobody named yet"
ORDER = ("call", "inspect", "fell", "limb and buck", "process", "stump", "bark", "slash", "haul", "stack", "look again")


_NAME = "\0"


@dataclass(frozen=True, slots=True)
class _Task:
    """Jobs of one crew on one day that differ only in their tree and their amounts, said together."""

    shape: str
    people: int
    equipment: tuple[str, ...]
    question: int | None


def day_by_day(view: View) -> Section | None:
    """The calendar of the work. Like jobs of one crew on one day are said together."""
    days: dict[date, dict[str, list[Job]]] = defaultdict(lambda: defaultdict(list))
    for job in view.plan.schedule.jobs:
        for when in _days(job):
            days[when][job.crew or NOBODY].append(job)
    if not days:
        return None
    blocks = [_day(view, when, crew, jobs) for when in sorted(days) for crew, jobs in sorted(days[when].items())]
    return Section("Day by day", tuple(blocks))


def _days(job: Job) -> Sequence[date]:
    if job.day_hours:
        return [when for when, _ in job.day_hours]
    return [job.first + timedelta(days=offset) for offset in range((job.last - job.first).days + 1)]


def _day(view: View, when: date, crew: str, jobs: Sequence[Job]) -> Card:
    tasks: dict[_Task, list[tuple[Job, str]]] = {}
    for job in _in_order(jobs):
        what, trees = view.units.sentence(job.what), _trees(job)
        what = re.sub(rf"\b{re.escape(trees[0])}\b(?!/)", _NAME, what) if len(trees) == 1 else what
        task = _Task(shape(what), job.people, job.equipment, view.question_number(job))
        tasks.setdefault(task, []).append((job, what))
    title, blocks = f"{day(when)} - {crew}", list[Para | Items]()
    asked = sorted({task.question for task in tasks}, key=lambda number: number or 0)
    if len(asked) == 1 and asked[0] is not None:
        title += f" - only after question {asked[0]} is answered"
    for question in asked:
        if question is not None and len(asked) > 1:
            blocks.append(Para(f"Only after question {question} is answered:"))
        same = [(_said(task, jobs, when), ()) for task, jobs in tasks.items() if task.question == question]
        blocks.append(Items(tuple(same), "[ ]"))
    return Card(title, tuple(blocks))


def _in_order(jobs: Sequence[Job]) -> list[Job]:
    """The jobs of a day by kind of work, but none before a job of the same day that it waits for."""
    left = sorted(jobs, key=lambda job: ORDER.index(job.work))
    today, done = {job.id for job in jobs}, set[str]()
    out: list[Job] = []
    while left:
        ready = next((job for job in left if done.issuperset(today.intersection(job.after))), left[0])
        left.remove(ready)
        done.add(ready.id)
        out.append(ready)
    return out


def _trees(job: Job) -> list[str]:
    return sorted({job.tree, *(piece.rpartition("/")[0] for piece in job.pieces)} - {"site", ""})


def _said(task: _Task, same: Sequence[tuple[Job, str]], when: date) -> str:
    jobs = [job for job, _ in same]
    trees = tree_names(dict.fromkeys(tree for job in jobs for tree in _trees(job)))
    pieces = [piece for job in jobs for piece in job.pieces]
    where = piece_names(pieces) if pieces else trees
    what = merged([text for _, text in same]) or same[0][1]
    named = _NAME in what
    what = what.replace(_NAME, trees)
    text = f"{where}: {what}" if where and (pieces or not named) else what[0].upper() + what[1:]
    parts = [text.rstrip(".") + ".", _how_long(jobs, task.people, when)]
    unsaid = [tool for tool in tools(task.equipment) if not _mentions(what, tool)]
    if unsaid:
        parts.append(f"With {listing(unsaid)}.")
    return " ".join(part for part in parts if part)


def _mentions(what: str, tool: str) -> bool:
    return tool in what or (tool == "chain saw" and re.search(r"\b(saw|fell)\b", what) is not None)


def _how_long(jobs: Sequence[Job], people: int, when: date) -> str:
    today = sum(dict(job.day_hours).get(when, 0.0) for job in jobs)
    total, low, high = (
        sum(values) for values in zip(*((j.hours, j.hours_low, j.hours_high) for j in jobs), strict=True)
    )
    if high <= 0:
        return ""
    hands = max(people, 1)
    who = amount(people, "person", "people")
    between = hours_between(low / hands, high / hands)
    if any(len(job.day_hours) > 1 for job in jobs) and today < 0.99 * total:
        return f"{who}, {hours(today / hands)} today of {hours(total / hands)} in all ({between})."
    shown = hours(total / hands)
    return f"{who}, {shown} ({between})." if between != shown else f"{who}, {shown}."
