"""The courses for a tree, a piece or a whole site side by side, and the plan among them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import fields, replace
from decimal import Decimal

from barkwright.costs.prices import PROXIES
from barkwright.record import dataclass
from barkwright.schedule.jobs import Job, Schedule
from barkwright.schedule.model import SiteModel, site_model
from barkwright.schedule.paying import to_pay, unpriced
from barkwright.schedule.sitework import SiteWork, TreeWork
from barkwright.spread import NOTHING, Spread
from barkwright.study.courses import LEAVE, MIX, Course, courses
from barkwright.study.dues import dues_of
from barkwright.study.efforts import CHANGES
from barkwright.study.more_tools import again, thickest_in, with_tools
from barkwright.study.outcome import LOOKS
from barkwright.study.reckoning import Bill, Pay, bill_of, hours_of, named, start_by
from barkwright.study.sides import STOPS, Fit, Side, Sides
from barkwright.study.taken import NOTHING_LEFT, Barred, Leave, Taken, Wood, barred_of, planned_of, taken_by, woods_of
from barkwright.treatment.shop import shop_of
from barkwright.treatment.trench import loose_volume
from barkwright.treatment.ways import Step, Yields


@dataclass(frozen=True, slots=True)
class _Asked:
    """What the courses are asked for."""

    model: SiteModel
    woods: tuple[Wood, ...]
    planned: Mapping[str, Taken]  # by piece
    down: tuple[TreeWork, ...]  # trees that have to come down first; none for a piece by itself
    common: tuple[Job, ...]  # what the plan does whatever the course


def side_by_side(work: SiteWork, schedule: Schedule, trees: Sequence[str], piece: str | None = None) -> Sides:
    """Every course for some trees of a site, or for one piece of one tree.

    trees : ids; piece : one piece of the one tree, or None for all of them
    """
    named_trees = set(trees)
    scope = tuple(tree for tree in work.trees if tree.tree.id in named_trees)
    choices = {choice.piece: choice for choice in schedule.choices}
    woods = tuple(one for one in woods_of(work, scope) if piece is None or one.piece.id == piece)
    planned = {one.piece.id: found for one in woods if (found := planned_of(work, one, choices)) is not None}
    within = {*trees, *(("site",) if len(scope) == len(work.trees) else ())}
    common = tuple(job for job in schedule.jobs if job.way is None and job.tree in within) if piece is None else ()
    asked = _Asked(site_model(work), woods, planned, scope if piece is None else (), common)
    sides = []
    for course in courses():
        side = _side(asked, course)
        sides.append(_otherwise(asked, course, side) if side.fit == "ruled out" else side)
    if planned and not any(side.planned for side in sides):
        sides.insert(0, _mixed(asked))
    if len(scope) == len(work.trees) and piece is None:
        sides = [_as_ordered(side, work, schedule) if side.planned else side for side in sides]
    return Sides(scope, woods, planned, tuple(sides), piece is None, common)


def _mixed(asked: _Asked) -> Side:
    """The plan where it takes its pieces different ways."""
    left = tuple(wood for wood in asked.woods if wood.piece.id not in asked.planned)
    return _reckoned(asked, MIX, (tuple(asked.planned.values()), (), left), ())


def _as_ordered(side: Side, work: SiteWork, schedule: Schedule) -> Side:
    """The plan of the whole site with the money, the hours and the days of its work order; looks need no day here."""
    if side.bill is None:
        return side
    due = to_pay(schedule.costs)
    paid = Pay(min(side.bill.paid.low, due), due, max(side.bill.paid.high, due))
    proxies, local = (
        tuple(line.what for line in schedule.costs if line.paid and line.basis == basis) for basis in PROXIES
    )
    hires = tuple(f"{run.label}: {run.billed}" for run in schedule.rentals)
    crews = {crew.name for crew in work.inventory.crew}
    worked = [job for job in schedule.jobs if job.crew in crews and job.work not in LOOKS]
    days = len({day for job in worked for day, _ in job.day_hours})
    bill = Bill(paid, side.bill.valued, tuple(unpriced(schedule.costs)), proxies, hires, local)
    hours = sum((_spread(job) for job in schedule.jobs), NOTHING)
    return replace(side, bill=bill, days=(days, days), hours=hours)


def _side(asked: _Asked, course: Course) -> Side:
    """A course with the tools that are listed, without a hired machine where it costs less so."""
    side = _taken_all(asked, course, NOTHING_LEFT)
    hired = frozenset(one.kind for one in asked.model.machines if one.hired)
    used = hired.intersection(kind for one in side.taken for step in one.steps for kind in step.equipment)
    if not used:
        return side
    without = _taken_all(asked, course, Leave(used))
    better = STOPS.index(without.stops) <= STOPS.index(side.stops) and _counted(without) < _counted(side)
    return without if without.fit != "ruled out" and better else side


def _otherwise(asked: _Asked, course: Course, shut: Side) -> Side:
    """A course that is ruled out as things are: with the client's wishes let go of, or with the tools it misses."""
    unwished = _taken_all(asked, course, Leave(wishes=True))
    if unwished.fit == "does not count":
        return unwished
    if unwished.fit != "ruled out":
        return replace(unwished, fit="against a wish", barred=shut.barred)
    work = asked.model.work
    trees = list({id(wood.tree): wood.tree for wood in asked.woods}.values())
    wider = with_tools(work, course, asked.woods, trees)
    if wider is None:
        return shut
    more = replace(asked, model=site_model(wider), woods=again(wider, course, asked.woods))
    wide = _side(more, course)
    if wide.fit == "ruled out":
        return replace(shut, barred=wide.barred or shut.barred)
    listed = len(work.inventory.equipment)
    steps = [step for one in (*wide.taken, *wide.beside) for step in one.steps]
    first = _first_steps(wider, asked.down, asked.common)
    bill = bill_of(more.model, [*first, *steps], thickest_in([one.wood for one in wide.taken]), asked.down, listed)
    missing = tuple(named(one) for one in wider.inventory.equipment[listed:])
    fit = wide.fit if wide.fit == "does not count" else "with means"
    return replace(wide, fit=fit, missing=missing, bill=bill)


def _counted(side: Side) -> Decimal:
    """What a course counts as: money, and unpaid hours at their worth [currency]."""
    return Decimal(0) if side.bill is None else side.bill.paid.likely + side.bill.valued.likely


def _taken_all(asked: _Asked, course: Course, leave: Leave) -> Side:
    """A course through all the wood, without what is to be left."""
    work, woods, planned = asked.model.work, asked.woods, asked.planned
    each = [(wood, taken_by(work, course, wood, planned.get(wood.piece.id), leave)) for wood in woods]
    taken = tuple(found for _, found in each if found is not None)
    rest = [wood for wood, found in each if found is None]
    barred = barred_of(work, course, rest)
    known = any(course.id in wood.ways for wood in woods)
    if not known or _share([one.wood for one in taken], woods) < CHANGES["course_share"]:
        return Side(course, "ruled out", False, (), (), (), (), barred)
    beside = tuple(planned[wood.piece.id] for wood in rest if wood.piece.id in planned) if course.id != LEAVE else ()
    left = tuple(wood for wood in rest if wood.piece.id not in planned or course.id == LEAVE)
    return _reckoned(asked, course, (taken, beside, left), barred)


def _reckoned(
    asked: _Asked,
    course: Course,
    parts: tuple[tuple[Taken, ...], tuple[Taken, ...], tuple[Wood, ...]],
    barred: tuple[Barred, ...],
) -> Side:
    """A course with what it takes. parts : pieces that it takes, pieces beside it as planned, pieces left."""
    (taken, beside, left), model, work = parts, asked.model, asked.model.work
    whole = (*taken, *beside)
    steps = [step for one in whole for step in one.steps]
    felled = asked.down if course.id != LEAVE else ()
    first = _first_steps(work, felled, asked.common) if course.id != LEAVE else []
    dues = dues_of(model, whole, first)
    slow, most = start_by(model, dues, "high")
    usual, _ = start_by(model, dues, "mean")
    _, least = start_by(model, dues, "low")
    yields = _yields(work, taken)
    return Side(
        course=course,
        fit=_fit(course, taken),
        planned=all(one.planned for one in taken) and not beside and (not left or course is MIX),
        missing=(),
        taken=taken,
        beside=beside,
        left=left,
        barred=barred,
        hours=hours_of([*first, *steps]),
        people=max((step.people for step in steps), default=0),
        bill=bill_of(model, [*first, *steps], thickest_in([one.wood for one in taken]), felled),
        days=(least, most or least),
        opens=min((one.window.first for one in taken), default=None),
        all_open=max((one.window.first for one in whole), default=None),
        start_usual=usual,
        start_slow=slow,
        yields=yields,
        spoil_yd3=loose_volume(yields.trench_yd3, shop_of(work.inventory).size["soil-swell"]),
        heaviest_lb=max((one.wood.piece.lift_lb for one in taken if one.wood.piece.kind == "log"), default=0.0),
    )


def _fit(course: Course, taken: Sequence[Taken]) -> Fit:
    if course.id != LEAVE and all(one.window.end == "not done" for one in taken):
        return "does not count"
    return "fits with care" if any(one.window.verdict == "fits with care" for one in taken) else "fits"


def _share(some: Iterable[Wood], woods: Sequence[Wood]) -> float:
    whole = sum(wood.piece.bark_ft2 for wood in woods)
    return sum(wood.piece.bark_ft2 for wood in some) / whole if whole else 0.0


def _first_steps(work: SiteWork, scope: Sequence[TreeWork], common: Sequence[Job]) -> list[Step]:
    """Looking, felling and cutting up, as far as the crew does it: the plan's jobs, else what felling would take."""
    crews = {crew.name for crew in work.inventory.crew}
    found = [
        Step(
            job.work,
            job.what,
            _spread(job),
            job.people,
            job.equipment,
            Spread.exactly(sum(hours for _, hours in job.machine_hours)),
            (),
        )
        for job in common
        if job.crew in crews
    ]
    felled = {job.tree for job in common if job.work in ("fell", "limb and buck")}
    for tree in scope:
        if tree.tree.id not in felled and common_work(tree):
            found.extend(step for step in tree.felling.steps if step.work != "fell" or tree.felling.by == "crew")
    return found


def common_work(tree: TreeWork) -> bool:
    """Does a tree have to come down, or apart, before its wood is worked?"""
    return tree.felling.who not in ("not needed", "not allowed") and tree.tree.status not in ("logs", "stump")


def _spread(job: Job) -> Spread:
    """Hours of a job; the likely ones are those behind its PERT mean."""
    likely = (6 * job.hours - job.hours_low - job.hours_high) / 4
    return Spread(job.hours_low, min(max(likely, job.hours_low), job.hours_high), job.hours_high)


def _yields(work: SiteWork, taken: Sequence[Taken]) -> Yields:
    each = [work.yields(one.wood.tree.tree, one.wood.piece, one.way) for one in taken]
    sums = {one.name: sum(getattr(found, one.name) for found in each) for one in fields(Yields)}
    return Yields(**{**sums, "cover_in": max((found.cover_in for found in each), default=0.0)})
