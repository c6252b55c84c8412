"""From the best plan found to the schedule that others read: jobs by date, choices, hires, costs, what is left."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from barkwright.schedule.book import Placed
from barkwright.schedule.jobs import Choice, Job, Schedule
from barkwright.schedule.lines import cost_lines
from barkwright.schedule.model import PieceModel, SiteModel, TreeModel
from barkwright.schedule.money import rental_runs, used_days
from barkwright.schedule.recipe import LOCATE, Pick
from barkwright.schedule.scenario import Candidate, done_day, left_share, total_infested
from barkwright.schedule.tally import TreePlan
from barkwright.schedule.tasks import Task
from barkwright.schedule.unmet import unmet_of

YOU = "you"  # whoever ordered the plan
METHOD = (
    "priority rule: the worst trees first, each with the cheapest ways that are done in time. "
    "It does not prove that no better plan exists."
)


def assemble(model: SiteModel, best: Candidate) -> Schedule:
    """Write the plan out."""
    plans = {plan.tree.id: plan for plan in best.plans}
    jobs = _jobs(model, best)
    choices = tuple(choice for tree in model.trees for choice in _choices(model, tree, plans.get(tree.id), best))
    left = total_infested(best.missed) + total_infested(best.dropped)
    host = sum(piece.host_ft2 for tree in [*best.missed, *best.dropped] for piece in tree.pieces)
    for plan in best.plans:
        for piece in plan.tree.pieces:
            share = left_share(plan, piece, plan.picks.get(piece.piece.id))[0]
            left += share * piece.infested_ft2
            host += share * piece.host_ft2
    runs = rental_runs(model, used_days(model, best.plans))
    return Schedule(
        choices=choices,
        jobs=jobs,
        rentals=runs,
        costs=cost_lines(model, best, runs),
        unmet=unmet_of(model, best),
        infested_before_ft2=total_infested(model.trees),
        infested_left_ft2=left,
        host_left_ft2=host,
        method=METHOD,
        notes=_notes(model, best),
    )


def _jobs(model: SiteModel, best: Candidate) -> tuple[Job, ...]:
    rows = [
        (placed.first, placed.last, plan.tree.place, number, plan, task, placed)
        for plan in best.plans
        for number, (task, placed) in enumerate(zip(plan.tasks, plan.placed, strict=True))
    ]
    rows.sort(key=lambda row: row[:4])
    call = _locate(model, best)
    names = {(row[2], row[3]): f"J{place}" for place, row in enumerate(rows, 1 + len(call))}
    jobs = list(call)
    for _, _, tree, number, plan, task, placed in rows:
        after = tuple(names[tree, pred] for pred in task.preds)
        digs = call and any(LOCATE in plan.picks[piece].option.needs for piece in task.pieces if piece in plan.picks)
        jobs.append(_job(model, names[tree, number], plan, task, placed, ("J1", *after) if digs else after))
    return (*jobs, *_look_again(model, best, len(jobs)))


def _locate(model: SiteModel, best: Candidate) -> tuple[Job, ...]:
    """The call to have buried services marked, made by the client on the first day, where any way digs."""
    if not any(LOCATE in pick.option.needs for plan in best.plans for pick in plan.picks.values()):
        return ()
    step, _ = model.work.locating()
    day, hours = model.days.first, step.person_hours
    return (
        Job(
            "J1",
            "site",
            (),
            "call",
            step.what,
            None,
            day,
            day,
            (),
            hours.mean,
            hours.low,
            hours.high,
            1,
            YOU,
            (),
            False,
            None,
            ((day, hours.mean),),
            (),
            None,
        ),
    )


def _job(model: SiteModel, name: str, plan: TreePlan, task: Task, placed: Placed, after: tuple[str, ...]) -> Job:
    crew = None if placed.crew is None else model.days.crews[placed.crew]
    hands = task.people
    if crew is not None and task.people == 1 and task.spans is None:
        hands = max(
            [1, *(-int(-(hours - 1e-6) // crew.hours[day]) for day, hours, _ in placed.stints if crew.hours[day] > 0)]
        )
    return Job(
        id=name,
        tree=task.tree,
        pieces=task.pieces,
        work=task.work,
        what=task.what,
        way=task.way,
        first=model.days.day(placed.first),
        last=model.days.day(placed.last),
        after=after,
        hours=task.need,
        hours_low=task.hours.low,
        hours_high=task.hours.high,
        people=hands,
        crew=crew.name if crew else task.outside,
        equipment=task.equipment,
        provisional=task.question is not None,
        question=task.question,
        day_hours=tuple((model.days.day(day), hours) for day, hours, _ in placed.stints),
        machine_hours=tuple((model.days.day(day), hours) for day, _, hours in placed.stints if hours > 0),
        finish_by=None if task.finish_by is None else model.days.day(task.finish_by),
    )


def _look_again(model: SiteModel, best: Candidate, count: int) -> Iterator[Job]:
    """A look at each treated place after the flight that its brood would have flown in."""
    day = model.coming.end + timedelta(days=1)
    for plan in best.plans:
        treated = [piece for piece in plan.tree.pieces if piece.at_stake and piece.piece.id in plan.picks]
        if not treated:
            continue
        step = model.work.look_again(plan.tree.work)
        count += 1
        crew = model.days.crews[0].name if model.days.crews else None
        yield Job(
            f"J{count}",
            plan.tree.id,
            (),
            "look again",
            step.what,
            None,
            day,
            day,
            (),
            step.person_hours.mean,
            step.person_hours.low,
            step.person_hours.high,
            1,
            crew,
            (),
            False,
            None,
            ((day, step.person_hours.mean),),
            (),
            None,
        )


def _choices(model: SiteModel, tree: TreeModel, plan: TreePlan | None, best: Candidate) -> Iterator[Choice]:
    for piece in tree.pieces:
        pick = plan.picks.get(piece.piece.id) if plan else None
        later = piece.brood.flight_to_beat is not None and piece.brood.flight_to_beat > model.coming.year
        if plan is None or pick is None:
            yield Choice(piece.piece.id, None, None, None, None, _why_not(tree, piece))
            continue
        way = piece.ways[pick.option.position]
        day = done_day(plan, piece.piece.id)
        wait = way.finish_by if later else None
        yield Choice(
            piece.piece.id,
            way.id,
            _window(model, plan, piece, pick),
            model.days.day(day) if piece.at_stake else None,
            wait,
            _why(piece, pick),
        )


def _window(model: SiteModel, plan: TreePlan, piece: PieceModel, pick: Pick) -> int:
    """The window of the way in which its completing step ends."""
    day = model.days.day(max(done_day(plan, piece.piece.id), pick.option.first))
    windows = piece.ways[pick.option.position].windows
    return next((place for place, one in enumerate(windows) if one.first <= day <= one.last), pick.option.window)


def _why(piece: PieceModel, pick: Pick) -> str:
    title = piece.ways[pick.option.position].title
    if not piece.at_stake:
        return "No brood is expected in it, and nothing here needs doing because of beetles."
    words = {
        0: "The cheapest way that is done in time",
        1: "The cheapest way that is done before the flight, though later than is wise",
        2: "No way that you like is done in time, so one that you would rather avoid is taken",
        3: "No way that you like is done before the flight, so one that you would rather avoid is taken",
        4: "No way stops all the brood in time, so this one stops part of it",
        5: "Nothing can be done before the flight, so this is done while half of the beetles are still in it",
        6: "Nothing can be done before the flight, so part of the brood is stopped while half is still in it",
    }
    return f"{words[pick.level]}: {title}."


def _why_not(tree: TreeModel, piece: PieceModel) -> str:
    if tree.work.brood.may_stay_standing and tree.work.felling.who == "not needed":
        return tree.work.brood.may_stay_standing
    if not piece.at_stake:
        return "No brood is expected in it, and nothing here needs doing because of beetles."
    return "No way fits in the time, hands and machines at hand."


def _notes(model: SiteModel, best: Candidate) -> tuple[str, ...]:
    notes: list[str] = []
    avoided = [t for t in best.plans if any(pick.level in (2, 3) for pick in t.picks.values())]
    if avoided:
        names = ", ".join(plan.tree.id for plan in avoided)
        notes.append(
            f"A method that you would rather avoid is used on {names}, because infested bark would be left without it."
        )
    if best.dropped:
        names = ", ".join(tree.id for tree in best.dropped)
        notes.append(f"The budget does not reach for {names}.")
    return tuple(notes)
