"""The parts of an inventory that are sound, each by itself, so that checks across records run on them all."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date
from functools import cache
from typing import Any

from pydantic import TypeAdapter, ValidationError

from barkwright.inventory.model import (
    Calendar,
    Call,
    Crew,
    Cutting,
    Equipment,
    Inventory,
    Limits,
    Quote,
    Site,
    Tree,
    Wishes,
)
from barkwright.inventory.report import Report
from barkwright.inventory.sentences import report_model_errors
from barkwright.record import dataclass
from barkwright.yamldoc import Loc


@dataclass(frozen=True, slots=True)
class Parts:
    """What could be read, and the plan's date. A part that is faulty or absent is None or left out of its list."""

    on: date
    whole: Inventory | None  # None: something in it is faulty
    site: Site | None
    cutting: Cutting | None
    calendar: Calendar | None
    limits: Limits | None
    wishes: Wishes | None
    quote: Quote | None
    trees: tuple[tuple[Loc, Tree], ...]
    crew: tuple[tuple[Loc, Crew], ...]
    equipment: tuple[tuple[Loc, Equipment], ...]
    calls: tuple[tuple[Loc, Call], ...]


def sound_parts(data: Any, report: Report, on: date) -> Parts:
    """Validate the shaped data; report what is wrong; keep the parts that are right."""
    whole: Inventory | None = None
    if isinstance(data, dict):
        try:
            whole = _adapter(Inventory).validate_json(json.dumps(data))
        except ValidationError as error:
            wrong = error.errors(include_url=False, include_context=False, include_input=False)
            report_model_errors(wrong, report)
    else:
        data = {}
    faulty = {at[:2] for at in report.faulty} | {at[:1] for at in report.faulty if at}
    return Parts(
        on,
        whole,
        _part(whole, data, "site", Site),
        _part(whole, data, "cutting", Cutting),
        _part(whole, data, "calendar", Calendar),
        _part(whole, data, "limits", Limits),
        _part(whole, data, "wishes", Wishes),
        _part(whole, data, "quote", Quote),
        tuple(_each(whole, data, "trees", Tree, faulty)),
        tuple(_each(whole, data, "crew", Crew, faulty)),
        tuple(_each(whole, data, "equipment", Equipment, faulty)),
        tuple(_each(whole, data, "calls", Call, faulty)),
    )


def _part(whole: Inventory | None, data: Any, key: str, model: Any) -> Any:
    if whole is not None:
        return getattr(whole, key)
    return _valid(data.get(key, None if key == "site" else {}), model)


def _each(whole: Inventory | None, data: Any, key: str, model: Any, faulty: set[Loc]) -> Iterator[tuple[Loc, Any]]:
    if whole is not None:
        yield from (((key, n), part) for n, part in enumerate(getattr(whole, key)) if (key, n) not in faulty)
        return
    items = data.get(key)
    for number, item in enumerate(items if isinstance(items, list) else ()):
        part = None if (key, number) in faulty else _valid(item, model)
        if part is not None:
            yield (key, number), part


def _valid(data: Any, model: Any) -> Any:
    try:
        return _adapter(model).validate_json(json.dumps(data))
    except ValidationError:
        return None


@cache
def _adapter(model: Any) -> TypeAdapter[Any]:
    return TypeAdapter(model)
