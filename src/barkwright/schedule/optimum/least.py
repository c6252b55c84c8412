"""What work no plan can do without: the least hours, and from them the fewest visits and the earliest end."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import ceil

from barkwright.schedule.model import SiteModel
from barkwright.schedule.optimum.columns import SeasonColumns, Variant
from barkwright.schedule.optimum.spans import TreeColumns
from barkwright.schedule.settings import SETTINGS

NEARLY = 1e-6


def least_trouble(model: SiteModel, trees: Iterable[TreeColumns]) -> float:
    """Person-hours that the fewest visits of a crew count as: each holds a crew's longest day at most [h]."""
    longest = max((max(crew.hours, default=0.0) * crew.people for crew in model.days.crews), default=0.0)
    hours = _hours(trees)
    return SETTINGS["crew_day"] * ceil(hours / longest - NEARLY) if longest > 0.0 else 0.0


def earliest_end(model: SiteModel, trees: Sequence[TreeColumns]) -> float:
    """The first day by which all that must be done can be done: by its hours, and by the days on which ways open."""
    hours, done, end = _hours(trees), 0.0, 0
    for day in range(model.days.length):
        if done >= hours - NEARLY:
            break
        done += sum(crew.hours[day] * crew.people for crew in model.days.crews)
        end = day
    opens = (min(_opens(season) for season in tree.seasons) for tree in trees if tree.must and tree.seasons)
    return float(max([end, *opens]))


def _hours(trees: Iterable[TreeColumns]) -> float:
    return sum(
        tree.count * min(_least(season) for season in tree.seasons) for tree in trees if tree.must and tree.seasons
    )


def _least(season: SeasonColumns) -> float:
    pieces = (min(_of(variant) for variant in piece.variants) for piece in season.pieces if piece.vital)
    return sum(chunk.hours for chunk in season.chunks) + sum(pieces)


def _of(variant: Variant) -> float:
    return sum(chunk.hours for chunk in variant.chunks)


def _opens(season: SeasonColumns) -> int:
    """The first day on which the last of its pieces could be done."""
    firsts = [
        min(max((chunk.first for chunk in variant.chunks), default=0) for variant in piece.variants)
        for piece in season.pieces
        if piece.vital
    ]
    return max(firsts, default=0)
