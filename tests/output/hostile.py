"""A site whose names try to be something else than names."""

from __future__ import annotations

import json
import re
from datetime import date
from functools import cache
from typing import Any

from barkwright.inventory.reading import read_inventory
from barkwright.plan import Plan, plan_order

ON = date(2026, 11, 25)
NAMES = {
    "script": "<script>alert(1)</script>",
    "entity": "&lt;b&gt; \"quoted\" 'twice'",
    "formula": "=cmd|'/C calc'!A0",
    "plus": "+1+cmd",
    "minus": "-2+3",
    "at": "@SUM(A1)",
    "full-width": "＝1+1",
    "tab": "\t=1+1",
    "control": "bell\x07 and \x1b[31mred",
    "return": "one\rtwo",
    "lines": "one\ntwo\nBEGIN:VEVENT",
    "right-to-left": "left \u202egnp.exe",
    "long": "x" * 200,
    "wordy": "spruce " * 28 + "end",
    "markdown": "[a link](http://example.org) *bold* # | `code` ~~out~~",
    "heading": "# not a heading",
    "list": "1. not a list",
    "calendar": "a;b,c:d\\n",
    "cyrillic": "Еловый двор",
    "cree": "ᓀᐦᐃᔭᐍᐏᐣ",
    "date": "3-1",
}


def tree_id(name: str) -> str:
    """As much of a name as an id may be."""
    return re.sub(r"[\s/:;,\x00-\x1f\u202e]", ".", name)[:40]


def site_text() -> str:
    """An inventory in which the place, its trees, crews, calls and a machine carry such names."""
    used = NAMES
    trees: list[dict[str, Any]] = [
        {
            "id": tree_id(name),
            "where": name,
            "species": "white",
            "status": "logs",
            "felled_on": "2026-10-03",
            "stood_at_attack": True,
            "attacked": 2026,
            "logs": [{"butt": 12.0, "top": 11.0, "length": 8}],
        }
        for name in used.values()
    ]
    site = {
        "name": " ".join(used.values()),
        "units": "imperial",
        "latitude": 53.9,
        "longitude": -123.0,
        "region": "interior-plateau",
        "machine_access": True,
    }
    record = {
        "barkwright": 1,
        "site": site,
        "trees": trees,
        "crew": [
            {"name": name, "people": 2, "hours_per_day": 6, "days": ["sat", "sun"], "skills": ["saw"], "unpaid": True}
            for name in list(used.values())[:2]
        ],
        "equipment": [
            {"kind": "chain-saw", "owned": True},
            {"kind": "bark-spud", "owned": True},
            {"kind": "chipper", "capacity": "15 in", "rent_per_day": 310, "name": next(iter(used.values()))},
        ],
        "calls": [{"what": name, "for": [tree_id(name)], "date": "2026-12-12"} for name in used.values()],
    }
    return json.dumps(record, ensure_ascii=True)


@cache
def hostile_plan() -> Plan:
    """The plan of that site."""
    inventory, found = read_inventory(site_text(), "hostile.yaml", ON, {"region": ["interior-plateau"]})
    assert inventory is not None, found
    return plan_order(inventory, ON)
