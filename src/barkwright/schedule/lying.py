"""Wood that lies: spruce on the ground with its bark on is host to the first flight that it lies through."""

from __future__ import annotations

from datetime import date, timedelta

from barkwright.brood.hosts import draws_beetles, is_host_piece
from barkwright.schedule.model import PieceModel, SiteModel, TreeModel
from barkwright.schedule.settings import SETTINGS
from barkwright.schedule.tally import TreePlan
from barkwright.season.flight import coming_flight, flight_year


def done_day(plan: TreePlan, piece: str) -> int:
    """The day on which the brood of a piece is stopped; 0 when its way has no steps."""
    return max(
        (
            placed.last
            for task, placed in zip(plan.tasks, plan.placed, strict=True)
            if task.completes and piece in task.pieces
        ),
        default=0,
    )


def down_from(model: SiteModel, tree: TreeModel, plan: TreePlan | None) -> date | None:
    """The day from which a tree's wood lies: the plan's date if it is down, else its felling; None while it stands."""
    if not tree.standing:
        return model.work.on if draws_beetles(tree.work.tree, model.work.season, model.work.on) else None
    if plan is None:
        return None
    falls = (p.first for task, p in zip(plan.tasks, plan.placed, strict=True) if task.work == "fell")
    first = min(falls, default=None)
    return None if first is None else model.days.day(first)


def clear_by(model: SiteModel, down: date | None, piece: PieceModel) -> date | None:
    """The last day before the first flight that a piece lies through; None where the flight it must beat comes first.

    down : date | None    day from which it lies; None while it stands
    """
    own = piece.brood.flight_to_beat
    if down is None or own is None or not piece.at_stake or not is_host_piece(piece.piece):
        return None
    year = coming_flight(model.work.season, down)
    return None if own <= year else flight_year(model.work.season, year).onset - timedelta(days=1)


def latest(model: SiteModel, plan: TreePlan, piece: PieceModel) -> date | None:
    """The day by which a piece is to be done: its way's finish-by, or sooner where it would lie through a flight."""
    pick = plan.picks[piece.piece.id]
    finish = piece.ways[pick.option.position].finish_by
    clear = clear_by(model, down_from(model, plan.tree, plan), piece)
    if finish is None or clear is None or model.days.day(done_day(plan, piece.piece.id)) > clear:
        return finish
    return min(finish, clear)


def lain_ft2(model: SiteModel, tree: TreeModel, plan: TreePlan | None) -> float:
    """Bark of a tree's wood that lies through a flight before its own, for beetles from elsewhere to take [ft2]."""
    if not any(piece.late for piece in tree.pieces):
        return 0.0
    down = down_from(model, tree, plan)
    return sum(lain_share(model, down, plan, p) * p.piece.bark_ft2 for p in tree.pieces if p.brooding)


def lain_share(model: SiteModel, down: date | None, plan: TreePlan | None, piece: PieceModel) -> float:
    """Share of a piece's bark that lies through a flight before the one that the piece must beat."""
    clear = clear_by(model, down, piece)
    if clear is None:
        return 0.0
    pick = None if plan is None else plan.picks.get(piece.piece.id)
    if plan is None or pick is None or model.days.day(done_day(plan, piece.piece.id)) > clear:
        return 1.0
    return 0.0 if pick.option.end == "done" else SETTINGS["partial_share"]
