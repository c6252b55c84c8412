"""The README tells the truth: its samples are the program's own words, its commands are its commands."""

import re
from pathlib import Path

import pytest
import yaml
from click.testing import CliRunner

from barkwright.cli.main import main

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
SAMPLES = re.findall(r"<!-- sample -->\n```\n(.*?)\n```\n<!-- end -->", README, re.S)


def printed(*words: str) -> str:
    result = CliRunner().invoke(main, words)
    assert result.exit_code == 0, result.output
    return result.stdout


@pytest.mark.parametrize("number", range(3))
def test_each_sample_is_what_the_command_prints(number: int, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.chdir(ROOT)
    assert SAMPLES[number] in printed("order", "examples/yard-tree.yaml", "--on", "2026-11-25")


def test_the_command_of_the_first_block_is_the_one_the_samples_come_from():
    assert "barkwright order examples/yard-tree.yaml --on 2026-11-25" in README


def test_every_command_is_in_the_table():
    table = README[README.index("| command |") : README.index("Every command takes")]
    assert set(re.findall(r"`(\w+)", table)) >= set(main.commands)


def test_the_inventory_shown_is_accepted(tmp_path: Path):
    shown = re.search(r"```yaml\n(.*?)```", README, re.S)
    assert shown is not None
    site = tmp_path / "site.yaml"
    site.write_text(shown.group(1), encoding="utf-8")
    assert "no faults" in " ".join(printed("check", str(site), "--on", "2026-11-25").split())


def test_what_the_best_plan_may_give_up_is_accepted(tmp_path: Path):
    shown = re.search(r"```yaml\n(best:.*?)```", README, re.S)
    assert shown is not None
    site = tmp_path / "site.yaml"
    example = (ROOT / "examples" / "yard-tree.yaml").read_text(encoding="utf-8")
    site.write_text(f"{example}{shown.group(1)}", encoding="utf-8")
    assert "no faults" in " ".join(printed("check", str(site), "--on", "2026-11-25").split())


def test_the_tree_command_shown_works():
    shown = re.search(r"  barkwright (tree .*?)\n  ```", README, re.S)
    assert shown is not None
    words = re.findall(r'"[^"]*"|\S+', shown.group(1).replace("\\\n", " "))
    assert "WORK ORDER" in printed(*(word.strip('"') for word in words), "--on", "2026-11-25")


@pytest.mark.parametrize("example", sorted((ROOT / "examples").glob("*.yaml")), ids=lambda path: path.stem)
def test_each_example_has_no_faults_and_plans(example: Path):
    assert "no faults" in " ".join(printed("check", str(example), "--on", "2026-11-25").split())
    assert yaml.safe_load(example.read_text(encoding="utf-8"))["site"]["name"].upper() in printed(
        "order", str(example), "--on", "2026-11-25"
    )


def test_the_flight_command_shown_works(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.chdir(ROOT)
    shown = re.findall(r"^barkwright (flight .*)$", README, re.M)
    assert shown
    for words in shown:
        assert "BY WHEN, WHY, AND HOW SURE" in printed(*words.split())
