"""From a field sheet to an inventory, with questions in it for all that a sheet cannot know."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from barkwright.diagnostics import Diagnostic, Place
from barkwright.intake.entries import entry, left_out_lines
from barkwright.intake.grid import NoTableError, clean
from barkwright.intake.rows import Row, tree_rows
from barkwright.intake.starter import Start, head_lines, means_lines
from barkwright.intake.understood import Sheet, unused
from barkwright.inventory.reading import read_inventory
from barkwright.record import dataclass

_TREES = """\
# A sheet cannot know all of the following. Add what you know to the tree's line; until then the plan assumes the worst.
#   attacked: 2025                     year in which beetles bored in; never for a tree that was not attacked
#   attack: mass                       mass, strip or pitched-out
#   found: {insect: spruce-beetle, stages: [larvae], looked: [base, sunny, shaded], exit_holes: none, crown: green,
#           seen: 2026-10-20}
#   near: {line: out-of-reach, building: 80 ft, road: out-of-reach, neighbour: out-of-reach}
#   hazards: [lean]                    lean, hung-up, dead-top, split-stem, decay, root-plate
# A dead tree is not an infested one: which insect it was, and when, must be seen under the bark.
trees:"""


@dataclass(frozen=True, slots=True)
class Filled:
    """The trees of a sheet, each proven to be one that an inventory takes; the rest with the reason."""

    rows: tuple[Row, ...]
    read: int  # rows below the names of the columns that are no totals or remarks
    notes: tuple[str, ...]
    unused: tuple[str, ...] = ()  # columns with something in them that are not read

    @property
    def trees(self) -> tuple[Row, ...]:
        """The rows that are trees."""
        return tuple(row for row in self.rows if not row.left_out)

    @property
    def left(self) -> tuple[Row, ...]:
        """The rows that are none."""
        return tuple(row for row in self.rows if row.left_out)

    def summary(self) -> str:
        """Where every row went: 12 rows are read: 10 trees; 2 left out."""
        used = {line for row in self.trees for line in row.lines or (row.line,)}
        lost = {line for row in self.left for line in row.lines or (row.line,)}
        if len(used | lost) != self.read:
            raise RuntimeError(f"{self.read} rows were read, {len(used | lost)} are accounted for")
        trees = f"{len(self.trees):,} tree{'s' * (len(self.trees) != 1)}"
        of = f" from {len(used):,} rows" if len(used) != len(self.trees) else ""
        left = f"{len(lost - used):,} left out" if lost - used else "none left out"
        rows = "1 row is" if self.read == 1 else f"{self.read:,} rows are"
        return f"{rows} read: {trees}{of}, {left}"


def filled(sheet: Sheet, units: str, on: date) -> Filled:
    """The trees of a sheet. Raises NoTableError where there is not one, or more than an inventory holds."""
    read = tree_rows(sheet)
    if not read.rows:
        raise NoTableError(
            "the table has no rows below the names of its columns", "fill in one row a tree", sheet.layout.line
        )
    rows = _proven(read.rows, units, on)
    if all(row.left_out for row in rows):
        message = f"no row is a spruce with a diameter: {rows[0].left_out}"
        raise NoTableError(message, "look at the row, and at which column means what", rows[0].line)
    return Filled(rows, len(sheet.layout.records), read.notes, tuple(clean(one.name) for one in unused(sheet)))


def inventory_text(made: Filled, file: str, start: Start, on: date) -> str:
    """An inventory in YAML with the trees of a sheet; what was left out of it stands at its end, with the reason."""
    shown = repr(clean(file))
    lines = [*head_lines(start, f"Made on {on} from {shown}."), "", _TREES]
    lines += [f"  - {entry(row, start.units)}" for row in made.trees]
    if made.unused:
        lines += ["", f"# Columns of {shown} that were not used: {', '.join(made.unused)}"]
    if made.left:
        lines += ["", f"# Left out of {shown}: {len(made.left)} of {made.read} rows."]
        lines += [f"#   {line}" for line in left_out_lines(made.left)]
    return "\n".join([*lines, "", *means_lines()]) + "\n"


def left_out_notes(rows: Sequence[Row], file: str) -> tuple[Diagnostic, ...]:
    """A note for every row that was left out."""
    return tuple(
        Diagnostic("note", "left-out", f"row '{row.id}' is left out: {row.left_out}", Place(file, row.line, 1))
        for row in rows
        if row.left_out
    )


def _proven(rows: Sequence[Row], units: str, on: date) -> tuple[Row, ...]:
    """The rows, those that an inventory refuses turned into left-out ones."""
    kept = [row for row in rows if not row.left_out]
    head = head_lines(Start("proof", 0.0, 0.0, "metric" if units == "metric" else "imperial"), "proof")
    text = "\n".join([*head, "trees:", *(f"  - {entry(row, units)}" for row in kept)]) + "\n"
    _, found = read_inventory(text, "proof", on)
    before = len(head) + 2
    refused: dict[str, str] = {}
    for one in found:
        if one.code == "too-large":
            message = f"{len(rows):,} rows are too many for one inventory: it would hold {one.message}"
            raise NoTableError(message, "split the table into several files, one for each part of the site")
        if one.severity == "error" and one.where and 0 <= one.where.line - before < len(kept):
            reason = re.sub(r"^tree '[^']*': ", "", one.message)
            refused.setdefault(kept[one.where.line - before].id, reason)
    return tuple(replace(row, left_out=refused[row.id]) if row.id in refused else row for row in rows)
