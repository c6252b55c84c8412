"""The demand side of the period model: trees and their variants, and the hours, machines and room that they ask for."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence

from barkwright.inventory.model import Destination
from barkwright.schedule.levels import (
    AVOIDED,
    BARK,
    FLOWN,
    HOST,
    LATE,
    LIKED,
    MONEY,
    NAMES,
    REMOVALS,
    removal_asked,
)
from barkwright.schedule.model import SiteModel
from barkwright.schedule.optimum.columns import Chunk, Hands, SeasonColumns, Variant
from barkwright.schedule.optimum.program import INFINITE, Program
from barkwright.schedule.optimum.spans import Taken, TreeColumns, periods
from barkwright.schedule.scenario import host_left_ft2

WAITING = len(NAMES)  # days until seasons and ways open, the objective after the levels
Levels = dict[int, float]


class Demand:
    """What the trees ask for: `costs[level]` of the columns at a level, and `fixed[level]`, which is always there."""

    def __init__(self, model: SiteModel, trees: Sequence[TreeColumns], whole: bool) -> None:
        self.model, self.trees = model, trees
        self.whole = whole  # are trees and pieces counted in whole numbers?
        self.program = Program()
        self.costs: list[list[float]] = [[] for _ in range(WAITING + 1)]
        self.fixed = [0.0] * (WAITING + 1)
        self.taken: list[Taken] = []
        self.cuts = periods(self._chunks(), model.days.length)
        self._most: dict[int, float] = {}  # hours that a row could ask for at most
        self._demand: dict[tuple[Hands, int, int], int] = {}
        self._machine_demand: dict[tuple[tuple[int, ...], int, int], int] = {}
        self.site_limits: dict[object, int] = {}
        self.hauls: dict[tuple[Destination, str], int] = {}
        self._paid: dict[int, float] = {}  # money that leaves the purse, by column
        self._trees()

    def _chunks(self) -> Iterable[tuple[Chunk, int]]:
        for tree in self.trees:
            for season in tree.seasons:
                yield from ((chunk, tree.count) for chunk in season.chunks)
                for piece in season.pieces:
                    yield from ((chunk, tree.count) for variant in piece.variants for chunk in variant.chunks)

    def _column(
        self, upper: float, whole: bool, entries: Sequence[tuple[int, float]], costs: Levels, paid: float = 0.0
    ) -> int:
        number = self.program.column(upper, whole, entries)
        for level, row in enumerate(self.costs):
            row.append(costs.get(level, 0.0))
        if paid:
            self._paid[number] = paid
        return number

    def period(self, first: int, last: int) -> tuple[int, int]:
        """The periods that a span of days touches."""
        return bisect_right(self.cuts, first) - 1, bisect_right(self.cuts, last) - 1

    def _trees(self) -> None:
        for one in self.trees:
            tree, count = one.tree, one.count
            self.fixed[BARK] += count * tree.infested_ft2
            self.fixed[FLOWN] += count * tree.infested_ft2
            self.fixed[HOST] += count * host_left_ft2(self.model, tree, None)
            self.fixed[REMOVALS] += count * removal_asked(tree)
            if not one.seasons:
                continue
            only = self.program.row(count if one.must else -INFINITE, count)
            for season in one.seasons:
                self._season(one, season, only)

    def _season(self, one: TreeColumns, season: SeasonColumns, only: int) -> None:
        tree, count = one.tree, one.count
        standing = host_left_ft2(self.model, tree, None)
        links = [self.program.row(0.0 if piece.vital else -INFINITE, 0.0) for piece in season.pieces]
        needs = self._needs(season.chunks)
        self._add_most(count, [needs])
        entries = [(only, 1.0), *((row, -1.0) for row in links), *needs]
        untreated = sum(piece.host for piece in season.pieces)
        costs: Levels = {
            HOST: untreated - standing,
            REMOVALS: -float(removal_asked(tree)),
            MONEY: season.money,
            WAITING: float(season.opens),
        }
        found = Taken(one, season, self._column(count, self.whole, entries, costs, season.money), [])
        for row, piece in zip(links, season.pieces, strict=True):
            held: list[tuple[int, Variant]] = []
            wants = [self._needs(variant.chunks) for variant in piece.variants]
            self._add_most(count, wants)
            for variant, needs in zip(piece.variants, wants, strict=True):
                entries = [(row, 1.0), *needs, *self._limited(variant)]
                costs = {
                    BARK: variant.bark - piece.piece.infested_ft2,
                    FLOWN: variant.flown - piece.piece.infested_ft2,
                    AVOIDED: variant.avoided,
                    HOST: variant.host - piece.host,
                    MONEY: variant.money,
                    LIKED: variant.disliked,
                    LATE: variant.late,
                    WAITING: float(max((chunk.first for chunk in variant.chunks), default=0)),
                }
                held.append((self._column(count, self.whole, entries, costs), variant))
            found.pieces.append(held)
        self.taken.append(found)

    def _add_most(self, count: int, wants: Iterable[Iterable[tuple[int, float]]]) -> None:
        """Count in what one piece could ask of each row: one of its variants is taken at most."""
        most: dict[int, float] = {}
        for needs in wants:
            for row, hours in needs:
                most[row] = max(most.get(row, 0.0), -hours)
        for row, hours in most.items():
            self._most[row] = self._most.get(row, 0.0) + count * hours

    def _needs(self, chunks: Iterable[Chunk]) -> list[tuple[int, float]]:
        """Entries of hours in the rows that ask for them."""
        found: dict[int, float] = {}
        for chunk in chunks:
            first, last = self.period(chunk.first, chunk.last)
            if chunk.hours > 0.0:
                key = (chunk.hands, first, last)
                if key not in self._demand:
                    self._demand[key] = self.program.row(0.0, INFINITE)
                row = self._demand[key]
                found[row] = found.get(row, 0.0) - chunk.hours
            if chunk.machine_hours > 0.0:
                for places in chunk.hands[2]:
                    place = (places, first, last)
                    if place not in self._machine_demand:
                        self._machine_demand[place] = self.program.row(0.0, INFINITE)
                    row = self._machine_demand[place]
                    found[row] = found.get(row, 0.0) - chunk.machine_hours
        return list(found.items())

    def _limited(self, variant: Variant) -> list[tuple[int, float]]:
        """Entries in the rows of what the site takes only so much of, and of loads."""
        limits, found = self.model.work.inventory.limits, []
        if limits.chips_site_takes_yd3 is not None and variant.chips > 0.0:
            found.append((self._limit("chips", limits.chips_site_takes_yd3), variant.chips))
        if limits.firewood_cords_per_week is not None and variant.cords > 0.0:
            due = self.model.days.length if variant.pick.due is None else variant.pick.due
            found.append(
                (self._limit("cords", limits.firewood_cords_per_week * self.model.days.length / 7), variant.cords)
            )
            found.append((self._limit(("cords", due), limits.firewood_cords_per_week * due / 7), variant.cords))
        if variant.haul is not None:
            if variant.haul[:2] not in self.hauls:
                self.hauls[variant.haul[:2]] = self.program.row(-INFINITE, 0.0)
            found.append((self.hauls[variant.haul[:2]], variant.haul[2]))
        return found

    def _limit(self, name: object, most: float) -> int:
        if name not in self.site_limits:
            self.site_limits[name] = self.program.row(-INFINITE, most)
        return self.site_limits[name]
