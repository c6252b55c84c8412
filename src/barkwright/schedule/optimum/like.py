"""Like trees: those that are the same in all a plan asks, and strata in which the middle stands for the others."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from itertools import pairwise

from barkwright.record import dataclass
from barkwright.schedule.lying import clear_by, down_from
from barkwright.schedule.model import PieceModel, SiteModel, TreeModel
from barkwright.schedule.order import natural
from barkwright.schedule.recipe import base_tasks

DIGITS = 9


@dataclass(slots=True)
class Group:
    """Trees that one of them stands for."""

    middle: TreeModel
    trees: tuple[TreeModel, ...]


def like_trees(model: SiteModel) -> list[Group]:
    """The trees of a site in groups that are the same in all that a plan asks, in the order of their first."""
    found: dict[Hashable, list[TreeModel]] = {}
    for tree in sorted(model.trees, key=lambda one: natural(one.id)):
        found.setdefault(_same(model, tree), []).append(tree)
    return [Group(trees[0], tuple(trees)) for trees in found.values()]


def strata(model: SiteModel, groups: Sequence[Group], most: int) -> list[Group]:
    """Groups joined until there are about `most`: trees that come down alike and hold like brood, by their size."""
    kinds: dict[Hashable, list[Group]] = {}
    for one in groups:
        kinds.setdefault(kind_of(model, one.middle), []).append(one)
    found: list[Group] = []
    for alike in kinds.values():
        alike.sort(key=lambda one: (round(size_of(one.middle), DIGITS), one.middle.place))
        trees = [tree for one in alike for tree in one.trees]
        parts = max(1, min(len(alike), round(most * len(trees) / len(model.trees))))
        ends = [round(len(trees) * number / parts) for number in range(parts + 1)]
        for start, end in pairwise(ends):
            found.append(Group(_middle(trees[start:end]), tuple(trees[start:end])))
    return found


def _middle(trees: Sequence[TreeModel]) -> TreeModel:
    """The tree whose size is nearest to the mean."""
    mean = sum(size_of(tree) for tree in trees) / len(trees)
    return min(trees, key=lambda tree: (round(abs(size_of(tree) - mean), DIGITS), tree.place))


def _same(model: SiteModel, tree: TreeModel) -> Hashable:
    wood = tree.work.tree
    tasks = tuple(
        (
            *(task.work, round(task.need, DIGITS), round(task.machine_need, DIGITS), task.people, task.equipment),
            *(task.skills, task.first, task.last, task.preds, task.wait, task.spans, task.outside, task.crews),
            *(task.height_ft, task.thickest_in),
        )
        for task in base_tasks(model, tree)
    )
    price = None if wood.removal is None else (wood.removal.price, wood.removal.hours)
    pieces = tuple(_piece(model, tree, piece) for piece in tree.pieces)
    lain = wood.felled_on or wood.down_since
    return (kind_of(model, tree), tree.hazard, bool(wood.hazards), price, lain, tasks, pieces)


def _piece(model: SiteModel, tree: TreeModel, piece: PieceModel) -> Hashable:
    own, clear = piece.piece, clear_by(model, down_from(model, tree, None), piece)
    dims = (
        *(own.length_ft, own.butt_dob_in, own.top_dob_in, own.butt_dib_in, own.top_dib_in, own.wood_ft3),
        *(own.bark_ft3, own.bark_ft2, own.green_lb, own.lift_lb, own.foliage_lb, own.cords, own.chips_yd3),
        *(piece.infested_ft2, piece.host_ft2),
    )
    sized = tuple(round(each, DIGITS) for each in dims)
    return (piece.kind, sized, own.number, own.cut_points, clear, piece.onset, piece.half, piece.brood.adults_from)


def kind_of(model: SiteModel, tree: TreeModel) -> Hashable:
    """How a tree comes down, and what brood it holds."""
    felling = tree.work.felling
    brood = {(piece.brood.brood, piece.onset, piece.half, piece.at_stake) for piece in tree.pieces}
    return (
        *(tree.standing, tree.opens, tree.hazard, felling.who, felling.by, felling.closed, felling.crews),
        *(felling.lead_days, down_from(model, tree, None), frozenset(brood)),
    )


def size_of(tree: TreeModel) -> float:
    """Wood of a tree [ft3]."""
    return sum(piece.piece.wood_ft3 for piece in tree.pieces)
