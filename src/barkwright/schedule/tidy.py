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

FIRST, DOWN, HIRED, BY_HAND, FIRE = range(5)
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
    for start in _starts(candidate, done, items, HIRED):
        done = [list(row) for row in kept]
        dispatcher.book.undo(mark)
        if not _place(dispatcher, candidate.plans, done, (item for item in items if HIRED <= item[0] < FIRE), start):
            continue
        found = _fired(model, dispatcher, candidate, done, items)
        if found is not None and found.score[:5] <= best.score[:5]:
            best = found
            break
    model.looked += dispatcher.book.looked
    return best


def _fired(
    model: SiteModel, dispatcher: Dispatcher, candidate: Candidate, done: list[list[Placed | None]], items: list[Item]
) -> Candidate | None:
    """The plan with its fires on few days: lit from the day on which all is ready for them, or from an earlier one."""
    mark = dispatcher.book.mark()
    kept = [list(row) for row in done]
    for start in _starts(candidate, done, items, FIRE):
        done = [list(row) for row in kept]
        dispatcher.book.undo(mark)
        if not _place(dispatcher, candidate.plans, done, (item for item in items if item[0] == FIRE), start):
            continue
        plans = [
            TreePlan(plan.tree, plan.tasks, [placed for placed in row if placed is not None], plan.picks)
            for plan, row in zip(candidate.plans, done, strict=True)
        ]
        found = Candidate(candidate.scenario, plans, candidate.missed, bill_of(model, plans), (), candidate.dropped)
        return settle(model, found)
    return None


def _items(model: SiteModel, candidate: Candidate) -> Iterable[Item]:
    """Every task with its stage; a task never has an earlier stage than what it waits for."""
    hired = {machine.kind for machine in model.machines if machine.hired}
    for place, plan in enumerate(candidate.plans):
        stages: list[int] = []
        for number, task in enumerate(plan.tasks):
            own = _STAGE.get(task.work, HIRED if hired.intersection(task.equipment) else BY_HAND)
            own = FIRE if task.fire else own
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
        placed = dispatcher.place(task, done[place], start if stage in (HIRED, FIRE) else 0)
        if placed is None:
            return False
        dispatcher.book.take(task, placed)
        done[place][number] = placed
    return True


def _starts(candidate: Candidate, done: list[list[Placed | None]], items: list[Item], at: int) -> list[int]:
    """First days for the hired machines or the fires, from the day on which all is ready for them back to the first."""
    ready: list[int] = []
    for stage, place, number in items:
        if stage != at:
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
