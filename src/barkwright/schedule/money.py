"""Money of a plan: labour, machines, hire by the cheapest cover, fees by the load, and what the wood is worth."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from decimal import Decimal

from barkwright.costs.prices import Money
from barkwright.costs.tariff import Cover
from barkwright.costs.tariff import cover as cheapest
from barkwright.inventory.model import Destination
from barkwright.record import dataclass
from barkwright.schedule.jobs import RentalRun
from barkwright.schedule.model import SiteModel
from barkwright.schedule.tally import TreePlan
from barkwright.units import half_up

VEHICLES = ("truck", "trailer", "chip-truck")
Use = dict[int, float]  # hours that each machine of a line runs, by day of use in order [h]
Loads = dict[tuple[Destination, str], float]  # pounds by destination and vehicle [lb]
Span = tuple[int, int]  # first and last day


@dataclass(frozen=True, slots=True)
class Bill:
    """What a plan costs [currency]; what is paid is in whole cents, line by line, as the plan's cost lines show it."""

    direct: float  # paid labour, machine hours and professionals, without hire
    hire: float
    valued: float  # unpaid hands at their worth, less what the wood is worth
    fees: float = 0.0  # of destinations, for whole loads

    @property
    def paid(self) -> float:
        """Money that leaves the purse."""
        return self.direct + self.hire + self.fees

    @property
    def counted(self) -> float:
        """What plans are compared by."""
        return self.paid + self.valued


def bill_of(model: SiteModel, plans: Sequence[TreePlan]) -> Bill:
    """Add up a plan, or a part of it. A part by itself pays for hires and loads that the whole may share."""
    valued = 0.0
    paid = Decimal(0)
    crews, machines = [0.0] * len(model.days.crews), [0.0] * len(model.machines)
    for plan in plans:
        removal = plan.tree.work.tree.removal
        if removal is not None and removal.price is not None and any(task.outside for task in plan.tasks):
            paid += half_up(removal.price, 2)
        for task, placed in zip(plan.tasks, plan.placed, strict=True):
            if placed.crew is None:
                continue
            crews[placed.crew] += task.need
            for place in placed.machines:
                machines[place] += task.machine_need
        for piece in plan.tree.pieces:
            pick = plan.picks.get(piece.piece.id)
            if pick is not None:
                valued -= model.work.worth(plan.tree.work.tree, piece.piece, piece.ways[pick.option.position])
    for place, hours in enumerate(crews):
        crew = model.days.crews[place]
        if crew.paid and hours > 0.0:
            paid += half_up(model.work.prices.labour(model.work.inventory.crew[place], hours)[0], 2)
        else:
            valued += crew.rate * hours
    for machine in model.machines:
        if machine.running > 0.0 and machines[machine.place] > 0.0:
            paid += half_up(model.work.prices.machine(machine.entry, machines[machine.place]).amount, 2)
    hire = sum((half_up(run.cost, 2) for run in rental_runs(model, used_days(model, plans))), Decimal(0))
    loads = hauled(model, plans).items()
    fees = sum((half_up(fee_of_pounds(model, *key, pounds).amount, 2) for key, pounds in loads), Decimal(0))
    return Bill(float(paid), float(hire), round(valued, 6), float(fees))


def hauled(model: SiteModel, plans: Iterable[TreePlan]) -> Loads:
    """What goes to each destination that asks for a fee, with each kind of vehicle."""
    pounds: Loads = {}
    if all(place.fee_per_load is None for place in model.work.inventory.site.destinations):
        return pounds
    for plan in plans:
        for piece in plan.tree.pieces:
            pick = plan.picks.get(piece.piece.id)
            way = None if pick is None else piece.ways[pick.option.position]
            place = None if way is None else model.work.bench.destination(way.id)
            if way is not None and place is not None and place.fee_per_load is not None:
                key = (place, next(tool for tool in VEHICLES if tool in way.tools))
                weight = model.work.yields(plan.tree.work.tree, piece.piece, way).haul_lb
                pounds[key] = pounds.get(key, 0.0) + weight
    return pounds


def fee_of_pounds(model: SiteModel, place: Destination, vehicle: str, pounds: float) -> Money:
    """What a destination asks for a weight that comes with a kind of vehicle, in as few loads as the largest takes."""
    fit = [each for each in model.machines if each.kind == vehicle]
    largest = max(fit, key=lambda each: (each.capacity or 0.0, -each.place), default=None)
    return model.work.prices.haul_fee(place, None if largest is None else largest.entry, pounds)


def fee_shares(model: SiteModel, plans: Sequence[TreePlan]) -> list[float]:
    """Each tree's share of the fees of a plan, by weight [currency]."""
    each = {key: float(fee_of_pounds(model, *key, lb).amount) / lb for key, lb in hauled(model, plans).items() if lb}
    if not each:
        return [0.0] * len(plans)
    return [sum(each.get(key, 0.0) * lb for key, lb in hauled(model, [plan]).items()) for plan in plans]


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
