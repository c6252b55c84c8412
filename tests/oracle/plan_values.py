"""What a finished schedule comes to at each level, told from its choices, jobs and hires alone."""

from __future__ import annotations

from site_records import HALF, PieceFacts, SiteFacts, TreeFacts

from barkwright.schedule.jobs import Choice, Schedule
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.verify_wood import lies_from, share_left


def values(site: SiteFacts, schedule: Schedule) -> dict[str, float]:
    """The levels of `exact_model.LEVELS`, of a plan as it stands."""
    found = dict.fromkeys(("bark", "flown", "removals", "avoided", "host"), 0.0)
    choices = {choice.piece: choice for choice in schedule.choices}
    falls = {job.tree for job in schedule.jobs if job.work == "fell"}
    stated = 0.0
    for tree in site.trees:
        name = tree.tree.tree.id
        lives = any(piece.infested > 0 for piece in tree.pieces)
        if tree.standing and tree.may_work and (tree.hazard or not lives) and name not in falls:
            found["removals"] += 1
        for piece in tree.pieces:
            stated += _piece(site, tree, piece, choices[piece.piece.id], schedule, found)
    return {**found, "money": stated + sum(money_parts(site, schedule).values())}


def _piece(
    site: SiteFacts, tree: TreeFacts, piece: PieceFacts, choice: Choice, schedule: Schedule, found: dict[str, float]
) -> float:
    """Adds a piece to the levels; returns what its bark counts as in money."""
    way = next((w for p, _, ways in tree.tree.pieces() if p is piece.piece for w in ways if w.id == choice.way), None)
    window = None if way is None or choice.window is None else way.windows[choice.window]
    left = share_left(choice, way, piece.brood, site.work)
    kept = 0.0 if window is not None and window.end == "done" else HALF
    after = piece.onset is not None and choice.done_on is not None and site.index(choice.done_on) >= piece.onset
    found["bark"] += piece.infested * left
    found["flown"] += piece.infested * (1.0 if way is None else 1.0 - (1.0 - kept) * HALF if after else kept)
    jobs = [job for job in schedule.jobs if job.tree == tree.tree.tree.id]
    fallen = any(job.work == "fell" for job in jobs)
    onset = lies_from(tree.tree, [job for job in jobs if job.work == "fell"], piece.piece, piece.brood, site.work)
    lain = 0.0
    if onset is not None:
        late = way is None or choice.done_on is None or choice.done_on >= onset
        lain = 1.0 if late else kept
    if piece.at_stake and (fallen or not tree.standing):
        found["host"] += piece.piece.bark_ft2 * (max(left, lain) if piece.host > 0 else lain)
    if way is None or window is None or not piece.at_stake:
        return 0.0
    found["avoided"] += window.verdict == "ruled out" and window.without_wish not in (None, "ruled out")
    finish = way.finish_by
    worked = any(piece.piece.id in job.pieces for job in jobs)
    tardy = after or (worked and finish is not None and choice.done_on is not None and choice.done_on > finish)
    best = site.work.inventory.best
    partial = SETTINGS["partial_per_ft2"] if best.partial_per_ft2 is None else best.partial_per_ft2
    late_price = SETTINGS["late_per_ft2"] if best.late_per_ft2 is None else best.late_per_ft2
    return piece.infested * (partial * (window.end == "partial") + late_price * tardy)


def money_parts(site: SiteFacts, schedule: Schedule) -> dict[str, float]:
    """Labour, machines, hires, professionals, and what the wood is worth; no fees by the load."""
    work = site.work
    crews = {crew.name: crew for crew in work.inventory.crew}
    choices = {choice.piece: choice for choice in schedule.choices}
    parts = dict.fromkeys(("labour", "machines", "professionals", "worth"), 0.0)
    parts["hire"] = sum(float(run.cost) for run in schedule.rentals)
    for job in schedule.jobs:
        if job.crew not in crews or job.work == "look again":
            continue
        parts["labour"] += float(work.prices.labour(crews[job.crew], job.hours)[0])
        ran = sum(hours for _, hours in job.machine_hours)
        for kind in job.equipment:
            entry = next(one for one in work.inventory.equipment if one.kind == kind)
            parts["machines"] += float(work.prices.machine(entry, ran).amount)
    for tree in site.trees:
        removal = tree.tree.tree.removal
        outside = any(j.work == "fell" and j.tree == tree.tree.tree.id and j.crew not in crews for j in schedule.jobs)
        if outside and removal is not None and removal.price is not None:
            parts["professionals"] += float(removal.price)
        for piece, _, ways in tree.tree.pieces():
            way = next((one for one in ways if one.id == choices[piece.id].way), None)
            parts["worth"] -= 0.0 if way is None else work.worth(tree.tree.tree, piece, way)
    return parts
