"""The readers of field sheets as functions of bytes, in the manner of `readers.py`."""

from __future__ import annotations

from watch import ON, told

from barkwright.diagnostics import Diagnostic, Place
from barkwright.intake.adding import added, units_of
from barkwright.intake.fieldsheet import filled, inventory_text
from barkwright.intake.grid import NoTableError
from barkwright.intake.opening import open_sheet
from barkwright.intake.starter import Start
from barkwright.intake.understood import Asked
from barkwright.inventory.reading import read_inventory


def read_field_sheet(content: bytes) -> None:
    """A field sheet, text or workbook: the inventory that it makes is one, and every row is accounted for."""
    try:
        made = filled(open_sheet(content, Asked()), "imperial", ON)
    except NoTableError as fault:
        where = Place("trees.csv", fault.line, 1)
        told((Diagnostic("error", "bad-table", fault.message, where, hint=fault.hint),))
        return
    made.summary()  # raises where rows are lost
    text = inventory_text(made, "trees.csv", Start("x", 53.0, -122.0, "imperial", None), ON)
    inventory, found = read_inventory(text, "made.yaml", ON)
    assert inventory is not None, [str(one) for one in found if one.severity == "error"][:3]


def read_into(content: bytes) -> None:
    """An inventory to which trees are added: what comes of it keeps every line of it, or it is refused."""
    text = content.decode("utf-8", "replace")
    made = filled(open_sheet(_TWO_TREES, Asked()), units_of(text), ON)
    done = added(text, "site.yaml", made.trees, "trees.csv", ON)
    told(done.found)
    assert (done.text is None) == bool(done.found)
    if done.text is not None:
        kept = set(done.text.splitlines())
        assert all(line in kept for line in text.splitlines() if "trees:" not in line)  # trees: [] becomes a list
        before, _ = read_inventory(text, "site.yaml", ON)
        after, found = read_inventory(done.text, "site.yaml", ON)
        assert before is None or after is not None, [str(one) for one in found if one.severity == "error"][:3]


_TWO_TREES = b"tree,species,dbh_in,height_ft\nF901,white spruce,14.5,70\nF902,engelmann spruce,12,66\n"
