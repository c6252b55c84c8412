"""All tasks of all guided trees written in together, earliest due first: what can wait makes room for what cannot."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import field, replace

from barkwright.record import dataclass
from barkwright.schedule.book import Placed
from barkwright.schedule.dispatch import Dispatcher, hold
from barkwright.schedule.model import PieceModel, TreeModel
from barkwright.schedule.recipe import base_tasks, question_of, way_tasks
from barkwright.schedule.tally import TreePlan
from barkwright.schedule.tasks import Task

There = list[int] | None  # days on which a machine is there; None: whenever it is needed


@dataclass(slots=True)
class Draft:
    """The plan of a tree while it is written in."""

    plan: TreePlan
    closes: int | None
    ways: list[int]  # by task the number of the pieces treated together; 0: the tree itself
    row: list[Placed | None]
    failed: set[int] = field(default_factory=set)  # of those numbers

    @property
    def gone(self) -> bool:
        """Has the tree itself found no place?"""
        return 0 in self.failed


def written_together(dispatcher: Dispatcher, trees: Sequence[TreeModel]) -> dict[int, TreePlan]:
    """Plans of the guided trees that find a place, by the tree's place; the others are not in the book.

    Where a piece finds none as guided, it is tried in other ways once all else is written in.
    """
    days = _days_there(dispatcher)
    drafts = [draft for draft in (_guided(dispatcher, tree) for tree in trees) if draft is not None]
    items = [
        (key, place, number)
        for place, draft in enumerate(drafts)
        for number, key in enumerate(_latest(dispatcher, draft.plan.tasks, days))
    ]
    for _, place, number in sorted(items):
        _write(dispatcher, drafts[place], number)
    for draft in drafts:
        _settle(draft)
    found: dict[int, TreePlan] = {}
    for draft in drafts:
        plan = draft.plan
        if draft.gone or not _finished(dispatcher, draft) or not dispatcher.tally.takes(plan):
            _give_back(dispatcher, plan.tasks, plan.placed)
            continue
        dispatcher.tally.add(plan)
        hold(plan)
        found[plan.tree.place] = plan
    return found


def _guided(dispatcher: Dispatcher, tree: TreeModel) -> Draft | None:
    """The tasks of a tree in the season and the ways that the guide says; None where it says nothing."""
    guide = dispatcher.guide
    season = None if guide is None else guide.seasons.get(tree.id)
    if guide is None or season is None or (tree.standing and tree.work.felling.who == "not needed"):
        return None
    plan = TreePlan(tree, base_tasks(dispatcher.model, tree, season[1]))
    after = (len(plan.tasks) - 1,) if plan.tasks else ()
    ways = [0] * len(plan.tasks)
    picks = {piece.piece.id: [guide.picks[piece.piece.id]] for piece in tree.pieces if piece.piece.id in guide.picks}
    pieces = [piece for piece in tree.pieces if piece.piece.id in picks]
    groups = dispatcher.groups(tree, pieces, picks, dict.fromkeys(picks, 0), set())
    for number, group in enumerate(groups, 1):
        plan.tasks += way_tasks(dispatcher.model, tree, group, after, len(plan.tasks), question_of(tree))
        plan.picks.update({piece.piece.id: pick for piece, pick in group})
        ways += [number] * (len(plan.tasks) - len(ways))
    return Draft(plan, season[0], ways, [None] * len(plan.tasks))


def _write(dispatcher: Dispatcher, draft: Draft, number: int) -> None:
    """Write one task in; where it finds no place, what belongs to it is taken out again."""
    way = draft.ways[number]
    if draft.gone or way in draft.failed:
        return
    task = draft.plan.tasks[number]
    placed = dispatcher.place(task, draft.row, 0)
    if placed is not None:
        dispatcher.book.take(task, placed)
        draft.row[number] = placed
        return
    draft.failed.add(way)
    for other, taken in enumerate(draft.row):
        if taken is not None and way in (0, draft.ways[other]):
            dispatcher.book.give_back(draft.plan.tasks[other], taken)
            draft.row[other] = None


def _settle(draft: Draft) -> None:
    """Leave in the plan what has a place."""
    plan = draft.plan
    kept = [number for number, placed in enumerate(draft.row) if placed is not None]
    now = {number: at for at, number in enumerate(kept)}
    gone = {name for number in range(len(plan.tasks)) if number not in now for name in plan.tasks[number].pieces}
    plan.tasks = [
        replace(
            plan.tasks[number],
            preds=tuple(now[pred] for pred in plan.tasks[number].preds),
            bark_of=None if (peel := plan.tasks[number].bark_of) is None else now[peel],
        )
        for number in kept
    ]
    plan.placed = [placed for placed in draft.row if placed is not None]
    plan.picks = {name: pick for name, pick in plan.picks.items() if name not in gone}


def _finished(dispatcher: Dispatcher, draft: Draft) -> bool:
    """Find ways for the pieces that have none; False when one finds none that the tree is not felled without."""
    plan = draft.plan
    waiting = [one for one in plan.tree.pieces if one.piece.id not in plan.picks and one.at_stake]
    return all(_again(dispatcher, draft, one) or not dispatcher.vital(plan.tree, one) for one in waiting)


def _again(dispatcher: Dispatcher, draft: Draft, piece: PieceModel) -> bool:
    """Try other ways for a piece, one after the other."""
    plan, tree = draft.plan, draft.plan.tree
    start = len(plan.tasks)
    base = [number for number, task in enumerate(plan.tasks) if task.way is None]
    after = (base[-1],) if base else ()
    ready = max((plan.placed[number].last for number in base), default=tree.opens)
    for pick in dispatcher.hopeful(dispatcher.candidates(tree, piece, draft.closes), ready):
        plan.tasks += way_tasks(dispatcher.model, tree, [(piece, pick)], after, start, question_of(tree))
        mark = dispatcher.book.mark()
        if dispatcher.place_all(plan):
            plan.picks[piece.piece.id] = pick
            return True
        dispatcher.failed(pick)
        dispatcher.book.undo(mark)
        del plan.tasks[start:], plan.placed[start:]
    return False


def _give_back(dispatcher: Dispatcher, tasks: Iterable[Task], placed: Iterable[Placed]) -> None:
    for task, taken in zip(tasks, placed, strict=True):
        dispatcher.book.give_back(task, taken)


def _latest(dispatcher: Dispatcher, tasks: Sequence[Task], days: Sequence[There]) -> list[int]:
    """By task the latest day that still leaves time for what waits for it."""
    ends: list[int] = []
    for task in tasks:
        end = task.last if task.due is None else min(task.last, task.due)
        if task.spans:
            end = min(end, max(last for _, last in task.spans))
        sets = dispatcher.book.machine_sets(task) if task.equipment else []
        if sets:
            end = max(min((_last_there(days[one], end) for one in machines), default=end) for machines in sets)
        ends.append(end)
    for number in range(len(tasks) - 1, -1, -1):
        for pred in tasks[number].preds:
            ends[pred] = min(ends[pred], ends[number] - tasks[number].wait)
    for number, task in enumerate(tasks):
        if task.bark_of is not None:
            ends[task.bark_of : number + 1] = [ends[task.bark_of]] * (number + 1 - task.bark_of)
    return ends


def _last_there(days: There, end: int) -> int:
    """The last day up to `end` on which a machine is there."""
    if days is None:
        return end
    place = bisect_right(days, end)
    return days[place - 1] if place else -1


def _days_there(dispatcher: Dispatcher) -> list[There]:
    book = dispatcher.book
    return [
        [day for day, hours in enumerate(running) if hours > 0.0] if machine.hired else None
        for machine, running in zip(book.machines, book.running, strict=True)
    ]
