"""Felling late: a tree stands until its wood is worked, for a standing tree draws no beetles and a felled one does."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from barkwright.record import dataclass
from barkwright.schedule.book import Placed
from barkwright.schedule.dispatch import Dispatcher
from barkwright.schedule.model import SiteModel
from barkwright.schedule.money import bill_of
from barkwright.schedule.scenario import Candidate, dispatcher_of, settle
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.tally import TreePlan
from barkwright.schedule.tasks import Task

DOWN = ("fell", "limb and buck")


@dataclass(slots=True)
class Used:
    """What the plan comes to the site for already: nothing is moved to where it would cost a further day."""

    crews: set[tuple[int | None, int]]
    hired: set[tuple[int, int]]
    fires: set[int]

    def holds(self, model: SiteModel, tasks: Sequence[Task], placed: Sequence[Placed]) -> bool:
        """Do these places take no day of a crew, of a hired machine or with a fire beyond those in use?"""
        for task, place in zip(tasks, placed, strict=True):
            for day, _, _ in place.stints:
                if (place.crew, day) not in self.crews or (task.fire and day not in self.fires):
                    return False
                if any(model.machines[one].hired and (one, day) not in self.hired for one in place.machines):
                    return False
        return True


def felled_late(model: SiteModel, best: Candidate) -> Candidate:
    """The plan with each tree felled on the day its wood is worked or as shortly before as costs no further day.

    The work on the wood may shift with it, as long as it keeps its dates; what professionals do stays where it is.
    """
    dispatcher = dispatcher_of(model, best.scenario)
    for plan in best.plans:
        for task, placed in zip(plan.tasks, plan.placed, strict=True):
            dispatcher.book.take(task, placed)
    used = _used(model, best)
    moved = _each_later(model, dispatcher, list(best.plans), used)
    if len(model.trees) < SETTINGS["patience_from"]:
        for visit in sorted(used.crews, key=lambda one: (-one[1], one[0] or 0)):
            _shift(model, dispatcher, moved, used, visit)
        moved = _each_later(model, dispatcher, moved, used)
    found = settle(model, Candidate(best.scenario, moved, best.missed, bill_of(model, moved), (), list(best.dropped)))
    return found if found.score[:5] <= best.score[:5] else best


def _each_later(model: SiteModel, dispatcher: Dispatcher, plans: list[TreePlan], used: Used) -> list[TreePlan]:
    moved = list(plans)
    for place in sorted(range(len(plans)), key=lambda one: (-_worked(plans[one]), one)):
        moved[place] = _later(model, dispatcher, moved[place], used)
    return moved


def _shift(
    model: SiteModel, dispatcher: Dispatcher, plans: list[TreePlan], used: Used, visit: tuple[int | None, int]
) -> None:
    """Fell on another day altogether: a crew comes shortly before the wood is worked in place of a day long before."""
    crew, day = visit
    there = [place for place, plan in enumerate(plans) if _on(plan, crew, day)]
    falls = [place for place in there if _down(plans[place]) == day and _next(plans[place], day) is not None]
    fixed = ("inspect", "call")
    if crew is None or not falls or any(task.work in fixed for one in there for task in _on(plans[one], crew, day)):
        return
    before = min(_next(plans[place], day) or 0 for place in falls)
    hours = model.days.crews[crew].hours
    free = [one for one in range(day + 1, before) if hours[one] > 0.0 and (crew, one) not in used.crews]
    book, olds = dispatcher.book, {place: plans[place] for place in there}
    for old in olds.values():
        for task, placed in zip(old.tasks, old.placed, strict=True):
            book.give_back(task, placed)
    mark = book.mark()
    for other in free[::-1][: int(SETTINGS["late_tries"])]:
        new = Used((used.crews - {visit}) | {(crew, other)}, used.hired, used.fires)
        for place, old in olds.items():
            found = _placed(dispatcher, old, other, day)
            if found is None or not new.holds(model, old.tasks, found) or not _keeps(old, found):
                break
            plans[place] = TreePlan(old.tree, old.tasks, found, old.picks)
        else:
            used.crews = new.crews
            return
        book.undo(mark)
    for place, old in olds.items():
        plans[place] = old
        for task, placed in zip(old.tasks, old.placed, strict=True):
            book.take(task, placed)


def _on(plan: TreePlan, crew: int | None, day: int) -> list[Task]:
    """The tasks of a tree that a crew does on a day."""
    return [
        task
        for task, placed in zip(plan.tasks, plan.placed, strict=True)
        if placed.crew == crew and any(one == day for one, _, _ in placed.stints)
    ]


def _used(model: SiteModel, best: Candidate) -> Used:
    used = Used(set(), set(), set())
    for plan in best.plans:
        for task, placed in zip(plan.tasks, plan.placed, strict=True):
            days = [day for day, _, _ in placed.stints]
            used.crews.update((placed.crew, day) for day in days)
            used.hired.update((one, day) for one in placed.machines if model.machines[one].hired for day in days)
            used.fires.update(days if task.fire else ())
    return used


def _worked(plan: TreePlan) -> int:
    """The first day on which the wood of a tree is worked; before all days where it is not."""
    return min((p.first for task, p in zip(plan.tasks, plan.placed, strict=True) if task.way is not None), default=-1)


def _next(plan: TreePlan, day: int) -> int | None:
    """The first day after a day on which work on the wood of a tree begins."""
    return min((p.first for t, p in zip(plan.tasks, plan.placed, strict=True) if t.way and p.first > day), default=None)


def _down(plan: TreePlan) -> int | None:
    """The day on which the crew fells it; None where it lies or somebody else does."""
    falls = [p for task, p in zip(plan.tasks, plan.placed, strict=True) if task.work == "fell" and p.crew is not None]
    return falls[0].last if falls else None


def _later(model: SiteModel, dispatcher: Dispatcher, plan: TreePlan, used: Used) -> TreePlan:
    """The tree's plan with its felling as late as can be; the book holds what comes back."""
    worked, down = _worked(plan), _down(plan)
    if down is None or worked <= down:
        return plan
    book = dispatcher.book
    for task, placed in zip(plan.tasks, plan.placed, strict=True):
        book.give_back(task, placed)
    mark = book.mark()
    for day in _days(plan, used, worked, down):
        found = _placed(dispatcher, plan, day)
        if found is not None and used.holds(model, plan.tasks, found) and _keeps(plan, found):
            moved = TreePlan(plan.tree, plan.tasks, found, plan.picks)
            if _worked(moved) - (_down(moved) or 0) < worked - down:
                return moved
        book.undo(mark)
    for task, placed in zip(plan.tasks, plan.placed, strict=True):
        book.take(task, placed)
    return plan


def _days(plan: TreePlan, used: Used, worked: int, down: int) -> list[int]:
    """Days to fell on, the latest first: days of work from the day the wood is worked back to the day of felling."""
    crews = {p.crew for task, p in zip(plan.tasks, plan.placed, strict=True) if task.work in DOWN}
    days = sorted({day for crew, day in used.crews if crew in crews and down < day <= worked}, reverse=True)
    return days[: int(SETTINGS["late_tries"])]


def _placed(dispatcher: Dispatcher, plan: TreePlan, day: int, since: int = 0) -> list[Placed] | None:
    """The places of a tree's tasks when it is felled no sooner than on a day; hired machines keep their days.

    since : int    first day from which places are changed
    """
    found: list[Placed] = []
    for task, old in zip(plan.tasks, plan.placed, strict=True):
        moves = task.way is not None or (task.work in DOWN and old.crew is not None)
        moves = moves and old.last >= since
        hired = any(dispatcher.model.machines[one].hired for one in old.machines)
        placed = dispatcher.place(task, found, old.first if hired or task.fire else day) if moves else old
        if placed is None:
            return None
        dispatcher.book.take(task, placed)
        found.append(placed)
    return found


def _keeps(plan: TreePlan, found: Sequence[Placed]) -> bool:
    """Is no step that stops brood later than its finish-by, unless it was so before?"""
    return all(new.last <= limit for new, limit in zip(found, _limits(plan), strict=True))


def _limits(plan: TreePlan) -> Iterator[float]:
    for task, old in zip(plan.tasks, plan.placed, strict=True):
        yield float("inf") if task.finish_by is None else max(old.last, task.finish_by)
