"""The ideal: each tree at the best that any of its variants gives for bark and wishes, as though hands never ran short.

No plan is better than the ideal at the levels before money. Where the period model can reach it, nothing else need be
looked at there.
"""

from __future__ import annotations

from dataclasses import replace

from barkwright.schedule.levels import removal_asked
from barkwright.schedule.model import PieceModel, SiteModel
from barkwright.schedule.optimum.columns import PieceColumns, SeasonColumns, Variant
from barkwright.schedule.optimum.spans import TreeColumns
from barkwright.schedule.scenario import host_left_ft2

Worth = tuple[float, ...]  # bark, bark to fly, removals not done, pieces against a wish, green bark: smaller is better


def ideal_of(model: SiteModel, one: TreeColumns) -> tuple[TreeColumns, Worth]:
    """The tree with what reaches its ideal alone, `must` where leaving it as it is does not; and the ideal."""
    tree = one.tree
    ft2, host = round(tree.infested_ft2, 6), round(host_left_ft2(model, tree, None), 6)
    stays: Worth = (ft2, ft2, float(removal_asked(tree)), 0.0, host)
    worths = [_season(season) for season in one.seasons]
    best = min([stays, *worths])
    seasons = tuple(
        replace(season, pieces=tuple(_best(piece) for piece in season.pieces))
        for season, worth in zip(one.seasons, worths, strict=True)
        if worth == best
    )
    return replace(one, seasons=seasons, must=stays != best), best


def _season(season: SeasonColumns) -> Worth:
    bark, flown, avoided, host = (sum(values) for values in zip(*(_least(one) for one in season.pieces), strict=True))
    return (round(bark, 6), round(flown, 6), 0.0, float(avoided), round(host, 6))


def _least(piece: PieceColumns) -> Worth:
    return min(
        [worth_of(variant) for variant in piece.variants]
        + ([] if piece.vital else [untreated(piece.piece, piece.host)])
    )


def untreated(piece: PieceModel, host: float) -> Worth:
    """What a piece counts as when nothing is done to it though its tree is worked on."""
    ft2 = round(piece.infested_ft2, 6)
    return (ft2, ft2, 0.0, round(host, 6))


def worth_of(variant: Variant) -> Worth:
    """What a piece counts as with a variant."""
    return (round(variant.bark, 6), round(variant.flown, 6), float(variant.avoided), round(variant.host, 6))


def _best(piece: PieceColumns) -> PieceColumns:
    least = _least(piece)
    kept = tuple(variant for variant in piece.variants if worth_of(variant) == least)
    return replace(piece, variants=kept, vital=piece.vital or untreated(piece.piece, piece.host) != least)
