"""`flight --after`: the same options and forms as every sheet, and nothing of the flight page in it."""

from __future__ import annotations

import json
import re
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner, Result

from barkwright.cli.main import main
from barkwright.output.schema import schema

ROOT = Path(__file__).parents[2]
SITE = ROOT / "examples" / "yard-tree.yaml"


def run(*words: str, text: str | None = None) -> Result:
    return CliRunner().invoke(main, ["flight", *words, "--on", "2027-08-10"], input=text)


@pytest.mark.parametrize("example", sorted((ROOT / "examples").glob("*.yaml")), ids=lambda path: path.stem)
def test_every_example_has_a_follow_up(example: Path) -> None:
    result = run(str(example), "--after")
    assert result.exit_code == 0, result.stderr
    assert result.stdout.startswith("AFTER THE FLIGHT OF 2027")
    assert "BY WHEN, WHY, AND HOW SURE" not in result.stdout


def test_without_the_option_it_is_the_flight_page() -> None:
    assert "AFTER THE FLIGHT" not in run(str(SITE)).stdout


def test_json_is_an_envelope_that_fits_its_schema() -> None:
    made = json.loads(run(str(SITE), "--after", "--format", "json").stdout)
    jsonschema.Draft202012Validator(schema("flight-after")).validate(made)
    assert made["command"] == "flight-after"
    assert made["result"]["of_use_from"] is None


def test_metric_readers_get_no_feet() -> None:
    out = run(str(SITE), "--after", "--units", "metric").stdout
    assert "Out to 50 m" in out
    assert not re.search(r"\d (ft|in|inch|inches|miles?)\b(?! (the|a|\d))", out.partition("IF YOU FIND ONE")[0])


def test_a_site_from_standard_input_is_called_site_in_commands() -> None:
    out = " ".join(run("-", "--after", text=SITE.read_text(encoding="utf-8")).stdout.split())
    assert "'barkwright order SITE'" in out


def test_there_is_no_calendar_of_it_for_the_order_has_one() -> None:
    assert run(str(SITE), "--after", "--format", "ics").exit_code == 2


def test_the_stand_shown_in_the_readme_is_rated(tmp_path: Path) -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    stand = re.search(r"^  stand: \{.*\}$", readme, re.M)
    assert stand is not None
    site = tmp_path / "site.yaml"
    site.write_text(SITE.read_text(encoding="utf-8").replace("site:\n", f"site:\n{stand[0]}\n", 1), encoding="utf-8")
    for words in ((), ("--after",)):
        out = " ".join(run(str(site), *words).stdout.split())
        assert "by a published rating: medium, with 8 points" in out
