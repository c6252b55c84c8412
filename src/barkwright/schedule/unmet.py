"""What misses its date or has no way: the infested bark it leaves, why, and the smallest change that would save it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from barkwright.inventory.model import Inventory
from barkwright.schedule.calendar import CrewDays
from barkwright.schedule.jobs import Unmet
from barkwright.schedule.model import PieceModel, SiteModel, TreeModel
from barkwright.schedule.scenario import Candidate, evaluate, left_share
from barkwright.season.daylight import daylight_hours
from barkwright.units import half_up

TRIED = 6_000  # pieces up to which changes are tried out
NO_CHANGE = "No single small change was found: get more hands and days together, or ask a contractor."


def unmet_of(model: SiteModel, best: Candidate) -> tuple[Unmet, ...]:
    """One entry per tree with infested bark left, in the inventory's order."""
    plans = {plan.tree.id: plan for plan in best.plans}
    left: dict[str, list[tuple[PieceModel, float]]] = {}
    for tree in model.trees:
        plan = plans.get(tree.id)
        shares = [(p, 1.0 if plan is None else left_share(plan, p, plan.picks.get(p.piece.id))[0]) for p in tree.pieces]
        rest = [(piece, share * piece.infested_ft2) for piece, share in shares if share * piece.infested_ft2 > 0]
        if rest:
            left[tree.id] = rest
    if not left:
        return ()
    saves = _saving_changes(model, best, left)
    dropped = {tree.id for tree in best.dropped}
    trees = {tree.id: tree for tree in model.trees}
    return tuple(
        Unmet(
            name, tuple(piece.piece.id for piece, _ in rest), sum(ft2 for _, ft2 in rest),
            *_why(model, trees[name], rest, name in dropped, saves.get(name)),
        )
        for name, rest in left.items()
    )  # fmt: skip


def _why(
    model: SiteModel, tree: TreeModel, rest: list[tuple[PieceModel, float]], dropped: bool, change: str | None
) -> tuple[str, str]:
    if dropped:
        budget = model.work.inventory.limits.budget
        return f"The budget of {budget} does not reach for it.", change or "Raise the budget."
    begun = [piece for piece, _ in rest if piece.onset is not None and piece.onset <= 0]
    if begun:
        return "Its flight begins before any work can.", change or "Start before the flight another year."
    wanting = [piece for piece, _ in rest if not any(o.end == "done" for o in model.options(tree, piece))]
    if wanting:
        names = ", ".join(piece.piece.id for piece in wanting)
        return f"No way that is open here stops all the brood of {names}.", change or _opening(wanting[0])
    if not model.days.crews:
        return "Nobody is there to do the work.", "Name the hands that can work under crew."
    if tree.standing:
        why = "It cannot be felled and finished before the flight, so it is left standing; on the ground it is worse."
    else:
        why = "There are not enough hands or days to finish it before the flight."
    return why, change or NO_CHANGE


def _opening(piece: PieceModel) -> str:
    """What one thing rules out a way that would do otherwise."""
    for way in piece.ways:
        for window in way.windows:
            if window.verdict == "ruled out" and len(window.reasons) == 1:
                return f"One thing stands against it ({way.title}): {window.reasons[0].because}"
    return "Ask a forester or an arborist what else can be done with it."


def _saving_changes(
    model: SiteModel, best: Candidate, left: dict[str, list[tuple[PieceModel, float]]]
) -> dict[str, str]:
    """The first change, from small to large, under which each tree leaves less infested bark."""
    found: dict[str, str] = {}
    if not model.days.crews or sum(len(tree.pieces) for tree in model.trees) > TRIED:
        return found
    before = {name: sum(ft2 for _, ft2 in rest) for name, rest in left.items()}
    for change, changed, scenario_people in _changes(model, best):
        if len(found) == len(left):
            break
        scenario = replace(best.scenario, people=scenario_people)
        after = _left_after(changed, evaluate(changed, scenario))
        for name in left:
            if name not in found and after.get(name, 0.0) < before[name] - 0.01:
                found[name] = change
    return found


def _changes(model: SiteModel, best: Candidate) -> Iterator[tuple[str, SiteModel, tuple[int, ...]]]:
    people = best.scenario.people
    place = max(range(len(people)), key=lambda one: (people[one], -one))
    name = model.days.crews[place].name
    more = {extra: tuple(count + extra * (one == place) for one, count in enumerate(people)) for extra in (1, 2)}
    yield f"One more working day of {name} would save it.", _with_days(model, place, 1), people
    yield f"Two more working days of {name} would save it.", _with_days(model, place, 2), people
    yield f"One more person with {name} would save it.", model, more[1]
    yield f"Five more working days of {name} would save it.", _with_days(model, place, 5), people
    yield f"Two more people with {name} would save it.", model, more[2]
    budget = model.work.inventory.limits.budget
    if budget is not None:
        free = replace(model, work=replace(model.work, inventory=_without_budget(model)))
        need = half_up(evaluate(free, best.scenario).bill.paid)
        yield f"A budget of {need} would save it.", free, people


def _without_budget(model: SiteModel) -> Inventory:
    inventory = model.work.inventory
    return inventory.model_copy(update={"limits": inventory.limits.model_copy(update={"budget": None})})


def _with_days(model: SiteModel, place: int, extra: int) -> SiteModel:
    """The same site with the first days off of a crew worked."""
    crew, site = model.days.crews[place], model.work.inventory.site
    daylight = partial(daylight_hours, site.latitude, site.longitude)
    full = model.work.inventory.crew[place].hours_per_day
    hours = list(crew.hours)
    for day, now in enumerate(hours):
        if extra and now <= 0.0:
            hours[day] = max(0.0, min(full, daylight(model.days.day(day))))
            extra -= 1
    crews = tuple(
        CrewDays(one.name, one.people, one.skills, tuple(hours), one.rate, one.paid) if at == place else one
        for at, one in enumerate(model.days.crews)
    )
    return replace(model, days=replace(model.days, crews=crews))


def _left_after(model: SiteModel, candidate: Candidate) -> dict[str, float]:
    left = {tree.id: tree.infested_ft2 for tree in [*candidate.missed, *candidate.dropped]}
    for plan in candidate.plans:
        left[plan.tree.id] = sum(
            left_share(plan, piece, plan.picks.get(piece.piece.id))[0] * piece.infested_ft2
            for piece in plan.tree.pieces
        )
    return left
