"""Changes that are tried on a site without being asked for, from small to large."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from barkwright.inventory.model import Inventory
from barkwright.schedule.jobs import Schedule
from barkwright.schedule.model import SiteModel
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

    A day, a person or an earlier start buys time, and time saves what is paid by the day and the load. A method that
    is avoided, or that a permit is refused for, may be cheaper than what is done instead. Machines at no price are
    left out: they would seem to save what they cost.
    """
    inventory, on = model.work.inventory, model.work.on
    place = max(range(len(inventory.crew)), key=lambda one: (inventory.crew[one].people, -one))
    total = sum(line.amount for line in schedule.costs if line.paid)
    hired = ("rental", "delivery", "disposal")
    timed = sum(line.amount for line in schedule.costs if line.paid and line.kind in hired)
    if float(timed) > CHANGES["worth_saying"] * float(total):
        yield from _days(model, 1, place)
        if inventory.calendar.start is not None and inventory.calendar.start > on:
            yield started(inventory, on, on)
        yield from _people(model, 1, place)
    for method in inventory.wishes.avoid:
        if _cheaper(model, method):
            yield allowed(inventory, method)
    if inventory.site.burning.permit == "refused" and "burn" not in inventory.wishes.avoid:
        yield allowed(inventory, "burn")


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


def _cheaper(model: SiteModel, method: str) -> bool:
    """Is any piece's cheapest way with an avoided method cheaper than all its ways that are not avoided?"""
    for tree, piece in model.like.values():
        if piece.at_stake:
            options = model.options(tree, piece)
            avoided = [one.money for one in options if one.against_wish and one.method == method and one.end == "done"]
            liked = [one.money for one in options if not one.against_wish and one.end == "done"]
            if avoided and liked and min(avoided) < min(liked):
                return True
    return False
