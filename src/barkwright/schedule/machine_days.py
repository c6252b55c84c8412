"""Days of hired machines, handed out before anything is written in, so that they are few and full."""

from __future__ import annotations

from barkwright.schedule.dispatch import Dispatcher
from barkwright.schedule.tasks import Task

NEARLY = 1e-9


class MachineDays:
    """What is left of the hours of hired machines, and of all hands beside them, by day [h]."""

    def __init__(self, dispatcher: Dispatcher) -> None:
        self.book = dispatcher.book
        self.machines = {
            place: [(day, hours) for day, hours in enumerate(running) if hours > 0.0]
            for place, (machine, running) in enumerate(zip(self.book.machines, self.book.running, strict=True))
            if machine.hired
        }
        self.left = {place: dict(days) for place, days in self.machines.items()}
        self.hands = [sum(day) for day in zip(*self.book.free, strict=True)]
        self.kinds = {machine.kind for machine in self.book.machines if machine.hired}

    def hires(self, task: Task) -> bool:
        """Does the task need a machine that must be hired?"""
        return not self.kinds.isdisjoint(task.equipment)

    def allot(self, task: Task, end: int) -> int:
        """The first day that has hours left for a task, and take them; `end` where none has."""
        best: tuple[int, list[int]] | None = None
        for machines in self.book.machine_sets(task):
            hired = [one for one in machines if one in self.left]
            day = self._first(task, hired, end)
            if day is not None and (best is None or day < best[0]):
                best = (day, hired)
        if best is None:
            return end
        day, hired = best
        self.hands[day] -= task.need
        for one in hired:
            self.left[one][day] -= task.machine_need
        return day

    def _first(self, task: Task, hired: list[int], end: int) -> int | None:
        if not hired:
            return None
        for day, _ in self.machines[hired[0]]:
            if day > end:
                return None
            if day >= task.first and self.hands[day] > NEARLY and all(self._there(one, day) for one in hired):
                return day
        return None

    def _there(self, place: int, day: int) -> bool:
        return self.left[place].get(day, 0.0) > NEARLY
