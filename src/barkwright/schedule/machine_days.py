"""Days of hired machines, handed out before anything is written in, so that they are few and full."""

from __future__ import annotations

from collections.abc import Sequence

from barkwright.record import dataclass
from barkwright.schedule.dispatch import Dispatcher
from barkwright.schedule.tasks import Task

NEARLY = 1e-9
Span = tuple[int, int]  # last and first day of work


@dataclass(frozen=True, slots=True)
class Run:
    """Days on which a hired machine does the work that it is had for."""

    place: int
    days: tuple[int, ...]
    work: frozenset[Span]
    apart: bool = False  # does the work wait for each day by itself, not for the first of them?

    @property
    def first(self) -> int:
        """The first of the days."""
        return self.days[0]


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
        self.runs: dict[tuple[int, Span], Run] = {}  # by machine and days open to the work
        for run in runs:
            self.left.setdefault(run.place, {}).update({day: book.running[run.place][day] for day in run.days})
            self.runs.update({(run.place, span): run for span in run.work})
        self.hands = [sum(day) for day in zip(*book.free, strict=True)]
        self.kinds = {machine.kind for machine in book.machines if machine.hired}

    def hires(self, task: Task) -> bool:
        """Does the task need a machine that must be hired?"""
        return not self.kinds.isdisjoint(task.equipment)

    def allot(self, task: Task, sooner: int, end: int) -> Allotted | None:
        """The first day from `sooner` to `end` that has hours left for a task in its run, and take them.

        Where none has, the last of the run, which may run over; None where there is no run for it.
        """
        best: tuple[int, list[int], Run] | None = None
        for machines in self.book.machine_sets(task):
            hired = [one for one in machines if (one, (end, task.first)) in self.runs]
            if hired:
                run = max((self.runs[one, (end, task.first)] for one in hired), key=lambda one: one.first)
                day = self._first(hired, sooner, run)
                if best is None or day < best[0]:
                    best = (day, hired, run)
        if best is None:
            return None
        day, hired, run = best
        self.hands[day] -= task.need
        for one in hired:
            self.left[one][day] = self.left[one].get(day, 0.0) - task.machine_need
        return Allotted(day, day if run.apart else run.first)

    def _first(self, hired: list[int], sooner: int, run: Run) -> int:
        for day in run.days:
            there = all(self.left[one].get(day, 0.0) > NEARLY for one in hired)
            if day >= sooner and there and self.hands[day] > NEARLY:
                return day
        return max(sooner, run.days[-1])
