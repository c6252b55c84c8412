"""What was seen under the bark of a tree of the offer, told apart from what is only assumed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from barkwright.brood.look import seen_on, sides_left
from barkwright.output.brood_words import brood_words
from barkwright.output.words import listing
from barkwright.treatment.outside import HAZARDS

if TYPE_CHECKING:
    from barkwright.brood.finding import PieceBrood
    from barkwright.inventory.model import Tree
    from barkwright.output.view import View

SEEN = {"larvae": "larvae", "pupae": "pupae", "adults": "grown beetles", "none": "nothing alive"}
SIDES = {
    "base": "at the base", "sunny": "on the sunny side", "shaded": "on the shaded side", "upper": "higher up",
    "top": "on top", "side": "on the sides", "bottom": "underneath",
}  # fmt: skip
LEVELS = ("likely", "possible", "none")


def found_in(view: View, tree: Tree) -> tuple[str, str]:
    """A label and what is known of the beetles in a tree; hazards that were seen follow."""
    pieces = [one for one in view.tree_broods[tree.id].pieces if one.brood != "none" or one.host]
    worst = min(pieces, key=lambda one: LEVELS.index(one.brood), default=None)
    label, state = _state(view, tree, worst)
    return label, " ".join([state, *(f"{HAZARDS[hazard]}." for hazard in tree.hazards)])


def _state(view: View, tree: Tree, worst: PieceBrood | None) -> tuple[str, str]:
    if worst is None:
        return "Found", "No beetles are expected."
    words = brood_words(worst)
    if not view.tree_broods[tree.id].needs_inspection:
        return "Found", f"{words.capitalize()}."
    found = tree.found
    if found is None or not found.stages:
        return "Assumed", f"Nobody has looked under the bark: {words}."
    seen = listing([SEEN[stage] for stage in dict.fromkeys(found.stages)])
    verb = "was" if found.stages == ("none",) else "were"
    said = f"{seen} {verb} seen {listing([SIDES[side] for side in found.looked])}".rstrip()
    left = sides_left(tree, found, seen_on(tree, view.plan.on))
    if left:
        missing = f"; nobody has looked {listing([SIDES[side] for side in left], 'or')}."
    else:
        missing = f". {view.say(worst.reasons[0])}"
    return "Found", f"{said[0].upper()}{said[1:]}{missing} Assumed until then: {words}."
