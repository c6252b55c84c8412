"""Lines: variants of a kind of piece with the price of each step, so that a piece's cost is a few products."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from barkwright.record import dataclass
from barkwright.schedule.levels import AVOIDED, BARK, FLOWN, HOST, LATE, LIKED, MONEY
from barkwright.schedule.model import PieceModel, TreeModel
from barkwright.schedule.optimum.columns import NO_WORK, Chunk, Goal, Variant
from barkwright.schedule.optimum.ideal import Worth
from barkwright.schedule.optimum.prices import NEVER, Prices
from barkwright.schedule.optimum.variants import Variants
from barkwright.treatment.ways import Step

DIGITS = 6
LEAST = 1e-9
Shape = tuple[tuple[object, ...], ...]
Lies = tuple[int, int]  # set of prices, and place of a limit in its list


@dataclass(slots=True)
class Line:
    """A goal of pieces of one kind. The prices are those of any piece whose steps have the same shape."""

    goal: Goal
    plain: bool  # do steps and shares say all? No worth, loads or limits of the site
    shape: Shape
    prices: tuple[tuple[tuple[float, float], ...], ...]  # by set of prices and step: of a person-hour, a machine-hour
    limits: frozenset[Lies]
    due: float
    start: int  # period by the end of which it must begin
    width: int  # days open to it
    shares: tuple[float, float, float, float]  # bark left, flown and late by infested bark; green bark by bark
    avoided: int
    disliked: int
    money: float  # for each ft2 of infested bark [currency/ft2]

    def cost(self, number: int, hours: Sequence[tuple[float, float]]) -> float:
        """What the hours of the steps count as."""
        total = 0.0
        for (hand, machine), (need, machine_need) in zip(self.prices[number], hours, strict=True):
            total += hand * need + machine * machine_need
        return total

    def ends_as_well(self, other: Line) -> bool:
        """Does it leave no more of anything than the other?"""
        mine = (*self.shares, self.avoided, self.disliked, self.money)
        return all(
            a <= b + LEAST
            for a, b in zip(mine, (*other.shares, other.avoided, other.disliked, other.money), strict=True)
        )

    def ends(self, weights: Sequence[float], piece: PieceModel, lies: float) -> float:
        """What its end counts as at the levels and in money, against doing nothing to the piece."""
        ft2 = piece.infested_ft2
        bark, flown, late, host = self.shares
        return (
            weights[BARK] * (bark - 1.0) * ft2
            + weights[FLOWN] * (flown - 1.0) * ft2
            + weights[LATE] * late * ft2
            + weights[HOST] * (host * piece.piece.bark_ft2 - lies)
            + weights[AVOIDED] * self.avoided
            + weights[LIKED] * self.disliked
            + weights[MONEY] * self.money * ft2
        )


NOT_PLAIN = Line(
    goal=None, plain=False, shape=(), prices=(), limits=frozenset(), due=0.0, start=0, width=0,  # type: ignore[arg-type]
    shares=(0.0, 0.0, 0.0, 0.0), avoided=0, disliked=0, money=0.0,
)  # fmt: skip


def limits_of(chunks: Iterable[Chunk], prices: Sequence[Prices]) -> frozenset[Lies]:
    """The limits in which some hours lie, of each set of prices."""
    return frozenset(
        (number, at)
        for one in chunks
        for number, each in enumerate(prices)
        for at in each.limits_of(one.hands, one.first, one.last)
    )


def start_of(chunks: Sequence[Chunk], prices: Sequence[Prices]) -> int:
    """The period by the end of which work must begin; past all periods where there is none."""
    return prices[0].period.period(0, chunks[0].last)[1] if chunks else NO_WORK


def shape_of(steps: Sequence[Step]) -> Shape:
    """What the days, hands and machines of steps hang on."""
    return tuple((one.people, one.equipment, one.wait_days, one.spans) for one in steps)


def steps_for(variants: Variants, tree: TreeModel, piece: PieceModel, goal: Goal) -> tuple[Step, ...]:
    """The steps of a goal's way."""
    option = goal[0].option
    return variants.steps(tree, piece, option.position, option.window)


def line_of(
    variants: Variants,
    tree: TreeModel,
    piece: PieceModel,
    goal: Goal,
    variant: Variant,
    steps: Sequence[Step],
    prices: Sequence[Prices],
    opens: int,
) -> Line:
    """The line of a goal, priced on one of the pieces that it is for."""
    spans = variants.spans_of(tree, piece, goal[0], steps, opens) or []
    ft2, bark = max(piece.infested_ft2, LEAST), max(piece.piece.bark_ft2, LEAST)
    ends = (variant.bark / ft2, variant.flown / ft2, variant.late / ft2, variant.host / bark)
    chunks: list[Chunk | None] = []
    for step, (first, last) in zip(steps, spans, strict=True):
        hands = variants.hands(step, piece.piece.butt_dob_in)
        chunks.append(None if hands is None else Chunk(hands, first, last, 1.0, 1.0))
    limited = variants.model.work.inventory.limits
    plain = (
        variant.haul is None
        and not (variant.chips and limited.chips_site_takes_yd3 is not None)
        and not (variant.cords and limited.firewood_cords_per_week is not None)
        and not variants.model.work.worth(tree.work.tree, piece.piece, piece.ways[goal[0].option.position])
        and None not in chunks
    )
    there = [one for one in chunks if one is not None]
    plain = plain and all(max(each.hour_prices(one)) < NEVER for each in prices for one in there)
    return Line(
        goal,
        plain,
        shape_of(steps),
        tuple(tuple(each.hour_prices(one) for one in there) for each in prices),
        limits_of(there, prices),
        min((float(one.last) for one in there), default=float(variants.length)),
        start_of(there, prices),
        min((one.last - one.first for one in there), default=0),
        (round(ends[0], DIGITS), round(ends[1], DIGITS), round(ends[2], DIGITS), round(ends[3], DIGITS)),
        variant.avoided,
        variant.disliked,
        variant.money / ft2 if piece.infested_ft2 > 0.0 else 0.0,
    )


def worth_of_line(line: Line, piece: PieceModel) -> Worth:
    """What a piece counts as at the levels before money with a line."""
    ft2 = piece.infested_ft2
    bark, flown, _, host = line.shares
    return (
        round(bark * ft2, DIGITS), round(flown * ft2, DIGITS),
        float(line.avoided), round(host * piece.piece.bark_ft2, DIGITS),
    )  # fmt: skip
