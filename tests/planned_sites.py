"""Sites as text, planned once for all the tests of a process."""

from __future__ import annotations

from datetime import date
from functools import cache
from pathlib import Path

from barkwright.cli.site import known_names
from barkwright.inventory.reading import read_inventory
from barkwright.plan import Plan, plan_order

EXAMPLES = Path(__file__).parents[1] / "examples"


@cache
def planned(text: str, on: date) -> Plan:
    """The plan of the site that a text describes. Nobody may change what it holds: other tests read it too."""
    inventory, found = read_inventory(text, "site.yaml", on, known_names())
    assert inventory is not None, found
    return plan_order(inventory, on)


def example(name: str, on: date) -> Plan:
    """The plan of one of the examples: planned from the text of its file."""
    return planned((EXAMPLES / f"{name.removesuffix('.yaml')}.yaml").read_text(encoding="utf-8"), on)
