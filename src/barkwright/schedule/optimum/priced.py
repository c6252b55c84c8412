"""Every tree at some prices: the season and the variants that count least, exactly; and the bound they add up to."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import field

from barkwright.record import dataclass
from barkwright.schedule.levels import AVOIDED, BARK, FLOWN, HOST, LATE, LIKED, REMOVALS, removal_asked
from barkwright.schedule.model import PieceModel, SiteModel, TreeModel
from barkwright.schedule.optimum.columns import Variant
from barkwright.schedule.optimum.ideal import Worth, untreated, worth_of
from barkwright.schedule.optimum.kinds import Kinds
from barkwright.schedule.optimum.like import Group
from barkwright.schedule.optimum.lines import Line, shape_of, worth_of_line
from barkwright.schedule.optimum.prices import NEVER, Prices, Uses
from barkwright.schedule.optimum.variants import Variants
from barkwright.schedule.recipe import Pick
from barkwright.schedule.scenario import host_left_ft2
from barkwright.schedule.settings import SETTINGS
from barkwright.treatment.ways import Step

NONE: Worth = ()


Ranked = tuple[tuple[float, Pick, float, Uses], ...]  # what a variant counts as, its day, and what it uses


@dataclass(slots=True)
class Taken:
    """A tree in the season in which it counts least."""

    cost: float  # against leaving it as it is
    worth: Worth = NONE  # of the levels before money, where only what is ideal there may be taken
    season: tuple[int | None, int] | None = None
    uses: Uses = ()  # of looking, felling and bucking
    pieces: list[Ranked] = field(default_factory=list)  # of each piece, the best first
    vital: list[bool] = field(default_factory=list)  # must one of them be taken?
    due: float = 0.0
    hours: float = 0.0


@dataclass(slots=True)
class Way:
    """A variant of one piece: what it counts as at each set of prices, and the hours of its steps."""

    pick: Pick
    costs: tuple[float, ...]
    worth: Worth
    due: float
    width: int
    hours: float
    uses: Uses


@dataclass(slots=True)
class Chosen:
    """A piece's variants in the order in which they count."""

    cost: float
    worth: Worth
    ranked: list[tuple[float, Way]]
    vital: bool = True


class Pricer:
    """Finds what each tree does at the prices."""

    def __init__(
        self, model: SiteModel, variants: Variants, prices: Sequence[Prices], ideal: bool, margin: float = 0.0
    ) -> None:
        self.model, self.variants, self.prices, self.ideal = model, variants, prices, ideal
        self._last: tuple[PieceModel | None, dict[int, tuple[float, float, Step]]] = (None, {})
        variants.steps = self._steps
        self.kinds = Kinds(model, variants, prices, ideal, margin)

    def bests(self, tree: TreeModel) -> list[Taken]:
        """The best of a tree for each set of prices; with a cost of 0 and no season where it is best left."""
        ft2, host = tree.infested_ft2, host_left_ft2(self.model, tree, None)
        stays: Worth = NONE
        if self.ideal:
            stays = (round(ft2, 6), round(ft2, 6), float(removal_asked(tree)), 0.0, round(host, 6))
        found = [Taken(0.0, stays) for _ in self.prices]
        if tree.standing and tree.work.felling.who == "not needed":
            return found
        for closes, opens in self.variants.spans(tree):
            for number, one in enumerate(self._season(tree, host, closes, opens)):
                if (one.worth, one.cost) < (found[number].worth, found[number].cost):
                    found[number] = one
        return found

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
        made: list[tuple[PieceModel, list[Way], float]] = []
        for piece, one in zip(tree.pieces, hopeful, strict=True):
            lies = self.variants.lying_host(tree, piece)
            ways = (self._way(tree, piece, line, lies, opens) for line in one.lines)
            made.append((piece, [each for each in ways if each is not None], lies))
        untouched = sum(lies for _, _, lies in made) - host
        for number, prices in enumerate(self.prices):
            weights = prices.weights
            cost = weights[HOST] * untouched - weights[REMOVALS] * removal_asked(tree)
            cost += prices.paid() * self.variants.removal(tree) + sum(prices.chunk(chunk) for chunk in base)
            chosen = [self._piece(tree, number, *one) for one in made]
            cost += sum(one.cost for one in chosen)
            if cost < NEVER:
                taken = self._taken(tree, cost, chosen, (closes, opens))
                taken.uses = prices.uses(base)
                yield taken

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
        uses: dict[int, float] = {}
        for shares, (need, machine) in zip(line.uses, hours, strict=True):
            for at, share in shares:
                uses[at] = uses.get(at, 0.0) + (need * share if share > 0.0 else machine)
        worth = worth_of_line(line, piece) if self.ideal else NONE
        needs = sum(need for need, _ in hours)
        return Way(line.goal[0], costs, worth, line.due, line.width, needs, tuple(uses.items()))

    def _unplain(self, tree: TreeModel, piece: PieceModel, line: Line, lies: float, opens: int) -> Way | None:
        variant = self.variants.variant(tree, piece, line.goal, opens)
        if variant is None:
            return None
        costs = tuple(_cost(prices, piece, lies, variant) for prices in self.prices)
        chunks = variant.chunks
        return Way(
            variant.pick,
            costs,
            worth_of(variant) if self.ideal else NONE,
            min((float(chunk.last) for chunk in chunks), default=float(self.variants.length)),
            min((chunk.last - chunk.first for chunk in chunks), default=0),
            sum(chunk.hours for chunk in chunks),
            self.prices[-1].uses(chunks),
        )

    def _hours(self, piece: PieceModel, step: Step) -> tuple[float, float]:
        """Hours of a step, figured once for a piece whose ways share it; kept alive, so that its id is its own."""
        if self._last[0] is not piece:
            self._last = (piece, {})
        known = self._last[1].get(id(step))
        if known is None:
            known = self._last[1][id(step)] = (step.person_hours.mean, step.machine_hours.mean, step)
        return known[:2]

    def _piece(self, tree: TreeModel, number: int, piece: PieceModel, ways: Sequence[Way], lies: float) -> Chosen:
        """What a piece counts as: its best variant, or nothing done where that is better and may be."""
        ranked = [(one.costs[number], one) for one in ways if one.costs[number] < NEVER]
        vital = self.variants.vital(tree, piece)
        worth: Worth = NONE
        if self.ideal:
            nothing = [] if vital else [untreated(piece, lies)]
            worth = min([*(one.worth for _, one in ranked), *nothing], default=NONE)
            ranked = [one for one in ranked if one[1].worth == worth]
            vital = vital or worth not in nothing
        ranked.sort(key=lambda one: (round(one[0], 6), -one[1].width))
        if not ranked:
            return Chosen(NEVER if vital else 0.0, worth, [], vital)
        return Chosen(ranked[0][0] if vital else min(0.0, ranked[0][0]), worth, ranked, vital)

    def _taken(self, tree: TreeModel, cost: float, chosen: Sequence[Chosen], season: tuple[int | None, int]) -> Taken:
        worth: Worth = NONE
        if self.ideal:
            bark, flown, avoided, host = (sum(values) for values in zip(*(one.worth for one in chosen), strict=True))
            worth = (round(bark, 6), round(flown, 6), 0.0, avoided, round(host, 6))
        found = Taken(cost, worth, season, due=float(self.variants.length))
        for piece, one in zip(tree.pieces, chosen, strict=True):
            found.pieces.append(_unlike(one.ranked))
            found.vital.append(one.vital)
            if one.ranked and (one.vital or one.cost < 0.0):
                best = one.ranked[0][1]
                found.hours += best.hours
                if piece.at_stake:
                    found.due = min(found.due, best.due)
        return found

    def _steps(self, tree: TreeModel, piece: PieceModel, position: int, window: int) -> tuple[Step, ...]:
        way = piece.ways[position]
        return self.model.work.steps(tree.work.tree, piece.piece, piece.brood, way, way.windows[window])


def _unlike(ranked: Sequence[tuple[float, Way]]) -> Ranked:
    """The best variants, of those that use the same limits the first."""
    found: dict[tuple[int, ...], tuple[float, Pick, float, Uses]] = {}
    for cost, one in ranked:
        key = tuple(sorted(at for at, _ in one.uses))
        if key not in found:
            found[key] = (cost, one.pick, one.due, one.uses)
    return tuple(found.values())[: int(SETTINGS["guided_picks"])]


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
