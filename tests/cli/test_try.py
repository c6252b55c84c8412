"""`order --try`: exit codes, messages, and JSON of the shape that its schema says."""

import json
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner, Result

from barkwright.cli.main import main
from barkwright.output.schema import schema

ROOT = Path(__file__).parents[2]
YARD = str(ROOT / "examples" / "yard-tree.yaml")
ON = ("--on", "2026-11-25")


def order(*words: str, site: str = YARD, on: tuple[str, ...] = ON) -> Result:
    return CliRunner().invoke(main, ["order", site, *on, *words])


def late(folder: Path) -> str:
    """A site whose only day of work before the flight is too short."""
    text = Path(YARD).read_text(encoding="utf-8").replace("start: 2026-11-28", "start: 2028-05-20")
    path = folder / "late.yaml"
    path.write_text(text, encoding="utf-8")
    return str(path)


def test_both_plans_stand_on_the_order_and_the_rest_is_as_without() -> None:
    plain, tried = order(), order("--try", "one more person", "--try", "forbid debark")
    assert (plain.exit_code, tried.exit_code) == (0, 0)
    assert "WHAT IF" not in plain.stdout
    start = tried.stdout.index("WHAT IF")
    assert tried.stdout[:start] + tried.stdout[tried.stdout.index("DO AND DO NOT") :] == plain.stdout
    assert "forbid debark" in tried.stdout


@pytest.mark.parametrize("phrase", ["rnt chiper 12 in", "one more wekend", "budjet 2000"])
def test_a_phrase_that_is_not_understood_is_wrong_use(phrase: str, tmp_path: Path) -> None:
    target = tmp_path / "order.txt"
    result = order("--try", phrase, "-o", str(target))
    assert result.exit_code == 2
    assert result.stdout == ""
    assert not target.exists()
    assert f"--try: '{phrase}' is not understood" in result.stderr
    assert "did you mean '" in result.stderr
    assert "no budget" in result.stderr


def test_the_exit_code_is_that_of_the_plan_as_it_stands(tmp_path: Path) -> None:
    site = late(tmp_path)
    result = order("--try", "start 2026-11-25", "--format", "json", site=site)
    (one,) = json.loads(result.stdout)["result"]["tries"]
    assert result.exit_code == order(site=site).exit_code == 4
    assert one["now"]["infested_left_ft2"] > one["then"]["infested_left_ft2"]
    worse = order("--try", "start 2028-05-20", "--format", "json")
    (other,) = json.loads(worse.stdout)["result"]["tries"]
    assert worse.exit_code == 0
    assert other["then"]["infested_left_ft2"] > 0
    assert other["verdict"] == "worse"


def test_json_has_the_shape_of_its_schema_and_the_same_bytes() -> None:
    words = ("--try", "rent chipper 12 in", "--try", "no budget", "--format", "json")
    first = order(*words)
    whole = json.loads(first.stdout)
    jsonschema.validate(whole, schema("order"))
    assert [one["phrase"] for one in whole["result"]["tries"]] == ["rent chipper 12 in", "no budget"]
    assert whole["result"]["tries"][0]["placeholder"]
    assert order(*words).stdout == first.stdout


def test_the_help_names_every_kind_of_phrase() -> None:
    text = CliRunner().invoke(main, ["order", "--help"]).stdout
    for phrase in ("rent chipper 12 in", "drop chipper", "one more person", "one more weekend", "allow burn",
                   "start 2027-01-15", "no budget"):  # fmt: skip
        assert phrase in text
