"""Plain readings of the courses: which one answers a plain wish."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import date, timedelta
from decimal import Decimal
from typing import Literal

from barkwright.record import dataclass
from barkwright.study.courses import LEAVE
from barkwright.study.efforts import CHANGES
from barkwright.study.sides import STOPS, Side, Sides

Wish = Literal["drawknife", "fuel", "gone", "boards", "money", "hours"]
OPEN = ("fits", "fits with care")


@dataclass(frozen=True, slots=True)
class Reading:
    """A wish and the course that answers it best; None where none does."""

    wish: Wish
    side: Side | None


def readings(sides: Sides, on: date) -> tuple[Reading, ...]:
    """The wishes that a client may have, each with its best course, in the order in which they are asked."""
    there = [one for one in sides.sides if one.fit in OPEN and one.course.id != LEAVE]
    wider = [one for one in sides.sides if one.fit in (*OPEN, "with means") and one.course.id != LEAVE]
    logs = any(wood.piece.kind == "log" for wood in sides.woods)
    return tuple(_readings(there, wider, on, logs))


def _readings(there: Sequence[Side], wider: Sequence[Side], on: date, logs: bool) -> Iterator[Reading]:
    yield Reading("drawknife", next((one for one in wider if one.course.id == "strip-drawknife"), None))
    if logs:
        yield Reading("fuel", _best([one for one in wider if "fuel" in one.course.wants], _hours))
        yield Reading("boards", _best([one for one in wider if "boards" in one.course.wants], _hours))
    yield Reading("gone", _best([one for one in wider if _gone(one, on)], _money))
    priced = [one for one in there if one.bill is not None and not one.bill.unpriced]
    if any(one.bill is not None and one.bill.paid.likely for one in priced):
        yield Reading("money", _best(priced, _money))
    yield Reading("hours", _best(there, _hours))


def _gone(side: Side, on: date) -> bool:
    """Can it be over within a month from now, with no wood left as logs?"""
    soon = on + timedelta(days=int(CHANGES["month_days"]))
    first = side.all_open is not None and side.all_open <= soon
    return "gone" in side.course.wants and first and side.start_slow is not None and side.start_slow >= on


def _best(sides: Sequence[Side], by: Callable[[Side], Decimal | float]) -> Side | None:
    """What stops most, with the tools at hand before others; then by the measure."""
    rank = {one: place for place, one in enumerate(STOPS)}
    return min(
        sides, key=lambda one: (rank[one.stops], one.fit == "with means", float(by(one)), one.course.id), default=None
    )


def _hours(side: Side) -> float:
    return side.hours.mean


def _money(side: Side) -> Decimal:
    return Decimal(0) if side.bill is None else side.bill.paid.likely
