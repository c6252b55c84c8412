"""What a course takes, reckoned by itself: hours, hands, machines, days, money, and the day by which it must begin."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from decimal import Decimal
from math import ceil

from barkwright.costs.prices import Money, Prices
from barkwright.costs.tariff import cover, rentable
from barkwright.inventory.model import Crew, Equipment
from barkwright.record import dataclass
from barkwright.schedule.machines import Machine, label
from barkwright.schedule.model import SiteModel
from barkwright.schedule.sitework import TreeWork
from barkwright.spread import NOTHING, Spread
from barkwright.treatment.ways import Step
from barkwright.units import half_up

NEARLY_H = 1e-6
PARTS = ("low", "mean", "high")
ZERO = Decimal(0)


@dataclass(frozen=True, slots=True)
class Pay:
    """Money at the low, the planned and the high hours [currency]."""

    low: Decimal
    likely: Decimal
    high: Decimal

    def __add__(self, other: Pay) -> Pay:
        return Pay(self.low + other.low, self.likely + other.likely, self.high + other.high)


@dataclass(frozen=True, slots=True)
class Due:
    """Work between two days, both included: hours of all hands, and of the machine that runs longest [h]."""

    by: date
    hours: Spread
    machine_hours: Spread
    opens: date | None = None  # None: may be done at once


@dataclass(slots=True)
class _Open:
    """Work that is still to be given days."""

    first: int
    last: int
    hours: float
    machine_share: float  # hours of a machine for each hour of all hands


@dataclass(frozen=True, slots=True)
class Bill:
    """What steps cost."""

    paid: Pay
    valued: Pay  # unpaid hands at their worth
    unpriced: tuple[str, ...]  # what would have to be paid and has no price
    proxies: tuple[str, ...]  # machines whose price is a published rate
    hires: tuple[str, ...]  # hires in words: "chipper, 9 in: 1 day, delivered"
    local: tuple[str, ...] = ()  # machines whose price is a local rate


NO_PAY = Pay(ZERO, ZERO, ZERO)


def at(spread: Spread, part: str) -> float:
    """The low, the mean or the high of a spread."""
    return float(getattr(spread, part))


def hours_of(steps: Iterable[Step]) -> Spread:
    """Hours of all hands together [h]."""
    return sum((step.person_hours for step in steps), NOTHING)


def machine_hours(steps: Iterable[Step]) -> dict[str, Spread]:
    """Hours that each kind of machine runs [h]."""
    found: dict[str, Spread] = {}
    for step in steps:
        for kind in step.equipment:
            found[kind] = found.get(kind, NOTHING) + step.machine_hours
    return found


def bill_of(
    model: SiteModel,
    steps: Sequence[Step],
    thickest_in: float = 0.0,
    trees: Sequence[TreeWork] = (),
    listed: int | None = None,
) -> Bill:
    """What steps cost where nothing else is done on the site: the cheapest crew that can, machines by whole days.

    thickest_in : of the wood that machines take [in]; trees : those that come down, for what a professional asks
    listed : so many machines are on the client's list, and what the others cost has to be asked; None: all of them
    """
    prices = model.work.prices
    paid, valued = NO_PAY, NO_PAY
    by_crew: dict[int, Spread] = {}
    for step in steps:
        place = _crew(model, step)
        if place is not None:
            by_crew[place] = by_crew.get(place, NOTHING) + step.person_hours
    for place, spread in sorted(by_crew.items()):
        pay, leaves = _labour(prices, model.work.inventory.crew[place], spread)
        paid, valued = (paid + pay, valued) if leaves else (paid, valued + pay)
    unpriced: list[str] = []
    proxies: list[str] = []
    local: list[str] = []
    hires: list[str] = []
    for tree in trees:
        if tree.felling.by not in ("crew", "nobody"):
            removal = tree.tree.removal
            price = prices.removal(None if removal is None else removal.price)
            paid = paid + Pay(price.amount, price.amount, price.amount)
            _note(price, f"{tree.felling.by} for {tree.tree.id}", unpriced, proxies, local)
    for kind, spread in sorted(machine_hours(steps).items()):
        held = _machine(model, kind, thickest_in)
        if held is None or spread.high <= 0:
            continue
        machine = held.entry
        if listed is not None and held.place >= listed:
            unpriced.append(named(machine))
            continue
        if not machine.owned and rentable(machine):
            pay, words = _hire(model, machine, spread)
            hires.append(f"{label(machine)}: {words}")
        else:
            found = [prices.machine(machine, at(spread, part)) for part in PARTS]
            pay = Pay(*(half_up(one.amount, 2) for one in found))
            _note(found[1], label(machine), unpriced, proxies, local)
        paid = paid + pay
    return Bill(paid, valued, tuple(unpriced), tuple(proxies), tuple(hires), tuple(local))


def start_by(model: SiteModel, dues: Sequence[Due], part: str) -> tuple[date | None, int]:
    """The last day on which work may begin so that each due is met, and on how many days it is worked.

    Days are filled from the last backwards, with what opens latest first: no other order begins later. All hands work
    together, machines one of a kind. None, and no days, where not even all the days there are would do.
    part : low, mean or high hours
    """
    open_work = [_open(model, due, part) for due in dues if at(due.hours, part) > NEARLY_H]
    if not open_work:
        last = max((model.days.index(due.by) for due in dues), default=None)
        return (None if last is None else model.days.day(max(min(last, model.days.length - 1), 0))), 0
    start, worked = None, 0
    for index in range(min(max(one.last for one in open_work), model.days.length - 1), -1, -1):
        held = [(crew.people, crew.hours[index]) for crew in model.days.crews if crew.hours[index] > 0]
        if held and _work(open_work, index, sum(people * each for people, each in held), max(each for _, each in held)):
            start, worked = index, worked + 1
        if all(one.hours <= NEARLY_H for one in open_work):
            return (None if start is None else model.days.day(start)), worked
    return None, 0


def _open(model: SiteModel, due: Due, part: str) -> _Open:
    first = 0 if due.opens is None else model.days.index(due.opens)
    hours = at(due.hours, part)
    return _Open(max(first, 0), model.days.index(due.by), hours, at(due.machine_hours, part) / hours)


def _work(open_work: Sequence[_Open], day: int, hands: float, machine: float) -> bool:
    """Fill one day; whether anything was done on it. hands, machine : hours that there are [h]"""
    before = hands
    for one in sorted(open_work, key=lambda each: (-each.first, -each.last)):
        if one.first <= day <= one.last and one.hours > NEARLY_H:
            most = machine / one.machine_share if one.machine_share > 0 else hands
            done = min(one.hours, hands, most)
            one.hours, hands, machine = one.hours - done, hands - done, machine - done * one.machine_share
    return hands < before - NEARLY_H


def named(tool: Equipment) -> str:
    """A tool as it is asked for: 19 in chipper."""
    words = tool.kind.replace("-", " ")
    return words if tool.capacity is None else f"{tool.capacity:g} in {words}"


def _crew(model: SiteModel, step: Step) -> int | None:
    """The cheapest crew that can do a step; where none has the hands or skills, the cheapest of all."""
    crews = model.days.crews
    order = sorted(range(len(crews)), key=lambda place: (crews[place].rate, crews[place].name))
    able = [p for p in order if crews[p].people >= step.people and crews[p].skills.issuperset(step.skills)]
    return next(iter(able or order), None)


def _labour(prices: Prices, crew: Crew, spread: Spread) -> tuple[Pay, bool]:
    found = [prices.labour_money(crew, at(spread, part)) for part in PARTS]
    return Pay(*(half_up(one.amount, 2) for one in found)), found[1].paid


def _machine(model: SiteModel, kind: str, thickest_in: float) -> Machine | None:
    """The machine of a kind that would be used: of those that take the wood the cheapest by the hour."""
    fit = [one for one in model.machines if one.kind == kind and one.takes(thickest_in, 0.0)]
    fit = fit or [one for one in model.machines if one.kind == kind]
    return min(fit, key=lambda one: (one.hourly, one.place), default=None)


def _hire(model: SiteModel, machine: Equipment, spread: Spread) -> tuple[Pay, str]:
    a_day = max((crew.hours_per_day for crew in model.work.inventory.crew), default=8.0)
    found = []
    for part in PARTS:
        hours = at(spread, part)
        found.append(cover(machine, max(1, ceil(hours / a_day / machine.count - NEARLY_H)), hours / machine.count))
    return Pay(*(half_up(one.cost, 2) for one in found)), found[1].text


def _note(money: Money, name: str, unpriced: list[str], proxies: list[str], local: list[str]) -> None:
    if money.basis == "placeholder":
        unpriced.append(name)
    elif money.basis == "local rate":
        local.append(name)
    elif money.basis == "published proxy":
        proxies.append(name)
