"""Plans of a large site under its guide: a handful, with hired machines on as few days as the prices say."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from barkwright.schedule.guide import Guide, alone
from barkwright.schedule.levels import better, values_of
from barkwright.schedule.model import SiteModel, TreeModel
from barkwright.schedule.optimum.hire_days import filled_days
from barkwright.schedule.optimum.large import LargeProof
from barkwright.schedule.options import Taste
from barkwright.schedule.recipe import base_tasks
from barkwright.schedule.scenario import Candidate, Scenario, evaluate
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.watch import Watch

LEAST = 0.1  # hours that bark is divided by, at least [h]


def under(model: SiteModel, guide: Guide) -> Scenario:
    """The whole site under a guide: all machines and hands, the cheapest crew in time where crews cost unlike."""
    return Scenario(
        frozenset(machine.place for machine in model.machines),
        tuple(crew.people for crew in model.days.crews),
        Taste(0.0, model.work.inventory.wishes.prefer, 0.0, 0.0, 0.0),
        guide=guide,
        thrifty=len({crew.rate for crew in model.days.crews}) > 1,
    )


def guided_large(model: SiteModel, proof: LargeProof, watch: Watch) -> list[Candidate]:
    """The plans that are tried; the last is the best at the first levels."""
    found: list[Candidate] = []
    purse = model.work.inventory.limits.budget is not None
    for one in proof.guides:
        guide = alone(model, one.guide) if purse and not proof.ideal else one.guide
        scenario = replace(under(model, guide), together=True)
        scenario = replace(scenario, had=filled_days(model, one.hired, scenario))
        if scenario.had and not (found and watch.stop):
            found += _tried(model, scenario)
    if not any(_whole(one) for one in found):  # days of hire are not what counts most
        scenario = replace(under(model, proof.guides[0].guide), together=True)
        found += [evaluate(model, replace(scenario, guide=one)) for one in _guides(model, proof, purse)]
    best = found[0]
    for plan in found[1:]:
        best = plan if better(values_of(model, plan), values_of(model, best)) else best
    return [*(plan for plan in found if plan is not best), best]


def _guides(model: SiteModel, proof: LargeProof, purse: bool) -> Iterator[Guide]:
    """The guide with all beside it that finds a place; and with nothing, where a budget would have to pay for it."""
    yield proof.guides[0].guide
    if purse and not proof.ideal:
        yield alone(model, proof.guides[0].guide)


def _tried(model: SiteModel, scenario: Scenario) -> Iterator[Candidate]:
    """The plan of a scenario; where not all trees find a place, also of those that save most bark for their hours."""
    plan = evaluate(model, scenario)
    yield plan
    if scenario.guide is not None and not _whole(plan):
        yield evaluate(model, replace(scenario, guide=thinned(model, scenario.guide, plan.together)))


def _whole(plan: Candidate) -> bool:
    """Did nearly all trees of the guide find their place?"""
    guide = plan.scenario.guide
    return guide is None or plan.together >= SETTINGS["guide_kept"] * len(guide.seasons)


def thinned(model: SiteModel, guide: Guide, number: int) -> Guide:
    """The same guide for so many trees alone: those that save most infested bark for their hours."""

    def rate(tree: TreeModel) -> float:
        picks = (guide.picks.get(piece.piece.id) for piece in tree.pieces)
        hours = sum(pick.option.hours for pick in picks if pick is not None)
        return tree.infested_ft2 / max(LEAST, hours + sum(task.need for task in base_tasks(model, tree)))

    trees = [tree for tree in model.trees if tree.id in guide.seasons]
    trees.sort(key=lambda tree: (-round(rate(tree), 6), tree.place))
    return replace(guide, seasons={tree.id: guide.seasons[tree.id] for tree in trees[:number]})
