"""What the follow-up of a site is made of, gathered once: its looks, its trees, and the wood of its list."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from datetime import date
from typing import TYPE_CHECKING

from barkwright.brood.looks import Follow, follow_up
from barkwright.brood.neighbours import Watched, watched
from barkwright.record import dataclass
from barkwright.season.flight import finish_by, flight_year

if TYPE_CHECKING:
    from barkwright.brood.finding import PieceBrood
    from barkwright.plan import FlightPlan


@dataclass(frozen=True, slots=True)
class Treated:
    """What was done with a piece; `partial` where the brood may not all be stopped, `left` says what is still open."""

    piece: str
    method: str
    done_on: date
    partial: bool = False
    left: str | None = None


@dataclass(frozen=True, slots=True)
class Gathered:
    """The follow-up of one site."""

    plan: FlightPlan
    follow: Follow
    watched: tuple[Watched, ...]
    treated: tuple[Treated, ...]
    due: Mapping[date, tuple[str, ...]]  # pieces not yet treated, by the day by which they should be done
    stumps: tuple[str, ...]  # stumps that held or may hold beetles
    infested: tuple[str, ...]  # trees that may hold beetles
    other_insect: tuple[str, ...]  # trees in which another insect was found, and nothing else is expected


def gather(plan: FlightPlan) -> Gathered:
    """The follow-up as it stands on the plan's date, once the recorded work is counted."""
    inventory = plan.tally.inventory
    pieces = [piece for brood in plan.broods for piece in brood.pieces]
    open_pieces = [piece for piece in pieces if piece.flight_to_beat is not None]
    to_beat = {piece.flight_to_beat for piece in open_pieces if piece.flight_to_beat is not None}
    holding = tuple(brood.tree for brood in plan.broods if any(piece.brood != "none" for piece in brood.pieces))
    others = tuple(
        tree.id
        for tree in inventory.trees
        if tree.found and tree.found.insect in ("engraver", "other") and tree.id not in holding
    )
    return Gathered(
        plan,
        follow_up(plan.season, plan.tally.on, to_beat),
        watched(inventory.trees, plan.broods),
        tuple(_treated(plan)),
        _due(plan, open_pieces),
        tuple(one.piece for one in pieces if one.brood != "none" and one.piece.endswith("/stump")),
        holding,
        others,
    )


def _treated(plan: FlightPlan) -> Iterator[Treated]:
    for piece, outcome in plan.outcomes.items():
        work = outcome.finished
        yield Treated(piece, work.method, work.on, outcome.end != "done", work.left)


def _due(plan: FlightPlan, pieces: Collection[PieceBrood]) -> dict[date, tuple[str, ...]]:
    found: dict[date, list[str]] = {}
    for piece in pieces:
        if piece.flight_to_beat is not None:
            found.setdefault(finish_by(flight_year(plan.season, piece.flight_to_beat)), []).append(piece.piece)
    return {by: tuple(found[by]) for by in sorted(found)}
