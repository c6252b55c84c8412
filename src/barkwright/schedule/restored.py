"""Putting back: each tree on the days that the earlier order had for it, where the plan loses nothing by it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from barkwright.schedule.before import Before, Unit, keyed
from barkwright.schedule.book import Placed
from barkwright.schedule.dispatch import Dispatcher
from barkwright.schedule.guide import Guide, Work
from barkwright.schedule.levels import CHANGES, values_of
from barkwright.schedule.model import SiteModel
from barkwright.schedule.money import bill_of
from barkwright.schedule.scenario import Candidate, dispatcher_of, settle
from barkwright.schedule.serial import Row, in_order
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.tally import TreePlan

NEARLY = 1e-3
ROUNDS = 2
LAST = 10**6  # behind all jobs of an order


def restored(model: SiteModel, best: Candidate) -> Candidate:
    """The plan with as many trees as can be on their earlier days; no worse at any level above that of changes."""
    before = model.before
    if before is None or len(model.trees) > SETTINGS["restored_trees"]:
        return best
    values = values_of(model, best)
    for _ in range(ROUNDS):
        was = best
        for place in range(len(best.plans)):
            moved = _put_back(model, before, best, place)
            now = None if moved is None else values_of(model, moved)
            if moved is not None and now is not None and _gains(now, values):
                best, values = moved, now
        if best is was:
            break
    return best


def replayed(model: SiteModel, plan: Candidate, patient: bool) -> Candidate | None:
    """The work of a plan written in job by job in the order of the earlier order, none before its earlier day.

    patient : what cannot keep its day is written in after all that can, with what waits for it; else by its day
    """
    before = model.before
    if before is None:
        return None
    units = [_units(before, one) for one in plan.plans]
    crews: dict[Work, str] = {}
    for one, known in zip(plan.plans, units, strict=True):
        crews |= _crews(one, known)
    guide = replace(plan.scenario.guide or Guide(), crews=crews, days={})
    dispatcher = dispatcher_of(model, replace(plan.scenario, guide=guide))
    rows: list[Row] = [[None] * len(one.tasks) for one in plan.plans]
    items = sorted(_turns(plan.plans, units, patient))
    for *_, at, number in items:
        unit = units[at][number]
        days = {} if unit is None else {number: max(0, unit.first)}
        if in_order(dispatcher, plan.plans[at].tasks, (number,), rows[at], days) is not None:
            return None
    plans = [
        TreePlan(one.tree, one.tasks, [placed for placed in row if placed is not None], one.picks)
        for one, row in zip(plan.plans, rows, strict=True)
    ]
    scenario = replace(plan.scenario, guide=guide)
    return settle(model, Candidate(scenario, plans, plan.missed, bill_of(model, plans), (), list(plan.dropped)))


def _turns(
    plans: list[TreePlan], units: list[list[Unit | None]], patient: bool
) -> Iterator[tuple[bool, int, int, int, int, int]]:
    """Every task with its turn: whether its day is lost, its days, its place in the earlier order; after its preds."""
    for at, (plan, known) in enumerate(zip(plans, units, strict=True)):
        turns: list[tuple[bool, int, int, int]] = []
        for task, unit in zip(plan.tasks, known, strict=True):
            own = (patient, 0, 0, LAST)
            if unit is not None:
                own = (patient and unit.forced, max(0, unit.first), max(0, unit.last), unit.place)
            turns.append(max([own, *(turns[pred] for pred in task.preds)]))
        for number, turn in enumerate(turns):
            yield (*turn, at, number)


def _gains(now: tuple[float, ...], values: tuple[float, ...]) -> bool:
    same = all(new <= old + NEARLY for new, old in zip(now[:CHANGES], values[:CHANGES], strict=True))
    return same and now[CHANGES] < values[CHANGES] - NEARLY


def _put_back(model: SiteModel, before: Before, best: Candidate, place: int) -> Candidate | None:
    """The plan with one tree not before its earlier days; None where it is on them, or finds no place."""
    plan = best.plans[place]
    units = _units(before, plan)
    if all(unit is None or _kept(unit, placed) for unit, placed in zip(units, plan.placed, strict=True)):
        return None
    guide = replace(best.scenario.guide or Guide(), crews=_crews(plan, units), days={})
    dispatcher = dispatcher_of(model, replace(best.scenario, guide=guide))
    for other in best.plans:
        if other is not plan:
            for task, placed in zip(other.tasks, other.placed, strict=True):
                dispatcher.book.take(task, placed)
    found = _placed(dispatcher, plan, units)
    if found is None:
        return None
    plans = [*best.plans[:place], TreePlan(plan.tree, plan.tasks, found, plan.picks), *best.plans[place + 1 :]]
    one = Candidate(best.scenario, plans, best.missed, bill_of(model, plans), (), list(best.dropped))
    dropped = len(one.dropped)
    one = settle(model, one)
    return one if len(one.dropped) == dropped else None


def _units(before: Before, plan: TreePlan) -> list[Unit | None]:
    """By task what the earlier order has for it; of several pieces, for the first that it knows."""
    found: list[Unit | None] = [None] * len(plan.tasks)
    rows = ((task.pieces or (task.tree,), task.way, task.work, number) for number, task in enumerate(plan.tasks))
    for key, number in keyed(rows):
        found[number] = found[number] or before.units.get(key)
    return found


def _kept(unit: Unit, placed: Placed) -> bool:
    return placed.first == unit.first or (unit.forced and placed.first <= max(0, unit.first))


def _crews(plan: TreePlan, units: list[Unit | None]) -> dict[Work, str]:
    """Who does the work of a tree, as far as the earlier order says and the crew is there."""
    crews: dict[Work, str] = {}
    for task, unit in zip(plan.tasks, units, strict=True):
        if unit is not None and unit.crew is not None and not unit.gone:
            crews.update({(name, task.do or task.work): unit.crew for name in task.pieces or (task.tree,)})
    return crews


def _placed(dispatcher: Dispatcher, plan: TreePlan, units: list[Unit | None]) -> list[Placed] | None:
    row: Row = [None] * len(plan.tasks)
    days = {number: max(0, unit.first) for number, unit in enumerate(units) if unit is not None}
    if in_order(dispatcher, plan.tasks, range(len(plan.tasks)), row, days) is not None:
        return None
    return [placed for placed in row if placed is not None]
