"""Which living spruce of the list the next beetles take first, and why."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Literal

from barkwright.brood.finding import TreeBrood
from barkwright.brood.numbers import FOLLOW
from barkwright.inventory.model import Species, Tree
from barkwright.record import dataclass

Why = Literal["down", "hit-before", "large", "medium", "size-unknown", "small"]
ORDER: tuple[Why, ...] = ("down", "hit-before", "large", "medium", "size-unknown", "small")
SELDOM: tuple[Species, ...] = ("black", "red", "blue", "norway")  # seldom named as hosts; from memory


@dataclass(frozen=True, slots=True)
class Watched:
    """A tree to look at, why it stands where it does in the order, and its size."""

    tree: str
    why: Why
    dbh_in: float | None
    species: Species
    to_go: bool  # somebody is to take it down


def watched(trees: Iterable[Tree], broods: Iterable[TreeBrood]) -> tuple[Watched, ...]:
    """The spruce of the list that may be attacked, the likeliest first: down, hit before, then by size and species."""
    found = list(_watched(zip(trees, broods, strict=True)))
    return tuple(sorted(found, key=lambda one: (ORDER.index(one.why), one.species in SELDOM, -(one.dbh_in or 0.0))))


def _watched(pairs: Iterable[tuple[Tree, TreeBrood]]) -> Iterator[Watched]:
    for tree, brood in pairs:
        why = _why(tree, brood)
        if why is not None:
            yield Watched(tree.id, why, tree.breast_height_in, tree.species, tree.removal is not None)


def _why(tree: Tree, brood: TreeBrood) -> Why | None:
    if any(piece.host for piece in brood.pieces) and tree.status != "standing":
        return "down"
    if tree.status != "standing" or (tree.found and tree.found.crown in ("dropping", "bare")):
        return None
    holds = any(piece.brood != "none" for piece in brood.pieces)
    if tree.attack in ("pitched-out", "strip") and brood.may_stay_standing:
        return "hit-before"
    if holds or not _alive(tree):
        return None
    return _by_size(tree.breast_height_in)


def _alive(tree: Tree) -> bool:
    """Is it green? Never attacked, or another insect was found in it, or its crown was seen to be green."""
    other = tree.found is not None and tree.found.insect in ("engraver", "other")
    green = tree.found is not None and tree.found.crown == "green"
    return tree.attacked == "never" or other or green


def _by_size(dbh_in: float | None) -> Why:
    if dbh_in is None:
        return "size-unknown"
    if dbh_in >= FOLLOW["large_in"]:
        return "large"
    return "small" if dbh_in < FOLLOW["small_in"] else "medium"
