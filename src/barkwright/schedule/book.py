"""The book of hours: what is taken of each crew's and each machine's days, and the earliest place for a task.

Work of one crew on one day fits when its person-hours fit, no job runs longer than the day, and for every number of
hands k the jobs that need k or more at once fit into as many teams of k as the crew has. Work that is unbroken takes
its hands and machines for whole days of the crew that follow one another.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from itertools import product

from barkwright.record import dataclass
from barkwright.schedule.calendar import WorkDays
from barkwright.schedule.machines import Machine
from barkwright.schedule.tasks import Task

NEARLY = 1e-9
EACH_TASK = 12  # what placing one task takes beside the days looked through, counted in days
Stint = tuple[int, float, float]  # day, person-hours, machine hours


@dataclass(frozen=True, slots=True)
class Placed:
    """When, by whom and with which machines a task is done."""

    crew: int | None  # place in the calendar's crews; None: somebody from outside
    machines: tuple[int, ...]  # places in the list of machines
    stints: tuple[Stint, ...]
    first: int
    last: int
    clock: float  # hours of its last day after which what waits for it may begin [h]


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
        hours = [crew.hours for crew in days.crews] or [(0.0,) * days.length]
        self.longest = [max(column) for column in zip(*hours, strict=True)]  # of any crew, by day [h]
        self.running = [self._hours_of(machine) for machine in machines]
        self.withheld: dict[int, list[float]] = {}  # hours of machines on days on which they are not to be used yet
        self.by_kind: dict[str, tuple[int, ...]] = {}
        for place, machine in enumerate(machines):
            if place in allowed:
                self.by_kind[machine.kind] = (*self.by_kind.get(machine.kind, ()), place)
        self.log: list[tuple[list[float], int, float]] = []
        self.open = [[day for day, hours in enumerate(crew.hours) if hours > 0.0] for crew in days.crews]
        self.looked = 0  # days and tasks looked at so far: what the search is bounded by

    def _hours_of(self, machine: Machine) -> list[float]:
        """Hours that the machines of a kind can run, by day [h]: none before they come and after they go."""
        first, last = max(machine.first, 0), min(machine.last, self.days.length - 1)
        between = [hours * machine.count for hours in self.longest[first : last + 1]]
        return [0.0] * min(first, self.days.length) + between + [0.0] * (self.days.length - first - len(between))

    def withhold(self, place: int, days: frozenset[int]) -> None:
        """A machine is there on these days alone, until `release`."""
        kept = [0.0 if day in days else hours for day, hours in enumerate(self.running[place])]
        self.running[place] = [all_day - one for all_day, one in zip(self.running[place], kept, strict=True)]
        self.withheld[place] = kept

    def release(self) -> None:
        """Machines are there on all their days again."""
        for place, kept in self.withheld.items():
            self.running[place] = [all_day + one for all_day, one in zip(self.running[place], kept, strict=True)]
        self.withheld.clear()

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
            there = self.by_kind.get(kind, ())
            fit = tuple(one for one in there if self.machines[one].takes(task.thickest_in, task.height_ft))
            if task.units:
                fit = tuple(one for one in fit if self.machines[one].count >= task.units[len(kinds)])
            if not fit:
                return []
            kinds.append(fit)
        return list(product(*kinds))[:4]

    def crews_for(self, task: Task) -> list[int]:
        """The crews that have the hands and the skills for the task."""
        return [
            place
            for place, crew in enumerate(self.days.crews)
            if crew.people >= task.people and task.skills <= crew.skills and (not task.crews or crew.name in task.crews)
        ]

    def find(
        self, task: Task, earliest: int, due: int, crew: int, machines: tuple[int, ...], used: float = 0.0
    ) -> Placed | None:
        """The earliest place of a task with this crew and these machines, or None if it cannot end by `due`.

        used : float    hours of the earliest day that pass before it may begin, because what it waits for runs then [h]
        """
        if task.unbroken:
            return self._unbroken(task, max(earliest, task.first), min(due, task.last), crew, machines, used)
        hours = self.days.crews[crew].hours
        people = task.people if task.people > 1 else 1 if task.spans is not None else self.days.crews[crew].people
        rate = task.machine_need / task.need if task.need > NEARLY and machines else 0.0
        fewest = min((self.machines[place].count // unit for place, unit in _units(task, machines)), default=1)
        pace = max(1.0 / people, rate / fewest)  # hours that pass per person-hour
        whole = task.whole and task.need * pace <= max(hours, default=0.0) + NEARLY
        free, opened, spans = self.free[crew], self.open[crew], task.spans
        last = min(due, task.last, self.days.length - 1)
        left, stints = task.need, []
        least = (left if whole else min(left, self.stint)) - NEARLY
        begin = bisect_left(opened, max(earliest, task.first, 0))
        self.looked += EACH_TASK
        for place in range(begin, len(opened)):
            day = opened[place]
            if day > last:
                self.looked += place - begin
                return None
            if (left > NEARLY and free[day] < least) or (spans is not None and not _inside(day, spans)):
                continue
            before = used if day == earliest else 0.0
            room = min(left, self._room(task, day, crew, machines, rate, (hours[day] - before) / pace))
            if left > NEARLY and room < least:
                continue
            stints.append((day, room, room * rate))
            left -= room
            least = min(least, left - NEARLY)
            if left <= NEARLY:
                self.looked += place - begin
                start = before if len(stints) == 1 else 0.0
                return Placed(crew, machines, tuple(stints), stints[0][0], day, start + room * pace)
        self.looked += max(0, len(opened) - begin)
        return None

    def _room(self, task: Task, day: int, crew: int, machines: tuple[int, ...], rate: float, most: float) -> float:
        """Person-hours that a day still has for a task, at most `most`."""
        room = min(most, self.free[crew][day])
        for size in range(2, task.people + 1):
            room = min(room, task.people * self.teams[crew][size][day])
        if rate > 0.0:
            for place, unit in _units(task, machines):
                room = min(room, self.running[place][day] / (rate * unit))
        return max(room, 0.0)

    def _unbroken(
        self, task: Task, earliest: int, due: int, crew: int, machines: tuple[int, ...], used: float
    ) -> Placed | None:
        """The earliest whole days in a row, days off between them left out, with all hands and machines."""
        hours, opened = self.days.crews[crew].hours, self.open[crew]
        begin = bisect_left(opened, max(earliest, 0))
        if used > NEARLY and begin < len(opened) and opened[begin] == earliest:
            begin += 1
        run = 0
        for place in range(begin, bisect_left(opened, due + 1)):
            self.looked += 1
            run = run + 1 if self._whole_day(task, opened[place], crew, machines) else 0
            if run == task.unbroken:
                days = opened[place - run + 1 : place + 1]
                stints = tuple((day, task.people * hours[day], hours[day] if machines else 0.0) for day in days)
                return Placed(crew, machines, stints, days[0], days[-1], hours[days[-1]])
        return None

    def _whole_day(self, task: Task, day: int, crew: int, machines: tuple[int, ...]) -> bool:
        """Are all hands and machines of a task free for the whole of a day?"""
        hours = self.days.crews[crew].hours[day] - NEARLY
        return (
            self.free[crew][day] >= task.people * hours
            and all(self.teams[crew][size][day] >= hours for size in range(2, task.people + 1))
            and all(self.running[place][day] >= unit * hours for place, unit in _units(task, machines))
        )

    def take(self, task: Task, placed: Placed) -> None:
        """Write a task into the book."""
        if placed.crew is None:
            return
        for day, hours, machine in placed.stints:
            self._less(self.free[placed.crew], day, hours)
            for size in range(2, task.people + 1):
                self._less(self.teams[placed.crew][size], day, hours / task.people)
            for place, unit in _units(task, placed.machines):
                self._less(self.running[place], day, machine * unit)

    def give_back(self, task: Task, placed: Placed) -> None:
        """Take a task out of the book again."""
        if placed.crew is None:
            return
        for day, hours, machine in placed.stints:
            self._less(self.free[placed.crew], day, -hours)
            for size in range(2, task.people + 1):
                self._less(self.teams[placed.crew][size], day, -hours / task.people)
            for place, unit in _units(task, placed.machines):
                self._less(self.running[place], day, -machine * unit)

    def _less(self, row: list[float], day: int, amount: float) -> None:
        self.log.append((row, day, row[day]))
        row[day] -= amount


def _units(task: Task, machines: tuple[int, ...]) -> zip[tuple[int, int]]:
    """Each of the machines, with how many of its kind run at once."""
    return zip(machines, task.units or (1,) * len(machines), strict=True)


def _inside(day: int, spans: Sequence[tuple[int, int]]) -> bool:
    return any(first <= day <= last for first, last in spans)
