"""What misses its date or has no way: how much infested bark it leaves, why, and the smallest change that would save it."""

from __future__ import annotations

from barkwright.schedule.jobs import Unmet
from barkwright.schedule.model import SiteModel
from barkwright.schedule.scenario import Candidate, left_share


def unmet_of(model: SiteModel, best: Candidate) -> tuple[Unmet, ...]:
    """One entry per tree, in the inventory's order."""
    found: dict[str, Unmet] = {}
    for tree in [*best.missed, *best.dropped]:
        pieces = tuple(piece.piece.id for piece in tree.pieces if piece.brooding)
        if pieces:
            found[tree.id] = Unmet(
                tree.id, pieces, tree.infested_ft2, "It cannot be finished before its flight.", "One more day."
            )
    for plan in best.plans:
        left = [(p, left_share(plan, p, plan.picks.get(p.piece.id))[0] * p.infested_ft2) for p in plan.tree.pieces]
        left = [(piece, ft2) for piece, ft2 in left if ft2 > 0]
        if left:
            found[plan.tree.id] = Unmet(
                plan.tree.id,
                tuple(p.piece.id for p, _ in left),
                sum(ft2 for _, ft2 in left),
                "It misses its date.",
                "One more day.",
            )
    return tuple(found[tree.id] for tree in model.trees if tree.id in found)
