"""All tasks of all guided trees written in together, earliest due first: what can wait makes room for what cannot."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import field, replace

from barkwright.record import dataclass
from barkwright.schedule.book import Placed
from barkwright.schedule.dispatch import Dispatcher, hold
from barkwright.schedule.machine_days import Allotted, MachineDays, Run
from barkwright.schedule.model import PieceModel, TreeModel
from barkwright.schedule.recipe import base_tasks, question_of, way_tasks
from barkwright.schedule.stages import stages_of
from barkwright.schedule.tally import TreePlan
from barkwright.schedule.tasks import Task

Days = dict[tuple[int, int], Allotted]  # by tree and task
LEAST = 0.1  # hours that work is divided by, at least [h]


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


def written_together(dispatcher: Dispatcher, trees: Sequence[TreeModel], runs: Sequence[Run]) -> dict[int, TreePlan]:
    """Plans of the guided trees that find a place, by the tree's place; the others are not in the book.

    A log that finds none as guided is tried in other ways once all else is written in.

    runs : days of hired machines that are handed out first; all trees that they work on are down before a run begins
    """
    drafts = [draft for draft in (drafted(dispatcher, tree) for tree in trees) if draft is not None]
    allotted = _allotted(drafts, MachineDays(dispatcher, runs)) if runs else {}
    waiting = _waiting(drafts, allotted)
    down = max(runs, key=lambda run: len(run.days)).first - 1 if runs else -1
    items: list[tuple[int, int, int, int, int]] = []  # stage, latest day as handed out and by itself, tree and task
    for place, draft in enumerate(drafts):
        tasks = draft.plan.tasks
        keys = (stages_of(tasks, _hired(dispatcher)), _latest(tasks, place, allotted, down), _latest(tasks, place, {}))
        items += [(*key, place, number) for number, key in enumerate(zip(*keys, strict=True))]
    ready: dict[int, int] = {}  # by first day of a run: the day on which all that it waits for is done
    for *_, place, number in sorted(items):
        day = allotted.get((place, number))
        _write(dispatcher, drafts[place], number, 0 if day is None else ready.get(day.start, 0))
        placed = drafts[place].row[number]
        for start in waiting.get((place, number), ()):
            ready[start] = max(ready.get(start, 0), 0 if placed is None else placed.last)
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


def _hired(dispatcher: Dispatcher) -> frozenset[str]:
    """The kinds of machines whose work is written in before all else."""
    if dispatcher.guide is None or not dispatcher.guide.hired_first:
        return frozenset()
    return frozenset(machine.kind for machine in dispatcher.book.machines if machine.hired)


def drafted(dispatcher: Dispatcher, tree: TreeModel) -> Draft | None:
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
    groups = dispatcher.groups(tree, pieces, picks, dict.fromkeys(picks, 0), set(guide.apart))
    for number, group in enumerate(groups, 1):
        plan.tasks += way_tasks(dispatcher.model, tree, group, after, len(plan.tasks), question_of(tree))
        plan.picks.update({piece.piece.id: pick for piece, pick in group})
        ways += [number] * (len(plan.tasks) - len(ways))
    return Draft(plan, season[0], ways, [None] * len(plan.tasks))


def _write(dispatcher: Dispatcher, draft: Draft, number: int, not_before: int) -> None:
    """Write one task in, not before a day if it can be; where it finds no place, what belongs to it is taken out."""
    way = draft.ways[number]
    if draft.gone or way in draft.failed:
        return
    if any(_placed(dispatcher, draft, number, day) for day in dict.fromkeys((not_before, 0))):
        return
    if _later(dispatcher, draft, number):
        return
    draft.failed.add(way)
    _out(dispatcher, draft, [other for other in range(len(draft.row)) if way in (0, draft.ways[other])])


def _placed(dispatcher: Dispatcher, draft: Draft, number: int, not_before: int) -> bool:
    task = draft.plan.tasks[number]
    placed = dispatcher.place(task, draft.row, not_before)
    if placed is None:
        return False
    dispatcher.book.take(task, placed)
    draft.row[number] = placed
    return True


def _later(dispatcher: Dispatcher, draft: Draft, number: int) -> bool:
    """Strip the bark later, shortly before it can be destroyed."""
    task = draft.plan.tasks[number]
    peel = task.bark_of
    free = None if peel is None else dispatcher.place(replace(task, bark_of=None), draft.row, 0)
    if peel is None or free is None:
        return False
    again = [other for other in range(peel, number) if draft.row[other] is not None]
    _out(dispatcher, draft, again)
    day = dispatcher.work_day_before(free.first)
    return all(_placed(dispatcher, draft, other, day if other == peel else 0) for other in [*again, number])


def _out(dispatcher: Dispatcher, draft: Draft, numbers: Iterable[int]) -> None:
    for number in numbers:
        taken = draft.row[number]
        if taken is not None:
            dispatcher.book.give_back(draft.plan.tasks[number], taken)
            draft.row[number] = None


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
    """Find other ways for the pieces that the tree is not felled without; False when one finds none."""
    plan = draft.plan
    waiting = (one for one in plan.tree.pieces if one.piece.id not in plan.picks and dispatcher.vital(plan.tree, one))
    return all(_again(dispatcher, plan, one, draft.closes) for one in waiting)


def rest_tried(dispatcher: Dispatcher, plans: Iterable[TreePlan]) -> None:
    """Find ways for what may be left, in the hours that are left: first what has most infested bark for its hours."""
    guide = dispatcher.guide
    waiting: list[tuple[float, int, int, TreePlan, PieceModel, int | None]] = []
    for plan in plans:
        closes = None if guide is None else guide.seasons.get(plan.tree.id, (None, 0))[0]
        for number, piece in enumerate(plan.tree.pieces):
            if piece.piece.id in plan.picks or not piece.at_stake:
                continue
            picks = dispatcher.candidates(plan.tree, piece, closes)
            if picks:
                dense = piece.infested_ft2 / max(picks[0].option.hours, LEAST)
                waiting.append((-round(dense, 6), plan.tree.place, number, plan, piece, closes))
    for *_, plan, piece, closes in sorted(waiting, key=lambda one: one[:3]):
        _again(dispatcher, plan, piece, closes)


def _again(dispatcher: Dispatcher, plan: TreePlan, piece: PieceModel, closes: int | None) -> bool:
    """Try other ways for a piece, one after the other."""
    tree = plan.tree
    start = len(plan.tasks)
    base = [number for number, task in enumerate(plan.tasks) if task.way is None]
    after = (base[-1],) if base else ()
    ready = max((plan.placed[number].last for number in base), default=tree.opens)
    for pick in dispatcher.hopeful(dispatcher.candidates(tree, piece, closes), ready):
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


def _allotted(drafts: Sequence[Draft], machine_days: MachineDays) -> Days:
    """A day for each task with a hired machine, by tree and task: those that are due first have the first days."""
    waiting = [
        (latest_end(task), place, number)
        for place, draft in enumerate(drafts)
        for number, task in enumerate(draft.plan.tasks)
        if machine_days.hires(task)
    ]
    found: Days = {}
    for end, place, number in sorted(waiting):
        tasks = drafts[place].plan.tasks
        before = [found[place, one].day for one in _ancestors(tasks, number) if (place, one) in found]
        day = machine_days.allot(tasks[number], max(before, default=0), end)
        if day is not None:
            found[place, number] = day
    return found


def _waiting(drafts: Sequence[Draft], allotted: Days) -> dict[tuple[int, int], set[int]]:
    """By tree and task the first days of the runs of hired machines that wait for it."""
    found: dict[tuple[int, int], set[int]] = {}
    for (place, number), day in allotted.items():
        for before in _ancestors(drafts[place].plan.tasks, number):
            if (place, before) not in allotted:
                found.setdefault((place, before), set()).add(day.start)
    return found


def _ancestors(tasks: Sequence[Task], number: int) -> set[int]:
    """What a task waits for, and what that waits for."""
    found: set[int] = set()
    waiting = list(tasks[number].preds)
    while waiting:
        one = waiting.pop()
        if one not in found:
            found.add(one)
            waiting += tasks[one].preds
    return found


def _latest(tasks: Sequence[Task], place: int, allotted: Days, down: int = -1) -> list[int]:
    """By task the latest day that still leaves time for what waits for it; for hired machines the day allotted.

    What waits for a hired machine is done before the run that the machine is there for begins.

    down : day by which what takes several hands is done that can be, so that single hands go on beside a machine
    """
    mine = {number: allotted[place, number] for number in range(len(tasks)) if (place, number) in allotted}
    ends = [mine[number].day if number in mine else latest_end(task) for number, task in enumerate(tasks)]
    for number, task in enumerate(tasks):
        alone = task.way is not None and task.people < 2
        if task.first < down and not alone and mine.keys().isdisjoint({number, *_ancestors(tasks, number)}):
            ends[number] = min(ends[number], down)
    for number in range(len(tasks) - 1, -1, -1):
        for pred in tasks[number].preds:
            end = mine[number].start - 1 if number in mine and pred not in mine else ends[number]
            ends[pred] = min(ends[pred], end - tasks[number].wait)
    for number, task in enumerate(tasks):
        if task.bark_of is not None and number not in mine:
            ends[task.bark_of : number + 1] = [ends[task.bark_of]] * (number + 1 - task.bark_of)
    return ends


def latest_end(task: Task) -> int:
    """The last day on which a task may end."""
    end = task.last if task.due is None else min(task.last, task.due)
    return min(end, max(last for _, last in task.spans)) if task.spans else end
