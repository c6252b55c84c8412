"""Whole published tables, row by row: shared/published holds them with their sources."""

import csv
from pathlib import Path

import pytest

from barkwright.datafile import load
from barkwright.treatment.logscale import international_bf, scribner_bf

TABLES = Path(__file__).parents[2] / "shared" / "published"


def rows(name):
    with (TABLES / name).open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(line for line in lines if not line.startswith("#")))


@pytest.mark.parametrize("row", rows("international-quarter-inch.csv"), ids=lambda row: f"{row['small_end_dib_in']} in")
def test_the_international_rule_cell_by_cell(row):
    diameter = float(row.pop("small_end_dib_in"))
    assert {name: international_bf(diameter, int(name[1:-2])) for name in row} == {k: int(v) for k, v in row.items()}


@pytest.mark.parametrize("row", rows("scribner-decimal-c.csv"), ids=lambda row: f"{row['small_end_dib_in']} in")
def test_the_scribner_rule_cell_by_cell(row):
    diameter = float(row.pop("small_end_dib_in"))
    assert {name: scribner_bf(diameter, int(name[1:-2])) for name in row} == {k: 10 * int(v) for k, v in row.items()}


def test_scribner_counts_whole_inches_and_feet_and_refuses_what_it_does_not_hold():
    assert scribner_bf(10.52, 16.0) == scribner_bf(11, 16) == 70  # the volume library rounds 10.52 in to 11
    assert scribner_bf(10.49, 16.9) == scribner_bf(10, 16) == 60
    assert scribner_bf(3.4, 16) == scribner_bf(12, 3.9) == 0
    with pytest.raises(ValueError, match="20 ft"):
        scribner_bf(12, 21)
    with pytest.raises(ValueError, match="40 in"):
        scribner_bf(41, 16)


def test_every_machine_rate_is_the_schedules_by_its_code():
    published = {row["cost_code"]: row["rate_usd_2025"] for row in rows("fema2025-machine-rates.csv")}
    shipped = load("costs/machines.yaml", dict)["rates"]
    assert shipped
    for row in shipped:
        assert float(row["per_hour"]) == float(published[row["code"]]), row
