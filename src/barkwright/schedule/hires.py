"""Hires: the cheapest cover of the days on which a hired machine works, gaps kept where that is cheaper."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from decimal import Decimal

from barkwright.costs.tariff import Cover
from barkwright.costs.tariff import cover as cheapest
from barkwright.schedule.jobs import RentalRun
from barkwright.schedule.model import SiteModel
from barkwright.schedule.tally import TreePlan

Use = dict[int, float]  # hours that each machine of a line runs, by day of use in order [h]
Span = tuple[int, int]  # first and last day


def used_days(model: SiteModel, plans: Iterable[TreePlan]) -> dict[int, Use]:
    """Days on which each hired machine works, by its place in the list, with its hours.

    Several machines of one line share the hours of a day evenly.
    """
    found: dict[int, Use] = {}
    for plan in plans:
        for placed in plan.placed:
            for place in placed.machines:
                if model.machines[place].hired:
                    use, count = found.setdefault(place, {}), model.machines[place].count
                    for day, _, hours in placed.stints:
                        use[day] = use.get(day, 0.0) + hours / count
    return {place: dict(sorted(found[place].items())) for place in sorted(found)}


def rental_runs(model: SiteModel, used: Mapping[int, Use]) -> tuple[RentalRun, ...]:
    """The hires that cover the days of use at the lowest price, gaps kept where that is cheaper."""
    runs: list[RentalRun] = []
    for place, use in used.items():
        machine = model.machines[place]
        for first, last in hired_spans(model, place, use):
            found = _cover(model, place, use, first, last)
            start, end = model.days.day(first), model.days.day(last)
            runs.append(RentalRun(machine.kind, machine.label, start, end, found.text, found.cost, found.hours))
    return tuple(runs)


def hire_price(model: SiteModel, place: int, days: Iterable[int], hours: Mapping[int, float] | None = None) -> Decimal:
    """The least that a machine costs to hire for days of use, deliveries included.

    hours : that each machine of the line runs on a day, for rents by the hour or the half day; none: not known [h]
    """
    known = hours or {}
    use = {day: known.get(day, 0.0) for day in sorted(set(days))}
    spans = hired_spans(model, place, use)
    return sum((_cover(model, place, use, first, last).cost for first, last in spans), Decimal(0))


def hired_spans(model: SiteModel, place: int, use: Use) -> list[Span]:
    """First and last day of each hire of a machine that works on these days, at the lowest price."""

    def price(first: int, last: int) -> Decimal:
        return _cover(model, place, use, first, last).cost

    return cheapest_blocks(list(_whole(model, place, use)), price)


def cheapest_blocks(spans: Sequence[Span], price: Callable[[int, int], Decimal]) -> list[Span]:
    """Blocks that cover all spans of use at the lowest sum of prices. Exact, by dynamic programming.

    spans : first and last days, in order; none is parted
    price : of a block from its first day to its last
    """
    best: list[tuple[Decimal, int]] = [(Decimal(0), 0)]
    for end in range(1, len(spans) + 1):
        last = spans[end - 1][1]
        best.append(min((best[start][0] + price(spans[start][0], last), start) for start in range(end)))
    blocks: list[Span] = []
    end = len(spans)
    while end:
        start = best[end][1]
        blocks.append((spans[start][0], spans[end - 1][1]))
        end = start
    return blocks[::-1]


def _whole(model: SiteModel, place: int, use: Use) -> Iterator[Span]:
    """Days of use in a row as spans, and by themselves those that are cheaper by the hour or the half day.

    No other days in a row are worth parting: two hires that meet cost no less than one over the days of both.
    """
    first = last = None
    for day in use:
        alone = _cover(model, place, use, day, day).hours is not None
        if first is not None and last is not None and (alone or day > last + 1):
            yield first, last
            first = None
        if alone:
            yield day, day
        else:
            first, last = day if first is None else first, day
    if first is not None and last is not None:
        yield first, last


def cover(model: SiteModel, place: int, length: int) -> Cover:
    """The cheapest rents of one hire for so many days in a row, whatever is worked there."""
    return _cover(model, place, {0: 0.0}, 0, length - 1)


def _cover(model: SiteModel, place: int, use: Use, first: int, last: int) -> Cover:
    """The cheapest rents of one hire from a day to a day."""
    entry = model.machines[place].entry
    short = entry.rent_per_hour is not None or entry.rent_per_half_day is not None
    hours = round(use[first], 6) if short and first == last else 0.0
    key = (place, last - first + 1, hours)
    known = model.covers.get(key)
    if known is None:
        known = model.covers[key] = cheapest(entry, last - first + 1, hours or None)
    return known
