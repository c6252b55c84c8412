"""From the text of an inventory to the inventory, or to everything that is wrong with it."""

from __future__ import annotations

import json
from datetime import date
from functools import cache
from typing import Any

from pydantic import TypeAdapter, ValidationError

from barkwright.diagnostics import Diagnostic
from barkwright.inventory.model import Inventory, MeasuredLog, Tree
from barkwright.inventory.shape import Shaper
from barkwright.yamldoc import Document, read_document


def read_inventory(text: str, file: str, on: date) -> tuple[Inventory | None, tuple[Diagnostic, ...]]:
    """The inventory in `text`, or None if anything in it is an error; and all there is to say about it, in file order.

    `file` is the name that places carry, `on` the plan's date. Tree T with count 3 becomes T.1, T.2, T.3, each with
    count 1; logs with a count likewise.
    """
    document, found = read_document(text, file)
    if document is None:
        return None, found
    system = document.node(("site", "units")).value
    shaper = Shaper(document, "metric" if system == "metric" else "imperial")
    data = shaper.record(document.root, Inventory, ())
    inventory: Inventory | None = None
    try:
        inventory = _adapter(Inventory).validate_json(json.dumps(data))
    except ValidationError as error:
        for one in error.errors(include_url=False):
            _pydantic(one, document, shaper)
    found = tuple(sorted(shaper.found, key=lambda d: (d.where.line, d.where.column) if d.where else (0, 0)))
    if inventory is None or any(one.severity == "error" for one in found):
        return None, found
    return _expand(inventory), found


@cache
def _adapter(model: Any) -> TypeAdapter[Any]:
    return TypeAdapter(model)


def _pydantic(error: Any, document: Document, shaper: Shaper) -> None:
    loc = error["loc"]
    if loc in shaper.places:
        return
    if error["type"] == "missing":
        message = f"'{loc[-1]}' is missing"
        where = document.place(loc[:-1])
        shaper.found.append(Diagnostic("error", "missing-key", message, where))
        return
    shaper.found.append(Diagnostic("error", "bad-value", error["msg"], document.place(loc)))


def _expand(inventory: Inventory) -> Inventory:
    trees: list[Tree] = []
    for tree in inventory.trees:
        logs = tuple(_single(log) for log in tree.logs for _ in range(log.count))
        plain = tree.model_copy(update={"count": 1, "logs": logs})
        if tree.count == 1:
            trees.append(plain)
        else:
            trees.extend(plain.model_copy(update={"id": f"{tree.id}.{n}"}) for n in range(1, tree.count + 1))
    return inventory.model_copy(update={"trees": tuple(trees)})


def _single(log: MeasuredLog) -> MeasuredLog:
    return log.model_copy(update={"count": 1})
