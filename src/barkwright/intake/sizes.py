"""The unit of every column of sizes: as it stands there, as the user says, or as the sizes themselves tell."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import replace

from barkwright.intake.assign import Column as Column
from barkwright.intake.assign import Doubt as Doubt
from barkwright.intake.cells import Unread, commas_of, is_missing, size
from barkwright.intake.columns import LENGTHS, UNUSED, dictionary
from barkwright.intake.grid import sheet_limits
from barkwright.intake.layout import Layout
from barkwright.intake.unitguess import Units, told_units

_ALONG_OF = {"in": "ft", "cm": "m", "mm": "m"}


def with_units(
    layout: Layout, columns: Sequence[Column], stated: str | None, strange: bool, public: bool
) -> tuple[tuple[Column, ...], tuple[Doubt, ...]]:
    """The columns, each column of sizes with its unit, and a grave doubt for each that is not certain.

    stated : the units of --units; strange : are the columns named in a language of people who measure in cm and m?
    """
    if public:
        columns = [_public(one) for one in columns]
    if not any(_kind(one) in LENGTHS and one.unit is None for one in columns):
        return tuple(columns), ()
    trees = _told(layout, columns, stated, strange, logs=False)
    logs = _told(layout, columns, stated, strange, logs=True)
    out, doubts = [], []
    for one in columns:
        if _kind(one) not in LENGTHS or one.unit is not None:
            out.append(one)
            continue
        unit, why, doubt = _unit_of(layout, one, columns, logs if one.meaning in ("butt", "top", "length") else trees)
        out.append(replace(one, unit=unit, why=f"{one.why}; {why}"))
        doubts += [doubt] if doubt else []
    return tuple(out), tuple(doubts)


def numbers_of(layout: Layout, column: Column) -> list[float | None]:
    """The sizes in a column that have no unit beside them, None where there is none."""
    cells = [cells[column.index] for _, cells in layout.records[: sheet_limits().sample_rows]]
    comma = commas_of(cell for cell in cells if "," in cell)
    return [_number(cell, comma) for cell in cells]


def _number(cell: str, comma: str) -> float | None:
    if is_missing(cell):
        return None
    try:
        number, unit = size(cell, "decimal" if comma == "decimal" else "unclear")
    except Unread:
        return None
    return float(number) if unit is None and float(number) > 0 else None


def _told(layout: Layout, columns: Sequence[Column], stated: str | None, strange: bool, logs: bool) -> Units | None:
    """What the sizes of trees, or of logs, tell about their units."""
    wide_of, high_of = (("butt", "top"), ("length",)) if logs else (("dbh", "girth", "stump_diameter"), ("height",))
    wide = next((one for name in wide_of for one in columns if one.meaning == name), None)
    high = next((one for name in high_of for one in columns if one.meaning == name), None)
    if wide is None:
        return None
    per = math.pi if wide.meaning == "girth" else 1.0
    across = [None if number is None else number / per for number in numbers_of(layout, wide)]
    along = numbers_of(layout, high) if high else [None] * len(across)
    limits = sheet_limits()
    imperial = limits.stated if stated == "imperial" else 1.0
    metric = limits.stated if stated == "metric" else limits.language if strange and stated is None else 1.0
    return told_units(
        [one for one in across if one],
        [one for one in along if one],
        [(one, two) for one, two in zip(across, along, strict=True) if one and two],
        (wide.unit if wide.unit in _ALONG_OF else None, high.unit if high and high.unit in ("ft", "m") else None),
        (imperial, metric),
        logs,
    )


def _unit_of(
    layout: Layout, column: Column, columns: Sequence[Column], told: Units | None
) -> tuple[str, str, Doubt | None]:
    """The unit of a column without one, why, and the doubt about it."""
    if not any(numbers_of(layout, column)):
        return (
            ("cm" if told and told.across != "in" else "in") if _kind(column) in ("across", "girth") else "ft",
            "its cells",
            None,
        )
    beside = next((one for one in columns if one.unit and one is not column and _kind(one) == _kind(column)), None)
    if beside is not None and beside.unit and _kind(column) != "along":
        return beside.unit, f"'{beside.name}'", None
    across = _kind(column) in ("across", "girth")
    if told is None:
        return _asked(column, "in" if across else "ft")
    unit = told.across if across else told.along
    share = told.across_share if across else told.along_share
    if not across and column.meaning not in ("height", "length"):
        high = next((one for one in columns if one.meaning == "height"), None)
        if high is None:
            unit, share = _ALONG_OF[told.across], told.across_share
        elif high.unit in ("ft", "m"):
            return high.unit, f"'{high.name}'", None
    if told.odd or share < sheet_limits().certain:
        return _asked(column, unit)
    return unit, "its sizes", None


def _asked(column: Column, unit: str) -> tuple[str, str, Doubt]:
    other = {"in": "cm", "cm": "in", "mm": "cm", "ft": "m", "m": "ft"}[unit]
    text = f"'{column.name}': {unit} or {other} cannot be told from its name or its sizes; {unit} until you say"
    return unit, "a guess", Doubt(text, f"{column.name}={column.meaning}:{unit}", True)


def _kind(column: Column) -> str:
    return "" if column.meaning == UNUSED else dictionary().meanings[column.meaning].kind


def _public(column: Column) -> Column:
    if column.unit is None and _kind(column) in LENGTHS and re.match(r"(?i)dia|ht|actualht", column.name):
        return replace(column, unit="in" if _kind(column) == "across" else "ft", why="public inventory")
    return column
