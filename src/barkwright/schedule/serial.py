"""The serial pass: one task after the other, each as early as the hands, the machines and what it waits for allow.

Of the tasks whose predecessors have a place the one with the smallest key is placed next, of equal keys the first in
the list; a task that has a place keeps it. With latest finishes as keys this is the priority rule known as LFT.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from heapq import heapify, heappop, heappush
from typing import Protocol

from barkwright.record import dataclass
from barkwright.schedule.book import Book, Placed
from barkwright.schedule.tasks import Task

Row = list[Placed | None]  # places of a list of tasks; None: not yet


class Placer(Protocol):
    """Somebody who finds places in a book."""

    @property
    def book(self) -> Book:
        """Where what is taken stands."""

    def place(self, task: Task, before: Sequence[Placed | None], not_before: int) -> Placed | None:
        """The earliest place of a task after those it waits for; None where there is none in time."""


@dataclass(frozen=True, slots=True)
class BookPlacer:
    """Places in a book alone: by the dates of the tasks, its crews and its machines."""

    book: Book
    thrifty: bool = False  # the cheapest crew that is in time, not the one that ends first

    def place(self, task: Task, before: Sequence[Placed | None], not_before: int) -> Placed | None:
        """The place with the crew that ends first, or with the cheapest in time."""
        due = self.book.days.length - 1 if task.due is None else task.due
        return earliest_place(self.book, task, before, not_before, due, self.thrifty)


def serial_pass(
    tasks: Sequence[Task], placer: Placer | Book, key: Sequence[float], row: Row | None = None
) -> tuple[Row, int | None]:
    """Places of all tasks, and the number of the first that finds none; what comes after that has none either.

    tasks : `preds` are places in this very list
    key : by task, smaller first
    row : places that are taken in the book already
    """
    row = [None] * len(tasks) if row is None else row
    if isinstance(placer, Book):
        placer = BookPlacer(placer)
    return row, in_order(placer, tasks, serial_order(tasks, key, row), row)


def serial_order(tasks: Sequence[Task], key: Sequence[float], row: Sequence[Placed | None]) -> list[int]:
    """The order in which a serial pass places what has no place yet. Error: ValueError if tasks wait in a ring."""
    waits = [sum(row[pred] is None for pred in set(task.preds)) for task in tasks]
    followers = _followers(tasks)
    ready = [(key[number], number) for number, count in enumerate(waits) if not count and row[number] is None]
    heapify(ready)
    order: list[int] = []
    while ready:
        number = heappop(ready)[1]
        order.append(number)
        for follower in followers[number]:
            waits[follower] -= 1
            if not waits[follower] and row[follower] is None:
                heappush(ready, (key[follower], follower))
    if len(order) < sum(placed is None for placed in row):
        raise ValueError("tasks wait for each other in a ring")
    return order


def in_order(
    placer: Placer,
    tasks: Sequence[Task],
    order: Iterable[int],
    row: Row,
    not_before: Mapping[int, int] | None = None,
    marks: dict[int, int] | None = None,
) -> int | None:
    """Place tasks in a given order and write them into the book and the row; the first that finds no place, or None.

    not_before : first days of single tasks
    marks : gets the mark of the book before each task, to go back to
    """
    book = placer.book
    for number in order:
        placed = placer.place(tasks[number], row, not_before.get(number, 0) if not_before else 0)
        if placed is None:
            return number
        if marks is not None:
            marks[number] = book.mark()
        book.take(tasks[number], placed)
        row[number] = placed
    return None


def start_after(task: Task, before: Sequence[Placed | None], not_before: int) -> tuple[int, float]:
    """The first day on which a task may begin, and the hours of it that pass before [h]."""
    done = [placed for placed in (before[pred] for pred in task.preds) if placed is not None]
    earliest = max([task.first, not_before, *(placed.last + task.wait for placed in done)])
    return earliest, max((placed.clock for placed in done if placed.last == earliest), default=0.0)


def earliest_place(
    book: Book, task: Task, before: Sequence[Placed | None], not_before: int, due: int, thrifty: bool
) -> Placed | None:
    """The place with the crew and the machines that end first by `due`, of equal ends with the cheapest crew."""
    earliest, used = start_after(task, before, not_before)
    best: Placed | None = None
    for crew in sorted(book.crews_for(task), key=lambda place: (book.days.crews[place].rate, place)):
        for machines in book.machine_sets(task) if task.equipment else [()]:
            found = book.find(task, earliest, due, crew, machines, used)
            if found is not None and (best is None or found.last < best.last):
                best = found
            if best is not None and thrifty:
                return best
    return best


def days_in_a_row(task: Task) -> float:
    """Days that an unbroken task takes; 0 for one that is done as its hours fit."""
    return float(task.unbroken)


def latest_finishes(
    tasks: Sequence[Task], horizon: float, length: Callable[[Task], float] = days_in_a_row
) -> list[float]:
    """By task the latest end that still leaves time for all that waits for it, by a backward pass without resources.

    horizon : end of the last day, in days from the start of day 0 [day]
    length : days that a task takes
    """
    followers = _followers(tasks)
    ends = [min(horizon, task.last + 1.0, horizon if task.due is None else task.due + 1.0) for task in tasks]
    for number in reversed(serial_order(tasks, [0.0] * len(tasks), [None] * len(tasks))):
        for follower in followers[number]:
            latest = ends[follower] - length(tasks[follower]) - tasks[follower].wait
            ends[number] = min(ends[number], latest)
    return ends


def _followers(tasks: Sequence[Task]) -> list[list[int]]:
    """By task those that wait for it."""
    found: list[list[int]] = [[] for _ in tasks]
    for number, task in enumerate(tasks):
        for pred in set(task.preds):
            found[pred].append(number)
    return found
