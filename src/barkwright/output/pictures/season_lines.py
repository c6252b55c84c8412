"""The season in characters: a row for each kind of days."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta
from typing import TYPE_CHECKING

from barkwright.output.pictures.legend import legend_lines
from barkwright.output.pictures.letters import COLUMNS, broken, columns, fitted
from barkwright.output.pictures.season_parts import month_name
from barkwright.output.words import day

if TYPE_CHECKING:
    from barkwright.output.pictures.season_parts import Flying, Shown

_NAMES = 17  # columns for what a row shows
_ROOM = COLUMNS - _NAMES
_SIGNS = {"plain": "·", "solid": "█", "lines": "▒", "dots": "░"}
_HEIGHTS = ((0.66, "█"), (0.25, "▄"), (-1.0, "▁"))


def season_lines(shown: Shown) -> tuple[str, ...]:
    """Months, a row for each lane and each flight, uprights through all of them, and what these mean."""
    rows = [_months(shown)]
    for lane in shown.lanes:
        cells = _uprights(shown)
        for first, last in lane.spans:
            for column in range(_column(shown, first), _column(shown, last) + 1):
                cells[column] = _SIGNS[lane.fill]
        rows.append(_named(lane.short, cells))
    rows += [_named(f"flight {flight.year}", _hill(shown, flight)) for flight in shown.flights]
    marks = [("┃" if mark.heavy else "┆", f"{mark.text} {day(mark.on)}") for mark in shown.marks]
    if any(lane.fill == "lines" for lane in shown.lanes):
        marks.append((_SIGNS["lines"], "hired"))
    return (*rows, *legend_lines(marks), *broken(shown.lead, COLUMNS))


def _column(shown: Shown, on: date) -> int:
    return min((on - shown.first).days * _ROOM // shown.length, _ROOM - 1)


def _named(name: str, cells: Iterable[str]) -> str:
    shown = fitted(name, _NAMES - 1)
    return (shown + " " * (_NAMES - columns(shown)) + "".join(cells)).rstrip()


def _uprights(shown: Shown) -> list[str]:
    cells = [" "] * _ROOM
    for mark in sorted(shown.marks, key=lambda mark: mark.heavy):
        cells[_column(shown, mark.on)] = "┃" if mark.heavy else "┆"
    return cells


def _months(shown: Shown) -> str:
    """Months where there is room, each at its first day; the year stands for January."""
    cells = [" "] * _ROOM
    for first, last in shown.named_months(_ROOM, lambda name: float(len(name))):
        name = str(first.year) if first.month == 1 and first > shown.first else month_name(first)
        column = _column(shown, first)
        if column + len(name) <= _ROOM and (first.day == 1 or _column(shown, last) - column >= len(name)):
            cells[column : column + len(name)] = name
    return _named(str(shown.first.year), cells)


def _hill(shown: Shown, flight: Flying) -> list[str]:
    cells = _uprights(shown)
    for column in range(_column(shown, max(flight.onset, shown.first)), _column(shown, flight.end) + 1):
        middle = shown.first + timedelta(days=int((column + 0.5) * shown.length / _ROOM))
        height = flight.height(middle)
        cells[column] = next(sign for least, sign in _HEIGHTS if height > least)
    return cells
