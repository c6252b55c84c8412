"""An order that was given out, as a file beside the inventory: what planning again holds on to."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict
from datetime import date
from typing import Any

from pydantic import BaseModel, ConfigDict, ValidationError

from barkwright.diagnostics import Diagnostic, Place
from barkwright.schedule.earlier import Earlier, EarlierJob
from barkwright.treatment.ways import Work

FORMAT = 1
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
    jobs: tuple[_Job, ...]
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
    try:
        found = _Issued.model_validate_json(text)
    except (ValidationError, RecursionError):
        return None, (_fault(file, "this is no order that was given out, or it is damaged"),)
    if found.format != FORMAT:
        return None, (_fault(file, f"its format is {found.format}; this program reads {FORMAT}"),)
    jobs = tuple(EarlierJob(**_plain(job)) for job in found.jobs)
    return Earlier(found.on, jobs, found.ways, found.facts), ()


def _plain(job: _Job) -> Mapping[str, Any]:
    return {name: getattr(job, name) for name in type(job).model_fields}


def _fault(file: str, message: str) -> Diagnostic:
    return Diagnostic("error", "unreadable", message, Place(file, 1, 1), hint=AGAIN)
