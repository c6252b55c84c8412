"""Tables for a spreadsheet: pieces, jobs and costs as CSV, one table to a file.

A line ends in a line feed alone: spreadsheets read that as well as the pair of signs that RFC 4180 names, and other
programs are not left with a stray sign at the end of each line.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from typing import TYPE_CHECKING, Any, get_type_hints

from barkwright.output.json_records import job_record, piece_record
from barkwright.output.json_results import CostLineRecord, JobRecord
from barkwright.output.json_types import DecidedPieceRecord, PieceRecord
from barkwright.output.measures import Units
from barkwright.output.names import printable
from barkwright.output.order_json import cost_line_record, decided_record
from barkwright.output.view import View
from barkwright.units import half_up

if TYPE_CHECKING:
    from barkwright.plan import Plan, Tally

TABLES = ("pieces", "jobs", "costs")
BOM = "\ufeff"  # opens a file: without it some spreadsheets take its letters for those of an older code
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "＝", "＋", "－", "＠")
_MISREAD = re.compile(r"\d+\s*[-/]\s*\d+(\s*[-/]\s*\d+)?|0\d+|\d+[eE][-+]?\d+")  # ids that become dates and numbers
_DATE = re.compile(r"\d{4}-\d\d-\d\d")
_NESTED = ("ways", "reasons")  # of a piece: what JSON alone can hold

Cell = str | int | float | Decimal | bool | None


def csv_text(head: Sequence[str], rows: Iterable[Mapping[str, Cell]]) -> str:
    """Rows under one head. Text that a spreadsheet would run as a formula or misread opens with an apostrophe.

    Numbers go in as numbers and money as Decimal, so that a minus sign is not taken for the beginning of a formula.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(head)
    writer.writerows([_cell(row[name]) for name in head] for row in rows)
    return out.getvalue()


def order_csv(plan: Plan, table: str) -> str:
    """One of TABLES of a work order."""
    return {"pieces": _pieces, "jobs": _jobs, "costs": _costs}[table](plan)


def tally_csv(tally: Tally) -> str:
    """The pieces of a tally."""
    return csv_text(_head(PieceRecord), (_row(piece_record(piece)) for stem in tally.stems for piece in stem.pieces))


def _pieces(plan: Plan) -> str:
    view = View(plan, Units(), "")
    return csv_text(_head(DecidedPieceRecord), (_row(decided_record(view, piece)) for piece in view.pieces.values()))


def _jobs(plan: Plan) -> str:
    return csv_text(_head(JobRecord), (_row(job_record(job)) for job in plan.schedule.jobs))


def _costs(plan: Plan) -> str:
    currency = plan.inventory.currency
    rows: Iterable[dict[str, Cell]] = (
        {**_row(cost_line_record(line)), "amount": half_up(line.amount, 2), "currency": currency}
        for line in plan.schedule.costs
    )
    return csv_text((*_head(CostLineRecord), "currency"), rows)


def _head(record: type[Any]) -> tuple[str, ...]:
    """The columns of a record, its base's first."""
    return tuple(name for name in get_type_hints(record) if name not in _NESTED)


def _row(record: Mapping[str, Any]) -> dict[str, Cell]:
    """A record of the JSON output as one row: lists in one cell, what holds records of its own left out."""
    return {name: _flat(value) for name, value in record.items() if name not in _NESTED}


def _flat(value: Any) -> Cell:
    if not isinstance(value, list):
        cell: Cell = value
        return cell
    parts = (" ".join(map(str, one.values())) if isinstance(one, dict) else str(one) for one in value)
    return "; ".join(parts)


def _cell(value: Cell) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if not isinstance(value, str):
        return str(value)
    text = printable(value)
    risky = text.lstrip().startswith(_FORMULA) or (_MISREAD.fullmatch(text) and not _DATE.fullmatch(text))
    return f"'{text}" if risky else text
