"""Tidying: the same work in the order a crew would like it: look at everything, fell, then hire, then work by hand."""

from __future__ import annotations

from collections.abc import Iterable

from barkwright.schedule.book import Placed
from barkwright.schedule.dispatch import Dispatcher
from barkwright.schedule.model import SiteModel
from barkwright.schedule.money import bill_of
from barkwright.schedule.scenario import Candidate, dispatcher_of, settle
from barkwright.schedule.tally import TreePlan
from barkwright.schedule.tasks import Task

FIRST, DOWN, HIRED, BY_HAND = range(4)
_STAGE = {"inspect": FIRST, "call": FIRST, "fell": DOWN, "limb and buck": DOWN}
Item = tuple[int, int, int]  # stage, place of the tree's plan, place of the task


def tidied(model: SiteModel, candidate: Candidate) -> Candidate:
    """The candidate with its work in stages, if everything still ends in time and the plan is no worse; else as it was.

    Machines are hired from the day on which all their wood is ready; where that is too late, from an earlier day.
    """
    dispatcher = dispatcher_of(model, candidate.scenario)
    items = sorted(_items(model, candidate))
    done: list[list[Placed | None]] = [[None] * len(plan.tasks) for plan in candidate.plans]
    if not _place(dispatcher, candidate.plans, done, (item for item in items if item[0] < HIRED), 0):
        return candidate
    mark = dispatcher.book.mark()
    kept = [list(row) for row in done]
    best = candidate
    for start in _starts(candidate, done, items):
        done = [list(row) for row in kept]
        dispatcher.book.undo(mark)
        if not _place(dispatcher, candidate.plans, done, (item for item in items if item[0] >= HIRED), start):
            continue
        plans = [
            TreePlan(plan.tree, plan.tasks, [placed for placed in row if placed is not None], plan.picks)
            for plan, row in zip(candidate.plans, done, strict=True)
        ]
        found = Candidate(candidate.scenario, plans, candidate.missed, bill_of(model, plans), (), candidate.dropped)
        found = settle(model, found)
        if found.score[:4] <= best.score[:4]:
            return found
    return best


def _items(model: SiteModel, candidate: Candidate) -> Iterable[Item]:
    """Every task with its stage; a task never has an earlier stage than what it waits for."""
    hired = {machine.kind for machine in model.machines if machine.hired}
    for place, plan in enumerate(candidate.plans):
        stages: list[int] = []
        for number, task in enumerate(plan.tasks):
            own = _STAGE.get(task.work, HIRED if hired.intersection(task.equipment) else BY_HAND)
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
    dispatcher: Dispatcher, plans: list[TreePlan], done: list[list[Placed | None]], items: Iterable[Item], start: int
) -> bool:
    for stage, place, number in items:
        task = plans[place].tasks[number]
        placed = dispatcher.place(task, done[place], start if stage == HIRED else 0)
        if placed is None:
            return False
        dispatcher.book.take(task, placed)
        done[place][number] = placed
    return True


def _starts(candidate: Candidate, done: list[list[Placed | None]], items: list[Item]) -> list[int]:
    """First days for the hired machines, from the day on which all wood is ready back to the first."""
    ready: list[int] = []
    for stage, place, number in items:
        if stage != HIRED:
            continue
        before = [done[place][pred] for pred in candidate.plans[place].tasks[number].preds]
        ready.append(max((placed.last for placed in before if placed is not None), default=0))
    if not ready:
        return [0]
    ready.sort()
    return list(dict.fromkeys(ready[int(share * (len(ready) - 1))] for share in (1.0, 0.75, 0.5, 0.25, 0.0)))
