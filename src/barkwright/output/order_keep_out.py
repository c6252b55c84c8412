"""Who keeps how far from a tree while it comes down, and what stands inside that distance."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from barkwright.output.hazards import both
from barkwright.output.names import tree_names
from barkwright.output.words import listing
from barkwright.treatment.outside import PLACES

if TYPE_CHECKING:
    from barkwright.inventory.model import Tree
    from barkwright.output.view import View

PIECEMEAL = ("dismantle", "aerial-lift", "crane")
IN_PIECES = "nobody stands under it or where pieces can fall; whoever takes it down says how far that is"


def in_pieces(view: View, tree: Tree) -> bool:
    """Does it come down piece by piece, as far as anybody has said?"""
    felling = view.plan.fellings.get(tree.id)
    if tree.id not in view.felled or felling is None or tree.status != "standing":
        return False
    return felling.how in PIECEMEAL or (tree.removal is not None and tree.removal.by in PIECEMEAL)


def keep_out_ft(view: View, tree: Tree) -> float | None:
    """Radius that is kept clear while the tree is felled whole [ft], rounded up; None if it is not felled."""
    felling = view.plan.fellings.get(tree.id)
    if tree.id not in view.felled or felling is None or felling.drop_zone_ft is None:
        return None
    return math.ceil(felling.drop_zone_ft)


def keep_out(view: View, tree: Tree) -> Iterator[tuple[str, str]]:
    """The distance in words, for the card of one tree."""
    feet = keep_out_ft(view, tree)
    if feet is None:
        return
    if in_pieces(view, tree):
        whole = f"Only if it is felled whole: two tree lengths, {both(view, feet)} all round."
        yield "Keep out", f"Taken down in pieces: {IN_PIECES}. {whole}"
        return
    inside = f" {said}" if (said := _inside(view, tree)) else ""
    yield "Keep out", f"{both(view, feet)} all round while it is felled: two tree lengths.{inside}"


def keep_out_together(view: View, trees: Sequence[Tree]) -> Iterator[tuple[str, str]]:
    """What the distances in a table of trees do not say."""
    if any(in_pieces(view, tree) for tree in trees):
        yield "In pieces", f"{IN_PIECES[0].upper()}{IN_PIECES[1:]}."
    said = [f"{tree.id}: {words}" for tree in trees if not in_pieces(view, tree) and (words := _inside(view, tree))]
    if said:
        yield "Keep out", " ".join(said)


def piecemeal(view: View, crews: Mapping[str, str]) -> Iterator[str]:
    """The trees that come down in pieces, for the briefing; `crews` names the crew of the site by tree."""
    trees = [tree.id for tree in view.trees.values() if in_pieces(view, tree)]
    if trees:
        by = listing(sorted({crews[tree] for tree in trees if tree in crews}))
        yield f"In pieces{f', by {by}' if by else ''}: {tree_names(trees)}: {IN_PIECES}."


def _inside(view: View, tree: Tree) -> str:
    """Buildings, roads and neighbours nearer than the distance kept clear, and what that asks for."""
    zone = keep_out_ft(view, tree) or 0.0
    near = {name: far for name in PLACES if isinstance(far := getattr(tree.near, name), float | int) and far <= zone}
    homes = [
        f"the {PLACES[name]} ({view.units.feet(far)})" for name, far in near.items() if name not in ("line", "road")
    ]
    text = []
    if homes:
        named = listing(homes)
        verb = "are" if len(homes) > 1 else "is"
        text.append(f"{named[0].upper()}{named[1:]} {verb} inside: tell them; nobody outdoors there while it falls.")
    if "road" in near:
        text.append(f"The road ({view.units.feet(near['road'])}) is inside: nobody on it while it falls.")
    return " ".join(text)
