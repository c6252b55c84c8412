"""Plain readings of the courses: which one answers a plain wish."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import date, timedelta
from typing import Literal

from barkwright.record import dataclass
from barkwright.schedule.sitework import TreeWork
from barkwright.study.courses import LEAVE
from barkwright.study.efforts import CHANGES
from barkwright.study.sides import STOPS, Side, Sides
from barkwright.treatment.offers import HAND_TOOLS

Wish = Literal["drawknife", "fuel", "gone", "boards", "money", "hours"]
OPEN = ("fits", "fits with care")
AWAY = ("chips", "ash", "hauled", "buried")  # what becomes of logs that are gone
HAUL_WHERE = "name-destination"  # code of the need for a place that takes the wood
BY_HAND = HAND_TOOLS | {"chain-saw"}


@dataclass(frozen=True, slots=True)
class Reading:
    """A wish and the course that answers it best; None where none does."""

    wish: Wish
    side: Side | None


def readings(sides: Sides, on: date) -> tuple[Reading, ...]:
    """The wishes that a client may have, each with its best course, in the order in which they are asked."""
    able = [one for one in sides.sides if one.course.id != LEAVE and one.fit != "ruled out" and one.in_time(on)]
    there = [one for one in able if one.fit in OPEN]
    wider = [one for one in able if one.fit in (*OPEN, "with means")]
    logs = any(wood.piece.kind == "log" for wood in sides.woods)
    return tuple(_readings(there, wider, on, logs))


def _readings(there: Sequence[Side], wider: Sequence[Side], on: date, logs: bool) -> Iterator[Reading]:
    yield Reading(
        "drawknife", next((one for one in wider if one.course.id == "strip-drawknife" and _by_hand(one)), None)
    )
    if logs:
        yield Reading("fuel", _most_fuel([one for one in wider if "fuel" in one.course.wants]))
        yield Reading("boards", _best([one for one in wider if "boards" in one.course.wants], _hours))
        yield Reading("gone", _best([one for one in wider if _gone(one, on)], _money))
    priced = [one for one in there if one.bill is not None and not one.bill.unpriced]
    if any(one.bill is not None and one.bill.paid.likely for one in priced):
        yield Reading("money", _best(priced, _money))
    yield Reading("hours", _best(there, _hours))


def _by_hand(side: Side) -> bool:
    """Is all of it done with tools that one carries?"""
    return all(kind in BY_HAND for one in (*side.taken, *side.beside) for step in one.steps for kind in step.equipment)


def _gone(side: Side, on: date) -> bool:
    """Can all but the stump be over within a month from now, felling too, with no log left and none without a place?"""
    soon = on + timedelta(days=int(CHANGES["month_days"]))
    wood = [one for one in (*side.taken, *side.beside) if one.wood.piece.kind != "stump"]
    open_soon = all(one.window.first <= soon for one in wood)
    logs = all(one.way.then in AWAY for one in wood if one.wood.piece.kind == "log")
    placed = not any(HAUL_WHERE in one.window.needs for one in wood)
    down = all(_down_by(one.wood.tree, soon) for one in wood)
    in_time = side.start_slow is not None and side.start_slow >= on
    return "gone" in side.course.wants and open_soon and logs and placed and down and in_time and not side.left


def _down_by(tree: TreeWork, day: date) -> bool:
    """May a tree be down by a day, as far as anybody knows?"""
    felling = tree.felling
    if tree.tree.status != "standing" or felling.by == "crew":
        return felling.earliest is None or felling.earliest <= day
    return tree.tree.removal is not None and (felling.earliest is None or felling.earliest <= day)


def _best(sides: Sequence[Side], by: Callable[[Side], tuple[float, float]]) -> Side | None:
    """What stops most, with the tools at hand before others; then by the measure."""
    rank = {one: place for place, one in enumerate(STOPS)}
    return min(sides, key=lambda one: (rank[one.stops], one.fit == "with means", by(one), one.course.id), default=None)


def _hours(side: Side) -> tuple[float, float]:
    return side.hours.mean, float(_money(side)[0])


def _money(side: Side) -> tuple[float, float]:
    return 0.0 if side.bill is None else float(side.bill.paid.likely), side.hours.mean


def _most_fuel(sides: Sequence[Side]) -> Side | None:
    """Of what stops most the course with the most firewood, to a tenth of a cord; tools at hand only break ties."""
    rank = {one: place for place, one in enumerate(STOPS)}
    return min(
        sides,
        key=lambda one: (rank[one.stops], -round(one.yields.cords, 1), one.fit == "with means", one.hours.mean),
        default=None,
    )
