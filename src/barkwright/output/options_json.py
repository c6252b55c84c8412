"""The options sheet as plain data: the `result` of `options --format json`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from barkwright.output.json_basics import iso, near, reason_record, site_record, sure_spread
from barkwright.output.json_options import CourseRecord, OptionCostRecord, OptionsResult, PieceWayRecord
from barkwright.output.measures import Units
from barkwright.output.options_sheet import in_order
from barkwright.output.own_words import local_lines
from barkwright.output.view import View
from barkwright.study.courses import LEAVE
from barkwright.study.readings import readings
from barkwright.study.reckoning import hours_of
from barkwright.units import half_up

if TYPE_CHECKING:
    from barkwright.plan import Plan
    from barkwright.study.reckoning import Bill
    from barkwright.study.sides import Side, Sides
    from barkwright.study.taken import Taken


def options_result(plan: Plan, sides: Sides) -> OptionsResult:
    """The whole sheet as plain data."""
    shown = in_order(sides)
    rest = [one for one in sides.sides if one not in shown]
    return {
        "site": site_record(plan.inventory.site),
        "currency": plan.inventory.currency,
        "local": list(local_lines(View(plan, Units(), ""), sides)),
        "trees": [tree.tree.id for tree in sides.trees],
        "pieces": [wood.piece.id for wood in sides.woods],
        "felling_included": sides.felled,
        "courses": [_course(one) for one in (*shown, *rest)],
        "readings": [
            {"wish": one.wish, "course": None if one.side is None else one.side.course.id}
            for one in readings(sides, plan.on)
        ],
    }


def _course(side: Side) -> CourseRecord:
    """One course."""
    got = side.yields
    leaves = side.course.id == LEAVE
    return {
        "course": side.course.id,
        "title": side.course.title,
        "fit": side.fit,
        "planned": side.planned and not leaves,
        "stops": side.stops if side.taken else "none",
        "missing": list(side.missing),
        "pieces": [_piece(one) for one in side.taken],
        "beside": [_piece(one) for one in side.beside],
        "not_dealt_with": [wood.piece.id for wood in side.left],
        "hours": sure_spread(side.hours),
        "hours_mean": near(side.hours.mean),
        "days_low": side.days[0],
        "days_high": side.days[1],
        "people_at_once": side.people,
        "cost": None if side.bill is None else _cost(side.bill),
        "opens": iso(side.opens),
        "begin_by": iso(side.start_slow),
        "begin_by_usual_pace": iso(side.start_usual),
        "left_over": {
            "chips_yd3": near(got.chips_yd3),
            "cords": near(got.cords),
            "bark_yd3": near(got.bark_yd3),
            "ash_lb": near(got.ash_lb),
            "smoke_pm25_lb": near(got.pm25_lb),
            "soil_dug_yd3": near(got.trench_yd3),
            "soil_loose_yd3": near(side.spoil_yd3),
            "hauled_lb": near(got.haul_lb),
            "sawlog_bf": near(got.sawlog_bf),
        },
        "heaviest_log_lb": near(side.heaviest_lb),
        "look": side.course.look,
        "reasons": [reason_record(one) for reasons in side.reasons.values() for one in reasons],
        "barred": [{"reason": reason_record(one.reason), "opens": one.opens} for one in side.barred],
    }


def _piece(taken: Taken) -> PieceWayRecord:
    return {
        "piece": taken.wood.piece.id,
        "way": taken.way.id,
        "title": taken.way.title,
        "first": taken.window.first.isoformat(),
        "last": taken.last.isoformat(),
        "end": taken.window.end,
        "hours": sure_spread(hours_of(taken.steps)),
        "planned": taken.planned,
    }


def _cost(bill: Bill) -> OptionCostRecord:
    return {
        "to_pay_low": str(half_up(bill.paid.low, 2)),
        "to_pay": str(half_up(bill.paid.likely, 2)),
        "to_pay_high": str(half_up(bill.paid.high, 2)),
        "unpaid_worth": str(half_up(bill.valued.likely, 2)),
        "unpriced": list(bill.unpriced),
        "published_rates": list(bill.proxies),
        "local_rates": list(bill.local),
        "hires": list(bill.hires),
    }
