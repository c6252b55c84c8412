"""The priority rule: plans under several scenarios, and the best of them. It proves nothing about other plans."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise, product

from barkwright.schedule.assemble import assemble
from barkwright.schedule.hires import hired_spans, used_days
from barkwright.schedule.jobs import Optimum, Schedule
from barkwright.schedule.late import felled_late
from barkwright.schedule.levels import levels_of, values_of
from barkwright.schedule.model import SiteModel, site_model
from barkwright.schedule.options import Taste
from barkwright.schedule.scenario import Candidate, Scenario, evaluate
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.sitework import SiteWork
from barkwright.schedule.tidy import tidied
from barkwright.schedule.toil import rarest

NO_PROOF = (
    "priority rule: the worst trees first, each with the cheapest ways that are done in time. "
    "It does not prove that no better plan exists."
)


def plan_by_rule(work: SiteWork) -> Schedule:
    """Choose ways and days for every tree of a site by the rule alone."""
    model = site_model(work)
    best = rule_candidate(model)
    levels = levels_of(model, values_of(model, best))
    return assemble(model, best, Optimum(levels, "priority rule", NO_PROOF, None))


def rule_candidate(model: SiteModel) -> Candidate:
    """The plan of the rule, within the budget."""
    return felled_late(model, search(model))


def search(model: SiteModel) -> Candidate:
    """Try scenarios until nothing is left that can be saved, or the bound on effort is reached; keep the best."""
    bound = SETTINGS["search" if len(model.trees) < SETTINGS["patience_from"] else "search_large"]
    floor = least_left(model)
    best: Candidate | None = None
    for scenario, rescue in scenarios(model):
        if best is not None and (model.looked >= bound or (rescue and best.score[0] <= floor + 0.01)):
            break
        best = _better(model, best, scenario, floor + 0.01)
    assert best is not None
    if best.score[0] > floor + 0.01:
        best = min(best, tidied(model, best), key=lambda one: one.score)
    return one_hire(model, plainer(model, best, bound), bound)


def plainer(model: SiteModel, best: Candidate, bound: float) -> Candidate:
    """Try the best plan with the site doing without one of its ways of working after the other, the rarest first."""
    taste = best.scenario.taste
    best = _better(model, best, replace(best.scenario, taste=replace(taste, waiting=taste.waiting * SETTINGS["haste"])))
    for _ in range(int(SETTINGS["search_rounds"])):
        before = best
        for kit in rarest(best.plans):
            if model.looked >= bound:
                return best
            taste = best.scenario.taste
            shunned = replace(taste, shunned=taste.shunned | {kit})
            best = _better(model, best, replace(best.scenario, taste=shunned))
        if best is before:
            break
    return best


def one_hire(model: SiteModel, best: Candidate, bound: float) -> Candidate:
    """Try the best plan with each machine that is hired more than once had only before, or only after, a gap."""
    for _ in range(int(SETTINGS["search_rounds"])):
        before = best
        for place, use in used_days(model, best.plans).items():
            runs = hired_spans(model, place, use)
            for (_, end), (start, _) in pairwise(runs):
                for span in ((place, start, model.days.length), (place, 0, end), (place, 0, start - 1)):
                    if model.looked >= bound:
                        return best
                    best = _better(model, best, replace(best.scenario, spans=(*best.scenario.spans, span)))
            if best is not before:
                break
        if best is before:
            break
    return best


def _better(model: SiteModel, best: Candidate | None, scenario: Scenario, neat: float = float("inf")) -> Candidate:
    """The plan of a scenario if it is better than the best so far; tidied if it leaves at most `neat` of bark [ft2]."""
    found = evaluate(model, scenario)
    if best is not None and found.score[0] > best.score[0]:
        return best
    if found.score[0] <= neat:
        found = tidied(model, found)
    return found if best is None or found.score < best.score else best


def scenarios(model: SiteModel) -> Iterator[tuple[Scenario, bool]]:
    """Scenarios in the order in which they are tried; True: only when bark would be left.

    Every plan that fewer machines or hands could make is among them as far as the bound allows, so that one more of
    them never leaves more bark.
    """
    wishes = model.work.inventory.wishes
    switch = SETTINGS["tree_switch"] * model.hour
    if len(model.trees) >= SETTINGS["patience_from"]:
        switch *= SETTINGS["eager_switch"]  # there is time for few plans only, and few ways on a tree save hours
    taste = Taste(0.0, wishes.prefer, SETTINGS["near_tie"], SETTINGS["waiting"] / 100, switch)
    hurry = (SETTINGS["hurry"], SETTINGS["great_hurry"])
    people = tuple(crew.people for crew in model.days.crews)
    every = frozenset(machine.place for machine in model.machines)
    hired = [machine.place for machine in model.machines if machine.hired]
    subsets = [  # a machine past the fourth is always at hand
        frozenset(p for p, out in zip(hired, cut, strict=False) if out)
        for cut in product((False, True), repeat=min(len(hired), 4))
    ]
    for gone in subsets:
        yield Scenario(every - gone, people, taste), False
    for times in (0.0, 2.0, SETTINGS["eager_switch"]):  # with no thought of few ways on a tree, and with more
        yield Scenario(every, people, replace(taste, switch=switch * times)), False
    if len({crew.rate for crew in model.days.crews}) > 1:
        for gone in subsets:
            yield Scenario(every - gone, people, taste, thrifty=True), False
    tastes = [taste, *(replace(taste, hour_worth=worth) for worth in hurry)]
    for dense in (False, True):
        for one in tastes:
            yield Scenario(every, people, one, None, dense), True
    owned = sorted(every - set(hired))
    fewer = list(product(*(range(count, 0, -1) for count in people)))
    for gone in [*subsets, *(frozenset((place,)) for place in owned)]:
        for hands in fewer:
            for one in tastes:
                yield Scenario(every - gone, hands, one), True
    for cap in range(model.days.length - 1, 0, -int(SETTINGS["cap_step"])):
        for one in tastes:
            yield Scenario(every, people, one, cap), True


def least_left(model: SiteModel) -> float:
    """Infested bark that no plan could save, because no way ends done or partial [ft2]."""
    left = 0.0
    share = SETTINGS["partial_share"]
    for tree in model.trees:
        for piece in tree.pieces:
            if piece.brooding:
                ends = {option.end for option in model.options(tree, piece)}
                left += piece.infested_ft2 * (0.0 if "done" in ends else share if "partial" in ends else 1.0)
    return left
