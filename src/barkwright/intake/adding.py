"""Trees of a field sheet added to an inventory that is there already."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from barkwright.diagnostics import Diagnostic, Place
from barkwright.intake.entries import entry, left_out_lines
from barkwright.intake.rows import Row
from barkwright.intake.splice import NoPlaceError, spliced
from barkwright.intake.starter import Start, head_lines
from barkwright.inventory.model import Tree
from barkwright.inventory.parts import sound_parts
from barkwright.inventory.reading import read_inventory
from barkwright.inventory.report import Report
from barkwright.inventory.shape import shape_inventory
from barkwright.record import dataclass
from barkwright.yamldoc import Document, read_document

_WORDS = ("note", "where", "tag")  # two people may put them in different words
_NEAR_IN, _NEAR_FT = 0.06, 0.06  # sizes that differ by less are the same one rounded; ours


@dataclass(frozen=True, slots=True)
class Added:
    """An inventory with more trees in it."""

    text: str | None  # None: it cannot be done, `found` says why
    new: tuple[str, ...] = ()  # ids
    same: tuple[str, ...] = ()  # ids that are there already, measured the same
    left: tuple[Row, ...] = ()
    found: tuple[Diagnostic, ...] = ()


def units_of(text: str) -> str:
    """The units of bare numbers in an inventory's text."""
    document, _ = read_document(text, "")
    return "metric" if document and document.node(("site", "units")).value == "metric" else "imperial"


def added(text: str, file: str, rows: Sequence[Row], source: str, on: date) -> Added:
    """The inventory in `text` with the trees of `rows` behind its own; nothing else in it is changed.

    A tree whose id is there already is not added: skipped where it says the same, left out where it does not.
    `source` names the sheet in the comment above the new trees.
    """
    start = "\ufeff" if text.startswith("\ufeff") else ""
    text = text.removeprefix("\ufeff")
    document, found = read_document(text, file)
    if document is None:
        return Added(None, found=found)
    old_trees, names = _trees(document, on)
    units = units_of(text)
    rows, same = _against(rows, old_trees, names, units, on)
    new = [row for row in rows if not row.left_out]
    left = tuple(row for row in rows if row.left_out)
    if not new:
        return Added(start + text, (), same, left)
    remarks = [f"added {on} from {source}: {len(new)} tree{'s' * (len(new) != 1)}"]
    remarks += [f"left out: {line}" for line in left_out_lines(left)]
    try:
        longer = spliced(text, [entry(row, units) for row in new], remarks)
    except NoPlaceError as fault:
        hint = "write the trees as a list, each beginning with a dash on a line of its own, and try again"
        return Added(
            None,
            found=(Diagnostic("error", "bad-table", f"no tree can be added: {fault}", Place(file, 1, 1), hint=hint),),
        )
    faults = _new_faults(document, longer, [row.id for row in new], file, on)
    if faults:
        return Added(None, found=faults)
    return Added(start + longer, tuple(row.id for row in new), same, left)


def _against(
    rows: Sequence[Row], old: dict[str, Tree], names: frozenset[str], units: str, on: date
) -> tuple[list[Row], tuple[str, ...]]:
    """The rows, those whose id is taken left out with the reason; and the ids of those that say the same."""
    known = [row for row in rows if not row.left_out and row.id in old]
    as_trees = _as_trees(known, units, on) if known else {}
    same: list[str] = []
    out = []
    for row in rows:
        if row.left_out or row.id not in names:
            out.append(row)
            continue
        there, tree = old.get(row.id), as_trees.get(row.id)
        if there is None or tree is None:
            out.append(replace(row, left_out=f"'{row.id}' is in the inventory already"))
            continue
        differs = _differs(tree, there)
        if differs:
            listed = ", ".join(key.replace("_", " ") for key in differs)
            why = f"'{row.id}' is in the inventory already, with another {listed}: change it there by hand"
            out.append(replace(row, left_out=why))
        else:
            same.append(row.id)
    return out, tuple(same)


def _trees(document: Document, on: date) -> tuple[dict[str, Tree], frozenset[str]]:
    """The trees of an inventory by id, as written, and every id that is taken."""
    system = document.node(("site", "units")).value
    report = Report(document, "metric" if system == "metric" else "imperial")
    parts = sound_parts(shape_inventory(report), report, on)
    trees = {tree.id: tree for _, tree in parts.trees}
    listed = document.node(("trees",)).value
    names = {
        node.value["id"].text
        for node in (listed if isinstance(listed, list) else ())
        if isinstance(node.value, dict) and "id" in node.value
    }
    members = {f"{tree.id}.{n}" for tree in trees.values() if tree.count > 1 for n in range(1, tree.count + 1)}
    return trees, frozenset(names | members)


def _as_trees(rows: Sequence[Row], units: str, on: date) -> dict[str, Tree]:
    head = head_lines(Start("proof", 0.0, 0.0, "metric" if units == "metric" else "imperial"), "proof")
    text = "\n".join([*head, "trees:", *(f"  - {entry(row, units)}" for row in rows)]) + "\n"
    document, _ = read_document(text, "proof")
    return _trees(document, on)[0] if document else {}


def _differs(new: Tree, old: Tree) -> list[str]:
    """The keys in which the sheet says something that the inventory does not."""
    out = []
    for key in Tree.model_fields:
        if key not in new.model_fields_set or key in _WORDS:
            continue
        one, two = getattr(new, key), getattr(old, key)
        if not (key == "attacked" and one == "unknown") and not _alike(one, two):
            out.append(key.removesuffix("_in").removesuffix("_ft"))
    return out


def _alike(one: Any, two: Any) -> bool:
    if isinstance(one, float) and isinstance(two, float):
        return abs(one - two) <= max(_NEAR_IN, _NEAR_FT)
    if hasattr(one, "model_fields_set") and type(one) is type(two):
        return all(_alike(getattr(one, key), getattr(two, key)) for key in one.model_fields_set)
    if isinstance(one, tuple) and isinstance(two, tuple) and one and hasattr(one[0], "model_fields_set"):
        return len(one) == len(two) and all(_alike(a, b) for a, b in zip(one, two, strict=True))
    if isinstance(one, tuple) and isinstance(two, tuple):
        return set(one) == set(two)
    return bool(one == two)


def _new_faults(before: Document, text: str, ids: Sequence[str], file: str, on: date) -> tuple[Diagnostic, ...]:
    """What is wrong with the longer inventory and was not with the one before; the one before must be whole in it."""
    after, found = read_document(text, file)
    if after is None:
        return found
    old, new = before.data, after.data
    listed = new.pop("trees")
    had = old.pop("trees", None) or []
    whole = new == old and listed[: len(had)] == had and [str(one["id"]) for one in listed[len(had) :]] == list(ids)
    if not whole:
        hint = "end the file with an empty line, and write each tree on lines of its own"
        message = "the trees cannot be added without changing what is there"
        return (Diagnostic("error", "bad-table", message, Place(file, 1, 1), hint=hint),)
    known = Counter((one.code, one.message) for one in read_inventory(before.text, file, on)[1])
    faults = []
    for one in read_inventory(text, file, on)[1]:
        if one.severity == "error" and not known[one.code, one.message]:
            faults.append(one)
        known[one.code, one.message] -= 1
    return tuple(faults)
