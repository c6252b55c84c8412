"""Day by day: who does what, where, for how long, with what."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

from barkwright.output.blocks import Card, Items, Section
from barkwright.output.view import View
from barkwright.output.words import amount, day, hours, hours_between, listing, number, piece_names, tools, tree_names
from barkwright.units import half_up

if TYPE_CHECKING:
    from barkwright.schedule.jobs import Job

NOBODY = "nobody named yet"
ORDER = ("call", "inspect", "fell", "limb and buck", "process", "stump", "bark", "slash", "haul", "stack", "look again")


_NUMBER = re.compile(r"\d[\d,]*(?:\.\d+)?")
_BLANK = "\1"
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
    for job in sorted(jobs, key=lambda job: ORDER.index(job.work)):
        what, trees = view.units.sentence(job.what), _trees(job)
        what = re.sub(rf"\b{re.escape(trees[0])}\b(?!/)", _NAME, what) if len(trees) == 1 else what
        task = _Task(_NUMBER.sub(_BLANK, what), job.people, job.equipment, view.question_number(job))
        tasks.setdefault(task, []).append((job, what))
    asked = {task.question for task in tasks}
    title = f"{day(when)} - {crew}"
    together = asked.pop() if len(asked) == 1 else None
    if together is not None:
        title += f" - only after question {together} is answered"
    entries = tuple((_said(task, same, when, together is None), ()) for task, same in tasks.items())
    return Card(title, (Items(entries, "[ ]"),))


def _trees(job: Job) -> list[str]:
    return sorted({job.tree, *(piece.rpartition("/")[0] for piece in job.pieces)} - {"site", ""})


def _said(task: _Task, same: Sequence[tuple[Job, str]], when: date, with_question: bool) -> str:
    jobs = [job for job, _ in same]
    trees = tree_names(dict.fromkeys(tree for job in jobs for tree in _trees(job)))
    pieces = [piece for job in jobs for piece in job.pieces]
    where = piece_names(pieces) if pieces else trees
    what = _merged(task.shape, [text for _, text in same])
    named = _NAME in what
    what = what.replace(_NAME, trees)
    text = f"{where}: {what}" if where and (pieces or not named) else what[0].upper() + what[1:]
    parts = [text.rstrip(".") + ".", _how_long(jobs, task.people, when)]
    unsaid = [tool for tool in tools(task.equipment) if not _mentions(what, tool)]
    if unsaid:
        parts.append(f"With {listing(unsaid)}.")
    if with_question and task.question is not None:
        parts.append(f"Only after question {task.question} is answered.")
    return " ".join(part for part in parts if part)


def _merged(shape: str, texts: Sequence[str]) -> str:
    """One sentence for texts that differ only in their amounts: where they differ, the range."""
    amounts = zip(*([float(found.replace(",", "")) for found in _NUMBER.findall(text)] for text in texts), strict=True)
    for values in amounts:
        low, high = _short(min(values)), _short(max(values))
        shape = shape.replace(_BLANK, low if low == high else f"{low} to {high}", 1)
    return shape


def _short(value: float) -> str:
    """An amount as a crew needs it: whole from ten up, otherwise to one decimal."""
    return (
        number(value) if value >= 10 else f"{half_up(value, 1 if value >= 1 else 2):f}".rstrip("0").rstrip(".") or "0"
    )


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
