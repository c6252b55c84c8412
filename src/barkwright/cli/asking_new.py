"""`new` at a terminal: an inventory of one tree or several from answers, and its order."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from barkwright.cli.asking import ask_all, not_yet, say_next
from barkwright.cli.options import Shared
from barkwright.cli.site import known_names, print_order
from barkwright.intake.interview import Interview
from barkwright.inventory.reading import read_inventory


def new_by_questions(given: Mapping[str, Any], asked: Shared) -> int:
    """Ask, write the inventory, print its order; the exit code. `given` are options by name, None if left out."""
    known = {name: str(value) for name, value in given.items() if value is not None}
    interview = Interview("new", asked.on, asked.units or "imperial", known)
    _, sheet, name = ask_all(interview, None if asked.output in ("-", "") else asked.output)
    inventory, found = read_inventory(sheet.text, name, asked.on, known_names())
    if inventory is None:
        return not_yet(name)
    code = print_order(inventory, found, name, replace(asked, output="-"), "order", name)
    say_next(name)
    return code
