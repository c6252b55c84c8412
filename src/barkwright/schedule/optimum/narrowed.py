"""Every tree with the few variants that may be taken at some prices: a program small enough for all of a large site."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from barkwright.schedule.model import PieceModel, TreeModel
from barkwright.schedule.optimum.columns import Goal, PieceColumns, SeasonColumns, Variant
from barkwright.schedule.optimum.ideal import Worth
from barkwright.schedule.optimum.like import Group
from barkwright.schedule.optimum.priced import Taken
from barkwright.schedule.optimum.spans import TreeColumns
from barkwright.schedule.optimum.variants import Variants


def narrowed(variants: Variants, group: Group, bests: Sequence[Taken], stays: Worth) -> TreeColumns:
    """A group of trees in the seasons, and its pieces in the variants, that count least at one set of prices or other.

    stays : what the tree counts as when it is left, where only the ideal may be taken; otherwise nothing
    """
    tree = group.middle
    seasons: dict[tuple[int | None, int], list[Taken]] = {}
    for one in bests:
        if one.season is not None:
            seasons.setdefault(one.season, []).append(one)
    made = (_season(variants, tree, season, takens) for season, takens in seasons.items())
    must = bool(seasons) and bool(stays) and all(one.worth != stays for one in bests)
    return TreeColumns(tree, len(group.trees), tuple(one for one in made if one is not None), must, group.trees)


def _season(
    variants: Variants, tree: TreeModel, season: tuple[int | None, int], bests: Sequence[Taken]
) -> SeasonColumns | None:
    closes, opens = season
    pieces: list[PieceColumns] = []
    last = variants.length - 1
    for place, piece in enumerate(tree.pieces):
        vital = any(one.vital[place] for one in bests)
        kept = _variants(variants, tree, piece, opens, (goal for one in bests for goal in one.pieces[place]))
        if vital:
            last = min(last, max((one.last for each in kept for one in each.chunks[:1]), default=last))
        pieces.append(PieceColumns(piece, vital, kept, variants.lying_host(tree, piece)))
    chunks = variants.base(tree, opens, last)
    if chunks is None:
        return None
    return SeasonColumns(closes, opens, chunks, variants.removal(tree), tuple(pieces))


def _variants(
    variants: Variants, tree: TreeModel, piece: PieceModel, opens: int, goals: Iterable[Goal]
) -> tuple[Variant, ...]:
    found = (variants.variant(tree, piece, goal, opens) for goal in dict.fromkeys(goals))
    return tuple(one for one in found if one is not None)
