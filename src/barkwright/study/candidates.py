"""Changes that are tried on a site without being asked for, from small to large."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from math import ceil

from barkwright.inventory.model import Inventory, Method
from barkwright.schedule.jobs import Schedule
from barkwright.schedule.model import SiteModel
from barkwright.schedule.paying import to_pay
from barkwright.study.change import Change, UnfitChangeError
from barkwright.study.efforts import CHANGES
from barkwright.study.means import more_days, more_people, rented
from barkwright.study.wishes import allowed, budgeted, started
from barkwright.treatment.limits import LIMITS


def against_loss(model: SiteModel, schedule: Schedule) -> Iterator[Change]:
    """Changes that could save infested bark which a plan leaves."""
    inventory, on = model.work.inventory, model.work.on
    place = max(range(len(inventory.crew)), key=lambda one: (inventory.crew[one].people, -one))
    yield from _days(model, 1, place)
    if inventory.calendar.start is not None and inventory.calendar.start > on:
        yield started(inventory, on, on)
    yield from _days(model, 2, place)
    yield from _people(model, 1, place)
    yield from _machines(model, schedule)
    if inventory.site.burning.permit == "refused":
        yield allowed(inventory, "burn")
    yield from _days(model, 5, place)
    yield from _people(model, 2, place)
    if inventory.limits.budget is not None:
        yield budgeted(inventory, on, None)


def against_cost(model: SiteModel, schedule: Schedule) -> Iterator[Change]:
    """Changes that could save money where nothing is missed.

    A day, a person or an earlier start buys time, and time saves what is paid by the day and the load: hire of more
    than one day, and fees. The method that is avoided, or that a permit is refused for, may be cheaper than what is
    done instead. Machines at no price are left out: they would seem to save what they cost.
    """
    inventory, on = model.work.inventory, model.work.on
    place = max(range(len(inventory.crew)), key=lambda one: (inventory.crew[one].people, -one))
    if _timed(schedule) > CHANGES["worth_saying"] * float(to_pay(schedule.costs)):
        yield from _days(model, 1, place)
        if inventory.calendar.start is not None and inventory.calendar.start > on:
            yield started(inventory, on, on)
        yield from _people(model, 1, place)
    promise = {method: _promise(model, method) for method in inventory.wishes.avoid}
    if promise and max(promise.values()) > 0.0:
        yield allowed(inventory, max(promise, key=lambda method: promise[method]))
    if inventory.site.burning.permit == "refused" and "burn" not in inventory.wishes.avoid:
        yield allowed(inventory, "burn")


def _timed(schedule: Schedule) -> float:
    """Money that more time could save: fees, and hire of machines that are had on more than one day [currency]."""
    days = Counter(run.label for run in schedule.rentals for _ in range((run.last - run.first).days + 1))
    hire = sum(float(run.cost) for run in schedule.rentals if days[run.label] > 1)
    return hire + sum(float(line.amount) for line in schedule.costs if line.paid and line.kind == "disposal")


def _days(model: SiteModel, count: int, place: int) -> Iterator[Change]:
    try:
        yield more_days(model.work.inventory, model.work.on, count, place)
    except UnfitChangeError:
        return  # they work every day


def _people(model: SiteModel, count: int, place: int) -> Iterator[Change]:
    try:
        yield more_people(model.work.inventory, model.work.on, count, place)
    except UnfitChangeError:
        return  # as many as an inventory takes


def _machines(model: SiteModel, schedule: Schedule) -> Iterator[Change]:
    """A chipper that takes what is left, and a machine that digs, where there is none."""
    inventory = model.work.inventory
    missed = {name for unmet in schedule.unmet for name in unmet.pieces}
    sizes = [p.piece.butt_dob_in for tree in model.trees for p in tree.pieces if p.piece.id in missed]
    size = min(ceil(max(sizes, default=0.0) / LIMITS["chipper_working_share"]), int(CHANGES["largest_chipper"]))
    if size > max((one.capacity or 0.0 for one in inventory.equipment if one.kind == "chipper"), default=0.0):
        fields: dict[str, object] = {"kind": "chipper", "capacity": f"{size} in", "feed": "winch"}
        yield rented(inventory, model.work.on, fields, f"rent chipper {size} in, winch fed")
    if not _has(inventory, "excavator") and not _has(inventory, "backhoe"):
        yield rented(inventory, model.work.on, {"kind": "excavator"}, "rent excavator")


def _has(inventory: Inventory, kind: str) -> bool:
    return any(one.kind == kind for one in inventory.equipment)


def _promise(model: SiteModel, method: Method) -> float:
    """How much cheaper than all ways that are not avoided a method is, over one piece of each kind [currency]."""
    saved = 0.0
    for tree, piece in model.like.values():
        if piece.at_stake:
            options = [one for one in model.options(tree, piece) if one.end == "done"]
            avoided = [one.money for one in options if one.against_wish and one.method == method]
            liked = [one.money for one in options if not one.against_wish]
            if avoided and liked:
                saved += max(0.0, min(liked) - min(avoided))
    return saved
