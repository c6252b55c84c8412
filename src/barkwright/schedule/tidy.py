"""Tidying: the same work in the order a crew would like it: look at everything, fell, then hire, then work by hand."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from itertools import groupby

from barkwright.schedule.book import Placed
from barkwright.schedule.dispatch import Dispatcher
from barkwright.schedule.model import SiteModel
from barkwright.schedule.money import bill_of
from barkwright.schedule.scenario import Candidate, dispatcher_of, settle
from barkwright.schedule.serial import in_order
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.tally import TreePlan
from barkwright.schedule.tasks import Spans, Task

FIRST, DOWN, HIRED, BY_HAND, FIRE = range(5)
_STAGE = {"inspect": FIRST, "call": FIRST, "fell": DOWN, "limb and buck": DOWN}
GRIDS = ((28, 2), (28, 4), (14, 2), (7, 1))  # days of a period, and days with a fire in it
Item = tuple[int, int, int]  # stage, place of the tree's plan, place of the task


def tidied(model: SiteModel, candidate: Candidate) -> Candidate:
    """The candidate with its work in stages, if everything still ends in time and the plan is no worse; else as it was.

    Machines are hired from the day on which all their wood is ready; where that is too late, from an earlier day.
    """
    dispatcher = dispatcher_of(model, candidate.scenario)
    items = sorted(_items(model, candidate))
    best = _staged(model, dispatcher, candidate, items)
    small = len(model.trees) < SETTINGS["patience_from"]
    if small and best is candidate and any(stage == FIRE for stage, _, _ in items):
        dispatcher.book.undo(0)
        found = _fired(model, dispatcher, candidate, _blank(candidate), [(max(i[0], BY_HAND), *i[1:]) for i in items])
        best = found if found is not None and found.score[:5] <= best.score[:5] else best
    model.looked += dispatcher.book.looked
    return best


def _blank(candidate: Candidate) -> list[list[Placed | None]]:
    return [[None] * len(plan.tasks) for plan in candidate.plans]


def _staged(model: SiteModel, dispatcher: Dispatcher, candidate: Candidate, items: list[Item]) -> Candidate:
    done = _blank(candidate)
    if not _place(dispatcher, candidate.plans, done, (item for item in items if item[0] < HIRED), 0):
        return candidate
    mark = dispatcher.book.mark()
    kept = [list(row) for row in done]
    for start in _starts(candidate, done, items):
        done = [list(row) for row in kept]
        dispatcher.book.undo(mark)
        if not _place(dispatcher, candidate.plans, done, (item for item in items if item[0] == HIRED), start):
            continue
        found = _fired(model, dispatcher, candidate, done, items)
        if found is not None and found.score[:5] <= candidate.score[:5]:
            return found
    return candidate


def _fired(
    model: SiteModel, dispatcher: Dispatcher, candidate: Candidate, done: list[list[Placed | None]], items: list[Item]
) -> Candidate | None:
    """The plan with its work by hand and its fires: lit on a few days far apart, or on any day, whichever is best."""
    mark = dispatcher.book.mark()
    kept = [list(row) for row in done]
    best: Candidate | None = None
    small = len(model.trees) < SETTINGS["patience_from"]
    fires = small and any(stage == FIRE for stage, _, _ in items)
    last = sorted((place, number) for stage, place, number in items if stage >= BY_HAND)
    for days in [*(_fire_days(dispatcher, candidate, *grid) for grid in GRIDS if fires), None]:
        done = [list(row) for row in kept]
        dispatcher.book.undo(mark)
        if not _place(dispatcher, candidate.plans, done, ((BY_HAND, *one) for one in last), 0, days):
            continue
        plans = [
            TreePlan(plan.tree, plan.tasks, [placed for placed in row if placed is not None], plan.picks)
            for plan, row in zip(candidate.plans, done, strict=True)
        ]
        found = Candidate(candidate.scenario, plans, candidate.missed, bill_of(model, plans), (), candidate.dropped)
        found = settle(model, found)
        if best is None or found.score < best.score:
            best = found
    return best


def _fire_days(dispatcher: Dispatcher, candidate: Candidate, period: int, count: int) -> Spans:
    """The last `count` working days of each period, counted back from the earliest date by which a fire must be out."""
    length = dispatcher.model.days.length
    fires = [task for plan in candidate.plans for task in plan.tasks if task.pile]
    ends = [length if task.finish_by is None else task.finish_by for task in fires]
    ends += [last for task in fires for _, last in task.spans or ()]
    anchor = min((end for end in ends if end >= 0), default=length)
    groups: dict[int, list[int]] = {}
    for day in sorted({day for row in dispatcher.book.open for day in row}):
        groups.setdefault((anchor - day) // period, []).append(day)
    return tuple(sorted((day, day) for days in groups.values() for day in days[-count:]))


def _items(model: SiteModel, candidate: Candidate) -> Iterable[Item]:
    """Every task with its stage; a task never has an earlier stage than what it waits for."""
    hired = {machine.kind for machine in model.machines if machine.hired}
    for place, plan in enumerate(candidate.plans):
        stages: list[int] = []
        for number, task in enumerate(plan.tasks):
            own = _STAGE.get(task.work, HIRED if hired.intersection(task.equipment) else BY_HAND)
            own = FIRE if task.pile else own
            if own == BY_HAND and _leads_to_hired(plan.tasks, number, hired):
                own = DOWN
            stages.append(max([own, *(stages[pred] for pred in task.preds)]))
            yield (stages[-1], place, number)


def _leads_to_hired(tasks: list[Task], number: int, hired: set[str]) -> bool:
    """Does a hired machine wait for this task?"""
    waiting = {number}
    for later in range(number + 1, len(tasks)):
        if waiting.intersection(tasks[later].preds):
            if hired.intersection(tasks[later].equipment):
                return True
            waiting.add(later)
    return False


def _place(
    dispatcher: Dispatcher,
    plans: list[TreePlan],
    done: list[list[Placed | None]],
    items: Iterable[Item],
    start: int,
    fires: Spans | None = None,
) -> bool:
    """Place items in their order; False when one finds no place. `start` holds for hired machines only."""
    for (stage, place), group in groupby(items, key=lambda item: item[:2]):
        numbers = [number for _, _, number in group]
        tasks = plans[place].tasks
        if fires is not None:
            tasks = [replace(t, spans=_both(t.spans, fires)) if t.pile else t for t in tasks]
        starts = dict.fromkeys(numbers, start) if stage == HIRED else None
        if in_order(dispatcher, tasks, numbers, done[place], starts) is not None:
            return False
    return True


def _both(spans: Spans | None, days: Spans) -> Spans:
    """The days that lie in one of the spans."""
    if spans is None:
        return days
    return tuple(day for day in days if any(first <= day[0] <= last for first, last in spans))


def _starts(candidate: Candidate, done: list[list[Placed | None]], items: list[Item]) -> list[int]:
    """First days for the hired machines, from the day on which all is ready for them back to the first."""
    ready: list[int] = []
    for stage, place, number in items:
        if stage != HIRED:
            continue
        task = candidate.plans[place].tasks[number]
        before = [done[place][pred] for pred in task.preds]
        ends = (placed.last + task.wait for placed in before if placed is not None)
        opens = 0 if task.spans is None else min((first for first, _ in task.spans), default=0)
        ready.append(max(task.first, opens, *ends, 0))
    if not ready:
        return [0]
    ready.sort()
    return list(dict.fromkeys(ready[int(share * (len(ready) - 1))] for share in (1.0, 0.75, 0.5, 0.25, 0.0)))
