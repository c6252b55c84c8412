"""From a table of trees to an inventory, with questions in it for all that a table cannot know."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from barkwright.diagnostics import Diagnostic, Place
from barkwright.intake.rows import Row, read_rows
from barkwright.intake.starter import Start, head_lines, means_lines
from barkwright.inventory.reading import read_inventory

_PLAIN = re.compile(r"[A-Za-z][A-Za-z0-9 ._-]*[A-Za-z0-9]|[0-9]+(\.[0-9]+)?|[0-9]+-[0-9-]*[0-9]")
_TREES = """\
# The table cannot know the following of a tree. Add what you know to its line; until then the plan assumes the worst.
#   attacked: 2025                     year in which beetles bored in; never for a tree that was not attacked
#   attack: mass                       mass, strip or pitched-out
#   found: {insect: spruce-beetle, stages: [larvae], looked: [base, sunny, shaded], exit_holes: none, crown: green,
#           seen: 2026-10-20}
#   near: {line: out-of-reach, building: 80 ft, road: out-of-reach, neighbour: out-of-reach}
#   hazards: [lean]                    lean, hung-up, dead-top, split-stem, decay, root-plate
# A dead tree is not an infested one: which insect it was, and when, must be seen under the bark.
trees:"""


def inventory_text(text: str, file: str, start: Start, on: date) -> tuple[str | None, tuple[Diagnostic, ...]]:
    """An inventory in YAML of the spruce in a CSV table, and what was left out of it; None if the table cannot be read.

    `file` names the table in diagnostics. Diameters and heights without a unit in their column's name are in the units
    of `start`. Rows that are no spruce, lack a diameter or cannot be are listed as comments with the reason.
    """
    rows, fault = read_rows(text)
    if fault is not None or not rows:
        message = fault or "the table has no rows"
        hint = "name the columns species, dbh and height, or give the public forest inventory's tree table"
        if re.search(r"\bline \d", message):
            hint = "look at that line in the program that wrote the table, and save it again as CSV"
        return None, (Diagnostic("error", "bad-table", message, Place(file, 1, 1), hint=hint),)
    rows, too_large = _proven(rows, start, on)
    if too_large is not None:
        message = f"{len(rows):,} rows are too many for one inventory: it would hold {too_large}"
        hint = "split the table into several files, one for each part of the site"
        return None, (Diagnostic("error", "too-large", message, Place(file, 1, 1), hint=hint),)
    left = tuple(row for row in rows if row.left_out)
    if len(left) == len(rows):
        message = f"no row is a spruce with a diameter: {left[0].left_out}"
        return None, (Diagnostic("error", "bad-table", message, Place(file, left[0].line, 1)),)
    notes = tuple(
        Diagnostic("note", "left-out", f"row '{row.id}' is left out: {row.left_out}", Place(file, row.line, 1))
        for row in left
    )
    return _compose(rows, file, start, on), notes


def _compose(rows: Sequence[Row], file: str, start: Start, on: date) -> str:
    lines = [*head_lines(start, f"Made on {on} from {file!r}."), "", _TREES]
    lines += [_tree(row) for row in rows if not row.left_out]
    left = [row for row in rows if row.left_out]
    if left:
        lines += ["", f"# Left out of {file!r}: {len(left)} of {len(rows)} rows."]
        lines += [f"#   line {row.line}, {row.id}: {row.left_out}" for row in left]
    return "\n".join([*lines, "", *means_lines()]) + "\n"


def _tree(row: Row) -> str:
    parts = [f"id: {_quoted(row.id)}", f"species: {row.species}", f"dbh: {_amount(row.dbh)}"]
    if row.height:
        parts.append(f"height: {_amount(row.height)}")
    parts.append("attacked: unknown")
    if row.note:
        parts.append(f"note: {_quoted(row.note)}")
    return f"  - {{{', '.join(parts)}}}"


def _proven(rows: Sequence[Row], start: Start, on: date) -> tuple[tuple[Row, ...], str | None]:
    """The rows, those that the inventory refuses turned into left-out ones; and why it cannot hold them all, if so."""
    kept = [row for row in rows if not row.left_out]
    proof = Start("proof", 0.0, 0.0, start.units)
    head = head_lines(proof, "proof")
    text = "\n".join([*head, "trees:", *(_tree(row) for row in kept)]) + "\n"
    _, found = read_inventory(text, "proof", on)
    before = "\n".join([*head, "trees:"]).count("\n") + 2
    refused: dict[str, str] = {}
    for one in found:
        if one.code == "too-large":
            return tuple(rows), one.message
        if one.severity == "error" and one.where and 0 <= one.where.line - before < len(kept):
            reason = re.sub(r"^tree '[^']*': ", "", one.message)
            refused.setdefault(kept[one.where.line - before].id, reason)
    return tuple(replace(row, left_out=refused[row.id]) if row.id in refused else row for row in rows), None


def _amount(text: str) -> str:
    return text if re.fullmatch(r"[0-9.]+( (in|ft|cm|mm|m))?", text) else _quoted(text)


def _quoted(text: str) -> str:
    if _PLAIN.fullmatch(text) and text.casefold() not in ("true", "false", "null"):
        return text
    return "'" + text.replace("'", "''") + "'"
