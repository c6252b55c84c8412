"""Sites as text, read and planned, for tests of what is set side by side."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import planned_sites
from barkwright.plan import Plan

EXAMPLES = Path(__file__).parents[2] / "examples"
ON = date(2026, 11, 25)
ONE = """
barkwright: 1
site: {{name: Tern Flat, units: imperial, latitude: 54.0, longitude: -123.0, elevation: 2300, {site}}}
trees:
  - id: T1
    species: white
    status: felled
    felled_on: 2026-10-01
    stood_at_attack: true
    dbh: {dbh}
    height: 60
    attacked: 2025
    attack: mass
    found: {{insect: spruce-beetle, stages: [{stage}], looked: [top, bottom], seen: 2026-10-20}}
cutting: {{log_length: 8}}
crew: [{{name: the pair, people: 2, hours_per_day: 8, rate: {rate}, skills: [saw, felling]}}]
equipment: [{{kind: chain-saw, owned: true}}{tools}]
currency: CAD
"""


def one_tree(
    dbh: float = 12, stage: str = "adults", rate: int = 40, tools: str = "", site: str = "machine_access: true"
) -> Plan:
    return planned(ONE.format(dbh=dbh, stage=stage, rate=rate, tools=tools, site=site))


def planned(text: str, on: date = ON) -> Plan:
    return planned_sites.planned(text, on)


def example(name: str) -> Plan:
    return planned((EXAMPLES / name).read_text(encoding="utf-8"))
