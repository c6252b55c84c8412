"""Every tree at some prices: the season and the variants that count least, exactly; and the bound they add up to."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import field, replace

from barkwright.record import dataclass
from barkwright.schedule.levels import AVOIDED, BARK, FLOWN, HOST, LATE, LIKED, REMOVALS, removal_asked
from barkwright.schedule.model import PieceModel, SiteModel, TreeModel
from barkwright.schedule.optimum.columns import Chunk, Goal, Variant
from barkwright.schedule.optimum.ideal import Worth, untreated, worth_of
from barkwright.schedule.optimum.kinds import Kinds
from barkwright.schedule.optimum.like import Group
from barkwright.schedule.optimum.lines import Lies, Line, limits_of, shape_of, start_of, worth_of_line
from barkwright.schedule.optimum.prices import NEVER, Prices
from barkwright.schedule.optimum.variants import Variants
from barkwright.schedule.scenario import host_left_ft2
from barkwright.schedule.settings import SETTINGS
from barkwright.treatment.ways import Step

NONE: Worth = ()


Kept = tuple[Goal, ...]  # of one piece, what counts least first


@dataclass(slots=True)
class Taken:
    """A tree in the season in which it counts least."""

    cost: float  # against leaving it as it is, at most 0 where it may be left
    worth: Worth = NONE  # of the levels before money, where only what is ideal there may be taken
    season: tuple[int | None, int] | None = None
    pieces: list[Kept] = field(default_factory=list)
    vital: list[bool] = field(default_factory=list)  # must one of them be taken?


@dataclass(slots=True)
class Way:
    """A variant of one piece: what it counts as at each set of prices, and the limits that its hours lie in."""

    goal: Goal
    costs: tuple[float, ...]
    worth: Worth
    start: int  # period by the end of which it must begin
    width: int
    limits: frozenset[Lies]


@dataclass(slots=True)
class Chosen:
    """What a piece counts as, and the ways that count so little, best first."""

    cost: float
    worth: Worth
    ranked: list[tuple[float, Way]]
    vital: bool


@dataclass(slots=True)
class Ranking:
    """A piece's ways in the order in which they count."""

    ways: list[tuple[float, Way]]
    vital: bool
    untreated: Worth | None  # where only what is ideal may be taken

    def from_period(self, at: int) -> Chosen:
        """The best of a piece whose tree is down by the end of a period, or nothing done where that is better."""
        ranked, vital, worth = [one for one in self.ways if one[1].start >= at], self.vital, NONE
        if self.untreated is not None:
            nothing = [] if vital else [self.untreated]
            worth = min([*(one.worth for _, one in ranked), *nothing], default=NONE)
            ranked = [one for one in ranked if one[1].worth == worth]
            vital = vital or worth not in nothing
        if not ranked:
            return Chosen(NEVER if vital else 0.0, worth, [], vital)
        return Chosen(ranked[0][0] if vital else min(0.0, ranked[0][0]), worth, ranked, vital)


class Pricer:
    """Finds what each tree does at the prices."""

    def __init__(
        self, model: SiteModel, variants: Variants, prices: Sequence[Prices], ideal: bool, margin: float = 0.0
    ) -> None:
        self.model, self.variants, self.prices, self.ideal = model, variants, prices, ideal
        self._last: tuple[PieceModel | None, dict[int, tuple[float, float, Step]]] = (None, {})
        variants.steps = self._steps
        self.kinds = Kinds(model, variants, prices, ideal, margin)

    def stays(self, tree: TreeModel) -> Worth:
        """What a tree counts as at the levels before money when it is left, where only what is ideal may be taken."""
        if not self.ideal:
            return NONE
        ft2 = round(tree.infested_ft2, 6)
        return (ft2, ft2, float(removal_asked(tree)), 0.0, round(host_left_ft2(self.model, tree, None), 6))

    def bests(self, tree: TreeModel) -> list[Taken]:
        """The best of a tree for each set of prices; at a cost of 0 where it is best left as it is."""
        stays, host = self.stays(tree), host_left_ft2(self.model, tree, None)
        found = [Taken(0.0, stays) for _ in self.prices]
        if tree.standing and tree.work.felling.who == "not needed":
            return found
        dearer: list[Taken | None] = [None for _ in self.prices]
        for closes, opens in self.variants.spans(tree):
            for number, one in enumerate(self._season(tree, host, closes, opens)):
                least, other = found[number], dearer[number]
                if (one.worth, one.cost) < (least.worth, least.cost):
                    found[number] = one
                elif one.worth == stays and (other is None or one.cost < other.cost):
                    dearer[number] = one
        return [
            replace(other, cost=0.0) if one.season is None and other is not None else one
            for one, other in zip(found, dearer, strict=True)
        ]

    def _season(self, tree: TreeModel, host: float, closes: int | None, opens: int) -> Iterator[Taken]:
        last = self.variants.length - 1
        hopeful = [self.kinds.hopeful(tree, piece, closes, opens) for piece in tree.pieces]
        for piece, one in zip(tree.pieces, hopeful, strict=True):
            if self.variants.vital(tree, piece):
                if one.last < 0:
                    return
                last = min(last, one.last)
        base = self.variants.base(tree, opens, last)
        if base is None:
            return
        made: list[tuple[PieceModel, list[Way], float, bool]] = []
        for piece, one in zip(tree.pieces, hopeful, strict=True):
            lies = self.variants.lying_host(tree, piece)
            ways = (self._way(tree, piece, line, lies, opens) for line in one.lines)
            made.append((piece, [each for each in ways if each is not None], lies, self.variants.vital(tree, piece)))
        untouched = sum(one[2] for one in made) - host
        downs = self._downs(base, made)
        for number, prices in enumerate(self.prices):
            weights = prices.weights
            fixed = weights[HOST] * untouched - weights[REMOVALS] * removal_asked(tree)
            fixed += prices.paid() * self.variants.removal(tree)
            ranked = [self._ranked(number, *one) for one in made]
            least: tuple[Worth, float, list[Chosen]] | None = None
            for at, chunks in downs:
                chosen = [one.from_period(at) for one in ranked]
                cost = fixed + sum(prices.chunk(chunk) for chunk in chunks) + sum(one.cost for one in chosen)
                if cost >= NEVER:
                    continue
                worth = _sum(chosen) if self.ideal else NONE
                if least is None or (worth, cost) < least[:2]:
                    least = (worth, cost, chosen)
            if least is not None:
                worth, cost, chosen = least
                kept = [_unlike([*one.ranked, *each.ways]) for one, each in zip(chosen, ranked, strict=True)]
                yield Taken(cost, worth, (closes, opens), kept, [one.vital for one in chosen])

    def _downs(
        self, base: Sequence[Chunk], made: Sequence[tuple[PieceModel, list[Way], float, bool]]
    ) -> list[tuple[int, list[Chunk]]]:
        """Hours of the tree itself, down by the end of this or that period before which work may have to begin."""
        period = self.prices[0].period
        latest = max((period.period(chunk.first, chunk.last)[1] for chunk in base), default=-1)
        sooner = sorted({way.start for _, ways, *_ in made for way in ways if way.start < latest})
        found: list[tuple[int, list[Chunk]]] = [(latest, list(base))]
        for at in sooner:
            by = [chunk.by(period.cuts[at + 1] - 1) for chunk in base]
            if None not in by:
                found.append((at, [one for one in by if one is not None]))
        return found

    def _way(self, tree: TreeModel, piece: PieceModel, line: Line, lies: float, opens: int) -> Way | None:
        """A piece in a line: by the line's prices, or from the beginning where they do not hold."""
        option = line.goal[0].option
        steps = self.variants.steps(tree, piece, option.position, option.window)
        if not line.plain or shape_of(steps) != line.shape:
            return self._unplain(tree, piece, line, lies, opens)
        hours = [self._hours(piece, step) for step in steps]
        costs = tuple(
            line.cost(number, hours) + line.ends(prices.weights, piece, lies)
            for number, prices in enumerate(self.prices)
        )
        worth = worth_of_line(line, piece) if self.ideal else NONE
        return Way(line.goal, costs, worth, line.start, line.width, line.limits)

    def _unplain(self, tree: TreeModel, piece: PieceModel, line: Line, lies: float, opens: int) -> Way | None:
        variant = self.variants.variant(tree, piece, line.goal, opens)
        if variant is None:
            return None
        costs = tuple(_cost(prices, piece, lies, variant) for prices in self.prices)
        width = min((chunk.last - chunk.first for chunk in variant.chunks), default=0)
        worth = worth_of(variant) if self.ideal else NONE
        return Way(
            line.goal,
            costs,
            worth,
            start_of(variant.chunks, self.prices),
            width,
            limits_of(variant.chunks, self.prices),
        )

    def _hours(self, piece: PieceModel, step: Step) -> tuple[float, float]:
        """Hours of a step, figured once for a piece whose ways share it; kept alive, so that its id is its own."""
        if self._last[0] is not piece:
            self._last = (piece, {})
        known = self._last[1].get(id(step))
        if known is None:
            known = self._last[1][id(step)] = (step.person_hours.mean, step.machine_hours.mean, step)
        return known[:2]

    def _ranked(self, number: int, piece: PieceModel, ways: Sequence[Way], lies: float, vital: bool) -> Ranking:
        """What can be done with a piece, what counts least first."""
        ranked = [(one.costs[number], one) for one in ways if one.costs[number] < NEVER]
        ranked.sort(key=lambda one: (round(one[0], 6), -one[1].width))
        return Ranking(ranked, vital, untreated(piece, lies) if self.ideal else None)

    def _steps(self, tree: TreeModel, piece: PieceModel, position: int, window: int) -> tuple[Step, ...]:
        way = piece.ways[position]
        return self.model.work.steps(tree.work.tree, piece.piece, piece.brood, way, way.windows[window])


def _sum(chosen: Iterable[Chosen]) -> Worth:
    """What pieces count as together at the levels before money."""
    bark, flown, avoided, host = (sum(values) for values in zip(*(one.worth for one in chosen), strict=True))
    return (round(bark, 6), round(flown, 6), 0.0, avoided, round(host, 6))


def _unlike(ranked: Sequence[tuple[float, Way]]) -> Kept:
    """The best variants, of those in the same limits the first."""
    found: dict[frozenset[Lies], Goal] = {}
    for _, one in ranked:
        found.setdefault(one.limits, one.goal)
    return tuple(found.values())[: int(SETTINGS["kept_variants"])]


def _cost(prices: Prices, piece: PieceModel, lies: float, one: Variant) -> float:
    """What a variant counts as, against doing nothing to the piece."""
    weights = prices.weights
    return (
        prices.variant(one)
        + weights[BARK] * (one.bark - piece.infested_ft2)
        + weights[FLOWN] * (one.flown - piece.infested_ft2)
        + weights[AVOIDED] * one.avoided
        + weights[HOST] * (one.host - lies)
        + weights[LIKED] * one.disliked
        + weights[LATE] * one.late
    )


def bound_of(prices: Prices, groups: Iterable[tuple[Group, Taken]]) -> float:
    """What no plan can be below, at the level that the prices are for: whatever the prices, if none is negative."""
    total = prices.hire() - prices.owed
    for group, best in groups:
        total += len(group.trees) * (best.cost + _as_it_is(prices, group.middle))
    return total


def _as_it_is(prices: Prices, tree: TreeModel) -> float:
    weights = prices.weights
    return (
        (weights[BARK] + weights[FLOWN]) * tree.infested_ft2
        + weights[HOST] * host_left_ft2(prices.model, tree, None)
        + weights[REMOVALS] * removal_asked(tree)
    )
