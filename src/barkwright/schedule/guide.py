"""A guide for the dispatcher: which ways, which season and which order of trees to try first, and what to try last."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import field, replace

from barkwright.record import dataclass
from barkwright.schedule.model import PieceModel, SiteModel, TreeModel
from barkwright.schedule.recipe import Pick
from barkwright.schedule.tasks import Task

Work = tuple[str, str]  # a piece, or a tree where its wood is not parted, and a step; empty for all of them
Season = tuple[int | None, int]  # the last day before a flight, and the first after the one before


@dataclass(slots=True)
class Guide:
    """What to try first; the dispatcher goes on to everything else where that finds no place."""

    picks: dict[str, Pick] = field(default_factory=dict)  # by piece id
    more: dict[str, tuple[Pick, ...]] = field(default_factory=dict)  # what to try after that
    seasons: dict[str, Season] = field(default_factory=dict)  # by tree id; trees that are not here come last
    ranks: dict[str, float] = field(default_factory=dict)  # by tree id, and by piece id within a tree, smaller first
    left: frozenset[str] = frozenset()  # ids of trees and pieces for which nothing is tried
    apart: frozenset[str] = frozenset()  # ids of pieces that are treated one by one
    hired_first: bool = False  # is what hired machines wait for written in before all else?
    crews: dict[Work, str] = field(default_factory=dict)  # who does it
    days: dict[Work, int] = field(default_factory=dict)  # the first day of it

    def picks_of(self, piece: str, picks: list[Pick]) -> list[Pick]:
        """The picks of a piece, the guided one first; none where it is to be left."""
        if piece in self.left:
            return []
        first = self.picks.get(piece)
        if first is None:
            return picks
        guided = dict.fromkeys((first, *self.more.get(piece, ())))
        return [*guided, *(one for one in picks if one not in guided)]

    def seasons_of(self, tree: str, seasons: list[Season]) -> list[Season]:
        """The seasons of a tree, the guided one first."""
        first = self.seasons.get(tree)
        return seasons if first not in seasons else [first, *(one for one in seasons if one != first)]

    def in_order(self, pieces: Iterable[PieceModel]) -> list[PieceModel]:
        """The pieces of a tree as they are written in."""
        return sorted(pieces, key=lambda piece: self.ranks.get(piece.piece.id, 0.0))

    def held(self, task: Task, not_before: int) -> tuple[Task, int] | None:
        """A task and its first day, where the guide says who does it or from when on; anybody may where that fails."""
        if not self.crews and not self.days:
            return None
        works = works_of(task)
        crew = next((self.crews[work] for work in works if work in self.crews), None)
        day = next((self.days[work] for work in works if work in self.days), None)
        if crew is None and day is None:
            return None
        return (task if crew is None else replace(task, crews=(crew,))), max(not_before, day or 0)


def works_of(task: Task) -> list[Work]:
    """The works that a task is, the narrowest first."""
    step = task.do or task.work
    names = task.pieces or (task.tree,)
    return [*((name, step) for name in names), *((name, "") for name in names), ("", step)]


def alone(model: SiteModel, guide: Guide) -> Guide:
    """The guide with nothing beside it: what the model leaves is left."""
    names = [piece.piece.id for tree in model.trees for piece in tree.pieces if piece.at_stake]
    whole = [tree.id for tree in model.trees if tree.id not in guide.seasons and not stays(tree)]
    return replace(guide, left=frozenset((*whole, *(name for name in names if name not in guide.picks))))


def stays(tree: TreeModel) -> bool:
    """Does it stay standing whatever lives in it?"""
    return tree.standing and tree.work.felling.who == "not needed"
