"""A card per tree: what it is, what lives in it, how it comes down, and what becomes of each piece."""

from __future__ import annotations

from typing import TYPE_CHECKING

from barkwright.output.blocks import Card, Facts, Section, Table
from barkwright.output.view import View, sentences
from barkwright.output.words import day, part_names

if TYPE_CHECKING:
    from barkwright.inventory.model import Tree
    from barkwright.stem.pieces import TreeStem

STATUS = {
    "standing": "standing",
    "windthrown": "blown down, on its roots",
    "felled": "felled, not cut up",
    "logs": "cut into logs",
    "stump": "stump only",
}


def cards(view: View) -> Section:
    """All trees in the order of the file."""
    return Section("Tree by tree", tuple(_card(view, tree) for tree in view.trees.values()))


def _card(view: View, tree: Tree) -> Card:
    stem = view.stems[tree.id]
    brood = next(brood for brood in view.plan.broods if brood.tree == tree.id)
    reasons = sentences(reason.because for found in brood.pieces for reason in found.reasons)
    facts = [
        ("Size", _size(view, tree, stem)),
        ("What lives in it", " ".join(view.units.sentence(text) for text in reasons)),
    ]
    title = f"{tree.id}" + (f", {tree.where}" if tree.where else "") + f": {tree.species} spruce, {STATUS[tree.status]}"
    return Card(title, (Facts(tuple(facts)), _pieces(view, stem)))


def _size(view: View, tree: Tree, stem: TreeStem) -> str:
    parts = []
    if stem.dbh_in is not None:
        parts.append(f"{view.units.inches(stem.dbh_in)} across at breast height")
    if stem.height_ft is not None:
        parts.append(
            f"{view.units.feet(stem.height_ft.likely)} tall" + (" (estimated)" if stem.height_estimated else "")
        )
    return ", ".join(parts) + "."


def _pieces(view: View, stem: TreeStem) -> Table:
    rows = []
    for piece in stem.pieces:
        way = view.way(piece.id)
        choice = view.choices.get(piece.id)
        rows.append((
            part_names([piece.id.rpartition("/")[2]]),
            view.units.ends(piece.butt_dob_in, piece.top_dob_in) if piece.kind != "limbs" else "",
            view.units.feet(piece.length_ft) if piece.length_ft else "",
            view.units.pounds(piece.lift_lb),
            way.title if way else (choice.why if choice else ""),
            day(way.finish_by) if way and way.finish_by else "",
        ))  # fmt: skip
    return Table(("Piece", "Ends", "Length", "Weight", "What to do", "By"), tuple(rows), "lllrll", wrap=4)
