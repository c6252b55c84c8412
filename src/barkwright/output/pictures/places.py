"""Where labels stand that belong to places along a line: each as near as it can, none over another."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

from barkwright.record import dataclass


@dataclass(frozen=True, slots=True)
class Placed:
    """A label: its left end, its row from the line on, and the place that it is about; the text's width."""

    left: float
    row: int
    at: float
    width: float

    @property
    def right(self) -> float:
        """Its right end."""
        return self.left + self.width


def placed(wanted: Sequence[tuple[float, float]], room: float, gap: float) -> tuple[Placed, ...]:
    """Places for labels, each given as (place along the line, width), from the left to the right.

    No label leaves `room` if it is not itself wider; labels of one row stay `gap` apart. A label of a lower row is
    joined to its place by an upright line, which crosses no other label where that can be had.
    """
    left = [place for place, (at, _) in enumerate(wanted) if at < room / 2]
    right = range(len(left), len(wanted))
    whole = [*left, *right]
    ways = [
        _laid(wanted, room, gap, [(place, starts) for place in order])
        for order in (whole, whole[::-1])
        for starts in (_CENTRED, _EDGED)
    ]
    outward = [*((place, _EDGED) for place in left[::-1]), *((place, _EDGED[::-1]) for place in right)]
    ways.append(_laid(wanted, room, gap, outward))
    return min(ways, key=lambda laid: (_crossings(laid), max((one.row for one in laid), default=0)))


_Starts = tuple[tuple[float, float], ...]
_CENTRED: _Starts = ((0.5, 0.0), (0.0, 1.0), (1.0, -1.0))  # share of the width, and of the edge, left of the place
_EDGED: _Starts = ((0.0, 1.0), (0.5, 0.0), (1.0, -1.0))
_EDGE = 2.0  # that a label reaches over its upright line


def _laid(
    wanted: Sequence[tuple[float, float]],
    room: float,
    gap: float,
    order: Sequence[tuple[int, _Starts]],
) -> tuple[Placed, ...]:
    """Labels laid one after the other, each in the first row, and there at the first start, that is free."""
    done: dict[int, Placed] = {}
    for place, starts in order:
        at, width = wanted[place]
        choices = [
            Placed(min(max(at - share * width - edge * _EDGE, 0.0), max(room - width, 0.0)), row, at, width)
            for row in range(len(done) + 1)
            for share, edge in starts
        ]
        free = [one for one in choices if not any(_over(one, other, gap) for other in done.values())]
        clear = [one for one in free if not any(_crossed(one, other) for other in done.values())]
        done[place] = (clear or free)[0]
    return tuple(done[place] for place in range(len(wanted)))


def _crossings(laid: Sequence[Placed]) -> int:
    return sum(_crossed(one, other) for one, other in combinations(laid, 2))


def spaced(places: Sequence[tuple[float, float]], gap: float) -> tuple[int, ...]:
    """Which of the labels, each given as (middle, width), stand clear of each other in one row; the ends go first."""
    kept: list[int] = []
    order = [*dict.fromkeys([0, len(places) - 1]), *range(1, len(places) - 1)] if places else []
    for one in order:
        middle, width = places[one]
        if all(abs(middle - places[other][0]) >= (width + places[other][1]) / 2 + gap for other in kept):
            kept.append(one)
    return tuple(sorted(kept))


def _over(one: Placed, other: Placed, gap: float) -> bool:
    return one.row == other.row and one.left < other.right + gap and other.left < one.right + gap


def _crossed(one: Placed, other: Placed) -> bool:
    """Does the upright line of either run through the other's words?"""
    low, high = (one, other) if one.row > other.row else (other, one)
    return low.row != high.row and high.left <= low.at <= high.right
