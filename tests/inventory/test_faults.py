"""Hundreds of faulty inventories: every one gives a diagnostic that names the right line, none a traceback."""

from datetime import date

import pytest
from inventory_faults import GOOD, faults

from barkwright.inventory.reading import read_inventory

ON = date(2026, 11, 25)
FAULTS = [fault for path in GOOD for fault in faults(path)]


def test_there_are_more_than_enough_of_them():
    assert len(FAULTS) >= 200
    assert len({fault.text for fault in FAULTS}) == len(FAULTS)


@pytest.mark.parametrize("path", GOOD, ids=lambda path: path.stem)
def test_each_fault_is_found_at_its_line(path):
    missed = []
    for fault in faults(path):
        inventory, found = read_inventory(fault.text, "site.yaml", ON)
        lines = {one.where.line for one in found if one.where and one.severity == "error"}
        if inventory is not None or fault.line not in lines:
            missed.append(f"{fault.name}: line {fault.line}, found {[str(one) for one in found]}")
    assert missed == []
