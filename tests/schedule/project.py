"""Projects as the literature has them: activities with days, people and machines; a textbook pass and a checker.

Nothing here knows how the program plans, but for `tasks_of` and `book_of`, which say a project in its words.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from barkwright.inventory.model import Equipment
from barkwright.schedule.book import Book
from barkwright.schedule.calendar import CrewDays, WorkDays
from barkwright.schedule.machines import Machine
from barkwright.schedule.tasks import Task
from barkwright.spread import Spread

CREW = 0  # the resource that is people; all others are machines


@dataclass(frozen=True)
class Activity:
    days: int
    demands: tuple[int, ...]
    after: tuple[int, ...]  # places in the project


@dataclass(frozen=True)
class Project:
    capacities: tuple[int, ...]
    activities: tuple[Activity, ...]

    @property
    def horizon(self) -> int:
        return sum(activity.days for activity in self.activities)


def textbook_ends(project: Project) -> list[int]:
    """Serial generation with the latest finish as priority, ties by index: ends by activity, in whole periods."""
    acts, horizon = project.activities, project.horizon
    latest = [horizon] * len(acts)
    for _ in acts:  # as many rounds as the longest chain can have
        for place, act in enumerate(acts):
            for pred in act.after:
                latest[pred] = min(latest[pred], latest[place] - act.days)
    left = [list(project.capacities) for _ in range(horizon + 1)]
    ends: dict[int, int] = {}
    while len(ends) < len(acts):
        ready = [one for one in range(len(acts)) if one not in ends and all(pred in ends for pred in acts[one].after)]
        one = min(ready, key=lambda place: (latest[place], place))
        start = max((ends[pred] for pred in acts[one].after), default=0)
        while any(
            have < want
            for period in left[start : start + acts[one].days]
            for have, want in zip(period, acts[one].demands, strict=True)
        ):
            start += 1
        for period in left[start : start + acts[one].days]:
            for place, want in enumerate(acts[one].demands):
                period[place] -= want
        ends[one] = start + acts[one].days
    return [ends[one] for one in range(len(acts))]


def faults(project: Project, starts: list[int], ends: list[int]) -> list[str]:
    """What is wrong with a schedule of a project."""
    found = []
    for number, act in enumerate(project.activities):
        if starts[number] < 0 or ends[number] - starts[number] != act.days:
            found.append(f"{number} runs from {starts[number]} to {ends[number]}, and takes {act.days}")
        found += [f"{number} begins before {pred} has ended" for pred in act.after if starts[number] < ends[pred]]
    for period in range(max(ends)):
        for resource, capacity in enumerate(project.capacities):
            used = sum(
                act.demands[resource]
                for number, act in enumerate(project.activities)
                if starts[number] <= period < ends[number]
            )
            if used > capacity:
                found.append(f"{used} of resource {resource} in period {period}, and there are {capacity}")
    return found


def tasks_of(project: Project) -> list[Task]:
    """Its activities as work of one tree: a period is a working day of one hour."""
    nothing = Spread(0.0, 0.0, 0.0)
    tasks = []
    for act in project.activities:
        machines = [place for place, want in enumerate(act.demands) if place != CREW and want]
        tasks.append(
            Task(
                tree="project", work="process", said=(), pieces=(), way=None, hours=nothing, machine_hours=nothing,
                people=act.demands[CREW], equipment=tuple(f"machine {place}" for place in machines),
                skills=frozenset(), first=0, last=project.horizon, preds=act.after, unbroken=act.days,
                units=tuple(act.demands[place] for place in machines),
            )
        )  # fmt: skip
    return tasks


def book_of(project: Project) -> Book:
    """Its resources as one crew and machines, on days that are all open."""
    length = project.horizon + 1
    crew = CrewDays("hands", project.capacities[CREW], frozenset(), (1.0,) * length, 0.0, paid=False)
    entry = Equipment(kind="winch", owned=True)
    machines = [
        Machine(place - 1, f"machine {place}", "", False, count, 0, length, None, True, 0.0, 0.0, entry)
        for place, count in enumerate(project.capacities)
        if place != CREW
    ]
    days = WorkDays(date(2026, 10, 26), length, (crew,))
    return Book(days, machines, frozenset(range(len(machines))), 0.5)
