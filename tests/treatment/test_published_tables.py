"""Whole published tables, row by row: shared/published holds them with their sources."""

import csv
from pathlib import Path

import pytest

from barkwright.datafile import load
from barkwright.treatment.logscale import international_bf

TABLES = Path(__file__).parents[2] / "shared" / "published"


def rows(name):
    with (TABLES / name).open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(line for line in lines if not line.startswith("#")))


@pytest.mark.parametrize("row", rows("international-quarter-inch.csv"), ids=lambda row: f"{row['small_end_dib_in']} in")
def test_the_international_rule_cell_by_cell(row):
    diameter = float(row.pop("small_end_dib_in"))
    assert {name: international_bf(diameter, int(name[1:-2])) for name in row} == {k: int(v) for k, v in row.items()}


def test_every_machine_rate_is_the_schedules_by_its_code():
    published = {row["cost_code"]: row["rate_usd_2025"] for row in rows("fema2025-machine-rates.csv")}
    shipped = load("costs/machines.yaml", dict)["rates"]
    assert shipped
    for row in shipped:
        assert float(row["per_hour"]) == float(published[row["code"]]), row
