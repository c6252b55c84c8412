"""Money of a plan: labour, machines, hires, fees by the load, and what the wood is worth."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal

from barkwright.costs.currency import hundredths
from barkwright.costs.prices import Money
from barkwright.inventory.model import Destination, Equipment
from barkwright.record import dataclass
from barkwright.schedule.hires import hire_price, rental_runs, used_days
from barkwright.schedule.model import SiteModel
from barkwright.schedule.tally import TreePlan
from barkwright.units import half_up

VEHICLES = ("truck", "trailer", "chip-truck")
Loads = dict[tuple[Destination, str], float]  # pounds by destination and vehicle [lb]


@dataclass(frozen=True, slots=True)
class Bill:
    """What a plan costs [currency]."""

    direct: float  # paid labour, machine hours and professionals, without hire
    hire: float
    valued: float  # unpaid hands at their worth, less what the wood is worth
    fees: float  # of destinations, for whole loads
    paid: float  # money that leaves the purse, line by line and rounded as the plan's cost lines show it

    @property
    def counted(self) -> float:
        """What plans are compared by."""
        return self.direct + self.hire + self.fees + self.valued


def bill_of(model: SiteModel, plans: Sequence[TreePlan]) -> Bill:
    """Add up a plan, or a part of it. A part by itself pays for hires and loads that the whole may share."""
    direct = valued = 0.0
    paid: list[Decimal] = []
    crews, machines = [0.0] * len(model.days.crews), [0.0] * len(model.machines)
    for plan in plans:
        removal = plan.tree.work.tree.removal
        if removal is not None and removal.price is not None and any(task.outside for task in plan.tasks):
            direct += float(removal.price)
            paid.append(removal.price)
        for task, placed in zip(plan.tasks, plan.placed, strict=True):
            if placed.crew is None:
                continue
            crew = model.days.crews[placed.crew]
            crews[placed.crew] += task.need
            if crew.paid:
                direct += crew.rate * task.need
            else:
                valued += crew.rate * task.need
            for place in placed.machines:
                machines[place] += task.machine_need
                direct += model.machines[place].running * task.machine_need
        for piece in plan.tree.pieces:
            pick = plan.picks.get(piece.piece.id)
            if pick is not None:
                valued -= model.work.worth(plan.tree.work.tree, piece.piece, piece.ways[pick.option.position])
    prices = model.work.prices
    hires = [run.cost for run in rental_runs(model, used_days(model, plans))]
    fees = [fee_of_pounds(model, *key, pounds).amount for key, pounds in hauled(model, plans).items()]
    crews, machines = [hundredths(hours) for hours in crews], [hundredths(hours) for hours in machines]
    found = (prices.labour(crew, hours) for crew, hours in zip(model.work.inventory.crew, crews, strict=True))
    paid += [amount for amount, leaves in found if leaves]
    paid += [prices.machine(one.entry, machines[one.place]).amount for one in model.machines if machines[one.place]]
    purse = sum((half_up(amount, prices.decimals) for amount in (*paid, *hires, *fees)), Decimal(0))
    return Bill(round(direct, 6), float(sum(hires)), round(valued, 6), float(sum(fees)), float(purse))


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
    return model.work.prices.haul_fee(place, largest(model, vehicle), pounds)


def largest(model: SiteModel, kind: str) -> Equipment | None:
    """The machine of a kind that takes most: what hauling is reckoned with."""
    fit = [each for each in model.machines if each.kind == kind]
    found = max(fit, key=lambda each: (each.capacity or 0.0, -each.place), default=None)
    return None if found is None else found.entry


def fee_shares(model: SiteModel, plans: Sequence[TreePlan]) -> list[float]:
    """Each tree's share of the fees of a plan, by weight [currency]."""
    each = {key: float(fee_of_pounds(model, *key, lb).amount) / lb for key, lb in hauled(model, plans).items() if lb}
    if not each:
        return [0.0] * len(plans)
    return [sum(each.get(key, 0.0) * lb for key, lb in hauled(model, [plan]).items()) for plan in plans]


def hire_shares(model: SiteModel, plans: Sequence[TreePlan]) -> list[float]:
    """Each tree's share of the hires of a plan, by the hours that their machines work for it [currency]."""
    hours = [{place: sum(days.values()) for place, days in used_days(model, [plan]).items()} for plan in plans]
    each: dict[int, float] = {}
    for place, days in used_days(model, plans).items():
        total = sum(days.values())
        each[place] = float(hire_price(model, place, days, days)) / total if total > 0.0 else 0.0
    return [sum(each[place] * need for place, need in one.items()) for one in hours]
