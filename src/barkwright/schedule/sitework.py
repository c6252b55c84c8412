"""What a schedule is made from: the site, its hands and machines, and every tree with the ways of its pieces."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date

from barkwright.brood.finding import PieceBrood, TreeBrood
from barkwright.brood.look import settled_from
from barkwright.costs.prices import Prices
from barkwright.inventory.model import Inventory, Tree
from barkwright.record import dataclass
from barkwright.schedule.earlier import Earlier
from barkwright.season.site import Season
from barkwright.stem.pieces import Piece, TreeStem
from barkwright.treatment.bench import Bench
from barkwright.treatment.effort import steps_of
from barkwright.treatment.felling import Felling, felling_of
from barkwright.treatment.inspection import inspect_step, look_again_step
from barkwright.treatment.outside import locate_call
from barkwright.treatment.shop import shop_of
from barkwright.treatment.ways import Step, Way, Window, Yields
from barkwright.treatment.yields import yields_of


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
    earlier: Earlier | None = None  # the order that was given out last; planning again changes little of it

    def steps(self, tree: Tree, piece: Piece, brood: PieceBrood, way: Way, window: Window) -> tuple[Step, ...]:
        """What a way takes in one of its windows."""
        return steps_of(self.bench, tree, piece, brood, way, window)

    def yields(self, tree: Tree, piece: Piece, way: Way) -> Yields:
        """What a way leaves or gives."""
        return yields_of(self.bench, tree, piece, way)

    def worth(self, tree: Tree, piece: Piece, way: Way) -> float:
        """What the user's own prices make the wood of a way worth to him [currency]."""
        return float(self.prices.worth(self.yields(tree, piece, way))) if self.valued else 0.0

    def inspection(self, tree: TreeWork) -> Step | None:
        """The look under the bark that a tree needs."""
        return inspect_step(tree.tree, tree.brood, self.inventory)

    def look_from(self, tree: TreeWork) -> date | None:
        """First day on which a look under the bark of a tree settles when its brood flies; None where any day does."""
        flights = [one.flight_to_beat for one in tree.brood.pieces if one.brood != "none"]
        flights.append(tree.brood.early_flight)
        return min((settled_from(year) for year in flights if year is not None), default=None)

    def look_again(self, tree: TreeWork) -> Step:
        """The look at a tree's place after the flight."""
        return look_again_step(tree.tree, self.inventory)

    def with_inventory(self, inventory: Inventory) -> SiteWork:
        """The same trees on the same date with other hands, machines or dates: fellings and ways are judged again."""
        bench = Bench(inventory, self.season, self.on, self.bench.horizon, self.bench.book, self.bench.begun)
        trees = tuple(
            replace(
                one,
                felling=felling_of(one.tree, one.stem, one.brood, inventory, self.season, self.on),
                ways=tuple(bench.ways(one.tree, piece, brood) for piece, brood, _ in one.pieces()),
            )
            for one in self.trees
        )
        return SiteWork(inventory, self.on, self.season, bench, Prices(inventory), trees, self.earlier)

    def locating(self) -> tuple[Step, int]:
        """The call before any digging, and the days until the marks are on the ground."""
        return locate_call(shop_of(self.inventory))

    @property
    def valued(self) -> bool:
        """Has the user said what some of the wood is worth to him?"""
        own = self.inventory.worth
        return not own.firewood_per_cord is own.sawlogs_per_thousand_bf is own.chips_per_yd3 is None
