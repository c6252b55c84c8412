"""A tree cut up on paper: stump, logs from the butt, top and limbs."""

from __future__ import annotations

import math
from itertools import pairwise

from barkwright.inventory.model import Cutting, Inventory, Tree
from barkwright.stem import nsvb
from barkwright.stem.machines import cut_points, fits_from, working_capacities
from barkwright.stem.measured import measured_logs, measured_stump
from barkwright.stem.pieces import CutPoint, Piece, PieceKind, TreeStem
from barkwright.stem.standing import Standing, standing_tree
from barkwright.stem.tables import coefficient_row, factor
from barkwright.stem.wood import Ends

_THIN_SLICE_FT = 0.01  # a shorter rest of a stem is no piece


def cut_tree(tree: Tree, inventory: Inventory) -> TreeStem:
    """Cut one tree into pieces.

    A tree with a diameter at breast height (standing, windthrown, felled) is cut by the equations: a stump of the
    asked height, logs of the asked length while the stem is thicker than `treat_over`, the rest of the stem as top, and
    the limbs. Listed logs are taken as they were measured, and nothing else is made up for them. A stump is one piece.
    Raises ValueError for a tree that has neither diameter, logs nor stump: the inventory refuses such a tree.
    """
    if tree.status == "stump":
        return measured_stump(tree, inventory)
    if tree.logs:
        return measured_logs(tree, inventory)
    return _by_equations(tree, inventory)


def log_ends(cutting: Cutting, stump_ft: float, treat_ft: float) -> tuple[float, ...]:
    """Heights of the cuts from the stump up: the first is the stump's, the last where the logs end. [ft]

    cutting : log length, and trim that is added to each. stump_ft, treat_ft : lowest and highest cut. [ft]
    A leftover shorter than the shortest log is joined to the log below it, and the two are cut in equal halves, so
    that no log is longer than asked and nothing thick is left on the top.
    """
    if treat_ft <= stump_ft:
        return (stump_ft,)
    full = cutting.log_length_ft + cutting.trim_ft
    whole = math.floor((treat_ft - stump_ft) / full + 1e-9)
    cuts = [stump_ft + full * number for number in range(whole + 1)]
    left = treat_ft - cuts[-1]
    if left <= 1e-6:
        return tuple(cuts)
    if whole and left < factor("min-log") * full:
        cuts[-1] = (cuts[-2] + treat_ft) / 2
    return (*cuts, treat_ft)


def _by_equations(tree: Tree, inventory: Inventory) -> TreeStem:
    standing = standing_tree(tree, inventory)
    shape, cutting = standing.shape, inventory.cutting
    stump_ft = min(cutting.stump_height_ft, shape.end_ft)
    treat_ft = shape.height_of_ft(cutting.treat_over_in) if shape.dbh_in >= cutting.treat_over_in else 0.0
    cuts = log_ends(cutting, stump_ft, treat_ft)
    fits = fits_from(working_capacities(inventory.equipment), shape.height_of_ft)
    pieces = [_stem_piece(standing, "stump", 0, 0.0, stump_ft)]
    for number, (low, high) in enumerate(pairwise(cuts), start=1):
        pieces.append(_stem_piece(standing, "log", number, low, high, cut_points(fits, low, high)))
    if shape.end_ft - cuts[-1] > _THIN_SLICE_FT:
        points = cut_points(fits, cuts[-1], shape.end_ft)
        pieces.append(_stem_piece(standing, "top", 0, cuts[-1], shape.end_ft, points))
    limbs = _limbs(tree, standing)
    return TreeStem(
        tree=tree.id,
        dbh_in=shape.dbh_in,
        height_ft=standing.height_ft,
        height_estimated=standing.height_estimated,
        pieces=(*pieces, limbs) if limbs else tuple(pieces),
        notes=standing.notes,
        basis=standing.basis,
        local=standing.local,
    )


def _stem_piece(
    standing: Standing,
    kind: PieceKind,
    number: int,
    from_ft: float,
    to_ft: float,
    points: tuple[CutPoint, ...] = (),
) -> Piece:
    shape = standing.shape
    share = shape.share(from_ft, to_ft)
    butt, top = shape.dob_in(from_ft), shape.dob_in(to_ft)
    return standing.wood.piece(
        kind,
        number,
        Ends(from_ft, to_ft - from_ft, butt, top, butt * shape.inside, top * shape.inside),
        wood_ft3=shape.wood_ft3 * share,
        bark_ft3=shape.bark_ft3 * share,
        bark_dry_lb=shape.bark_lb * share,
        bark_ft2=shape.bark_area_ft2(from_ft, to_ft),
        cut_points=points,
    )


def _limbs(tree: Tree, standing: Standing) -> Piece | None:
    shape = standing.shape
    density = standing.wood.facts.wood_sg
    branch_lb, foliage_lb = (
        coefficient_row(table, standing.wood.facts.spcd, standing.division).total(
            shape.dbh_in, shape.height_ft, density
        )
        for table in ("S7", "S9")
    )
    if tree.found is not None and tree.found.crown == "bare":
        foliage_lb = 0.0
    broken = shape.end_ft < shape.height_ft
    if broken:
        left = nsvb.branches_left(shape.height_ft, shape.end_ft, factor("crown-ratio"))
        branch_lb, foliage_lb = branch_lb * left, foliage_lb * left
    return standing.wood.limbs(branch_lb, foliage_lb) if branch_lb > 0 else None
