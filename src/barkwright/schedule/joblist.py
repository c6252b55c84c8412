"""The list of jobs: by day, and within a day in an order in which they can be done."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from heapq import heapify, heappop, heappush

from barkwright.inventory.model import Crew
from barkwright.schedule.book import Placed
from barkwright.schedule.calendar import hours_on
from barkwright.schedule.jobs import Job
from barkwright.schedule.lying import latest
from barkwright.schedule.model import SiteModel
from barkwright.schedule.recipe import LOCATE
from barkwright.schedule.scenario import Candidate
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.tally import TreePlan
from barkwright.schedule.tasks import Task

YOU = "you"  # whoever ordered the plan
Taken = dict[tuple[str, date], float]  # by crew and day [h]
YEAR = 366
_ORDER = (
    ("inspect",), ("call",), ("fell",), ("limb and buck",),
    ("cut-free-butt", "quarter", "buck-short", "buck-fuel", "split"), ("limb-flush",), ("peel", "score"),
    ("gather-bark", "bag-bark"), ("pile",), ("burn", "destroy-bark-burn"), ("chip", "destroy-bark-chip"),
    ("spread-chips",), ("bury", "destroy-bark-bury"), ("stump",), ("slash",), ("haul",), ("stack",),
    ("process", "bark"),
)  # fmt: skip
RANK = {word: rank for rank, words in enumerate(_ORDER) for word in words}
Row = tuple[int, int, int, int]  # first day, rank of its work, place of its tree, number in the tree's list


def jobs_of(model: SiteModel, best: Candidate) -> tuple[Job, ...]:
    """Every job, dated and numbered: a job stands after all that it waits for."""
    plans = {plan.tree.place: plan for plan in best.plans}
    call = _locate(model, best)
    rows = _in_order(best)
    names = {row[2:]: f"J{place}" for place, row in enumerate(rows, 1 + len(call))}
    jobs = list(call)
    for _, _, tree, number in rows:
        plan = plans[tree]
        task, placed = plan.tasks[number], plan.placed[number]
        after = tuple(names[tree, pred] for pred in task.preds)
        digs = call and any(LOCATE in plan.picks[piece].option.needs for piece in task.pieces if piece in plan.picks)
        jobs.append(_job(model, names[tree, number], plan, task, placed, ("J1", *after) if digs else after))
    return (*jobs, *_look_again(model, best, len(jobs) + 1))


def _in_order(best: Candidate) -> list[Row]:
    """All tasks by day and kind of work, none before what it waits for."""
    rows: dict[tuple[int, int], Row] = {}
    waits: dict[tuple[int, int], int] = {}
    next_to: dict[tuple[int, int], list[tuple[int, int]]] = {}
    for plan in best.plans:
        for number, (task, placed) in enumerate(zip(plan.tasks, plan.placed, strict=True)):
            name = (plan.tree.place, number)
            stump = task.work == "stump"
            rows[name] = (placed.first, RANK[task.work if stump or task.do not in RANK else task.do], *name)
            waits[name] = len(task.preds)
            for pred in task.preds:
                next_to.setdefault((plan.tree.place, pred), []).append(name)
    ready = [rows[name] for name, count in waits.items() if not count]
    heapify(ready)
    found: list[Row] = []
    while ready:
        row = heappop(ready)
        found.append(row)
        for name in next_to.get(row[2:], ()):
            waits[name] -= 1
            if not waits[name]:
                heappush(ready, rows[name])
    return found


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
    span = next((one for one in task.spans or () if one[0] <= placed.first <= one[1]), None)
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
        finish_by=_finish_by(model, plan, task),
        opens=model.days.day(max(task.first, span[0] if span else 0)),
        closes=model.days.day(span[1]) if span else None,
        wait_days=task.wait,
        completes=task.completes,
    )


def _finish_by(model: SiteModel, plan: TreePlan, task: Task) -> date | None:
    if task.finish_by is None:
        return None
    dates = (latest(model, plan, piece) for piece in plan.tree.pieces if piece.piece.id in task.pieces)
    return min((day for day in dates if day is not None), default=None)


def _look_again(model: SiteModel, best: Candidate, number: int) -> Iterator[Job]:
    """One look at all treated places, from the first working day of a crew after the flight is over."""
    treated = [
        plan
        for plan in best.plans
        if any(piece.at_stake and piece.piece.id in plan.picks for piece in plan.tree.pieces)
    ]
    if not treated:
        return
    steps = [model.work.look_again(plan.tree.work) for plan in treated]
    hours, low, high = (
        sum(values)
        for values in zip(*((s.person_hours.mean, s.person_hours.low, s.person_hours.high) for s in steps), strict=True)
    )
    crew, days = _days_after(model, hours, _taken(model, best))
    one = treated[0].tree.id
    what = steps[0].what
    if len(treated) > 1:
        what = what.replace(f"where {one} was treated", "wherever wood was treated")
    yield Job(
        id=f"J{number}",
        tree=one if len(treated) == 1 else "site",
        pieces=(),
        work="look again",
        what=what,
        way=None,
        first=days[0][0],
        last=days[-1][0],
        after=(),
        hours=hours,
        hours_low=low,
        hours_high=high,
        people=1 if crew is None else _hands(model, crew, days),
        crew=None if crew is None else crew.name,
        equipment=(),
        provisional=False,
        question=None,
        day_hours=days,
        machine_hours=(),
        finish_by=None,
    )


def _days_after(model: SiteModel, hours: float, taken: Taken) -> tuple[Crew | None, tuple[tuple[date, float], ...]]:
    """The crew and its days for the look: the first named of those that come soon; else the first that comes."""
    over = max(model.coming.end + timedelta(days=1), model.days.first)
    soon = over + timedelta(days=int(SETTINGS["look_again_days"]))
    found = [(crew, days) for crew in model.work.inventory.crew if (days := _filled(model, crew, over, hours, taken))]
    if not found:
        return None, ((over, hours),)
    return next((each for each in found if each[1][0][0] <= soon), min(found, key=lambda each: each[1][0][0]))


def _filled(model: SiteModel, crew: Crew, start: date, hours: float, taken: Taken) -> tuple[tuple[date, float], ...]:
    """The working days of a crew from `start` on that hold so many person-hours; empty when a year does not."""
    days, left = [], hours
    for offset in range(YEAR):
        day = start + timedelta(days=offset)
        room = min(left, _each(model, crew, day) * crew.people - taken.get((crew.name, day), 0.0))
        if room > 0.0:
            days.append((day, room))
            left -= room
            if left <= 1e-9:
                return tuple(days)
    return ()


def _taken(model: SiteModel, best: Candidate) -> Taken:
    """Person-hours that the plan has on each day of each crew already."""
    found: Taken = {}
    for placed in (each for plan in best.plans for each in plan.placed if each.crew is not None):
        for day, hours, _ in placed.stints:
            key = (model.days.crews[placed.crew or 0].name, model.days.day(day))
            found[key] = found.get(key, 0.0) + hours
    return found


def _each(model: SiteModel, crew: Crew, day: date) -> float:
    return hours_on(crew, model.work.inventory.calendar, day, model.place)


def _hands(model: SiteModel, crew: Crew, days: tuple[tuple[date, float], ...]) -> int:
    return max([1, *(-int(-(hours - 1e-6) // _each(model, crew, day)) for day, hours in days)])
