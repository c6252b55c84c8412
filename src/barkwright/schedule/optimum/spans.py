"""Spans of days and periods: what must lie in them, and how much of hands and machines they hold."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from barkwright.record import dataclass
from barkwright.schedule.model import TreeModel
from barkwright.schedule.optimum.columns import Chunk, Hands, SeasonColumns, Variant
from barkwright.schedule.settings import SETTINGS


@dataclass(slots=True)
class TreeColumns:
    """One tree of the model, standing for `count` like trees."""

    tree: TreeModel
    count: int
    seasons: tuple[SeasonColumns, ...]
    must: bool = False  # is it taken in one of its seasons?
    members: tuple[TreeModel, ...] = ()  # the like trees


@dataclass(slots=True)
class Span:
    """Hours that must lie in a run of periods: a column."""

    first: int
    last: int
    column: int
    entry: float
    most: float  # what could be asked of it [h]
    hands: Hands

    def shared(self) -> Span:
        """The same by hours of a team that works together."""
        return Span(self.first, self.last, self.column, 1.0 / self.hands[1], self.most, self.hands)


@dataclass(slots=True)
class Taken:
    """Columns of one tree in one season: the tree itself, and the variants of each piece."""

    columns: TreeColumns
    season: SeasonColumns
    tree: int
    pieces: list[list[tuple[int, Variant]]]


@dataclass(slots=True)
class DayOfUse:
    """Days of use of a hired machine in a period: a column, and what the best day gives."""

    place: int
    column: int
    days: int  # that there are
    machine: float  # hours of the machine [h]
    teams: tuple[float, ...]  # of all teams of one, two, ... hands [h]


@dataclass(slots=True)
class Brief:
    """Rents for part of a day."""

    row: int  # that holds all hours of the machine
    delivery: float  # of each such day [currency]
    rents: tuple[tuple[float, float], ...]  # hours that one holds [h], and its price [currency]
    longest: int  # rents of one day, at most


@dataclass(slots=True)
class Hire:
    """What hiring a machine costs."""

    prices: list[float]  # least of 0, 1, ... days of use; the last stands for that many or more [currency]
    days: int  # that there are
    a_day: float  # no day of use costs less, however many [currency]
    best: float  # hours of the best day [h]
    brief: Brief | None


@dataclass(slots=True)
class Limit:
    """A row that holds hours between two days at what is there: what its price bears on."""

    row: int
    place: int  # of the crew, or of the machine where `size` is 0; -1: all crews beside hired machines
    first: int  # day
    end: int  # first day after
    size: int  # it holds jobs of so many hands at once or more
    beside: tuple[int, ...] = ()  # the hired machines beside which the hours are worked
    hours: float = 0.0  # what is there without hire
    hire: tuple[tuple[int, int, float], ...] = ()  # machine, period, and hours that a day of use in it gives


def stands_beside(hands: Hands, machines: Sequence[int]) -> bool:
    """Are these hands beside one of some machines, whichever they use?"""
    return any(set(places) <= set(machines) for places in hands[2])


def crowded(spans: Sequence[Span]) -> Iterator[tuple[int, int, list[Span]]]:
    """Runs of periods in which some spans lie whole, each with those; none that a shorter run would hold as well."""
    for first in sorted({one.first for one in spans}):
        later = [one for one in spans if one.first >= first]
        for last in sorted({one.last for one in later}):
            inside = [one for one in later if one.last <= last]
            if any(one.first == first for one in inside):
                yield first, last, inside


def periods(chunks: Iterable[tuple[Chunk, int]], length: int) -> list[int]:
    """First days of the periods, and the end of the last: where the most hours begin or end, as many as are allowed."""
    weight: dict[int, float] = {}
    for chunk, count in chunks:
        for day in (chunk.first, chunk.last + 1):
            weight[day] = weight.get(day, 0.0) + chunk.hours * count
    inner = sorted((day for day in weight if 0 < day < length), key=lambda day: (-round(weight[day], 6), day))
    return [0, *sorted(inner[: int(SETTINGS["periods"])]), length]
