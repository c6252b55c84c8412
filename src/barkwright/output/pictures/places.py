"""Where labels stand that belong to places along a line: each as near as it can, none over another."""

from __future__ import annotations

from collections.abc import Sequence

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
    """Places for labels, each given as (place along the line, width), in the order of the places.

    No label leaves `room` if it is not itself wider; labels of one row stay `gap` apart. A label of a lower row is
    joined to its place by an upright line, which crosses no other label where that can be had.
    """
    done: list[Placed] = []
    for at, width in wanted:
        choices = [
            Placed(left, row, at, width)
            for row in range(len(done) + 1)
            for left in dict.fromkeys(
                min(max(start, 0.0), max(room - width, 0.0)) for start in (at - width / 2, at - gap, at + gap - width)
            )
        ]
        free = [one for one in choices if not any(_over(one, other, gap) for other in done)]
        clear = [one for one in free if not any(_crossed(one, other) for other in done)]
        done.append((clear or free)[0])
    return tuple(done)


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
