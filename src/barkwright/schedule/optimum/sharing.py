"""What the period model counts, shared out among the trees it counts together: largest remainder, first first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import floor

from barkwright.schedule.guide import Guide
from barkwright.schedule.model import TreeModel
from barkwright.schedule.optimum.period import PeriodModel
from barkwright.schedule.optimum.spans import Taken


def guide_of(period: PeriodModel, values: Sequence[float], times: int = 1) -> Guide:
    """The season, ways and rank of every tree that the model takes, where each stands for `times` as many."""
    guide = Guide()
    values = values if times == 1 else [value / times for value in values]
    for group in _groups(period.taken):
        members = group[0].columns.members or (group[0].columns.tree,)
        start = 0
        for taken, number in zip(group, shares([values[one.tree] for one in group], len(members)), strict=True):
            _season(period, values, guide, taken, members[start : start + number])
            start += number
    return guide


def shares(values: Sequence[float], most: int) -> list[int]:
    """Whole numbers near the values whose sum is nearest to theirs, at most `most`: largest remainders, first first."""
    parts = [floor(max(0.0, value) + 1e-6) for value in values]
    left = min(most, floor(sum(max(0.0, value) for value in values) + 0.5)) - sum(parts)
    order = sorted(range(len(values)), key=lambda at: (round(parts[at] - values[at], 6), at))
    for at in order[: max(0, left)]:
        parts[at] += 1
    return parts


def _groups(taken: Sequence[Taken]) -> Iterator[list[Taken]]:
    """The seasons of each group of like trees."""
    group: list[Taken] = []
    for one in taken:
        if group and one.columns is not group[0].columns:
            yield group
            group = []
        group.append(one)
    if group:
        yield group


def _season(
    period: PeriodModel, values: Sequence[float], guide: Guide, taken: Taken, members: Sequence[TreeModel]
) -> None:
    if not members:
        return
    dues = [float(period.model.days.length)] * len(members)
    for place, (piece, held) in enumerate(zip(taken.season.pieces, taken.pieces, strict=True)):
        scale = len(members) / max(values[taken.tree], 1e-9)
        at = 0
        for (_, variant), number in zip(
            held, shares([values[column] * scale for column, _ in held], len(members)), strict=True
        ):
            last = min((float(chunk.last) for chunk in variant.chunks), default=dues[0])
            for member in range(at, at + number):
                guide.picks[members[member].pieces[place].piece.id] = variant.pick
                if piece.piece.at_stake:
                    dues[member] = min(dues[member], last)
            at += number
    for tree, due in zip(members, dues, strict=True):
        guide.seasons[tree.id] = (taken.season.closes, taken.season.opens)
        guide.ranks[tree.id] = due
