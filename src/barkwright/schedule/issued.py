"""An order that was given out, as a file beside the inventory: what planning again holds on to."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import asdict
from datetime import date
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, FailFast

from barkwright.diagnostics import Diagnostic, Place
from barkwright.schedule.earlier import Earlier, EarlierJob
from barkwright.treatment.ways import Work

FORMAT = 1
MOST_LETTERS = 32_000_000  # longest file that is read: an order for more than 10,000 trees; ours
AGAIN = "give an order out again: barkwright order SITE --issue; or delete the file"


class _Strict(BaseModel):
    model_config = ConfigDict(strict=True, extra="forbid", allow_inf_nan=False)


class _Job(_Strict):
    tree: str
    pieces: tuple[str, ...]
    work: Work
    way: str | None
    first: date
    last: date
    crew: str | None
    hours: float


class _Issued(_Strict):
    format: int
    on: date
    jobs: Annotated[tuple[_Job, ...], FailFast()]
    ways: dict[str, str]
    facts: dict[str, str]


def issued_text(order: Earlier) -> str:
    """The file of an order that is given out."""
    record: dict[str, Any] = {
        "format": FORMAT,
        "on": order.on,
        "jobs": [asdict(job) for job in order.jobs],
        "ways": dict(order.ways),
        "facts": dict(order.facts),
    }
    return json.dumps(record, indent=1, ensure_ascii=False, default=str) + "\n"


def read_issued(text: str, file: str) -> tuple[Earlier | None, tuple[Diagnostic, ...]]:
    """The order in the file, or None and what is wrong with the file."""
    if len(text) > MOST_LETTERS:
        return None, (_fault(file, f"it is longer than {MOST_LETTERS // 1_000_000} MB"),)
    try:
        found = _Issued.model_validate_json(text) if _like_an_order(json.loads(text)) else None
    except (ValueError, RecursionError):  # not JSON, or not with these values
        found = None
    if found is None:
        return None, (_fault(file, "this is no order that was given out, or it is damaged"),)
    if found.format != FORMAT:
        return None, (_fault(file, f"its format is {found.format}; this program reads {FORMAT}"),)
    jobs = tuple(EarlierJob(**_plain(job)) for job in found.jobs)
    return Earlier(found.on, jobs, found.ways, found.facts), ()


def _like_an_order(record: Any) -> bool:
    """Has it the parts of an order? Asked first, so that a million wrong values are not told one by one."""
    if not isinstance(record, dict) or record.keys() != _Issued.model_fields.keys():
        return False
    jobs, texts = record["jobs"], (record["ways"], record["facts"])
    if not isinstance(jobs, list) or not all(isinstance(one, dict) and _words(one.values()) for one in texts):
        return False
    return all(
        isinstance(job, dict)
        and job.keys() == _Job.model_fields.keys()
        and isinstance(job["pieces"], list)
        and _words(job["pieces"])
        for job in jobs
    )


def _words(values: Iterable[Any]) -> bool:
    return all(isinstance(value, str) for value in values)


def _plain(job: _Job) -> Mapping[str, Any]:
    return {name: getattr(job, name) for name in type(job).model_fields}


def _fault(file: str, message: str) -> Diagnostic:
    return Diagnostic("error", "unreadable", message, Place(file, 1, 1), hint=AGAIN)
