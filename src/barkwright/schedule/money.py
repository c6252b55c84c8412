"""Money of a plan while it is being made: labour, machines, hire by the cheapest cover, and what the wood is worth."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import timedelta
from decimal import Decimal
from functools import partial

from barkwright.costs.tariff import cheapest_cover
from barkwright.record import dataclass
from barkwright.schedule.jobs import RentalRun
from barkwright.schedule.model import SiteModel
from barkwright.schedule.tally import TreePlan


@dataclass(frozen=True, slots=True)
class Bill:
    """What a plan costs [currency]."""

    direct: float  # paid labour, machine hours and professionals, without hire
    hire: float
    valued: float  # unpaid hands at their worth, less what the wood is worth

    @property
    def paid(self) -> float:
        """Money that leaves the purse."""
        return self.direct + self.hire

    @property
    def counted(self) -> float:
        """What plans are compared by."""
        return self.direct + self.hire + self.valued


def bill_of(model: SiteModel, plans: Sequence[TreePlan]) -> Bill:
    """Add up a plan, or a part of it."""
    direct = valued = 0.0
    for plan in plans:
        removal = plan.tree.work.tree.removal
        if removal is not None and removal.price is not None and any(task.outside for task in plan.tasks):
            direct += float(removal.price)
        for task, placed in zip(plan.tasks, plan.placed, strict=True):
            if placed.crew is None:
                continue
            crew = model.days.crews[placed.crew]
            if crew.paid:
                direct += crew.rate * task.need
            else:
                valued += crew.rate * task.need
            for place in placed.machines:
                direct += model.machines[place].running * task.machine_need
        for piece in plan.tree.pieces:
            pick = plan.picks.get(piece.piece.id)
            if pick is not None:
                valued -= model.work.worth(plan.tree.work.tree, piece.piece, piece.ways[pick.option.position])
    hire = sum(float(run.cost) for run in rental_runs(model, used_days(model, plans)))
    return Bill(round(direct, 6), hire, round(valued, 6))


def used_days(model: SiteModel, plans: Iterable[TreePlan]) -> dict[int, tuple[int, ...]]:
    """Days on which each hired machine works, by its place in the list."""
    found: dict[int, set[int]] = {}
    for plan in plans:
        for placed in plan.placed:
            for place in placed.machines:
                if model.machines[place].hired:
                    found.setdefault(place, set()).update(day for day, _, _ in placed.stints)
    return {place: tuple(sorted(found[place])) for place in sorted(found)}


def rental_runs(model: SiteModel, used: dict[int, tuple[int, ...]]) -> tuple[RentalRun, ...]:
    """The hires that cover the days of use at the lowest price, gaps kept where that is cheaper."""
    runs: list[RentalRun] = []
    for place, days in used.items():
        machine = model.machines[place]
        for first, last in hired_spans(model, place, days):
            cost, billed = cover(model, place, last - first + 1)
            start = model.days.day(first)
            runs.append(
                RentalRun(machine.kind, machine.label, start, start + timedelta(days=last - first), billed, cost)
            )
    return tuple(runs)


def hired_spans(model: SiteModel, place: int, days: Sequence[int]) -> list[tuple[int, int]]:
    """First and last day of each hire of a machine that works on these days."""
    return cheapest_blocks(days, partial(_price, model, place))


def cheapest_blocks(days: Sequence[int], price: Callable[[int], Decimal]) -> list[tuple[int, int]]:
    """Spans that cover all days of use at the lowest sum of prices of their lengths. Exact, by dynamic programming."""
    best: list[tuple[Decimal, int]] = [(Decimal(0), 0)]
    for end in range(1, len(days) + 1):
        best.append(
            min(
                (best[start][0] + price(days[end - 1] - days[start] + 1), start)
                for start in range(max(0, end - 60), end)
            )
        )
    blocks: list[tuple[int, int]] = []
    end = len(days)
    while end:
        start = best[end][1]
        blocks.append((days[start], days[end - 1]))
        end = start
    return blocks[::-1]


def cover(model: SiteModel, place: int, length: int) -> tuple[Decimal, str]:
    """Price of one hire of a machine for so many days in a row, delivery included, and how it is billed."""
    known = model.covers.get((place, length))
    if known is None:
        known = model.covers[place, length] = cheapest_cover(model.machines[place].entry, length)
    return known


def _price(model: SiteModel, place: int, length: int) -> Decimal:
    return cover(model, place, length)[0]
