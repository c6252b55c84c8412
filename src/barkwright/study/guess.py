"""A quick guess of what a site comes to: its trees written in once, worst first, in place of a whole search."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from barkwright.record import dataclass
from barkwright.schedule.model import SiteModel
from barkwright.schedule.rule import scenarios
from barkwright.schedule.scenario import Candidate, Scenario, evaluate, left_share
from barkwright.schedule.settings import SETTINGS


@dataclass(frozen=True, slots=True)
class Guess:
    """What one plan leaves and costs."""

    left: Mapping[str, float]  # infested bark left, by tree id [ft2]
    paid: float  # [currency]

    @property
    def left_ft2(self) -> float:
        """Infested bark left [ft2]."""
        return sum(self.left.values())


def habit_of(model: SiteModel, left_ft2: float) -> Scenario:
    """The way of choosing that leaves least bark on a site as it stands; the first that leaves no more than a plan."""
    best: Candidate | None = None
    for scenario in _habits(model):
        found = evaluate(model, scenario)
        if best is None or found.score < best.score:
            best = found
        if best.score[0] <= left_ft2 + 0.01:
            break
    assert best is not None
    return best.scenario


def guess(model: SiteModel, habit: Scenario) -> Guess:
    """What a site comes to when all its hands and machines work by a habit."""
    people = tuple(crew.people for crew in model.days.crews)
    machines = frozenset(machine.place for machine in model.machines)
    found = evaluate(model, replace(habit, people=people, machines=machines))
    return Guess(_left_after(found), found.bill.paid)


def _habits(model: SiteModel) -> Iterator[Scenario]:
    plain = next(scenarios(model))[0]
    for dense in (False, True):
        for worth in (0.0, SETTINGS["hurry"], SETTINGS["great_hurry"]):
            yield replace(plain, taste=replace(plain.taste, hour_worth=worth), dense=dense)


def _left_after(candidate: Candidate) -> dict[str, float]:
    left = {tree.id: tree.infested_ft2 for tree in [*candidate.missed, *candidate.dropped]}
    for plan in candidate.plans:
        left[plan.tree.id] = sum(
            left_share(plan, piece, plan.picks.get(piece.piece.id))[0] * piece.infested_ft2
            for piece in plan.tree.pieces
        )
    return left
