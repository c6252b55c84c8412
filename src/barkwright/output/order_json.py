"""The work order as plain data: the `result` of `order --format json`."""

from __future__ import annotations

from collections import defaultdict
from decimal import Decimal
from typing import TYPE_CHECKING, cast

from barkwright.output.advice import advice_for
from barkwright.output.changes_json import since_record
from barkwright.output.crew_json import briefing_record
from barkwright.output.hazards import hazards_of
from barkwright.output.json_basics import iso, near, reason_record, site_record, spread_record
from barkwright.output.json_optimum import LevelRecord, OptimumRecord
from barkwright.output.json_records import (
    brood_record,
    flight_record,
    job_record,
    piece_record,
    question_record,
    tree_record,
)
from barkwright.output.json_results import (
    CautionRecord,
    CostLineRecord,
    CostRecord,
    EquipmentDayRecord,
    HoursRecord,
    OrderResult,
)
from barkwright.output.json_types import (
    DecidedPieceRecord,
    FellingRecord,
    OrderPieceRecord,
    OrderTreeRecord,
    WayRecord,
    WindowRecord,
)
from barkwright.output.measures import Units
from barkwright.output.order_done import done_records
from barkwright.output.order_keep_out import in_pieces, keep_out_ft
from barkwright.output.own_words import plan_lines
from barkwright.output.risk_json import risk_record
from barkwright.output.tries_json import try_record
from barkwright.output.view import View
from barkwright.schedule.paying import is_estimate, to_pay
from barkwright.spread import NOTHING
from barkwright.treatment.effort import steps_of
from barkwright.units import half_up

if TYPE_CHECKING:
    from barkwright.brood.finding import TreeBrood
    from barkwright.inventory.model import Tree
    from barkwright.plan import Plan
    from barkwright.schedule.jobs import CostLine, Level, Optimum
    from barkwright.stem.pieces import Piece
    from barkwright.treatment.ways import Way, Window


def order_result(plan: Plan) -> OrderResult:
    """The whole work order as plain data."""
    view, schedule = View(plan, Units(), ""), plan.schedule
    trees = zip(view.trees.values(), plan.broods, strict=True)
    result: OrderResult = {
        "site": site_record(plan.inventory.site),
        "currency": plan.inventory.currency,
        "local": list(plan_lines(view)),
        "flight": [flight_record(flight, plan.season) for flight in plan.flights],
        "questions": [question_record(question) for question in view.questions],
        "trees": [_tree(view, tree, brood) for tree, brood in trees],
        "pieces": [_piece(view, piece) for piece in view.pieces.values()],
        "done": done_records(plan.outcomes),
        "jobs": [job_record(job) for job in schedule.jobs],
        "equipment_days": _equipment_days(view),
        "hours": _hours(view),
        "cost": _cost(view),
        "infested_bark_ft2": {
            "before": near(schedule.infested_before_ft2),
            "left_at_onset": near(schedule.infested_left_ft2),
            "host_left": near(schedule.host_left_ft2),
        },
        "unmet": [
            {
                "tree": unmet.tree,
                "pieces": list(unmet.pieces),
                "infested_ft2": near(unmet.infested_ft2),
                "why": unmet.why,
                "change": unmet.change,
            }
            for unmet in schedule.unmet
        ],
        "optimum": optimum_record(schedule.optimum),
        "risk": risk_record(plan.risk),
        "tries": [try_record(one, plan.inventory.currency) for one in plan.tries],
        "changes": [try_record(one, plan.inventory.currency) for one in plan.changes],
        "cautions": _cautions(view),
        "briefing": briefing_record(view),
    }
    if plan.since is not None:
        result["since"] = since_record(plan.since, plan.changed)
    return result


def optimum_record(optimum: Optimum) -> OptimumRecord:
    """The levels with their bounds, and why the search ended."""
    return {
        "by": optimum.by,
        "levels": [_level(level) for level in optimum.levels],
        "stopped": optimum.stopped,
        "solver": optimum.solver,
    }


def _level(level: Level) -> LevelRecord:
    return {
        "name": level.name,
        "unit": level.unit,
        "value": near(level.value),
        "bound": None if level.bound is None else near(level.bound),
        "gap": None if level.gap is None else near(level.gap),
        "tolerance": near(level.tolerance),
    }


def money_text(value: Decimal) -> str:
    """Money as decimal text with two places."""
    return str(half_up(value, 2))


def _tree(view: View, tree: Tree, brood: TreeBrood) -> OrderTreeRecord:
    felling = view.plan.fellings.get(tree.id)
    record: FellingRecord | None = None
    if felling is not None:
        record = {
            "who": felling.who,
            "reasons": [reason_record(reason) for reason in felling.reasons],
            "cautions": list(felling.cautions),
        }
    return {
        **tree_record(tree, view.stems[tree.id]),
        "possible_attack_years": list(brood.possible_attack_years),
        "needs_inspection": brood.needs_inspection,
        "may_stay_standing": brood.may_stay_standing,
        "felling": record,
        "keep_out_ft": keep_out_ft(view, tree),
        "in_pieces": in_pieces(view, tree),
        "dangers": list(hazards_of(view, tree)),
    }


def _piece(view: View, piece: Piece) -> OrderPieceRecord:
    ways = [way_record(view, piece, way) for way in view.plan.ways.get(piece.id, ())]
    return {**decided_record(view, piece), "ways": ways}


def decided_record(view: View, piece: Piece) -> DecidedPieceRecord:
    """A piece, what lives in it, and what was decided for it."""
    way, choice = view.way(piece.id), view.choices.get(piece.id)
    return {
        **piece_record(piece),
        **brood_record(view.broods[piece.id]),
        "method": way.method if way else None,
        "way": way.id if way else None,
        "then": way.then if way else None,
        "finish_by": iso((choice.latest if choice else None) or way.finish_by) if way else None,
        "too_late": iso(way.too_late) if way else None,
        "done_on": iso(choice.done_on) if choice else None,
        "wait_until": iso(choice.wait_until) if choice else None,
        "why": choice.why if choice else "",
    }


def way_record(view: View, piece: Piece, way: Way) -> WayRecord:
    """A way with its windows; the effort of each window that is not ruled out."""
    windows = [_window(view, piece, way, window) for window in way.windows]
    steps = next((steps for steps, _ in windows if steps), ())
    return {
        "id": way.id,
        "method": way.method,
        "title": way.title,
        "tools": list(way.tools),
        "then": way.then,
        "finish_by": iso(way.finish_by),
        "too_late": iso(way.too_late),
        "steps": [{"work": work, "what": what} for work, what in steps],
        "windows": [record for _, record in windows],
    }


def _window(view: View, piece: Piece, way: Way, window: Window) -> tuple[tuple[tuple[str, str], ...], WindowRecord]:
    steps: tuple[tuple[str, str], ...] = ()
    hours = None
    if window.verdict != "ruled out":
        done = steps_of(view.plan.bench, view.trees[piece.tree], piece, view.broods[piece.id], way, window)
        steps = tuple((step.work, step.what) for step in done)
        hours = spread_record(sum((step.person_hours for step in done), NOTHING))
    record = {
        "from": window.first.isoformat(),
        "to": window.last.isoformat(),
        "verdict": window.verdict,
        "end": window.end,
        "bark": window.bark,
        "hours": hours,
        "reasons": [reason_record(reason) for reason in window.reasons],
    }
    return steps, cast(WindowRecord, record)


def _equipment_days(view: View) -> list[EquipmentDayRecord]:
    sums: dict[tuple[str, str], float] = defaultdict(float)
    for job in view.plan.schedule.jobs:
        ran = dict(job.machine_hours)
        for when, _ in job.day_hours:
            for kind in job.equipment:
                sums[when.isoformat(), kind] += ran.get(when, 0.0)
    return [{"date": when, "equipment": kind, "hours": near(hours)} for (when, kind), hours in sorted(sums.items())]


def _hours(view: View) -> HoursRecord:
    jobs = view.plan.schedule.jobs
    return {
        "low": near(sum(job.hours_low for job in jobs)),
        "planned": near(sum(job.hours for job in jobs)),
        "high": near(sum(job.hours_high for job in jobs)),
    }


def _cost(view: View) -> CostRecord:
    schedule = view.plan.schedule
    return {
        "to_pay": money_text(to_pay(schedule.costs)),
        "valued": money_text(sum((line.amount for line in schedule.costs if not line.paid), Decimal(0))),
        "estimate": is_estimate(schedule.costs),
        "lines": [cost_line_record(line) for line in schedule.costs],
        "rentals": [
            {
                "equipment": run.equipment,
                "label": run.label,
                "from": run.first.isoformat(),
                "to": run.last.isoformat(),
                "billed": run.billed,
                "cost": money_text(run.cost),
            }
            for run in schedule.rentals
        ],
    }


def cost_line_record(line: CostLine) -> CostLineRecord:
    """One line of the costs."""
    return {
        "what": line.what,
        "kind": line.kind,
        "quantity": line.quantity,
        "amount": money_text(line.amount),
        "basis": line.basis,
        "paid": line.paid,
    }


def _cautions(view: View) -> list[CautionRecord]:
    return [
        {
            "id": entry.id,
            "kind": entry.kind,
            "topic": entry.topic,
            "text": entry.text,
            "basis": entry.basis,
            "sources": list(entry.sources),
        }
        for kind in ("do", "do not", "caution", "after flight")
        for entry in advice_for(view, kind)
    ]
