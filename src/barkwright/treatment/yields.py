"""What a way leaves or gives: chips, cords, bark, ash, smoke, soil to move, loads."""

from __future__ import annotations

from barkwright.inventory.model import Tree
from barkwright.stem.pieces import Piece
from barkwright.treatment import piles
from barkwright.treatment.bench import Bench
from barkwright.treatment.disposal import bark_hole_yd3, bark_yd3, trench_of
from barkwright.treatment.logscale import international_bf
from barkwright.treatment.parts import Part, part_of
from barkwright.treatment.shop import Shop, shop_of
from barkwright.treatment.ways import Way, Yields
from barkwright.units import FT3_PER_YD3


def yields_of(bench: Bench, tree: Tree, piece: Piece, way: Way) -> Yields:
    """What a way gives from one piece. Smoke is PM2.5 of piles that burn clean; saw logs by the International rule."""
    shop = shop_of(bench.inventory)
    chips = cords = bark = ash = smoke = trench = cover = haul = 0.0
    for one in bench.template(way.id).steps:
        part = part_of(piece, one.part, bench.chipper)
        do = one.do
        if do == "chip":
            chips += part.chips_yd3
        elif do == "split":
            cords += part.cords
        elif do in ("peel", "peel-stump"):
            bark += bark_yd3(shop, part)
        elif do in ("burn", "burn-stump", "destroy-bark-burn", "stove"):
            dry = _burned_dry_lb(shop, part, do)
            ash += dry * piles.CONSUMED * shop.size["ash-share"]
            smoke += 0.0 if do == "stove" else piles.smoke(dry)
        elif do == "bury":
            trench, cover = trench_of(shop, part).bank / FT3_PER_YD3, shop.size["trench-cover"]
        elif do == "cover-stump":
            cover = shop.size["trench-cover"]
        elif do == "destroy-bark-bury":
            trench, cover = bark_hole_yd3(shop, part), shop.size["trench-cover"]
        elif do == "load-haul" and one.tool != "chip-truck":
            haul += part.lift_lb
        elif do == "load-haul":
            haul += part.green_lb
        elif do == "haul-bark":
            haul += part.bark_ft3 * shop.size["bark-weight"]
    cords = cords if way.then == "fuel" else 0.0  # what is burned outdoors or left as logs is no firewood
    chips = 0.0 if way.then == "hauled" else chips  # they leave the site
    boards = international_bf(piece.top_dib_in, piece.length_ft) if way.then == "saw log" else 0.0
    return Yields(chips, cords, bark, ash, smoke, trench, cover, boards, haul)


def _burned_dry_lb(shop: Shop, part: Part, do: str) -> float:
    """Oven-dry weight put in the fire [lb]: bark alone for stumps and stripped bark, else the whole piece."""
    if do in ("burn-stump", "destroy-bark-burn"):
        return part.bark_ft3 * shop.size["bark-weight"] * shop.size["dry-share"]
    return part.green_lb * shop.size["dry-share"]
