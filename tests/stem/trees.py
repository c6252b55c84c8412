"""Inventories made in the test, without a file."""

from __future__ import annotations

from typing import Any

from barkwright.inventory.model import Inventory, Tree
from barkwright.stem.bucking import cut_tree
from barkwright.stem.pieces import TreeStem


def inventory(*trees: dict[str, Any], ecodivision: str | None = None, **more: Any) -> Inventory:
    site = {"name": "made up", "units": "imperial", "latitude": 53.98, "longitude": -123.02, "ecodivision": ecodivision}
    site |= more.pop("site", {})
    return Inventory.model_validate({"barkwright": 1, "site": site, "trees": tuple(trees), **more}, strict=False)


def cut(ecodivision: str | None = None, cutting: Any = None, equipment: Any = (), **tree: Any) -> TreeStem:
    """The pieces of one tree; white spruce T1 unless said otherwise."""
    more = {"cutting": cutting} if cutting else {}
    whole = inventory(
        {"id": "T1", "species": "white", **tree}, ecodivision=ecodivision, equipment=tuple(equipment), **more
    )
    first: Tree = whole.trees[0]
    return cut_tree(first, whole)


def codes(stem: TreeStem) -> list[str]:
    return [note.code for note in stem.notes]
