"""What a schedule is made from: the site, its hands and machines, and every tree with the ways of its pieces."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from barkwright.brood.finding import PieceBrood, TreeBrood
from barkwright.inventory.model import Inventory, Tree
from barkwright.stem.pieces import Piece, TreeStem
from barkwright.treatment.ways import Way

if TYPE_CHECKING:
    from barkwright.costs.prices import Prices
    from barkwright.season.site import Season
    from barkwright.treatment.bench import Bench
    from barkwright.treatment.felling import Felling


@dataclass(frozen=True, slots=True)
class TreeWork:
    """One tree: its pieces, their brood and ways in the same order, and how it comes down."""

    tree: Tree
    stem: TreeStem
    brood: TreeBrood
    felling: Felling
    ways: tuple[tuple[Way, ...], ...]  # per piece of the stem

    def pieces(self) -> Iterator[tuple[Piece, PieceBrood, tuple[Way, ...]]]:
        """Each piece with its brood and its ways."""
        return zip(self.stem.pieces, self.brood.pieces, self.ways, strict=True)


@dataclass(frozen=True, slots=True)
class SiteWork:
    """Everything that a schedule is made from, and checked against."""

    inventory: Inventory
    on: date
    season: Season
    bench: Bench
    prices: Prices
    trees: tuple[TreeWork, ...]
