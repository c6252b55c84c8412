"""The book of hours: what is taken of each crew's and each machine's days, and the earliest place for a task.

Work of one crew on one day fits when its person-hours fit, no job runs longer than the day, and for every number of
hands k the jobs that need k or more at once fit into as many teams of k as the crew has.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

from barkwright.schedule.calendar import WorkDays
from barkwright.schedule.machines import Machine
from barkwright.schedule.tasks import Task

NEARLY = 1e-9
Stint = tuple[int, float, float]  # day, person-hours, machine hours


@dataclass(frozen=True, slots=True)
class Placed:
    """When, by whom and with which machines a task is done."""

    crew: int | None  # place in the calendar's crews; None: somebody from outside
    machines: tuple[int, ...]  # places in the list of machines
    stints: tuple[Stint, ...]
    first: int
    last: int


class Book:
    """Hours taken so far. `mark` and `undo` take back everything since a mark."""

    def __init__(self, days: WorkDays, machines: Sequence[Machine], allowed: frozenset[int], stint: float) -> None:
        self.days = days
        self.machines = machines
        self.stint = stint
        self.free = [[hours * crew.people for hours in crew.hours] for crew in days.crews]
        self.teams = [
            {size: [hours * (crew.people // size) for hours in crew.hours] for size in range(2, crew.people + 1)}
            for crew in days.crews
        ]
        longest = [max((crew.hours[day] for crew in days.crews), default=0.0) for day in range(days.length)]
        self.running = [
            [
                hours * machine.count if machine.first <= day <= machine.last else 0.0
                for day, hours in enumerate(longest)
            ]
            for machine in machines
        ]
        self.by_kind: dict[str, tuple[int, ...]] = {}
        for place, machine in enumerate(machines):
            if place in allowed:
                self.by_kind[machine.kind] = (*self.by_kind.get(machine.kind, ()), place)
        self.log: list[tuple[list[float], int, float]] = []
        self.opening = [0] * days.length

    def mark(self) -> int:
        """A point to come back to."""
        return len(self.log)

    def undo(self, mark: int) -> None:
        """Give back everything taken since the mark."""
        while len(self.log) > mark:
            row, day, before = self.log.pop()
            row[day] = before

    def machine_sets(self, task: Task) -> list[tuple[int, ...]]:
        """The machines that the task may be done with, best first; empty when a kind is not there."""
        kinds: list[tuple[int, ...]] = []
        for kind in task.equipment:
            fit = tuple(place for place in self.by_kind.get(kind, ()) if self.machines[place].takes(task.thickest_in))
            if not fit:
                return []
            kinds.append(fit)
        return list(product(*kinds))[:4]

    def crews_for(self, task: Task) -> list[int]:
        """The crews that have the hands and the skills for the task."""
        return [
            place
            for place, crew in enumerate(self.days.crews)
            if crew.people >= task.people and task.skills <= crew.skills
        ]

    def find(self, task: Task, earliest: int, due: int, crew: int, machines: tuple[int, ...]) -> Placed | None:
        """The earliest place of a task with this crew and these machines, or None if it cannot end by `due`."""
        hours, free = self.days.crews[crew].hours, self.free[crew]
        teams = [(size, self.teams[crew][size]) for size in range(2, task.people + 1)]
        running = [self.running[place] for place in machines]
        rate = task.machine_need / task.need if task.need > NEARLY else 0.0
        left, stints = task.need, []
        whole = task.whole and task.need <= self._longest(crew, task.people) + NEARLY
        for day in range(max(earliest, task.first), min(due, task.last, self.days.length - 1) + 1):
            if hours[day] <= 0.0 or (task.spans is not None and not _inside(day, task.spans)):
                continue
            room = free[day]
            if left > NEARLY:
                if teams:
                    room = min(room, task.people * min(hours[day], *(row[day] for _, row in teams)))
                if rate > 0.0:
                    room = min(
                        room,
                        *(
                            min(row[day], hours[day] * self.machines[m].count) / rate
                            for row, m in zip(running, machines, strict=True)
                        ),
                    )
                if room + NEARLY < (left if whole else min(left, self.stint)):
                    continue
            take = min(room, left)
            stints.append((day, take, take * rate))
            left -= take
            if left <= NEARLY:
                return Placed(crew, machines, tuple(stints), stints[0][0], day)
        return None

    def take(self, task: Task, placed: Placed) -> None:
        """Write a task into the book."""
        if placed.crew is None:
            return
        for day, hours, machine in placed.stints:
            self._less(self.free[placed.crew], day, hours)
            for size in range(2, task.people + 1):
                self._less(self.teams[placed.crew][size], day, hours / task.people)
            for place in placed.machines:
                self._less(self.running[place], day, machine)

    def _less(self, row: list[float], day: int, amount: float) -> None:
        self.log.append((row, day, row[day]))
        row[day] -= amount

    def _longest(self, crew: int, people: int) -> float:
        days = self.days.crews[crew]
        return max(days.hours, default=0.0) * people


def _inside(day: int, spans: Sequence[tuple[int, int]]) -> bool:
    return any(first <= day <= last for first, last in spans)
