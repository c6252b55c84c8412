"""The follow-up after a flight as plain data."""

from __future__ import annotations

from typing import TYPE_CHECKING

from barkwright.brood.look import look_book
from barkwright.brood.numbers import FOLLOW
from barkwright.output.follow_facts import gather
from barkwright.output.follow_signs import crown_months
from barkwright.output.follow_trees import distances_ft
from barkwright.output.follow_words import Saying, follow_book
from barkwright.output.json_basics import cited, iso, near, site_record
from barkwright.output.json_follow import DistanceRecord, FollowResult, LookRecord, SayingRecord
from barkwright.output.stand_json import stand_record

if TYPE_CHECKING:
    from barkwright.brood.looks import Look
    from barkwright.plan import FlightPlan


def follow_result(plan: FlightPlan) -> FollowResult:
    """Everything that the follow-up tells."""
    found, book = gather(plan), follow_book()
    site, nearest = plan.tally.inventory.site, plan.tally.inventory.site.nearest_live_spruce_ft
    months = crown_months(found)
    return {
        "site": site_record(site),
        "flight": found.follow.year,
        "last_flight_over": found.follow.ended,
        "flight_under_way": found.follow.under_way,
        "of_use_from": iso(found.follow.of_use_from),
        "looks": [_look(look) for look in found.follow.looks],
        "trees": [
            {
                "id": one.tree,
                "why": one.why,
                "species": one.species,
                "dbh_in": None if one.dbh_in is None else near(one.dbh_in),
                "to_be_felled": one.to_go,
            }
            for one in found.watched
        ],
        "nearest_live_spruce_ft": None if isinstance(nearest, str) else near(nearest),
        "no_live_spruce": nearest == "none",
        "distances": [_distance(one) for one in book.around],
        "first": [_said(one, {"large": f"{FOLLOW['large_in']:g} in"}) for one in book.which],
        "signs": [_said(one, months) for one in book.signs],
        "how": _said(book.how, {"where": look_book().where.standing}),
        "infested_trees": list(found.infested),
        "other_insect_trees": list(found.other_insect),
        "stumps": list(found.stumps),
        "due": [{"date": by.isoformat(), "pieces": list(pieces)} for by, pieces in found.due.items()],
        "treated": [
            {
                "piece": one.piece,
                "method": one.method,
                "date": one.done_on.isoformat(),
                "partial": one.partial,
                "left": one.left,
            }
            for one in found.treated
        ],
        "protection": [_said(one) for one in book.protect],
        "cautions": [_said(one) for one in book.care],
        "stand": stand_record(site.stand),
    }


def _look(look: Look) -> LookRecord:
    saying = follow_book().looks[look.kind]
    return {
        "kind": look.kind,
        "flight": look.flight,
        "from": look.first.isoformat(),
        "to": look.last.isoformat(),
        "why": saying.text.format(year=look.flight, next=look.flight + 1),
        "grade": saying.grade,
        "sources": cited(saying.citations),
    }


def _distance(saying: Saying) -> DistanceRecord:
    return {
        "id": saying.id,
        "out_to_ft": near(distances_ft()[saying.to], 1),
        "text": saying.text,
        "grade": saying.grade,
        "sources": cited(saying.citations),
    }


def _said(saying: Saying, put_in: dict[str, str] | None = None) -> SayingRecord:
    return {
        "id": saying.id,
        "text": saying.text.format(**(put_in or {})),
        "grade": saying.grade,
        "basis": saying.basis,
        "sources": cited(saying.citations),
    }
