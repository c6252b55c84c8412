"""What differs between two plans of one site: ways and days, verdicts, sizes, flights, hours, money and bark left."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from typing import Literal

from barkwright.record import dataclass
from barkwright.schedule.jobs import Choice, Schedule
from barkwright.schedule.paying import to_pay
from barkwright.schedule.sitework import SiteWork
from barkwright.season.flight import finish_by, flight_year
from barkwright.sources import Reason
from barkwright.spread import Spread
from barkwright.treatment.rulebook import ENDS, VERDICTS
from barkwright.treatment.ways import End, Verdict, Way

Planned = tuple[SiteWork, Schedule]
Held = Literal["before", "after"]


@dataclass(frozen=True, slots=True)
class Taken:
    """What a plan does with one piece; nothing is None."""

    way: str | None  # id
    title: str | None
    done_on: date | None
    latest: date | None


@dataclass(frozen=True, slots=True)
class PieceDifference:
    """One piece that is treated otherwise, or on another day, and the rules behind it."""

    piece: str
    before: Taken
    after: Taken
    why: tuple[Reason, ...]  # what rules out the way of one plan in the other; empty: the new way is the better one
    held: Held  # the plan in which they hold

    @property
    def other_way(self) -> bool:
        """Is it another way, and not only another day?"""
        return self.before.way != self.after.way


@dataclass(frozen=True, slots=True)
class VerdictDifference:
    """One way of one piece whose best verdict, or how much of the brood it stops at best, is another."""

    piece: str
    way: str
    title: str
    before: tuple[Verdict, End]
    after: tuple[Verdict, End]
    why: tuple[Reason, ...]  # reasons of the plan in which the verdict is the harsher
    held: Held  # that plan


@dataclass(frozen=True, slots=True)
class FlightDifference:
    """One flight with other dates: onset and finish-by."""

    year: int
    before: tuple[date, date]
    after: tuple[date, date]


@dataclass(frozen=True, slots=True)
class SizeDifference:
    """One tree whose estimated height or weight is another."""

    tree: str
    height_ft: tuple[float | None, float | None]
    green_lb: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Totals:
    """A plan in figures."""

    hours: Spread  # planned hours as likely
    days: int
    last: date | None
    to_pay: Decimal
    bark_ft2: float  # infested bark before any work
    left_ft2: float  # of it at onset
    host_left_ft2: float
    missed: int  # pieces that miss their date or have no way


@dataclass(frozen=True, slots=True)
class Differences:
    """All that differs between two plans."""

    flights: tuple[FlightDifference, ...]
    sizes: tuple[SizeDifference, ...]
    pieces: tuple[PieceDifference, ...]
    verdicts: tuple[VerdictDifference, ...]
    before: Totals
    after: Totals

    @property
    def none(self) -> bool:
        """Are the two plans the same?"""
        return not (self.flights or self.sizes or self.pieces or self.verdicts) and self.before == self.after


def plan_differences(before: Planned, after: Planned) -> Differences:
    """What differs between two plans of one site: pieces in both of them, in the order of the second."""
    return Differences(
        tuple(_flights(before, after)),
        tuple(_sizes(before, after)),
        tuple(_pieces(before, after)),
        tuple(_verdicts(before[0], after[0])),
        totals_of(before[1]),
        totals_of(after[1]),
    )


def totals_of(schedule: Schedule) -> Totals:
    """A plan in figures; hours are those of all hands."""
    jobs = schedule.jobs
    hours = Spread(sum(j.hours_low for j in jobs), sum(j.hours for j in jobs), sum(j.hours_high for j in jobs))
    return Totals(
        hours,
        len({day for job in jobs for day, _ in job.day_hours}),
        max((job.last for job in jobs), default=None),
        to_pay(schedule.costs),
        schedule.infested_before_ft2,
        schedule.infested_left_ft2,
        schedule.host_left_ft2,
        sum(len(one.pieces) for one in schedule.unmet),
    )


def _flights(before: Planned, after: Planned) -> Iterator[FlightDifference]:
    years = {
        found.flight_to_beat
        for work, _ in (before, after)
        for tree in work.trees
        for found in tree.brood.pieces
        if found.flight_to_beat is not None
    }
    for year in sorted(years):
        one, two = (flight_year(work.season, year) for work, _ in (before, after))
        if (one.onset, finish_by(one)) != (two.onset, finish_by(two)):
            yield FlightDifference(year, (one.onset, finish_by(one)), (two.onset, finish_by(two)))


def _sizes(before: Planned, after: Planned) -> Iterator[SizeDifference]:
    old = {tree.tree.id: tree.stem for tree in before[0].trees}
    for tree in after[0].trees:
        one, two = old.get(tree.tree.id), tree.stem
        if one is None:
            continue
        heights = tuple(None if stem.height_ft is None else round(stem.height_ft.likely, 1) for stem in (one, two))
        pounds = tuple(round(sum(piece.green_lb for piece in stem.pieces)) for stem in (one, two))
        if len(set(heights)) > 1 or len(set(pounds)) > 1:
            yield SizeDifference(tree.tree.id, (heights[0], heights[1]), (pounds[0], pounds[1]))


def _pieces(before: Planned, after: Planned) -> Iterator[PieceDifference]:
    ways = (_ways(before[0]), _ways(after[0]))
    old, new = ({choice.piece: choice for choice in schedule.choices} for _, schedule in (before, after))
    for piece in new:
        if piece not in old:
            continue
        one, two = _taken(old[piece], ways[0]), _taken(new[piece], ways[1])
        if (one.way, one.done_on) != (two.way, two.done_on):
            yield PieceDifference(piece, one, two, *_against(one, two, piece, ways))


def _against(
    one: Taken, two: Taken, piece: str, ways: tuple[dict[tuple[str, str], Way], dict[tuple[str, str], Way]]
) -> tuple[tuple[Reason, ...], Held]:
    """What rules out the old way in the new plan; else what ruled out the new way in the old plan."""
    if one.way == two.way:
        return (), "after"
    sides: tuple[tuple[Taken, dict[tuple[str, str], Way], Held], ...] = (
        (one, ways[1], "after"),
        (two, ways[0], "before"),
    )
    for taken, found, held in sides:
        way = found.get((piece, taken.way)) if taken.way else None
        if way is not None and all(window.verdict == "ruled out" for window in way.windows):
            return _reasons(way), held
    return (), "after"


def _verdicts(before: SiteWork, after: SiteWork) -> Iterator[VerdictDifference]:
    old, new = _ways(before), _ways(after)
    for key, way in new.items():
        other = old.get(key)
        if other is None:
            continue
        one, two = _best(other), _best(way)
        if one != two:
            rank = [(VERDICTS.index(verdict), ENDS.index(end)) for verdict, end in (one, two)]
            held: Held = "after" if rank[1] >= rank[0] else "before"
            why = _reasons(way if held == "after" else other)
            yield VerdictDifference(key[0], way.id, way.title, one, two, why, held)


def _ways(work: SiteWork) -> dict[tuple[str, str], Way]:
    """Every way of every piece, by piece and way."""
    return {(piece.id, way.id): way for tree in work.trees for piece, _, ways in tree.pieces() for way in ways}


def _best(way: Way) -> tuple[Verdict, End]:
    """The mildest verdict of any day, and the end that goes with it."""
    windows = sorted(way.windows, key=lambda one: (VERDICTS.index(one.verdict), one.end != "done", one.end))
    return (windows[0].verdict, windows[0].end) if windows else ("ruled out", "not done")


def _reasons(way: Way) -> tuple[Reason, ...]:
    """The reasons of its windows, the local ones alone where there are any, each rule once."""
    found = {reason.rule: reason for window in way.windows for reason in window.reasons}
    local = tuple(reason for reason in found.values() if reason.local)
    return local or tuple(found.values())


def _taken(choice: Choice, ways: dict[tuple[str, str], Way]) -> Taken:
    way = ways.get((choice.piece, choice.way)) if choice.way else None
    return Taken(choice.way, None if way is None else way.title, choice.done_on, choice.latest)
