"""What is offered for each tree, beyond what the plan says of its pieces: what it can hit, its stump, its saw logs."""

from __future__ import annotations

from datetime import date

from barkwright.inventory.model import Tree
from barkwright.plan import Plan
from barkwright.record import dataclass
from barkwright.schedule.jobs import Job
from barkwright.treatment.felling import Felling
from barkwright.treatment.logscale import SCRIBNER_LARGEST_IN, SCRIBNER_LONGEST_FT, international_bf, scribner_bf

LINE_RULE = "line-within-reach"
LOOKS = ("look again", "call", "inspect")


@dataclass(frozen=True, slots=True)
class SawLog:
    """A log kept whole for sawing; board feet by two rules, from its small end inside bark."""

    piece: str
    small_end_dib_in: float
    length_ft: float
    international_bf: int
    scribner_bf: int | None  # None: outside of the table


@dataclass(frozen=True, slots=True)
class TreeScope:
    """One tree of the offer."""

    tree: str
    felled: bool  # in this plan
    stump_ft: float | None  # height of the stump that is left, where the tree is felled
    line_ft: float | None  # distance of a power line within reach
    boundary_ft: float | None  # distance of the neighbour's ground within reach
    saw_logs: tuple[SawLog, ...]
    latest: date | None  # day by which the first of its wood has to be done
    misses: tuple[str, ...]  # pieces whose beetles are not stopped in time
    look_on: date | None  # day on which an own crew looks under its bark; such a look is in the price


def scope_of(plan: Plan) -> tuple[TreeScope, ...]:
    """All trees, in the order of the file."""
    felled = {job.tree for job in plan.schedule.jobs if job.work == "fell"}
    unmet = {piece: one.tree for one in plan.schedule.unmet for piece in one.pieces}
    sawn, looks = _saw_logs(plan), _looks(plan)
    due: dict[str, list[date]] = {}
    for choice in plan.schedule.choices:
        if choice.latest is not None and choice.done_on is not None:
            due.setdefault(choice.piece.rpartition("/")[0], []).append(choice.latest)
    return tuple(
        TreeScope(
            tree.id,
            tree.id in felled,
            plan.inventory.cutting.stump_height_ft if tree.id in felled else None,
            _line(tree, plan.fellings.get(tree.id)),
            _boundary(tree, plan.fellings.get(tree.id)) if tree.id in felled else None,
            tuple(sawn.get(tree.id, ())),
            min(due.get(tree.id, ()), default=None),
            tuple(piece for piece, of in unmet.items() if of == tree.id),
            looks.get(tree.id),
        )
        for tree in plan.inventory.trees
    )


def window_of(jobs: tuple[Job, ...]) -> tuple[date, date] | None:
    """First and last planned day of work on the wood; None where there is none."""
    working = [job for job in jobs if job.work not in LOOKS]
    return (min(job.first for job in working), max(job.last for job in working)) if working else None


def _looks(plan: Plan) -> dict[str, date]:
    own = {crew.name for crew in plan.inventory.crew}
    return {job.tree: job.first for job in plan.schedule.jobs if job.work == "inspect" and job.crew in own}


def _line(tree: Tree, felling: Felling | None) -> float | None:
    near = tree.near.line
    within = felling is not None and any(reason.rule == LINE_RULE for reason in felling.reasons)
    return float(near) if within and isinstance(near, int | float) else None


def _boundary(tree: Tree, felling: Felling | None) -> float | None:
    near, reach = tree.near.neighbour, None if felling is None else felling.reach_ft
    return float(near) if isinstance(near, int | float) and reach is not None and near <= reach else None


def _saw_logs(plan: Plan) -> dict[str, list[SawLog]]:
    """Logs whose way leaves them whole for a sawmill, by tree."""
    chosen = {choice.piece: choice.way for choice in plan.schedule.choices if choice.way is not None}
    found: dict[str, list[SawLog]] = {}
    for stem in plan.stems:
        for piece in stem.pieces:
            way = next((one for one in plan.ways.get(piece.id, ()) if one.id == chosen.get(piece.id)), None)
            if way is None or way.then != "saw log" or piece.kind != "log":
                continue
            small, long = piece.top_dib_in, piece.length_ft
            held = small < SCRIBNER_LARGEST_IN + 0.5 and long < SCRIBNER_LONGEST_FT + 1
            scribner = scribner_bf(small, long) if held else None
            found.setdefault(stem.tree, []).append(
                SawLog(piece.id, small, long, international_bf(small, long), scribner)
            )
    return found
