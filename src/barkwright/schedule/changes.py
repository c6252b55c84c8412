"""What a plan changes of the order that was given out: ways, crews and days, beyond what time itself has changed."""

from __future__ import annotations

from collections.abc import Iterable

from barkwright.schedule.before import Before, Unit, keyed
from barkwright.schedule.book import Placed
from barkwright.schedule.calendar import CrewDays
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.tally import TreePlan


def changes_of(before: Before, crews: tuple[CrewDays, ...], plans: Iterable[TreePlan]) -> float:
    """Changes to the order that was given out, weighted: a job on another day counts as one.

    A job whose own day cannot be kept is moved by force: of it only the days until it is done count, and little.
    """
    found, taken = 0.0, dict(before.ways)
    for plan in plans:
        for piece in plan.tree.pieces:
            pick, name = plan.picks.get(piece.piece.id), piece.piece.id
            found += SETTINGS["changed_way"] * (taken.pop(name, None) != (pick.option.way if pick else None))
        tasks = zip(plan.tasks, plan.placed, strict=True)
        for key, (share, placed) in keyed(
            (task.pieces or (task.tree,), task.way, task.work, (1.0 / max(1, len(task.pieces)), placed))
            for task, placed in tasks
        ):
            unit = before.units.get(key)
            if unit is not None:
                found += share * _moved(unit, placed, None if placed.crew is None else crews[placed.crew].name)
    return found + SETTINGS["changed_way"] * len(taken)


def _moved(unit: Unit, placed: Placed, crew: str | None) -> float:
    day, other = SETTINGS["moved_day"], SETTINGS["changed_crew"]
    if unit.forced:
        return day * max(0, placed.first - max(0, unit.first))
    swapped = other * (crew is not None and crew != unit.crew and not unit.gone)
    if placed.first != unit.first:
        return swapped + SETTINGS["moved_job"] + day * abs(placed.first - unit.first)
    return swapped + day * abs(placed.last - unit.last)
