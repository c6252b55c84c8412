"""The log tally: every piece of every tree, and what it adds up to."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from barkwright.output.blocks import Card, Page, Para, Section, Table, plain
from barkwright.output.json_basics import near, site_record
from barkwright.output.json_records import piece_record, tree_record
from barkwright.output.json_results import TallyResult, TotalsRecord
from barkwright.output.layout import render
from barkwright.output.measures import Units
from barkwright.output.names import part_names, piece_names, shown_name, spruce
from barkwright.output.order_basis import note_lines
from barkwright.output.order_done import DID
from barkwright.output.tree_words import estimated
from barkwright.output.words import amount, day

if TYPE_CHECKING:
    from barkwright.inventory.model import Tree
    from barkwright.plan import Tally
    from barkwright.stem.pieces import Piece, TreeStem

KINDS = ("log", "stump", "top", "limbs")
PLURAL = {"log": "logs", "stump": "stumps", "top": "tops", "limbs": "limbs of trees"}
WORKED = "These pieces are in the tally with the sizes that they had before."
HEAD = ("Piece", "Butt", "Top", "Long", "Wood", "Bark area", "Weight", "Stacked", "Chips")


def tally_text(tally: Tally, units: Units, made_from: str) -> str:
    """The tally as text for 80 columns."""
    return render(tally_page(tally, units, made_from))


def tally_page(tally: Tally, units: Units, made_from: str) -> Page:
    """The tally as sections."""
    trees = zip(tally.inventory.trees, tally.stems, strict=True)
    pieces = [piece for stem in tally.stems for piece in stem.pieces]
    sections = [
        Section("Totals", (_totals(pieces, units), Para(_legend(units)))),
        Section("Tree by tree", tuple(_tree(tree, stem, units) for tree, stem in trees)),
    ]
    if tally.inventory.finished:
        sections.insert(1, Section("Worked on already", (Para(WORKED), plain(_worked(tally)))))
    notes = [units.sentence(line) for line in note_lines(tally.diagnostics)]
    if notes:
        sections.append(Section("What this rests on", (plain(notes),)))
    title = f"Log tally: {tally.inventory.site.name}"
    made = f"Made on {day(tally.on)} from {shown_name(made_from)}. All ends are outside bark."
    return Page(title, made, tuple(sections))


def _worked(tally: Tally) -> list[str]:
    """Recorded work by its day, as the journal says."""
    groups: dict[tuple[date, str], list[str]] = {}
    for one in tally.inventory.finished:
        left = f", left: {one.left}" if one.left else ""
        groups.setdefault((one.on, f"{DID[one.method]}{left}"), []).append(one.piece)
    return [f"{day(on)}: {piece_names(pieces)}: {did}." for (on, did), pieces in groups.items()]


def tally_result(tally: Tally) -> TallyResult:
    """The tally as plain data."""
    pieces = [piece for stem in tally.stems for piece in stem.pieces]
    return {
        "site": site_record(tally.inventory.site),
        "trees": [tree_record(tree, stem) for tree, stem in zip(tally.inventory.trees, tally.stems, strict=True)],
        "pieces": [piece_record(piece) for piece in pieces],
        "worked_on": sorted({one.piece for one in tally.inventory.finished}),
        "totals": [_sums(kind, [piece for piece in pieces if piece.kind == kind]) for kind in KINDS],
    }


def _sums(kind: str, pieces: Sequence[Piece]) -> TotalsRecord:
    return {
        "kind": kind,
        "count": len(pieces),
        "wood_ft3": near(sum(piece.wood_ft3 for piece in pieces)),
        "bark_ft2": near(sum(piece.bark_ft2 for piece in pieces)),
        "green_lb": near(sum(piece.green_lb for piece in pieces), 1),
        "cords": near(sum(piece.cords for piece in pieces)),
        "chips_yd3": near(sum(piece.chips_yd3 for piece in pieces)),
    }


def _legend(units: Units) -> str:
    stacked = "cubic metres stacked" if units.metric else "cords of 128 cubic feet"
    return (
        f"Stacked wood is in {stacked}. Chips are loose. Weights are those of green wood with its bark, as one plans a "
        "load; the work order gives the higher weights to lift by."
    )


def _totals(pieces: Sequence[Piece], units: Units) -> Table:
    rows = []
    for kind in KINDS:
        these = [piece for piece in pieces if piece.kind == kind]
        if these:
            rows.append((PLURAL[kind], str(len(these)), *_measures(these, units)))
    rows.append(("all", str(len(pieces)), *_measures(pieces, units)))
    return _with_units(("", "Number", "Wood", "Bark area", "Weight", "Stacked", "Chips"), rows, 2)


def _with_units(head: tuple[str, ...], rows: Sequence[tuple[str, ...]], plain_columns: int) -> Table:
    """A table whose units stand once, under the head, and not in every cell."""
    units = [""] * len(head)
    bare = []
    for row in rows:
        parted = [cell.partition(" ") for cell in row[plain_columns:]]
        for column, (_, _, unit) in enumerate(parted, plain_columns):
            units[column] = units[column] or unit.replace(" stacked", "")
        bare.append((*row[:plain_columns], *(number for number, _, _ in parted)))
    units = ["cords" if unit == "cord" else unit for unit in units]
    return Table(
        tuple(f"{name}\n{unit}" for name, unit in zip(head, units, strict=True)),
        tuple(bare),
        "l" + "r" * (len(head) - 1),
    )


def _measures(pieces: Sequence[Piece], units: Units) -> tuple[str, ...]:
    return (
        units.cubic_feet(sum(piece.wood_ft3 for piece in pieces)),
        units.square_feet(sum(piece.bark_ft2 for piece in pieces)),
        units.pounds(sum(piece.green_lb for piece in pieces)),
        units.cords(sum(piece.cords for piece in pieces)),
        units.yards(sum(piece.chips_yd3 for piece in pieces)),
    )


def _tree(tree: Tree, stem: TreeStem, units: Units) -> Card:
    size = [spruce(tree.species)]
    if stem.dbh_in is not None:
        size.append(f"{units.inches(stem.dbh_in)} across at breast height")
    if stem.height_ft is not None and tree.status != "stump":
        size.append(f"{units.feet(stem.height_ft.likely)} tall{estimated(stem) if stem.height_estimated else ''}")
    rows = tuple(_row(piece, units) for piece in stem.pieces)
    logs = [piece for piece in stem.pieces if piece.kind == "log"]
    blocks: list[Table | Para] = [_with_units(HEAD, rows, 1)]
    if len(logs) > 1:
        wood, bark, weight, stacked, _ = _measures(logs, units)
        text = f"{amount(len(logs), 'log')} together: {wood} of wood, {bark} of bark, {weight}, {stacked}."
        blocks.append(Para(text))
    return Card(f"{tree.id}: {', '.join(size)}", tuple(blocks))


def _row(piece: Piece, units: Units) -> tuple[str, ...]:
    ends = ("", "", "") if piece.kind == "limbs" else (
        units.inches(piece.butt_dob_in),
        units.inches(piece.top_dob_in),
        units.feet(piece.length_ft, 1),
    )  # fmt: skip
    wood, bark, weight, stacked, chips = _measures([piece], units)
    name = part_names([piece.id.rpartition("/")[2]]) + ("*" if piece.measured else "")
    return (name, *ends, wood, bark, weight, stacked, chips)
