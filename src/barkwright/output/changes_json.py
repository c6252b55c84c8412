"""The records of what an order changes of one that was given out before."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING, cast

from barkwright.output.json_basics import near
from barkwright.output.json_changes import ChangedJobRecord, ChangeRecord, SinceRecord

if TYPE_CHECKING:
    from barkwright.schedule.earlier import EarlierJob
    from barkwright.schedule.jobs import Job
    from barkwright.study.changed import Changed


def since_record(since: date, changed: Sequence[Changed]) -> SinceRecord:
    """The changes since an order as plain data."""
    return {"on": since.isoformat(), "changes": [_change(one) for one in changed]}


def _change(one: Changed) -> ChangeRecord:
    return {
        "kind": one.kind,
        "tree": one.tree,
        "pieces": list(one.pieces),
        "work": one.work,
        "was_way": one.was_way,
        "way": one.way,
        "was": _job(one.was),
        "now": _job(one.now),
        "cause": one.why.cause,
        "why": one.why.text,
    }


def _job(job: EarlierJob | Job | None) -> ChangedJobRecord | None:
    if job is None:
        return None
    days = {"from": job.first.isoformat(), "to": job.last.isoformat()}
    return cast(ChangedJobRecord, {**days, "crew": job.crew, "hours": near(job.hours)})
