"""Small changes to a site, from small to large, and how much infested bark each of them would save."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from math import ceil

from barkwright.inventory.model import Equipment, Inventory
from barkwright.schedule.calendar import CrewDays
from barkwright.schedule.model import PieceModel, SiteModel, site_model
from barkwright.schedule.scenario import Candidate, Scenario, evaluate, left_share
from barkwright.schedule.settings import SETTINGS
from barkwright.season.year import in_words
from barkwright.treatment.limits import LIMITS
from barkwright.units import half_up

Change = tuple[str, SiteModel, Scenario]


def saving_changes(
    model: SiteModel, best: Candidate, left: dict[str, list[tuple[PieceModel, float]]]
) -> dict[str, str]:
    """For each tree the first change, from small to large, that saves bark of it, with what it saves in all."""
    found: dict[str, str] = {}
    if not model.days.crews or sum(len(tree.pieces) for tree in model.trees) > SETTINGS["changes_pieces"]:
        return found
    before = {name: sum(ft2 for _, ft2 in rest) for name, rest in left.items()}
    looked = 0
    for change, changed, scenario in _changes(model, best, left):
        if len(found) == len(left) or looked > SETTINGS["changes_search"]:
            break
        start = changed.looked
        after = _left_after(evaluate(changed, scenario))
        looked += changed.looked - start
        saved = sum(before.values()) - sum(after.values())
        for name in left:
            if name not in found and saved > 0.01 and after.get(name, 0.0) < before[name] - 0.01:
                found[name] = f"{change} would save {max(half_up(saved), 1)} ft2 of infested bark on the whole site."
    return found


def _changes(model: SiteModel, best: Candidate, left: dict[str, list[tuple[PieceModel, float]]]) -> Iterator[Change]:
    scenario, inventory = replace(best.scenario, guide=None), model.work.inventory
    place = max(range(len(scenario.people)), key=lambda one: (scenario.people[one], -one))
    name = model.days.crews[place].name
    yield f"One more working day of {name}", _with_days(model, place, 1), scenario
    if inventory.calendar.start is not None and inventory.calendar.start > model.work.on:
        sooner = inventory.calendar.model_copy(update={"start": None})
        text = f"Starting on {in_words(model.work.on)}"
        yield text, _anew(model, inventory.model_copy(update={"calendar": sooner})), scenario
    yield f"Two more working days of {name}", _with_days(model, place, 2), scenario
    yield f"One more person with {name}", *_with_people(model, scenario, place, 1)
    for text, machine in _machines(inventory, left):
        more = inventory.model_copy(update={"equipment": (*inventory.equipment, machine)})
        there = scenario.machines | {len(inventory.equipment)}
        yield text, _anew(model, more), replace(scenario, machines=there)
    if inventory.site.burning.permit == "refused":
        site = inventory.site
        burning = site.burning.model_copy(update={"permit": "held"})
        allowed = inventory.model_copy(update={"site": site.model_copy(update={"burning": burning})})
        yield "A permit to burn", _anew(model, allowed), scenario
    yield f"Five more working days of {name}", _with_days(model, place, 5), scenario
    yield f"Two more people with {name}", *_with_people(model, scenario, place, 2)
    if inventory.limits.budget is not None:
        limits = inventory.limits.model_copy(update={"budget": None})
        free = replace(model, work=replace(model.work, inventory=inventory.model_copy(update={"limits": limits})))
        yield f"A budget of {half_up(evaluate(free, scenario).bill.paid)}", free, scenario


def _machines(inventory: Inventory, left: dict[str, list[tuple[PieceModel, float]]]) -> Iterator[tuple[str, Equipment]]:
    """A chipper that takes what is left, and a machine that digs, where there is none."""
    thickest = max(piece.piece.butt_dob_in for rest in left.values() for piece, _ in rest)
    size = min(ceil(thickest / LIMITS["chipper_working_share"]), SETTINGS["largest_chipper"])
    chippers = [one.capacity or 0.0 for one in inventory.equipment if one.kind == "chipper"]
    if size > max(chippers, default=0.0):
        text = f"A rented chipper that takes {size:.0f} in"
        yield text, Equipment(kind="chipper", capacity=size, feed="winch")
    if not any(one.kind in ("excavator", "backhoe") for one in inventory.equipment):
        yield "A rented excavator", Equipment(kind="excavator")


def _anew(model: SiteModel, inventory: Inventory) -> SiteModel:
    """The site with another inventory of the same trees: everything that follows from it is judged again."""
    return site_model(model.work.with_inventory(inventory))


def _with_people(model: SiteModel, scenario: Scenario, place: int, extra: int) -> tuple[SiteModel, Scenario]:
    inventory = model.work.inventory
    people = tuple(count + extra * (one == place) for one, count in enumerate(scenario.people))
    crew = tuple(
        one.model_copy(update={"people": max(one.people, people[at])}) for at, one in enumerate(inventory.crew)
    )
    return _anew(model, inventory.model_copy(update={"crew": crew})), replace(scenario, people=people)


def _with_days(model: SiteModel, place: int, extra: int) -> SiteModel:
    """The same site with the first days off of a crew worked."""
    crew = model.days.crews[place]
    full = model.work.inventory.crew[place].hours_per_day
    hours = list(crew.hours)
    for day, now in enumerate(hours):
        if extra and now <= 0.0:
            hours[day] = model.place.hours(model.days.first + timedelta(days=day), full)
            extra -= hours[day] > 0.0
    crews = tuple(
        CrewDays(one.name, one.people, one.skills, tuple(hours), one.rate, one.paid) if at == place else one
        for at, one in enumerate(model.days.crews)
    )
    return replace(model, days=replace(model.days, crews=crews))


def _left_after(candidate: Candidate) -> dict[str, float]:
    left = {tree.id: tree.infested_ft2 for tree in [*candidate.missed, *candidate.dropped]}
    for plan in candidate.plans:
        left[plan.tree.id] = sum(
            left_share(plan, piece, plan.picks.get(piece.piece.id))[0] * piece.infested_ft2
            for piece in plan.tree.pieces
        )
    return left
