"""What lives in each tree, piece by piece."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import TYPE_CHECKING

from barkwright.output.blocks import Card, Facts
from barkwright.output.brood_words import brood_words
from barkwright.output.flight_first import BROOD_SURE
from barkwright.output.measures import Units
from barkwright.output.names import part_names, tree_names
from barkwright.output.view import sentences
from barkwright.output.words import listing

if TYPE_CHECKING:
    from barkwright.brood.finding import TreeBrood


def tree_cards(broods: Sequence[TreeBrood], units: Units) -> tuple[Card, ...]:
    """A card per tree; trees of which the same is to be said share one."""
    same: dict[tuple[tuple[str, str], ...], list[str]] = {}
    for brood in broods:
        same.setdefault(_tree(brood, units), []).append(brood.tree)
    return tuple(Card(tree_names(trees), (Facts(pairs),)) for pairs, trees in same.items())


def _tree(brood: TreeBrood, units: Units) -> tuple[tuple[str, str], ...]:
    groups: dict[tuple[str, str, tuple[str, ...]], list[str]] = {}
    for found in brood.pieces:
        because = sentences(reason.because for reason in found.reasons)
        groups.setdefault((brood_words(found), BROOD_SURE[found.confidence], because), []).append(found.piece)
    pairs = [("Attacked", listing([str(year) for year in brood.possible_attack_years], "or") or "no attack known")]
    counts = Counter(sentence for _, _, because in groups for sentence in because)
    common = [sentence for sentence, count in counts.items() if count > 1]
    if common:
        pairs.append(("Why", units.sentence(" ".join(common))))
    for (words, sure, because), pieces in groups.items():
        name = part_names(piece.rpartition("/")[2] for piece in pieces)
        text = " ".join((f"{words} ({sure}).", *(sentence for sentence in because if counts[sentence] == 1)))
        pairs.append((name[0].upper() + name[1:], units.sentence(text[0].upper() + text[1:])))
    if brood.may_stay_standing:
        pairs.append(("May stay", units.sentence(brood.may_stay_standing)))
    return tuple(pairs)
