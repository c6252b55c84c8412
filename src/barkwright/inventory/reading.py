"""From the text of an inventory to the inventory, or to everything that is wrong with it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date

from barkwright.diagnostics import Diagnostic
from barkwright.inventory.checks.every import CHECKS
from barkwright.inventory.checks.place import check_names
from barkwright.inventory.model import Call, Inventory, MeasuredLog, Tree
from barkwright.inventory.parts import sound_parts
from barkwright.inventory.report import Report
from barkwright.inventory.shape import shape_inventory
from barkwright.yamldoc import read_document

Names = Mapping[str, Sequence[str]]


def read_inventory(
    text: str, file: str, on: date, names: Names | Callable[[tuple[str, ...]], Names] | None = None
) -> tuple[Inventory | None, tuple[Diagnostic, ...]]:
    """The inventory in `text`, or None if anything in it is an error; and all there is to say about it, in file order.

    `file` is the name that places carry, `on` the plan's date; `names` may list the regions and ecodivisions that are
    known, by key of the site, or say what they are, given the paths under `local`. Tree T with count 3 becomes T.1,
    T.2, T.3, each with count 1; logs likewise.
    """
    document, found = read_document(text, file)
    if document is None:
        return None, found
    system = document.node(("site", "units")).value
    report = Report(document, "metric" if system == "metric" else "imperial")
    shaped = shape_inventory(report)
    if report.full:
        return None, report.sorted()
    parts = sound_parts(shaped, report, on)
    for check in CHECKS:
        if not report.full:
            check(parts, report)
    check_names(names(_local(report)) if callable(names) else names or {}, report)
    found = report.sorted()
    if parts.whole is None or any(one.severity == "error" for one in found):
        return None, found
    return _expand(parts.whole), found


def _local(report: Report) -> tuple[str, ...]:
    """The sound paths under `local`, as written."""
    written = report.document.node(("local",)).value if report.has_key(("local",)) else None
    if not isinstance(written, list):
        return ()
    return tuple(
        item.text
        for number, item in enumerate(written)
        if item.kind == "scalar" and item.text and ("local", number) not in report.faulty
    )


def _expand(inventory: Inventory) -> Inventory:
    trees: list[Tree] = []
    members: dict[str, tuple[str, ...]] = {}
    for tree in inventory.trees:
        logs = tuple(_single(log) for log in tree.logs for _ in range(log.count))
        plain = tree.model_copy(update={"count": 1, "logs": logs})
        if tree.count == 1:
            trees.append(plain)
        else:
            members[tree.id] = tuple(f"{tree.id}.{n}" for n in range(1, tree.count + 1))
            trees.extend(plain.model_copy(update={"id": one}) for one in members[tree.id])
    calls = tuple(_expand_call(call, members) for call in inventory.calls)
    return inventory.model_copy(update={"trees": tuple(trees), "calls": calls})


def _expand_call(call: Call, members: Mapping[str, tuple[str, ...]]) -> Call:
    ids = tuple(one for tree in call.trees for one in members.get(tree, (tree,)))
    return call.model_copy(update={"trees": ids})


def _single(log: MeasuredLog) -> MeasuredLog:
    return log.model_copy(update={"count": 1})
