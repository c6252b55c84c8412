"""Day by day: who does what, where, for how long, with what."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from datetime import date, timedelta
from typing import TYPE_CHECKING

from barkwright.output.blocks import Card, Items, Para, Section
from barkwright.output.merging import brief, shape, summed
from barkwright.output.names import piece_names, tools, tree_names
from barkwright.output.view import View
from barkwright.output.words import amount, day, hours, hours_between, listing
from barkwright.record import dataclass

if TYPE_CHECKING:
    from barkwright.schedule.jobs import Job

NOBODY = "nobody named yet"
CREWS = {"you": "by telephone"}  # whoever ordered the plan makes the calls that no crew makes
ORDER = ("call", "inspect", "fell", "limb and buck", "process", "stump", "bark", "slash", "haul", "stack", "look again")
OUTSIDE = ("tree service", "line-clearance arborist", "utility")
_PLURAL = tuple(
    (re.compile(rf"\b{one}\b"), many)
    for one, many in (
        ("(fell|limb) the tree", r"\1 them"),
        ("cut it (into|free)", r"cut them \1"),
        ("its root plate", "their root plates"),
        ("off its top", "off their tops"),
        ("the stump", "the stumps"),
        ("take it down", "take them down"),
        ("limb it and cut it to", "limb them and cut them to"),
    )
)
_NAME = "\0"


@dataclass(frozen=True, slots=True)
class _Task:
    """Jobs of one crew on one day that differ only in their tree and their amounts, said together."""

    shape: str
    people: int
    equipment: tuple[str, ...]
    questions: tuple[int, ...]


def day_by_day(view: View) -> Section | None:
    """The calendar of the work. Like jobs of one crew on one day are said together."""
    blocks = [day_card(view, *of_day) for of_day in crew_days(view)]
    return Section("Day by day", tuple(blocks)) if blocks else None


def crew_days(view: View) -> list[tuple[date, str, list[Job]]]:
    """Every day on which somebody works, who it is, and the jobs."""
    days: dict[tuple[date, str], list[Job]] = defaultdict(list)
    for job in view.plan.schedule.jobs:
        for when in _days(job):
            days[when, job.crew or NOBODY].append(job)
    return [(when, crew, jobs) for (when, crew), jobs in sorted(days.items(), key=lambda entry: entry[0])]


def _days(job: Job) -> Sequence[date]:
    if job.day_hours:
        return [when for when, _ in job.day_hours]
    return [job.first + timedelta(days=offset) for offset in range((job.last - job.first).days + 1)]


def day_card(view: View, when: date, crew: str, jobs: Sequence[Job]) -> Card:
    """One day of one crew, to be ticked off."""
    tasks: dict[_Task, list[tuple[Job, str]]] = {}
    for job in _in_order(jobs):
        trees = _trees(view, [job])
        named = len(trees) == 1 and trees[0] in job.what
        what = re.sub(rf"(?<!\w){re.escape(trees[0])}(?![\w/])", _NAME, job.what) if named else job.what
        task = _Task(shape(what), job.people, job.equipment, view.question_numbers(job))
        tasks.setdefault(task, []).append((job, what))
    tasks = {task: tasks[task] for task in _in_sequence(tasks)}
    title, blocks = f"{day(when)} - {CREWS.get(crew, crew)}", list[Para | Items]()
    asked = sorted({task.questions for task in tasks})
    if len(asked) == 1 and asked[0]:
        title += f" - only after {_answered(asked[0])}"
    for questions in asked:
        if questions and len(asked) > 1:
            blocks.append(Para(f"Only after {_answered(questions)}:"))
        same = [_said(view, task, jobs, when) for task, jobs in tasks.items() if task.questions == questions]
        blocks.append(Items(_by_place(same), "[ ]"))
    return Card(title, tuple(blocks))


def _in_sequence(tasks: Mapping[_Task, Sequence[tuple[Job, str]]]) -> list[_Task]:
    """Tasks in the order in which their jobs come, but none before a task that one of its jobs waits for."""
    of = {job.id: task for task, jobs in tasks.items() for job, _ in jobs}
    left, out = list(tasks), list[_Task]()
    while left:
        waiting = {task: {of.get(need, task) for job, _ in tasks[task] for need in job.after} - {task} for task in left}
        ready = next((task for task in left if waiting[task].isdisjoint(left)), left[0])
        left.remove(ready)
        out.append(ready)
    return out


def _answered(numbers: Sequence[int]) -> str:
    one = len(numbers) == 1
    return (
        f"question{'' if one else 's'} {listing([str(number) for number in numbers])} {'is' if one else 'are'} answered"
    )


def _by_place(said: Sequence[tuple[str, str]]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Work on the same pieces that follows one upon the other stands under their names, said once."""
    groups: list[tuple[str, list[str]]] = []
    for place, what in said:
        if groups and place and groups[-1][0] == place:
            groups[-1][1].append(what)
        else:
            groups.append((place, [what]))
    return tuple(_entry(place, parts) for place, parts in groups)


def _entry(place: str, parts: Sequence[str]) -> tuple[str, tuple[str, ...]]:
    if not place:
        return f"{parts[0][0].upper()}{parts[0][1:]}", ()
    if len(parts) == 1:
        return f"{place}: {parts[0]}", ()
    return f"{place}:", tuple(f"- {part}" for part in parts)


def _in_order(jobs: Sequence[Job]) -> list[Job]:
    """The jobs of a day by kind of work, but none before a job of the same day that it waits for."""
    left = sorted(jobs, key=lambda job: ORDER.index(job.work))
    today, done = {job.id for job in jobs}, set[str]()
    out: list[Job] = []
    while left:
        at = next((at for at, job in enumerate(left) if done.issuperset(today.intersection(job.after))), 0)
        ready = left.pop(at)
        done.add(ready.id)
        out.append(ready)
    return out


def _trees(view: View, jobs: Iterable[Job]) -> list[str]:
    """Trees of some jobs in the order of the file."""
    named = {tree for job in jobs for tree in (job.tree, *(piece.rpartition("/")[0] for piece in job.pieces))}
    return sorted(named & view.trees.keys(), key=view.tree_places.__getitem__)


def _pieces(view: View, jobs: Iterable[Job]) -> list[str]:
    """Pieces of some jobs in the order of the file, from the butt up."""
    named = {piece for job in jobs for piece in job.pieces}
    return sorted(named & view.pieces.keys(), key=view.piece_places.__getitem__)


def _said(view: View, task: _Task, same: Sequence[tuple[Job, str]], when: date) -> tuple[str, str]:
    """Where, and what with how long and with what."""
    jobs = [job for job, _ in same]
    trees, pieces = _trees(view, jobs), _pieces(view, jobs)
    what = summed([text for _, text in same]) or same[0][1]
    what = brief(view.units.sentence(what))
    if len(pieces or trees) > 1:
        for one, many in _PLURAL:
            what = one.sub(many, what)
    named = _NAME in what
    what = what.replace(_NAME, tree_names(trees))
    parts = [what.rstrip(".") + ".", _how_long(jobs, task.people, when)]
    unsaid = [tool for tool in tools(task.equipment) if not _mentions(what, tool)]
    if unsaid:
        parts.append(f"With {listing(unsaid)}.")
    where = piece_names(pieces) if pieces else "" if named else tree_names(trees)
    return where, " ".join(part for part in parts if part)


def _mentions(what: str, tool: str) -> bool:
    return re.search(rf"\b{tool.rpartition(' ')[2]}\b", what) is not None and tool != "chain saw"


def _how_long(jobs: Sequence[Job], people: int, when: date) -> str:
    today = sum(dict(job.day_hours).get(when, 0.0) for job in jobs)
    total, low, high = (
        sum(values) for values in zip(*((j.hours, j.hours_low, j.hours_high) for j in jobs), strict=True)
    )
    if high <= 0:
        return ""
    hands = max(people, 1)
    who = _who(jobs, hands)
    between = hours_between(low / hands, high / hands)
    shown, now = hours(total / hands), hours(today / hands)
    if any(len(job.day_hours) > 1 for job in jobs) and today < 0.99 * total and now != shown:
        text = f"{now} today of {shown} in all ({between})"
    else:
        text = f"{shown} ({between})" if between != shown else shown
    if hands == 1 and len(jobs) > 1 and who == "1 person":
        return f"{text[0].upper()}{text[1:]}, counted for one person."
    text = f"{who}, {text}." if who else f"{text}."
    return text[0].upper() + text[1:]


def _who(jobs: Sequence[Job], hands: int) -> str:
    """So many hands; nobody is counted for a telephone call or for a professional, and nobody burns alone."""
    if jobs[0].work == "call" or jobs[0].crew in OUTSIDE:
        return ""
    who = amount(hands, "person", "people")
    return f"{who} and another in sight" if hands == 1 and re.match(r"burn\b(?!.*\bstove\b)", jobs[0].what) else who
