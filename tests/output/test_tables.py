"""CSV: the JSON output's values in rows, and nothing in them that a spreadsheet would run."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from decimal import Decimal

import made_up
import openpyxl
import pytest

from barkwright.output.json_records import piece_record
from barkwright.output.order_json import order_result
from barkwright.output.tables_file import TABLES, csv_text, order_csv, tally_csv
from barkwright.plan import plan_tally

RISKY = ("=1+1", "+1+1", "-1+1", "@SUM(A1)", "＝1+1", "＋1", "－1", "＠x", " =1+1", "\n=1+1", "=\x07")


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text, newline=""), strict=True))


def test_a_table_holds_what_the_json_output_holds():
    plan = made_up.plan(trees=3)
    result = order_result(plan)
    pieces = rows(order_csv(plan, "pieces"))
    assert [row["id"] for row in pieces] == [piece["id"] for piece in result["pieces"]]
    assert [float(row["bark_ft2"]) for row in pieces] == [piece["bark_ft2"] for piece in result["pieces"]]
    assert [row["finish_by"] for row in pieces] == [piece["finish_by"] for piece in result["pieces"]]
    assert set(pieces[0]) == set(result["pieces"][0]) - {"ways", "reasons"}
    jobs = rows(order_csv(plan, "jobs"))
    assert [row["pieces"].split("; ") for row in jobs] == [job["pieces"] for job in result["jobs"]]
    assert [float(row["hours"]) for row in jobs] == [job["hours"] for job in result["jobs"]]
    assert jobs[0]["day_hours"] == "2026-11-28 4.0"
    assert jobs[0]["provisional"] == "true"
    costs = rows(order_csv(plan, "costs"))
    assert [row["amount"] for row in costs] == [line["amount"] for line in result["cost"]["lines"]]
    assert {row["currency"] for row in costs} == {result["currency"]}


def test_a_tally_is_its_pieces():
    tally = plan_tally(made_up.plan().inventory, made_up.ON)
    pieces = [piece for stem in tally.stems for piece in stem.pieces]
    assert [row["green_lb"] for row in rows(tally_csv(tally))] == [str(piece_record(p)["green_lb"]) for p in pieces]


@pytest.mark.parametrize("table", TABLES)
def test_a_table_without_rows_has_its_head(table):
    plan = made_up.plan()
    plan.schedule = replace(plan.schedule, jobs=(), costs=())
    plan.stems = ()
    assert len(order_csv(plan, table).splitlines()) == 1


@pytest.mark.parametrize("text", RISKY)
def test_text_that_a_spreadsheet_would_run_opens_with_an_apostrophe(text):
    (row,) = rows(csv_text(("a", "b"), [{"a": text, "b": "plain"}]))
    assert row["a"].startswith("'")
    assert row["b"] == "plain"
    sheet = openpyxl.Workbook().active
    sheet.append(list(row.values()))
    assert {cell.data_type for cell in sheet[1]} == {"s"}


@pytest.mark.parametrize("text", ["3/1", "3-1", "12-11-10", "007", "1e5"])
def test_ids_that_a_spreadsheet_would_take_for_dates_or_numbers_stay_text(text):
    assert rows(csv_text(("a",), [{"a": text}])) == [{"a": f"'{text}"}]


@pytest.mark.parametrize("text", ["T3/1", "2026-11-28", "a - b", "1.5 h", "it's", 'say "hm"', "a,b", "two\nlines"])
def test_other_text_is_left_as_it_is(text):
    assert rows(csv_text(("a",), [{"a": text}])) == [{"a": text}]


def test_numbers_are_numbers():
    row = {"money": Decimal("-30.00"), "left": -2.5, "none": None, "no": False, "count": 3}
    assert csv_text(tuple(row), [row]).splitlines()[1] == "-30.00,-2.5,,false,3"


def test_control_characters_are_shown():
    assert rows(csv_text(("a",), [{"a": "bell\x07 and \x1b[31m and \u202e"}])) == [
        {"a": r"bell\x07 and \x1b[31m and \u202e"}
    ]
