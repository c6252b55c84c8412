"""A tree's plan, and the tally of what the site takes only so much of."""

from __future__ import annotations

from dataclasses import field

from barkwright.record import dataclass
from barkwright.schedule.book import NEARLY, Placed
from barkwright.schedule.model import SiteModel, TreeModel
from barkwright.schedule.recipe import Pick
from barkwright.schedule.tasks import Task
from barkwright.treatment.ways import Way


@dataclass(slots=True)
class TreePlan:
    """One tree's tasks and their places, and the way of each of its pieces."""

    tree: TreeModel
    tasks: list[Task] = field(default_factory=list)
    placed: list[Placed] = field(default_factory=list)
    picks: dict[str, Pick] = field(default_factory=dict)  # by piece id


CHIPS, STOVE = "chips", "stove"
BANS = (frozenset[str](), frozenset((CHIPS,)), frozenset((STOVE,)), frozenset((CHIPS, STOVE)))


def uses(way: Way) -> frozenset[str]:
    """Which of the site's limits a way draws on."""
    return frozenset(one for one, drawn in ((CHIPS, way.then == "chips"), (STOVE, way.id.endswith("-stove"))) if drawn)


class Tally:
    """What the site has taken so far of what it takes only so much of: chips, and wood burned in the stove in time."""

    def __init__(self, model: SiteModel) -> None:
        self.model = model
        limits = model.work.inventory.limits
        self.chips, self.weekly = limits.chips_site_takes_yd3, limits.firewood_cords_per_week
        self.limited = self.chips is not None or self.weekly is not None
        self.chips_used = self.cords_used = 0.0

    def takes(self, plan: TreePlan) -> bool:
        """Is there room for what the ways of a tree leave?"""
        if not self.limited:
            return True
        chips, cords, weeks = self._drawn(plan)
        return (self.chips is None or chips <= 0 or self.chips_used + chips <= self.chips + NEARLY) and (
            self.weekly is None or cords <= 0 or self.cords_used + cords <= self.weekly * weeks + NEARLY
        )

    def add(self, plan: TreePlan) -> None:
        """Count a tree in."""
        if self.limited:
            chips, cords, _ = self._drawn(plan)
            self.chips_used, self.cords_used = self.chips_used + chips, self.cords_used + cords

    def less(self, plan: TreePlan) -> None:
        """Take a tree out of the count again."""
        if self.limited:
            chips, cords, _ = self._drawn(plan)
            self.chips_used, self.cords_used = self.chips_used - chips, self.cords_used - cords

    def _drawn(self, plan: TreePlan) -> tuple[float, float, float]:
        chips = cords = 0.0
        weeks = float(self.model.days.length)
        for piece in plan.tree.pieces:
            pick = plan.picks.get(piece.piece.id)
            if pick is None:
                continue
            way = piece.ways[pick.option.position]
            drawn = uses(way)
            if not drawn:
                continue
            found = self.model.work.yields(plan.tree.work.tree, piece.piece, way)
            chips += found.chips_yd3 if CHIPS in drawn else 0.0
            if STOVE in drawn:
                cords += found.cords
                weeks = min(weeks, (pick.due if pick.due is not None else self.model.days.length) / 7)
        return chips, cords, weeks
