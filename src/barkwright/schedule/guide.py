"""A guide for the dispatcher: which ways, which season and which order of trees to try first, and what to try last."""

from __future__ import annotations

from dataclasses import field

from barkwright.record import dataclass
from barkwright.schedule.recipe import Pick

Season = tuple[int | None, int]  # the last day before a flight, and the first after the one before


@dataclass(slots=True)
class Guide:
    """What to try first; the dispatcher goes on to everything else where that finds no place."""

    picks: dict[str, Pick] = field(default_factory=dict)  # by piece id
    more: dict[str, tuple[Pick, ...]] = field(default_factory=dict)  # what to try after that
    seasons: dict[str, Season] = field(default_factory=dict)  # by tree id; trees that are not here come last
    ranks: dict[str, float] = field(default_factory=dict)  # by tree id, smaller first

    def picks_of(self, piece: str, picks: list[Pick]) -> list[Pick]:
        """The picks of a piece, the guided one first."""
        first = self.picks.get(piece)
        if first is None:
            return picks
        guided = dict.fromkeys((first, *self.more.get(piece, ())))
        return [*guided, *(one for one in picks if one not in guided)]

    def seasons_of(self, tree: str, seasons: list[Season]) -> list[Season]:
        """The seasons of a tree, the guided one first."""
        first = self.seasons.get(tree)
        return seasons if first not in seasons else [first, *(one for one in seasons if one != first)]
