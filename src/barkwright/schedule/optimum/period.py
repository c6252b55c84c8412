"""The period model: trees, variants, hands, machines and hires of a whole site at once, days joined to periods.

Work must be done between two days; periods are cut where many such spans begin or end, and a span that begins or ends
inside a period gets the whole of it, so that every plan of the site is an answer of the model, and its least value a
bound on every plan.
"""

from __future__ import annotations

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
    REMOVALS,
    removal_asked,
)
from barkwright.schedule.model import SiteModel
from barkwright.schedule.money import largest
from barkwright.schedule.optimum.columns import Chunk, SeasonColumns, Variant
from barkwright.schedule.optimum.program import INFINITE
from barkwright.schedule.optimum.spans import Taken, TreeColumns
from barkwright.schedule.optimum.supply import WAITING, Levels, Supply
from barkwright.schedule.scenario import host_left_ft2


class PeriodModel(Supply):
    """Builds the program: `costs[level]` of its columns at a level, and `fixed[level]`, which is always there."""

    def __init__(self, model: SiteModel, trees: Sequence[TreeColumns], whole: bool, strict: bool) -> None:
        super().__init__(model, trees, strict)
        self.whole = whole  # are trees and pieces counted in whole numbers?
        self.fixed = [0.0] * (WAITING + 1)
        self.taken: list[Taken] = []
        self.site_limits: dict[object, int] = {}
        self.hauls: dict[tuple[Destination, str], int] = {}
        self._trees()
        self.machines()
        self.hands()
        self._loads()

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
        found = Taken(one, season, self.column(count, self.whole, entries, costs, season.money), [])
        early = self._early(one, season, found.tree, needs)
        for place, (row, piece) in enumerate(zip(links, season.pieces, strict=True)):
            held: list[tuple[int, Variant]] = []
            wants = [self._needs(variant.chunks) for variant in piece.variants]
            self._add_most(count, wants)
            for variant, needs in zip(piece.variants, wants, strict=True):
                entries = [(row, 1.0), *needs, *self._limited(variant)]
                entries += [(down[place], 1.0) for end, down in early.items() if place in down and variant.start < end]
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
                held.append((self.column(count, self.whole, entries, costs), variant))
            found.pieces.append(held)
        self.taken.append(found)

    def _early(
        self, one: TreeColumns, season: SeasonColumns, tree: int, needs: Sequence[tuple[int, float]]
    ) -> dict[int, dict[int, int]]:
        """Rows that let work begin by the end of a period only where the tree is down by then: by end and piece.

        A column for each end moves the hours of the tree itself to before it.
        """
        found: dict[int, dict[int, int]] = {}
        latest = max((self.period(chunk.first, chunk.last)[1] for chunk in season.chunks), default=-1)
        starts = [{self.period(0, v.start)[1] for v in piece.variants if v.chunks} for piece in season.pieces]
        ends = sorted({each for some in starts for each in some if each < latest})
        if not ends:
            return found
        whole = self.program.row(-INFINITE, 0.0, [(tree, -1.0)])
        for at in ends:
            end = self.cuts[at + 1]
            found[end] = {
                place: self.program.row(-INFINITE, 0.0) for place, some in enumerate(starts) if some and min(some) <= at
            }
        for end in found:
            base = [chunk.by(end - 1) for chunk in season.chunks]
            if None in base:
                continue
            sooner = self._needs(each for each in base if each is not None)
            self._add_most(one.count, [sooner])
            rows = [(row, -1.0) for later, down in found.items() if later >= end for row in down.values()]
            back = [(row, -entry) for row, entry in needs]
            self.column(one.count, False, [(whole, 1.0), *rows, *back, *sooner], {})
        return found

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

    def _loads(self) -> None:
        """Whole loads to destinations that ask for a fee."""
        for (place, tool), row in self.hauls.items():
            fee, payload = self.model.work.prices.load_fee(place, largest(self.model, tool))
            self.column(INFINITE, self.strict, [(row, -payload)], {MONEY: fee}, fee)

    def paid(self) -> list[float] | None:
        """Money that leaves the purse, by column; None where there is no budget."""
        if self.model.work.inventory.limits.budget is None:
            return None
        return [self._paid.get(number, 0.0) for number in range(len(self.program.upper))]
