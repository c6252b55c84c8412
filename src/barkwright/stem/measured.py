"""Logs and stumps as the user measured them."""

from __future__ import annotations

from functools import partial

from barkwright.diagnostics import Diagnostic
from barkwright.inventory.model import Inventory, MeasuredLog, Tree
from barkwright.stem import measures, stump
from barkwright.stem.machines import cut_points, fits_from, working_capacities
from barkwright.stem.ownwords import own_basis, own_note, own_words
from barkwright.stem.pieces import CutPoint, Piece, TreeStem
from barkwright.stem.stump import BREAST_HEIGHT_FT
from barkwright.stem.tables import factor, factors, species_facts
from barkwright.stem.wood import Ends, Wood, is_long_dead


def measured_logs(tree: Tree, inventory: Inventory) -> TreeStem:
    """The logs as listed: ends outside bark, each taken as a cut cone.

    Bark volume by the species' bark percent, so far as bark is left; without bark the ends are wood. Stump, top and
    limbs are where the tree stood: listed on their own if they are there.
    """
    wood = _wood(tree, inventory)
    capacities = working_capacities(inventory.equipment)
    pieces, from_ft = [], 0.0
    for number, log in enumerate(tree.logs, start=1):
        points = cut_points(fits_from(capacities, partial(_along_ft, log)), 0.0, log.length_ft)
        ends = Ends(from_ft, log.length_ft, log.butt_in, log.top_in, *_inside(wood, log.butt_in, log.top_in))
        pieces.append(_solid(wood, number, ends, points))
        from_ft += log.length_ft
    return TreeStem(
        tree=tree.id,
        dbh_in=tree.breast_height_in,
        height_ft=None,
        height_estimated=False,
        pieces=tuple(pieces),
        notes=_notes(tree, wood),
        basis=(
            "larsen-logs, frustum of a cone",
            *wood.facts.cite,
            *factors()["lift-live"].cite,
            *factors()["cord-solid"].cite,
            *own_basis(wood.facts, own_words(wood.facts, False)),
        ),
        local=own_words(wood.facts, False),
    )


def measured_stump(tree: Tree, inventory: Inventory) -> TreeStem:
    """A stump from its height and its diameter outside bark at the cut; below the cut it flares as the species does.

    A height that is not given is that of the inventory's cuts, and said so; a diameter that is not given comes from
    the diameter at breast height that the tree had. Raises ValueError when there is neither diameter.
    """
    wood = _wood(tree, inventory)
    height = inventory.cutting.stump_height_ft if tree.height_ft is None else tree.height_ft
    flare, floor = factor("stump-flare-b"), factor("flare-floor")
    at = min(max(height, floor), BREAST_HEIGHT_FT)
    cut_in, dbh_in = tree.diameter_in, tree.breast_height_in
    if cut_in is not None:
        dbh_in = stump.dbh_from_stump_in(cut_in, at, flare)
    elif dbh_in is not None:
        cut_in = stump.stump_dob_in(dbh_in, at, flare)
    else:
        raise ValueError(f"{tree.id} is a stump without diameter")
    ground_in = max(cut_in, stump.stump_dob_in(dbh_in, floor, flare))
    ends = Ends(0.0, height, ground_in, cut_in, *_inside(wood, ground_in, cut_in))
    return TreeStem(
        tree=tree.id,
        dbh_in=None,
        height_ft=None,
        height_estimated=False,
        pieces=(_solid(wood, 0, ends, ()),),
        notes=(*_notes(tree, wood), *_stump_notes(tree)),
        basis=(
            "raile1982, spruces",
            "larsen-logs, frustum of a cone",
            *wood.facts.cite,
            *factors()["lift-live"].cite,
            *own_basis(wood.facts, own_words(wood.facts, False)),
        ),
        local=own_words(wood.facts, False),
    )


def _wood(tree: Tree, inventory: Inventory) -> Wood:
    return Wood(tree.id, species_facts(tree.species, inventory.local), tree.bark.left_percent / 100, is_long_dead(tree))


def _bark_to_wood(wood: Wood) -> float:
    return wood.facts.bark_percent / 100


def _inside(wood: Wood, butt_in: float, top_in: float) -> tuple[float, float]:
    ratio = (1 + _bark_to_wood(wood) * wood.bark_left) ** -0.5
    return butt_in * ratio, top_in * ratio


def _solid(wood: Wood, number: int, ends: Ends, points: tuple[CutPoint, ...]) -> Piece:
    wood_ft3 = measures.cone_ft3(ends.butt_dib_in, ends.top_dib_in, ends.length_ft)
    bark_ft3 = wood_ft3 * _bark_to_wood(wood)
    return wood.piece(
        "log" if number else "stump",
        number,
        ends,
        wood_ft3=wood_ft3,
        bark_ft3=bark_ft3,
        bark_dry_lb=bark_ft3 * measures.density_lb_ft3(wood.facts.bark_sg, 0.0),
        bark_ft2=measures.side_ft2(ends.butt_dob_in, ends.top_dob_in, ends.length_ft),
        measured=True,
        cut_points=points,
    )


def _along_ft(log: MeasuredLog, dob_in: float) -> float:
    if dob_in >= log.butt_in:
        return 0.0
    if dob_in <= log.top_in:
        return log.length_ft
    return (log.butt_in - dob_in) / (log.butt_in - log.top_in) * log.length_ft


def _notes(tree: Tree, wood: Wood) -> tuple[Diagnostic, ...]:
    notes = []
    if wood.facts.stands_in:
        notes.append(
            Diagnostic("note", "fallback", f"{wood.facts.label} is reckoned as {wood.facts.stands_in}", subject=tree.id)
        )
    if wood.long_dead:
        notes.append(Diagnostic("note", "assumption", "weighed as wood that has been dead for years", subject=tree.id))
    own = own_note(wood.facts, own_words(wood.facts, False), tree.id)
    return (*notes, own) if own else tuple(notes)


def _stump_notes(tree: Tree) -> tuple[Diagnostic, ...]:
    notes = []
    if tree.height_ft is None:
        message = "the height of the stump is not given, so the height of the cuts, cutting: stump_height, is taken"
        notes.append(Diagnostic("note", "assumption", message, subject=tree.id, hint="add height: ground to cut"))
    if tree.diameter_in is None:
        message = "the diameter at the cut is not given, so it is reckoned from the dbh"
        notes.append(Diagnostic("note", "estimated", message, subject=tree.id, hint="add diameter: across the cut"))
    return tuple(notes)
