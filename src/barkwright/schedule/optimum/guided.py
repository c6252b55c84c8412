"""Plans under a guide: the dispatcher writes in what the period model chose, with hired machines on few days."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import islice, permutations

from barkwright.schedule.guide import Guide, alone
from barkwright.schedule.hires import hire_price, used_days
from barkwright.schedule.levels import MONEY, TROUBLE, better, stated, values_of
from barkwright.schedule.model import SiteModel
from barkwright.schedule.optimum.guided_large import guided_large, under
from barkwright.schedule.optimum.large import LargeProof
from barkwright.schedule.optimum.search import Proof
from barkwright.schedule.options import Kit, Option
from barkwright.schedule.order import natural
from barkwright.schedule.scenario import Candidate, Scenario, evaluate
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.tidy import tidied
from barkwright.schedule.toil import rarest
from barkwright.schedule.watch import Watch

NEARLY = 1e-3
INFINITE = float("inf")
Run = tuple[int, int, int]  # machine, first day, last day


def guided(model: SiteModel, proof: Proof | LargeProof, watch: Watch) -> list[Candidate]:
    """The plans that the dispatcher makes of the period model's answer; the last is the best at the first levels."""
    if isinstance(proof, LargeProof):
        return guided_large(model, proof, watch)
    scenario = under(model, proof.guide)
    found: list[Candidate] = []
    best = _written(model, scenario, found)
    fewer = frozenset(one.place for one in model.machines if not one.hired or one.place in proof.hired)
    if fewer < scenario.machines:  # the dispatcher does without what the model does not hire
        best = _least(model, best, _written(model, replace(scenario, machines=fewer), found))
    if scenario.thrifty:
        best = _least(model, best, _written(model, replace(best.scenario, thrifty=False), found))
    best = _least(model, best, _written(model, replace(best.scenario, together=True), found))
    if not proof.ideal:
        best = _least(model, best, _written(model, replace(best.scenario, guide=alone(model, proof.guide)), found))
    guide = sooner(model, best.scenario.guide or proof.guide)
    if guide != best.scenario.guide:
        best = _least(model, best, _written(model, replace(best.scenario, guide=guide), found))
    for place in proof.hired:
        for run in _runs(model, proof, place, int(SETTINGS["hire_tries"])):
            if watch.stop or _hired_well(model, best, proof, place):
                break
            now = best.scenario
            best = _least(model, best, _written(model, replace(now, spans=(*now.spans, run)), found))
    for order in _orders(model, proof):
        if watch.stop or _reaches(values_of(model, best), proof):
            break
        now = replace(best.scenario, guide=replace(best.scenario.guide or proof.guide, ranks=order))
        best = _least(model, best, _written(model, now, found))
    return [*found, best]


def sooner(model: SiteModel, guide: Guide) -> Guide:
    """The guide with each way in the first of its windows that costs no more: what may wait need not."""
    picks = dict(guide.picks)
    for tree in model.trees:
        for piece in tree.pieces:
            pick = picks.get(piece.piece.id)
            if pick is not None and piece.at_stake:
                opens = guide.seasons.get(tree.id, (None, 0))[1]
                same = (one for one in model.options(tree, piece) if one.last >= opens and _as_good(one, pick.option))
                first = min(same, key=lambda one: one.first, default=pick.option)
                if first.first < pick.option.first:
                    picks[piece.piece.id] = replace(pick, option=first)
    return guide if picks == guide.picks else replace(guide, picks=picks)


def _as_good(one: Option, other: Option) -> bool:
    """Is it the same way to the same end, for no more money and hours?"""
    same = (one.way, one.end, one.against_wish) == (other.way, other.end, other.against_wish)
    return same and one.money + one.valued <= other.money + other.valued + NEARLY and one.hours <= other.hours + NEARLY


def _hired_well(model: SiteModel, best: Candidate, proof: Proof, place: int) -> bool:
    """Is a machine hired for no more days than the model needs, and for no more than days in a row cost?"""
    used = used_days(model, best.plans).get(place, {})
    row = dict(enumerate(used.values()))
    if len(used) > sum(days for _, _, days in proof.hired[place]):
        return False
    return hire_price(model, place, used, used) <= hire_price(model, place, row, row)


def _reaches(values: Sequence[float], proof: Proof | LargeProof) -> bool:
    """Is a plan at the bounds of the model up to money?"""
    pairs = zip(values[: MONEY + 1], proof.bounds, strict=False)
    return all(bound is not None and value <= bound + NEARLY for value, bound in pairs)


def _orders(model: SiteModel, proof: Proof) -> Iterator[dict[str, float]]:
    """Other orders of the trees of a small site: of all orders a number that do not look alike."""
    ranks = proof.guide.ranks
    names = sorted((tree.id for tree in model.trees), key=lambda name: (ranks.get(name, INFINITE), natural(name)))
    if len(names) > SETTINGS["orders_trees"]:
        return
    for number, order in enumerate(islice(permutations(names), int(SETTINGS["orders_tried"]))):
        if number:
            yield {name: float(place) for place, name in enumerate(order)}


def plainer(model: SiteModel, best: Candidate, watch: Watch) -> list[Candidate]:
    """Plans made like the best, each doing without one more of its ways of working, the rarest first.

    A way is given up for good where the plan costs no more for it than the tolerance allows and is less trouble.
    """
    found: list[Candidate] = []
    values = values_of(model, best)
    most = list(values)
    most[MONEY] += stated(model).of(MONEY, values[MONEY])
    for _ in range(int(SETTINGS["search_rounds"])):
        before = best
        for kit in rarest(best.plans):
            if watch.stop or len(found) >= SETTINGS["plainer_tries"]:
                return found
            one = _written(model, _without(best.scenario, kit), [])
            now = values_of(model, one)
            inside = all(new <= old + NEARLY for new, old in zip(now[: MONEY + 1], most, strict=False))
            if inside and now[TROUBLE] < values_of(model, best)[TROUBLE] - NEARLY:
                best = one
                found.append(one)
        if best is before:
            break
    return found


def _without(scenario: Scenario, kit: Kit) -> Scenario:
    """The scenario without a way of working, as far as can be."""
    guide = scenario.guide
    if guide is not None:
        guide = replace(guide, picks={name: one for name, one in guide.picks.items() if one.option.kit != kit})
    taste = replace(scenario.taste, shunned=scenario.taste.shunned | {kit})
    return replace(scenario, taste=taste, guide=guide)


def _written(model: SiteModel, scenario: Scenario, found: list[Candidate]) -> Candidate:
    """The plan of a scenario, as it is written in and tidied."""
    plain = evaluate(model, scenario)
    neat = tidied(model, plain)
    found[:] = [*found[-6:], plain] if neat is plain else [*found[-6:], plain, neat]
    return _least(model, plain, neat)


def _least(model: SiteModel, one: Candidate, other: Candidate) -> Candidate:
    return other if better(values_of(model, other), values_of(model, one)) else one


def _runs(model: SiteModel, proof: Proof, place: int, most: int) -> Iterator[Run]:
    """Runs of days in which a machine could do its work: as many as the model hires it for, and one more."""
    days = sum(used for _, _, used in proof.hired[place])
    for more in (0, 1):
        yield from runs_of(model, place, days + more, most, proof.hired[place])


def runs_of(
    model: SiteModel, place: int, days: int, most: int, spans: Sequence[tuple[int, int, int]] = ()
) -> Iterator[Run]:
    """Runs of so many days of work on which a machine can be had, from about `most` first days on.

    spans : first days and ends of the times in which it must begin; none said: any
    """
    machine = model.machines[place]
    hours = [max(crew.hours[day] for crew in model.days.crews) for day in range(model.days.length)]
    last = min(machine.last, model.days.length - 1)
    there = [day for day in range(max(machine.first, 0), last + 1) if hours[day] > 0.0]
    starts = [at for at, day in enumerate(there) if not spans or any(first <= day < end for first, end, _ in spans)]
    for at in starts[:: max(1, len(starts) // most)]:
        if 0 < days <= len(there) - at:
            yield (place, there[at], there[at + days - 1])
