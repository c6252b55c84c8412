"""Records of the path as plain data for the JSON output: units in key names, numbers rounded where noise begins."""

from __future__ import annotations

from typing import TYPE_CHECKING

from barkwright.output.json_basics import cited, iso, near, reason_record, spread_record
from barkwright.output.json_results import JobRecord
from barkwright.output.json_types import (
    BesideRecord,
    BroodRecord,
    FlightRecord,
    PieceRecord,
    QuestionRecord,
    TreeRecord,
)
from barkwright.season.flight import beside, finish_by

if TYPE_CHECKING:
    from barkwright.brood.finding import PieceBrood, Question
    from barkwright.inventory.model import Tree
    from barkwright.schedule.jobs import Job
    from barkwright.season.site import Season
    from barkwright.season.year import FlightYear
    from barkwright.stem.pieces import Piece, TreeStem


def flight_record(flight: FlightYear, season: Season) -> FlightRecord:
    """One flight, and the same by the other rule beside it.

    `finish_by` is the onset less the margin, the general date that single ways may move earlier.
    """
    return {
        "year": flight.year,
        "onset": flight.onset.isoformat(),
        "half": flight.half.isoformat(),
        "end": flight.end.isoformat(),
        "finish_by": finish_by(flight).isoformat(),
        "margin_days": flight.margin_days,
        "rule": flight.rule,
        "cautions": [{"what": caution.what, "days": caution.days} for caution in flight.cautions],
        "beside": _beside(beside(season, flight.year)),
        "basis": flight.basis,
        "local": flight.local,
        "sources": cited(flight.citations),
    }


def _beside(other: FlightYear | None) -> BesideRecord | None:
    if other is None:
        return None
    return {
        "rule": other.rule,
        "onset": other.onset.isoformat(),
        "half": other.half.isoformat(),
        "end": other.end.isoformat(),
        "finish_by": finish_by(other).isoformat(),
        "margin_days": other.margin_days,
    }


def question_record(question: Question) -> QuestionRecord:
    """A question as plain data."""
    return {
        "subject": question.subject,
        "code": question.code,
        "rank": question.rank,
        "text": question.text,
        "how": question.how,
        "then": question.then,
    }


def tree_record(tree: Tree, stem: TreeStem) -> TreeRecord:
    """A tree and its size."""
    return {
        "id": tree.id,
        "species": tree.species,
        "status": tree.status,
        "where": tree.where,
        "dbh_in": None if stem.dbh_in is None else near(stem.dbh_in),
        "height_ft": spread_record(stem.height_ft),
        "height_estimated": stem.height_estimated,
        "local": list(stem.local),
    }


def piece_record(piece: Piece) -> PieceRecord:
    """A piece and its size."""
    return {
        "id": piece.id,
        "tree": piece.tree,
        "kind": piece.kind,
        "from_ft": near(piece.from_ft),
        "length_ft": near(piece.length_ft),
        "butt_dob_in": near(piece.butt_dob_in),
        "top_dob_in": near(piece.top_dob_in),
        "butt_dib_in": near(piece.butt_dib_in),
        "top_dib_in": near(piece.top_dib_in),
        "wood_ft3": near(piece.wood_ft3),
        "bark_ft3": near(piece.bark_ft3),
        "bark_ft2": near(piece.bark_ft2),
        "green_lb": near(piece.green_lb, 1),
        "lift_lb": near(piece.lift_lb, 1),
        "cords": near(piece.cords),
        "chips_yd3": near(piece.chips_yd3),
        "measured": piece.measured,
    }


def brood_record(found: PieceBrood) -> BroodRecord:
    """What lives in a piece."""
    return {
        "brood": found.brood,
        "stage": found.stage,
        "host": found.host,
        "flight_to_beat": found.flight_to_beat,
        "adults_from": iso(found.adults_from),
        "confidence": found.confidence,
        "weight": near(found.weight),
        "reasons": [reason_record(reason) for reason in found.reasons],
    }


def job_record(job: Job) -> JobRecord:
    """A job as plain data."""
    return {
        "id": job.id,
        "tree": job.tree,
        "pieces": list(job.pieces),
        "work": job.work,
        "what": job.what,
        "way": job.way,
        "date": job.first.isoformat(),
        "end": job.last.isoformat(),
        "after": list(job.after),
        "hours": near(job.hours),
        "hours_low": near(job.hours_low),
        "hours_high": near(job.hours_high),
        "day_hours": [{"date": when.isoformat(), "hours": near(hours)} for when, hours in job.day_hours],
        "people": job.people,
        "crew": job.crew,
        "equipment": list(job.equipment),
        "provisional": job.provisional,
        "question": job.question,
        "finish_by": iso(job.finish_by),
        "status": job.status,
    }
