"""Days of hired machines, handed out before anything is written in, so that they are few and full."""

from __future__ import annotations

from collections.abc import Sequence

from barkwright.record import dataclass
from barkwright.schedule.dispatch import Dispatcher
from barkwright.schedule.tasks import Task

NEARLY = 1e-9
Run = tuple[int, int, int]  # machine, first day, last day


@dataclass(frozen=True, slots=True)
class Allotted:
    """The day of a task with a hired machine."""

    day: int
    start: int  # first day of the run that it lies in: by then the wood is ready


class MachineDays:
    """What is left of the hours of hired machines in their runs, and of all hands beside them, by day [h]."""

    def __init__(self, dispatcher: Dispatcher, runs: Sequence[Run]) -> None:
        book = self.book = dispatcher.book
        self.left: dict[int, dict[int, float]] = {}
        self.starts: dict[int, dict[int, int]] = {}  # by machine and day the start of its run
        for place, first, last in runs:
            days = [day for day in range(first, last + 1) if book.running[place][day] > 0.0]
            self.left.setdefault(place, {}).update({day: book.running[place][day] for day in days})
            self.starts.setdefault(place, {}).update(dict.fromkeys(days, first))
        self.hands = [sum(day) for day in zip(*book.free, strict=True)]
        self.kinds = {machine.kind for machine in book.machines if machine.hired}

    def hires(self, task: Task) -> bool:
        """Does the task need a machine that must be hired?"""
        return not self.kinds.isdisjoint(task.equipment)

    def allot(self, task: Task, sooner: int, end: int) -> Allotted | None:
        """The first day from `sooner` to `end` that has hours left for a task, and take them.

        Where none has, the last of them, which its machines may run over; None where they have none.
        """
        best: tuple[int, list[int]] | None = None
        for machines in self.book.machine_sets(task):
            hired = [one for one in machines if one in self.left]
            day = self._first(hired, max(sooner, task.first), end)
            if day is not None and (best is None or day < best[0]):
                best = (day, hired)
        if best is None:
            return self._over(task, max(sooner, task.first), end)
        day, hired = best
        self.hands[day] -= task.need
        for one in hired:
            self.left[one][day] -= task.machine_need
        return Allotted(day, max(self.starts[one][day] for one in hired))

    def _over(self, task: Task, first: int, end: int) -> Allotted | None:
        """The last day of the machines of a task between two days."""
        lasts = [
            (day, start)
            for machines in self.book.machine_sets(task)
            for one in machines
            for day, start in self.starts.get(one, {}).items()
            if first <= day <= end
        ]
        return Allotted(*max(lasts)) if lasts else None

    def _first(self, hired: list[int], first: int, end: int) -> int | None:
        if not hired:
            return None
        for day in self.left[hired[0]]:
            if day > end:
                return None
            if day >= first and self.hands[day] > NEARLY and all(self._there(one, day) for one in hired):
                return day
        return None

    def _there(self, place: int, day: int) -> bool:
        return self.left[place].get(day, 0.0) > NEARLY
