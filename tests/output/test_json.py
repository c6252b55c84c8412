"""The JSON output: one envelope, the same bytes, and exactly the shape that its schema says."""

from __future__ import annotations

import json
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from click.testing import CliRunner

from barkwright.cli.main import main
from barkwright.output import schema as schemas

ROOT = Path(__file__).parents[2]
YARD = str(ROOT / "examples" / "yard-tree.yaml")
REMOVAL = str(ROOT / "examples" / "removal-24.yaml")
ON = ("--on", "2026-11-25")


@cache
def printed(*arguments: str) -> str:
    result = CliRunner().invoke(main, [*arguments, *ON, "--format", "json"])
    assert result.exit_code in (0, 4), result.output
    return result.stdout


def strict(schema: dict[str, Any]) -> dict[str, Any]:
    """The schema with every record closed, so that a key nobody described is found."""
    for record in schema.get("$defs", {}).values():
        assert record.get("type") != "object" or record.get("additionalProperties") is False
    return schema


@pytest.mark.parametrize(
    ("command", "arguments"),
    [
        ("order", ("order", YARD)),
        ("order", ("order", REMOVAL)),
        ("options", ("options", YARD)),
        ("options", ("options", REMOVAL, "C1/2")),
        ("tally", ("tally", REMOVAL)),
        ("flight", ("flight", REMOVAL)),
        ("why", ("why", YARD, "T1/1")),
        ("check", ("check", YARD)),
        ("sources", ("sources",)),
    ],
)
def test_output_has_the_shape_of_its_schema(command: str, arguments: tuple[str, ...]) -> None:
    schema = strict(schemas.schema(command))
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.validate(json.loads(printed(*arguments)), schema)


@pytest.mark.parametrize("arguments", [("order", YARD), ("options", YARD), ("flight", REMOVAL), ("why", YARD, "T1/1")])
def test_same_input_same_bytes(arguments: tuple[str, ...]) -> None:
    assert printed(*arguments) == printed.__wrapped__(*arguments)


@pytest.mark.parametrize("name", schemas.NAMES)
def test_the_shipped_schemas_are_those_of_the_program(name: str) -> None:
    shipped = (ROOT / "shared" / f"{name}.schema.json").read_text(encoding="utf-8")
    assert json.loads(shipped) == schemas.schema(name)


def test_the_envelope_stands_when_the_file_has_errors(tmp_path: Path) -> None:
    bad = tmp_path / "bad.yaml"
    bad.write_text("barkwright: 1\nsite: {name: x, units: imperial, latitude: 53, longitude: -122}\ntreees: []\n")
    result = CliRunner().invoke(main, ["order", str(bad), *ON, "--format", "json"])
    whole = json.loads(result.stdout)
    assert result.exit_code == 3
    assert whole["result"] is None
    assert whole["command"] == "order"
    assert any(one["severity"] == "error" and one["line"] for one in whole["diagnostics"])
    jsonschema.validate(whole, schemas.schema("order"))


def test_order_follows_the_design() -> None:
    whole = json.loads(printed("order", YARD))
    assert sorted(whole) == ["command", "diagnostics", "format", "on", "program", "result"]
    assert whole["on"] == date(2026, 11, 25).isoformat()
    assert set(whole["result"]) == {
        "site", "currency", "local", "flight", "questions", "trees", "pieces", "done", "jobs", "equipment_days",
        "hours", "cost", "infested_bark_ft2", "unmet", "optimum", "risk", "tries", "changes", "cautions",
        "briefing",
    }  # fmt: skip
    piece = next(one for one in whole["result"]["pieces"] if one["kind"] == "log")
    assert set(piece) >= {
        "id", "tree", "kind", "butt_dob_in", "top_dob_in", "length_ft", "wood_ft3", "bark_ft2", "green_lb", "brood",
        "stage", "host", "flight_to_beat", "finish_by", "too_late", "method", "then", "ways",
    }  # fmt: skip
    assert set(piece["ways"][0]["windows"][0]) >= {"from", "to", "verdict", "end", "hours", "reasons"}
    job = whole["result"]["jobs"][0]
    assert set(job) >= {
        "id", "tree", "pieces", "work", "date", "end", "after", "hours", "people", "crew", "equipment", "provisional",
        "status",
    }  # fmt: skip


def test_money_is_decimal_text() -> None:
    cost = json.loads(printed("order", REMOVAL))["result"]["cost"]
    amounts = [cost["to_pay"], cost["valued"], *(line["amount"] for line in cost["lines"])]
    assert all(isinstance(amount, str) and amount[-3] == "." for amount in amounts)


def test_keys_are_sorted_at_every_level() -> None:
    def check(value: Any) -> None:
        if isinstance(value, dict):
            assert list(value) == sorted(value)
            for inner in value.values():
                check(inner)
        elif isinstance(value, list):
            for inner in value:
                check(inner)

    check(json.loads(printed("order", YARD)))
