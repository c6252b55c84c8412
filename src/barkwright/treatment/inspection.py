"""Looking: under the bark before anything is decided, and at the place again after the flight."""

from __future__ import annotations

from barkwright.brood.finding import TreeBrood
from barkwright.inventory.model import Inventory, Tree
from barkwright.spread import NOTHING, Spread
from barkwright.treatment.shop import shop_of
from barkwright.treatment.ways import Step


def inspect_step(tree: Tree, brood: TreeBrood, inventory: Inventory) -> Step | None:
    """The look under the bark that a tree needs, or None. One person, with a knife or an axe; no saw."""
    if not brood.needs_inspection:
        return None
    shop = shop_of(inventory)
    standing = tree.status == "standing"
    stump = tree.status == "stump"
    windows = int(shop.size["windows-stump" if stump else "windows-standing" if standing else "windows-down"])
    walk, cut = shop.rate["look-tree"], shop.rate["look-window"]
    hours = Spread(*(walk[i] + windows * cut[i] / 60 for i in range(3)))
    where = (
        "at the root collar, on the sunny side as high as you can reach, and on the shaded side"
        if standing
        else "all round at the root collar"
        if stump
        else "on top, on the side and on the underside, away from the ends"
    )
    what = f"look under the bark of {tree.id}: with a knife or an axe cut {windows} windows at least, {where}"
    return Step("inspect", what, hours, 1, (), NOTHING, ())


def look_again_step(tree: Tree, inventory: Inventory) -> Step:
    """The look at a tree's place and its green neighbours after the flight."""
    shop = shop_of(inventory)
    what = f"look again where {tree.id} was treated: live beetles, missed bark, fresh dust on green spruce nearby"
    return Step("look again", what, shop.book.rates["look-again"].spread, 1, (), NOTHING, ())
