"""The best plan: ways, days, crews and hires chosen together, with what is proven about it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from barkwright.record import dataclass
from barkwright.schedule.assemble import assemble
from barkwright.schedule.earlier import Earlier
from barkwright.schedule.jobs import Optimum, Schedule
from barkwright.schedule.late import felled_late
from barkwright.schedule.levels import BARK, CHANGES, LAST, MONEY, NAMES, levels_of, stated, values_of
from barkwright.schedule.model import SiteModel, site_model
from barkwright.schedule.optimum.again import again
from barkwright.schedule.optimum.guided import guided, plainer
from barkwright.schedule.optimum.large import LargeProof
from barkwright.schedule.optimum.nearby import nearby
from barkwright.schedule.optimum.program import SolverError, solver_name
from barkwright.schedule.optimum.search import Proof, bounds_at, prove
from barkwright.schedule.restored import restored
from barkwright.schedule.rule import NO_PROOF, rule_candidate
from barkwright.schedule.scenario import Candidate
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.sitework import SiteWork
from barkwright.schedule.verify import verify
from barkwright.schedule.watch import Watch

Valued = tuple[tuple[float, ...], Candidate]
NEARLY = 1e-3


@dataclass(slots=True)
class Found:
    """The plan that was chosen, and why the search for a better one ended."""

    best: Candidate
    bounds: Sequence[float | None]
    stopped: str
    kept: Candidate | None = None  # the plan that keeps most of the earlier order, where that is another one


def best_plan(work: SiteWork, watch: Watch | None = None, earlier: Earlier | None = None) -> Schedule:
    """The best plan of a site that is found within the limits of effort, and how far from the best it can be.

    earlier : the order that was given out last; of plans that are as good the one that changes least of it is taken
    Where the solver fails, or a plan breaks a constraint, the plan is the priority rule's, and says so.
    """
    watch = watch or Watch()
    work = work if earlier is None else replace(work, earlier=earlier)
    model = site_model(work)
    try:
        watch.tell("weighing all ways, days and hires together")
        proof = prove(model, watch)
    except SolverError as error:
        return by_rule(model, f"{error}, so the plan is by the {NO_PROOF}")
    found = _searched(model, proof, watch)
    levels = levels_of(model, values_of(model, found.best), found.bounds)
    kept = () if found.kept is None else levels_of(model, values_of(model, found.kept))
    schedule = assemble(model, found.best, Optimum(levels, "best plan", found.stopped, solver_name(), kept))
    broken = verify(schedule, work)
    if broken:
        return by_rule(model, f"the plan found broke a constraint ({broken[0]}), so the plan is by the {NO_PROOF}")
    return schedule


def by_rule(model: SiteModel, why: str) -> Schedule:
    """The plan of the priority rule, and why it is that."""
    best = rule_candidate(model)
    schedule = assemble(model, best, Optimum(levels_of(model, values_of(model, best)), "priority rule", why, None))
    return replace(schedule, broken=verify(schedule, model.work))


def _searched(model: SiteModel, proof: Proof | LargeProof, watch: Watch) -> Found:
    """Plans made under the guide, then, unless one is proven to be the best, the priority rule's too."""
    plans = [(values_of(model, one), one) for one in guided(model, proof, watch)]
    known: Sequence[float | None] = proof.bounds
    if isinstance(proof, Proof) and len(model.trees) <= SETTINGS["nearby_trees"]:
        watch.tell("trying plans near it")
        best = nearby(model, proof, plans[-1][1], lambda values: _reaches(model, values, proof.bounds, True), watch)
        plans.append((values_of(model, best), best))
    elif isinstance(proof, Proof):
        known = proof.bounds[:MONEY]  # nothing was sought nearer to the bound on money: what is above is not used up
    large, sampled = len(model.trees) > SETTINGS["orders_trees"], isinstance(proof, LargeProof)
    stopped = "nothing better can be had, but for what it may give up"
    if not _proven(model, plans, proof.bounds):
        stopped = "all plans that the limits of effort allow were tried"
        many = sampled and (len(model.trees) > SETTINGS["rule_trees"] or _saves_enough(plans, proof.bounds))
        if not watch.stop and not many and not (large and _close(plans, proof.bounds)):
            watch.tell("trying the priority rule beside it")
            model.looked = 0  # what was looked at under the guide is not taken from the rule's own limit
            one = rule_candidate(model)
            plans.append((values_of(model, one), one))
    if model.before is not None:
        watch.tell("holding on to the order that was given out")
        follow = again(model, choose(model, plans, known)[1], watch)
        plans += [(values_of(model, one), one) for one in follow]
        stopped += "" if follow else "; it has too many trees for its earlier order to be written in again"
    if not sampled:
        watch.tell("looking for fewer ways, fires and visits at the same cost")
        plans += [(values_of(model, one), one) for one in plainer(model, choose(model, plans, known)[1], watch)]
    if watch.stop:
        stopped = "interrupted: this is the best plan so far"
    values, best = choose(model, plans, known)
    best = restored(model, best)
    values = values_of(model, best)
    later = best if sampled else felled_late(model, best)
    moved = values_of(model, later)
    if all(new <= old + NEARLY for new, old in zip(moved[:LAST], values[:LAST], strict=True)):
        values, best = moved, later
    bounds = bounds_at(model, proof, values, watch)
    if any(
        bound is not None and bound > value + 0.01 + 1e-6 * abs(value)
        for bound, value in zip(bounds, values, strict=True)
    ):
        stopped, bounds = f"{stopped}; the solver's bound is in doubt, so none is given", [None] * len(NAMES)
    nearest = min(plans, key=lambda one: (round(one[0][CHANGES], 3), one[0]))
    changed = model.before is not None and nearest[0][CHANGES] < values[CHANGES] - NEARLY
    return Found(best, bounds, stopped, nearest[1] if changed else None)


def choose(model: SiteModel, plans: Iterable[Valued], bounds: Sequence[float | None] = ()) -> Valued:
    """The best of some plans, level after level, each within its tolerance.

    bounds : of the levels; where the least of the plans is above one by some of the tolerance, that much is used up
    """
    left, prices = list(plans), stated(model)
    for level in range(len(NAMES)):
        least = min(values[level] for values, _ in left)
        most = least + prices.of(level, least)
        bound = bounds[level] if level < len(bounds) else None
        if bound is not None and bound <= least <= bound + prices.of(level, bound):
            most = bound + prices.of(level, bound)
        left = [one for one in left if one[0][level] <= most + NEARLY]
    return left[0]


def _proven(model: SiteModel, plans: Sequence[Valued], bounds: Sequence[float | None]) -> bool:
    """Does a plan reach the bounds of all levels up to money, but for tolerances?"""
    return any(_reaches(model, values, bounds) for values, _ in plans)


def _reaches(model: SiteModel, values: Sequence[float], bounds: Sequence[float | None], within: bool = False) -> bool:
    """Are the values of a plan at the bounds of all levels up to money, but for the tolerance on bark?

    within : bool    is money within its tolerance enough?
    """
    prices = stated(model)
    levels = (BARK, MONEY) if within else (BARK,)
    return all(
        bound is not None and value <= bound + 0.01 + (prices.of(level, bound) if level in levels else 0.0)
        for level, (value, bound) in enumerate(zip(values[: MONEY + 1], bounds, strict=False))
    )


def _saves_enough(plans: Sequence[Valued], bounds: Sequence[float | None]) -> bool:
    """Does a plan leave so little bark beyond the least that hands and days are well used?"""
    least = min(values[BARK] for values, _ in plans)
    return least <= (bounds[BARK] or 0.0) * (1.0 + SETTINGS["bark_near"]) + NEARLY


def _close(plans: Sequence[Valued], bounds: Sequence[float | None]) -> bool:
    """Is a plan so near to the bounds that a site of many trees does without further tries?"""
    share = SETTINGS["close_enough"]
    return any(
        all(
            bound is not None and value - bound <= share * max(1.0, abs(value))
            for value, bound in zip(values[: MONEY + 1], bounds, strict=False)
        )
        for values, _ in plans
    )
