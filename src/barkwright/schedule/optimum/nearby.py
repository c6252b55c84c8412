"""Plans near a plan of a small site: one thing changed at a time, and kept where the plan is better for it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import islice

from barkwright.schedule.guide import Guide, Season, stays
from barkwright.schedule.levels import better, values_of
from barkwright.schedule.model import SiteModel
from barkwright.schedule.optimum.moves import FAMILIES, Family, Near, Seasons
from barkwright.schedule.optimum.search import Proof
from barkwright.schedule.scenario import Candidate, Scenario, evaluate
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.tally import TreePlan
from barkwright.schedule.tidy import tidied
from barkwright.schedule.watch import Watch

Enough = Callable[[Sequence[float]], bool]  # is a plan of these values so good that no better one is sought?


def nearby(model: SiteModel, proof: Proof, best: Candidate, enough: Enough, watch: Watch) -> Candidate:
    """The best plan that is found from a plan on, within the tries that are allowed."""
    search = Search(model, proof, best, enough, watch)
    while not search.over:
        before = search.best
        for family in FAMILIES:
            search.through(family)
        if search.best is before:
            break
    neat = tidied(model, search.best)
    return neat if better(values_of(model, neat), search.values) else search.best


class Search:
    """The best plan so far, and the tries that are left."""

    def __init__(self, model: SiteModel, proof: Proof, best: Candidate, enough: Enough, watch: Watch) -> None:
        self.model, self.proof, self.enough, self.watch = model, proof, enough, watch
        self.seasons = {tree.id: one.seasons for one in proof.every for tree in one.members or (one.tree,)}
        self.best, self.values = best, values_of(model, best)
        self.tries = int(SETTINGS["nearby_tries"] / max(1, len(model.trees)))
        self.seen: set[object] = set()

    @property
    def over(self) -> bool:
        """Is nothing more to be tried?"""
        return self.tries <= 0 or self.watch.stop or self.enough(self.values)

    def through(self, family: Family) -> None:
        """Try the changes of a family one after the other, each on the best plan so far."""
        done: int | None = 0
        while done is not None and not self.over:
            done = self._from(family, done)

    def _from(self, family: Family, done: int) -> int | None:
        """Try the changes after the first `done`; how many are done where one made the plan better, None at the end."""
        near = Near(self.model, self.proof, self.seasons, self.best, told(self.model, self.seasons, self.best))
        for number, scenario in enumerate(islice(family(near), done, None), done + 1):
            if self.over:
                return None
            if self._better(scenario):
                return number
        return None

    def _better(self, scenario: Scenario) -> bool:
        sign = sign_of(scenario)
        if sign in self.seen:
            return False
        self.seen.add(sign)
        self.tries -= 1
        found = evaluate(self.model, scenario)
        values = values_of(self.model, found)
        if not better(values, self.values):
            return False
        self.best, self.values = found, values
        return True


def sign_of(scenario: Scenario) -> object:
    """What tells a scenario from others."""
    guide = scenario.guide
    if guide is None:
        return scenario
    maps = (guide.picks, guide.seasons, guide.ranks, guide.crews, guide.days)
    return (
        replace(scenario, guide=None), guide.left, guide.apart, guide.hired_first,
        *(tuple(sorted(one.items(), key=lambda item: item[0])) for one in maps),
    )  # fmt: skip


def told(model: SiteModel, seasons: Seasons, plan: Candidate) -> Guide:
    """A guide that says what a plan does, and to leave what it leaves."""
    old = plan.scenario.guide or Guide()
    picks, spans = dict(old.picks), dict(old.seasons)
    for one in plan.plans:
        picks.update(one.picks)
        season = _season(one, seasons)
        if season is not None:
            spans[one.tree.id] = season
    worked = [one for one in plan.plans if one.picks or stays(one.tree) or any(t.work == "fell" for t in one.tasks)]
    names = [one.tree.id for one in sorted(worked, key=lambda one: old.ranks.get(one.tree.id, 0.0))]
    done = {*names, *(name for one in plan.plans for name in one.picks)}
    whole = (name for tree in model.trees for name in (tree.id, *(piece.piece.id for piece in tree.pieces)))
    left = frozenset(name for name in whole if name not in done)
    names += [tree.id for tree in model.trees if tree.id in left]
    ranks = {name: float(place) for place, name in enumerate(names)}
    return replace(old, picks=picks, seasons=spans, ranks={**old.ranks, **ranks}, left=left, more={})


def _season(plan: TreePlan, seasons: Seasons) -> Season | None:
    """The season in which a plan takes its tree: when it falls, or the first where it lies."""
    falls = (placed.first for task, placed in zip(plan.tasks, plan.placed, strict=True) if task.work == "fell")
    day = next(falls, None)
    for one in seasons.get(plan.tree.id, ()):
        inside = day is not None and one.opens <= day and (one.closes is None or day <= one.closes)
        if inside or not plan.tree.standing:
            return one.closes, one.opens
    return None
