"""From prices to a guide: hours that ran short are shared out, first to what would cost most to do otherwise."""

from __future__ import annotations

from collections.abc import Sequence

from barkwright.schedule.guide import Guide
from barkwright.schedule.model import TreeModel
from barkwright.schedule.optimum.like import Group
from barkwright.schedule.optimum.priced import Taken
from barkwright.schedule.optimum.prices import Prices, Uses

LEAST = 0.1  # hours that a use counts as at least, where it is divided by [h]
Place = tuple[TreeModel, int, Taken]  # a piece by its number in the tree


def filled(groups: Sequence[Group], bests: Sequence[Taken], prices: Prices, values: Sequence[float]) -> Guide:
    """The season, ways and rank of each tree, within what there is of each limit that has a price.

    values : of the period model's columns: hours of hired machines are those of the days that it hires
    """
    room = _room(prices, values)
    order = sorted(range(len(groups)), key=lambda at: (round(bests[at].cost / max(bests[at].hours, LEAST), 6), at))
    guide = Guide()
    places: list[Place] = []
    for rank, group in enumerate(order):
        best = bests[group]
        if best.season is None:
            continue
        for tree in groups[group].trees:
            guide.seasons[tree.id] = best.season
            guide.ranks[tree.id] = rank / len(order)
            _take(room, best.uses)
            places += [(tree, number, best) for number, ranked in enumerate(best.pieces) if ranked]
    places.sort(key=lambda one: (-round(_regret(one[2], one[1]), 6), one[0].place, one[1]))
    dues: dict[str, float] = {}
    for tree, number, best in places:
        ranked, piece = best.pieces[number], tree.pieces[number]
        found = min(ranked, key=lambda one: _missing(room, one[3]))
        guide.more[piece.piece.id] = tuple(one[1] for one in ranked if one is not found)
        if not best.vital[number] and (found[0] > 0.0 or _missing(room, found[3]) > 0.0):
            guide.more[piece.piece.id] = (found[1], *guide.more[piece.piece.id])
            continue
        _take(room, found[3])
        guide.picks[piece.piece.id] = found[1]
        if piece.at_stake:
            dues[tree.id] = min(dues.get(tree.id, found[2]), found[2])
    last = float(prices.model.days.length)
    guide.ranks = {name: dues.get(name, last) + share for name, share in guide.ranks.items()}
    return guide


def _room(prices: Prices, values: Sequence[float]) -> list[float]:
    """Hours of each limit that has a price [h]."""
    hired = prices.period.hired
    return [
        one.hours + sum(values[hired[place][number].column] * hours for place, number, hours in one.hire)
        for one, _ in prices.limits
    ]


def _take(room: list[float], uses: Uses) -> None:
    for at, hours in uses:
        room[at] -= hours


def _missing(room: Sequence[float], uses: Uses) -> float:
    """Hours that are not there any more [h]."""
    return sum(max(0.0, hours - max(0.0, room[limit])) for limit, hours in uses)


def _regret(best: Taken, number: int) -> float:
    """What the next variant, or nothing done, costs more, for each hour that the best takes of what runs short."""
    ranked, vital = best.pieces[number], best.vital[number]
    others = [one[0] for one in ranked[1:2]] + ([] if vital else [0.0])
    if not others:
        return float("inf")
    return (min(others) - ranked[0][0]) / max(LEAST, sum(hours for _, hours in ranked[0][3]))
