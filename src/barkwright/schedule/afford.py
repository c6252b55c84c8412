"""What a plan leaves because the budget does not reach for it."""

from __future__ import annotations

from barkwright.schedule.model import PieceModel, SiteModel, TreeModel
from barkwright.schedule.recipe import base_tasks
from barkwright.schedule.scenario import HALF_A_CENT, Candidate


def out_of_reach(model: SiteModel, best: Candidate) -> list[TreeModel]:
    """Trees that were dropped for want of money, or of which something was left and costs more than is left to pay."""
    budget, guide = model.work.inventory.limits.budget, best.scenario.guide
    if budget is None:
        return list(best.dropped)
    dropped = {tree.id for tree in best.dropped}
    room = float(budget) - best.bill.paid + HALF_A_CENT
    left = frozenset[str]() if guide is None else guide.left
    return [tree for tree in model.trees if tree.id in dropped or _dearer(model, tree, left, room)]


def _dearer(model: SiteModel, tree: TreeModel, left: frozenset[str], room: float) -> bool:
    """Does what is left of a tree cost more than there is: all of it where it must be felled, else the cheapest?"""
    whole = tree.id in left
    rate = min((crew.rate for crew in model.days.crews if crew.paid), default=0.0)
    unpaid = any(not crew.paid for crew in model.days.crews)
    base = 0.0 if not whole or unpaid else rate * sum(task.need for task in base_tasks(model, tree) if not task.outside)
    pieces = [piece for piece in tree.pieces if piece.brooding and (whole or piece.piece.id in left)]
    costs = [cost for cost in (_least(model, tree, piece) for piece in pieces) if cost is not None]
    return bool(costs) and base + (sum(costs) if whole and tree.standing else min(costs)) > room


def _least(model: SiteModel, tree: TreeModel, piece: PieceModel) -> float | None:
    """What the cheapest way that stops all of its brood takes from the purse [currency]; None where there is none."""
    return min((option.money for option in model.options(tree, piece) if option.end == "done"), default=None)
