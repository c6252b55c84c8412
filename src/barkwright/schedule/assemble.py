"""From the best plan found to the schedule that others read: jobs by date, choices, hires, costs, what is left."""

from __future__ import annotations

from collections.abc import Iterator

from barkwright.schedule.afford import out_of_reach
from barkwright.schedule.hires import rental_runs, used_days
from barkwright.schedule.joblist import jobs_of
from barkwright.schedule.jobs import Choice, Optimum, Schedule
from barkwright.schedule.lines import cost_lines
from barkwright.schedule.lying import done_day, latest
from barkwright.schedule.model import PieceModel, SiteModel, TreeModel
from barkwright.schedule.recipe import Pick
from barkwright.schedule.scenario import Candidate, host_left_ft2, left_share, total_infested
from barkwright.schedule.tally import TreePlan
from barkwright.schedule.unmet import unmet_of

AVOIDED = (4, 5, 6, 7)  # goals that are met against a wish, see dispatch
HAZARD = "is taken down because it is a hazard, though not all its infested wood can be finished in time."
LIES = "It cannot be done before the coming flight, so it is done before its own beetles fly"


def assemble(model: SiteModel, best: Candidate, optimum: Optimum) -> Schedule:
    """Write the plan out."""
    plans = {plan.tree.id: plan for plan in best.plans}
    choices = tuple(choice for tree in model.trees for choice in _choices(model, tree, plans.get(tree.id), best))
    left = total_infested(best.missed) + total_infested(best.dropped)
    gone = [*best.missed, *best.dropped]
    host = sum(host_left_ft2(model, tree, None) for tree in gone)
    for plan in best.plans:
        host += host_left_ft2(model, plan.tree, plan)
        for piece in plan.tree.pieces:
            share = left_share(plan, piece, plan.picks.get(piece.piece.id))[0]
            left += share * piece.infested_ft2
    runs = rental_runs(model, used_days(model, best.plans))
    return Schedule(
        choices=choices,
        jobs=jobs_of(model, best),
        rentals=runs,
        costs=cost_lines(model, best, runs),
        unmet=unmet_of(model, best),
        infested_before_ft2=total_infested(model.trees),
        infested_left_ft2=left,
        host_left_ft2=host,
        optimum=optimum,
        notes=_notes(model, best),
        unfinished=tuple(f"{plan.tree.id} {HAZARD}" for plan in best.plans if _felled_unfinished(plan)),
    )


def _choices(model: SiteModel, tree: TreeModel, plan: TreePlan | None, best: Candidate) -> Iterator[Choice]:
    for piece in tree.pieces:
        pick = plan.picks.get(piece.piece.id) if plan else None
        later = piece.brood.flight_to_beat is not None and piece.brood.flight_to_beat > model.coming.year
        if plan is None or pick is None:
            yield Choice(piece.piece.id, None, None, None, None, _why_not(tree, piece, plan))
            continue
        way = piece.ways[pick.option.position]
        day = done_day(plan, piece.piece.id)
        last = latest(model, plan, piece)
        yield Choice(
            piece.piece.id,
            way.id,
            _window(model, plan, piece, pick),
            model.days.day(day) if piece.at_stake else None,
            last if later else None,
            _why(piece, pick),
            last,
        )


def _window(model: SiteModel, plan: TreePlan, piece: PieceModel, pick: Pick) -> int:
    """The window of the way in which its completing step ends."""
    day = model.days.day(max(done_day(plan, piece.piece.id), pick.option.first))
    windows = piece.ways[pick.option.position].windows
    return next((place for place, one in enumerate(windows) if one.first <= day <= one.last), pick.option.window)


def _why(piece: PieceModel, pick: Pick) -> str:
    title = piece.ways[pick.option.position].title
    if not piece.at_stake:
        return "No brood is expected in it, and nothing here needs doing because of beetles."
    words = {
        0: "The cheapest way that is done in time",
        1: "The cheapest way that is done before the flight, though later than is wise",
        2: LIES,
        3: LIES,
        4: "No way that you like is done in time, so one that you would rather avoid is taken",
        5: "No way that you like is done before the flight, so one that you would rather avoid is taken",
        6: LIES,
        7: LIES,
        8: "No way stops all the brood in time, so this one stops part of it",
        9: "Nothing can be done before the flight, so this is done while half of the beetles are still in it",
        10: "Nothing can be done before the flight, so part of the brood is stopped while half is still in it",
    }
    return f"{words[pick.level]}: {title}."


def _why_not(tree: TreeModel, piece: PieceModel, plan: TreePlan | None) -> str:
    if tree.work.brood.may_stay_standing and tree.work.felling.who == "not needed":
        return tree.work.brood.may_stay_standing
    if not piece.at_stake:
        return "No brood is expected in it, and nothing here needs doing because of beetles."
    if plan is None and tree.standing and not piece.brooding:
        return (
            "It stays standing, green as it is: no way deals with its fresh wood before the flight of "
            f"{piece.brood.flight_to_beat} with the time, hands and machines at hand."
        )
    return "No way fits in the time, hands and machines at hand."


def _notes(model: SiteModel, best: Candidate) -> tuple[str, ...]:
    notes: list[str] = []
    avoided = [t for t in best.plans if any(pick.level in AVOIDED for pick in t.picks.values())]
    if avoided:
        names = ", ".join(plan.tree.id for plan in avoided)
        notes.append(
            f"A method that you would rather avoid is used on {names}, because infested bark would be left without it."
        )
    beyond = out_of_reach(model, best)
    if beyond:
        names = ", ".join(tree.id for tree in beyond)
        notes.append(f"The budget does not reach for {names}.")
    return tuple(notes)


def _felled_unfinished(plan: TreePlan) -> bool:
    """Is the tree felled though a log of it keeps brood? Only hazard trees are."""
    if not plan.tree.standing or not any(task.work == "fell" for task in plan.tasks):
        return False
    logs = [piece for piece in plan.tree.pieces if piece.brooding and piece.piece.kind == "log"]
    return any(left_share(plan, piece, plan.picks.get(piece.piece.id))[0] > 0 for piece in logs)
