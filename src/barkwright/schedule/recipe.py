"""Recipes: the tasks of one tree, from felling it to the last step of the way chosen for each of its pieces."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from barkwright.record import dataclass
from barkwright.schedule.bark import DESTROYS, PEELS
from barkwright.schedule.model import PieceModel, SiteModel, TreeModel
from barkwright.schedule.options import Option
from barkwright.schedule.tasks import Spans, Task, total
from barkwright.schedule.words import template
from barkwright.treatment.removal import lift_height_ft
from barkwright.treatment.ways import Step

LOCATE = "locate-services"  # arranged by a call, not by a question


@dataclass(frozen=True, slots=True)
class Pick:
    """A way chosen for a piece, and the day by which its brood must be stopped."""

    option: Option
    due: int | None
    level: int  # how good the goal is: 0 best


def base_tasks(model: SiteModel, tree: TreeModel, opens: int = 0) -> list[Task]:
    """Looking, calling, felling, limbing and bucking of one tree, in order; nothing is cut before day `opens`."""
    felling = tree.work.felling
    tasks: list[Task] = []
    look = model.work.inspection(tree.work)
    if look is not None:
        settled = model.work.look_from(tree.work)
        tasks.append(_task(tree, look, (), 0 if settled is None else model.days.index(settled), model))
    if felling.who == "not needed":
        return tasks
    before: tuple[int, ...] = tuple(range(len(tasks)))
    for step in felling.calls:
        tasks.append(_task(tree, step, before, 0, model))
    after, wait = tuple(range(len(tasks))), felling.lead_days if felling.calls else 0
    for step in felling.steps:
        task = _task(tree, step, after, max(tree.opens, opens), model)
        task.question = question_of(tree)
        task.wait = max(task.wait, wait)
        if step.work == "fell":
            task.spans = _but(felling.closed, model)
            task.outside = None if felling.by == "crew" else felling.by
            task.crews = felling.crews
            task.height_ft = lift_height_ft(felling.reach_ft or 0.0, model.work.inventory)
        tasks.append(task)
        after, wait = (len(tasks) - 1,), 0
    return tasks


def question_of(tree: TreeModel) -> str | None:
    """Code of the open question on which the work on a tree rests: felling first, then what lives under the bark."""
    felling, brood = tree.work.felling, tree.work.brood
    asked = [question.code for question in felling.questions]
    if asked:
        return asked[0]
    if brood.needs_inspection:
        return next((question.code for question in brood.questions), "look-under-bark")
    return None


def _but(closed: Sequence[tuple[date, date]], model: SiteModel) -> Spans | None:
    """The days outside closed spans."""
    if not closed:
        return None
    spans, start = [], 0
    for first, last in sorted(closed):
        if model.days.index(first) > start:
            spans.append((start, model.days.index(first) - 1))
        start = max(start, model.days.index(last) + 1)
    return (*spans, (start, max(start, model.days.length)))


def way_tasks(
    model: SiteModel,
    tree: TreeModel,
    group: Sequence[tuple[PieceModel, Pick]],
    after: tuple[int, ...],
    place: int,
    question: str | None,
) -> list[Task]:
    """The tasks of one way for pieces that are treated together; `place` is where the first will stand in the list."""
    pieces = [piece for piece, _ in group]
    pick = group[0][1]
    option = pick.option
    lists = [model.steps(tree, piece, one.option.position, one.option.window) for piece, one in group]
    steps = lists[0]
    done = completing(steps)
    waits = any(step.wait_days > 0 or step.spans is not None for step in steps[: done + 1])
    tasks: list[Task] = []
    opens = max(tree.opens, model.marked if LOCATE in option.needs else 0)
    adults = [piece.brood.adults_from for piece in pieces if piece.brooding and piece.brood.adults_from is not None]
    peeled: int | None = None
    for number, step in enumerate(steps):
        parts = [one[number] for one in lists]
        task = Task(
            tree=tree.id,
            work=step.work,
            said=tuple(part.what for part in parts),
            pieces=tuple(piece.piece.id for piece in pieces),
            way=option.way,
            hours=total([part.person_hours for part in parts]),
            machine_hours=total([part.machine_hours for part in parts]),
            people=step.people,
            equipment=step.equipment,
            skills=frozenset(step.skills),
            first=opens,
            last=model.days.length - 1,
            preds=after,
            wait=max(part.wait_days for part in parts),
            spans=_spans(model, step),
            completes=number == done,
            question=question or _asked(option),
            thickest_in=max(piece.piece.butt_dob_in for piece in pieces),
            do=step.do,
        )
        if step.do in PEELS:
            peeled = place + number
        elif step.do in DESTROYS and peeled is not None and adults:
            task.bark_of, task.adults = peeled, model.days.index(min(adults))
        if number <= done:
            task.due = pick.due
            task.finish_by = _finish_by(model, pieces[0], option)
            task.last = min(task.last, option.last)
            if number == done or not waits:
                task.first = max(task.first, option.first)
        tasks.append(task)
        after = (place + number,)
    return tasks


def _asked(option: Option) -> str | None:
    """Code of what must be arranged before the way may be taken, where it is a question still open."""
    return next((need for need in option.needs if need != LOCATE), None)


def completing(steps: Sequence[Step]) -> int:
    """Place of the step that stops the brood: the marked one, or the last."""
    return next((place for place, step in enumerate(steps) if step.completes), len(steps) - 1)


def shape(steps: Iterable[Step]) -> tuple[object, ...]:
    """What steps of two pieces must share to be done as one job."""
    return tuple(
        (s.work, template(s.what), s.people, s.equipment, s.skills, s.wait_days, s.spans, s.completes) for s in steps
    )


def _finish_by(model: SiteModel, piece: PieceModel, option: Option) -> int | None:
    finish = piece.ways[option.position].finish_by
    return None if finish is None else model.days.index(finish)


def _spans(model: SiteModel, step: Step) -> Spans | None:
    if step.spans is None:
        return None
    return tuple((model.days.index(first), model.days.index(last)) for first, last in step.spans)


def _task(tree: TreeModel, step: Step, preds: tuple[int, ...], opens: int, model: SiteModel) -> Task:
    return Task(
        tree=tree.id,
        work=step.work,
        said=(step.what,),
        pieces=(),
        way=None,
        hours=step.person_hours,
        machine_hours=step.machine_hours,
        people=step.people,
        equipment=step.equipment,
        skills=frozenset(step.skills),
        first=max(opens, 0),
        last=model.days.length - 1,
        preds=preds,
        wait=step.wait_days,
        spans=_spans(model, step),
    )
