"""What misses its date or has no way: the infested bark it leaves, why, and what to do where no change is known."""

from __future__ import annotations

from barkwright.schedule.afford import out_of_reach
from barkwright.schedule.jobs import Unmet
from barkwright.schedule.model import PieceModel, SiteModel, TreeModel
from barkwright.schedule.scenario import Candidate, left_share
from barkwright.treatment.ways import Way, Window

LOOK = "The look under its bark may: with white larvae only, it flies a year later, and there is time."
FLOWN = "Nothing can this year: look at the green spruce nearby when the flight is over."
GONE = "Nothing more can be done with it here. If it was hauled to a place that deals with it in time, name the place."
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
    dropped = {tree.id for tree in out_of_reach(model, best)}
    trees = {tree.id: tree for tree in model.trees}
    return tuple(
        Unmet(
            name, tuple(piece.piece.id for piece, _ in rest), sum(ft2 for _, ft2 in rest),
            *_why(model, trees[name], rest, name in dropped),
        )
        for name, rest in left.items()
    )  # fmt: skip


def _why(model: SiteModel, tree: TreeModel, rest: list[tuple[PieceModel, float]], dropped: bool) -> tuple[str, str]:
    if dropped:
        budget = model.work.inventory.limits.budget
        return f"The budget of {budget} does not reach for it.", "Raise the budget."
    if not model.days.crews:
        return "Nobody is there to do the work.", "Name the hands that can do the work under crew."
    over = [piece.piece.id for piece, _ in rest if model.work.bench.begun.get(piece.piece.id, False) is None]
    if over:
        return f"What was done with {', '.join(over)} does not count as stopping its brood.", GONE
    begun = [piece for piece, _ in rest if piece.onset is not None and piece.onset <= 0]
    if begun:
        return "Its flight begins before any work can.", LOOK if tree.work.brood.needs_inspection else FLOWN
    wanting = [piece for piece, _ in rest if not any(o.end == "done" for o in model.options(tree, piece))]
    if wanting:
        names = ", ".join(piece.piece.id for piece in wanting)
        return f"No way that is open here stops all the brood of {names}.", _opening(model, tree, wanting[0])
    if tree.standing:
        why = "It cannot be felled and finished before the flight, so it is left standing; on the ground it is worse."
    else:
        why = "There are not enough hands or days to finish it before the flight."
    return why, NO_CHANGE


def _opening(model: SiteModel, tree: TreeModel, piece: PieceModel) -> str:
    """What one thing rules out a way that would do otherwise: first among the ways here, then with tools to be had."""
    bench = model.work.bench
    others = bench.ways(tree.work.tree, piece.piece, piece.brood, all_tools=True)
    for ways in (piece.ways, sorted(others, key=lambda way: way.method != "debark")):  # a drawknife is soon had
        for way in ways:
            for window in way.windows:
                alone = window.verdict == "ruled out" and len(window.reasons) == 1
                if alone and _stops(model, tree, piece, way, window):
                    return f"One thing stands against it ({way.title}): {window.reasons[0].because}"
    return "Ask a forester or an arborist what else can be done with it."


def _stops(model: SiteModel, tree: TreeModel, piece: PieceModel, way: Way, window: Window) -> bool:
    """Would the way stop all the brood in that window, if it were not ruled out?"""
    bench = model.work.bench
    template = bench.template(way.id).id
    return bench.result(tree.work.tree, piece.piece, piece.brood, template, window.first)[0] == "done"
