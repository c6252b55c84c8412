"""Inventories in files: good ones are read without a word, bad ones give exactly the diagnostics beside them."""

import re
from datetime import date
from pathlib import Path
from typing import get_args

import pytest

from barkwright.diagnostics import Code, Diagnostic
from barkwright.inventory.reading import read_inventory
from barkwright.yamldoc import decode

FOLDER = Path(__file__).parents[1] / "inventories"
GOOD = sorted((FOLDER / "good").glob("*.yaml"))
BAD = sorted((FOLDER / "bad").glob("*.yaml"))
ON = date(2026, 11, 25)  # unless the first line of the file says otherwise: # on: 2026-04-02
NAMES = {"region": ("interior-plateau", "central-rockies"), "ecodivision": ("M130", "M330")}
# Codes that other rooms give: about the rulebook, the models of wood and season, and prices.
OTHERS = {
    "assumption",
    "interrupted",
    "bad-table",
    "left-out",
    "bad-condition",
    "estimated",
    "fallback",
    "local",
    "entry-in-future",
    "lost-journal",
    "never-fires",
    "other-cutting",
    "outside-range",
    "placeholder",
    "proxy",
    "rules-contradict",
    "uncited",
    "unknown-fact",
    "unknown-source",
    "unreadable",
    "weather-dates",
    "weather-doubt",
    "weather-duplicate",
    "weather-file",
    "weather-gap",
    "weather-read",
    "weather-row",
    "weather-station",
    "weather-thin",
    "weather-units",
    "weather-which",
}


def diagnose(path: Path) -> tuple[Diagnostic, ...]:
    text, found = decode(path.read_bytes(), path.name)
    if text is None:
        return found
    said = re.match(r"# on: (\S+)", text)
    return read_inventory(text, path.name, date.fromisoformat(said[1]) if said else ON, NAMES)[1]


@pytest.mark.parametrize("path", GOOD, ids=lambda path: path.stem)
def test_a_good_inventory_is_read_without_a_word(path):
    inventory, found = read_inventory(path.read_text(encoding="utf-8"), path.name, ON, NAMES)
    assert found == ()
    assert inventory is not None


@pytest.mark.parametrize("path", BAD, ids=lambda path: path.stem)
def test_a_bad_inventory_gives_exactly_these_diagnostics(path):
    lines = "".join(f"{one}\n" + (f"    hint: {one.hint}\n" if one.hint else "") for one in diagnose(path))
    assert lines == path.with_suffix(".expected").read_text(encoding="utf-8")


def test_every_code_of_the_inventory_is_raised_by_some_bad_file():
    raised = {one.code for path in BAD for one in diagnose(path)}
    assert raised | OTHERS == set(get_args(Code))


def test_diagnostics_speak_neither_python_nor_of_the_library_beneath():
    said = "".join(path.with_suffix(".expected").read_text(encoding="utf-8") for path in BAD)
    assert not re.search(
        r"pydantic|Input should|NoneType|\bNone\b|Decimal|tuple|\bstr\b|valid number|https?://(?!weather)", said
    )
