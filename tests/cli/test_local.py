"""Local knowledge on the sheets: every command says "local" where it rests on an entry, and not where it does not."""

import json
import re
from pathlib import Path

import jsonschema
import pytest
import yaml
from click.testing import CliRunner, Result

from barkwright.cli.main import main
from barkwright.output.schema import schema

ROOT = Path(__file__).parents[2]
EXAMPLE = ROOT / "examples" / "kestrel-flats"
ON = ("--on", "2026-11-25")
KINDS = ("regions", "species", "rules", "rates", "machine_rates")
COMMANDS = ("order", "options", "quote", "tally", "flight", "why")
# Where a sheet rests on an entry of a kind: a tally knows neither flights nor rules, flight dates know no wood.
RESTS = {
    "regions": {"order", "options", "quote", "flight", "why"},
    "species": {"order", "options", "quote", "tally", "why"},
    "rules": {"order", "options", "quote", "why"},
    "rates": {"order", "options", "quote", "why"},
    "machine_rates": {"order", "options", "quote"},
}
MARK = re.compile(r"\blocal\b(?! (law|code|forester|rules come))", re.IGNORECASE)
RULE = """\
rules:
  - id: slow-chips
    title: chips are spread thin here
    methods: [chip]
    then: {verdict: fits}
    because: "Chips are spread no deeper than a hand here."
    grade: C
    source: the owners of the bench
    checked_on: 2026-11-01
"""


def run(*args: str) -> Result:
    result = CliRunner().invoke(main, list(args))
    assert result.exception is None or isinstance(result.exception, SystemExit), result.output
    return result


def site(folder: Path, local: str | None) -> str:
    """The site of the example, chipped by a machine at an hourly rate, with a local file of one kind."""
    text = (EXAMPLE / "site.yaml").read_text(encoding="utf-8").replace("bark-spud, owned", "drawknife, owned")
    text = text.replace("    dbh: 15", "    dbh: 7")  # thin enough for the chipper
    text = text.replace("{butt: 13.5, top: 12, length: 8}", "{butt: 6.5, top: 6, length: 8}")
    text = text.replace("{butt: 12, top: 10.5, length: 8}", "{butt: 6, top: 5.5, length: 8}")
    text = text.replace("region: kestrel-flats", "region: interior-plateau")
    if local is None:
        text = text.replace("local: [local.yaml]\n", "")
    else:
        (folder / "local.yaml").write_text(local, encoding="utf-8")
    path = folder / "site.yaml"
    path.write_text(text + "wishes: {prefer: [chip], avoid: [burn, debark, bury]}\n", encoding="utf-8")
    return str(path)


def part(kind: str) -> str:
    """A local file with the entries of one kind."""
    if kind == "rules":
        return RULE
    if kind == "rates":
        return "rates:\n  chip-drag: {low: 0.5, likely: 1, high: 2, source: timed in the yard}\n"
    text = (EXAMPLE / "local.yaml").read_text(encoding="utf-8").replace("id: kestrel-flats", "id: interior-plateau")
    return f"{kind}:{text.split(f'{chr(10)}{kind}:')[1].split(f'{chr(10)}{chr(10)}')[0]}\n"


def asked(command: str, path: str) -> tuple[str, ...]:
    return (command, path, *(("K2/1",) if command == "why" else ()), *ON)


@pytest.mark.parametrize("kind", KINDS)
def test_a_sheet_says_local_where_it_rests_on_an_entry_and_not_elsewhere(tmp_path: Path, kind: str) -> None:
    path = site(tmp_path, part(kind))
    said = {command: run(*asked(command, path)) for command in COMMANDS}
    assert all(result.exit_code in (0, 4) for result in said.values()), [one.output for one in said.values()]
    assert {command for command, result in said.items() if MARK.search(result.stdout)} == RESTS[kind]


def test_a_site_without_files_of_its_own_says_local_nowhere(tmp_path: Path) -> None:
    path = site(tmp_path, None)
    assert not any(MARK.search(run(*asked(command, path)).stdout) for command in COMMANDS)


def test_the_json_says_local_where_the_sheet_does() -> None:
    path = str(EXAMPLE / "site.yaml")
    result = {c: json.loads(run(*asked(c, path), "--format", "json").stdout)["result"] for c in COMMANDS}
    assert all(flight["local"] for flight in (*result["order"]["flight"], *result["flight"]["flight"]))
    assert result["tally"]["trees"][0]["local"][-1] == "curve of height from diameter"
    for name in ("order", "options", "quote"):
        assert any("trap notes" in line for line in result[name]["local"]), name
    assert any(line["basis"] == "local rate" for line in result["order"]["cost"]["lines"])


def test_check_rules_says_what_the_files_hold_and_what_they_change() -> None:
    path = str(EXAMPLE / "site.yaml")
    result = run("check", path, "--rules", *ON)
    assert result.exit_code == 0
    text = " ".join(result.stdout.split())
    assert "Rate peel-slipping, strip by hand, bark slipping (local.yaml, line" in text
    assert "timed on 30 logs, May 2025. In place of the shipped one: 6, 13, 29 m2/person-h." in text
    assert "24.04 USD an hour, in 2025. That rests on: fema2025" in text
    assert "Flight 2027 first beetles Wed 12 May 2027 instead of Fri 21 May 2027" in text
    assert "is too heavy to turn for the spud on this ground (local rule)" in text
    assert re.search(r"Work \d[\d.]* h instead of \d", text)


def test_check_rules_as_data_follows_its_schema_and_agrees_with_two_orders(tmp_path: Path) -> None:
    path = str(EXAMPLE / "site.yaml")
    whole = json.loads(run("check", path, "--rules", "--format", "json", *ON).stdout)
    jsonschema.validate(whole, schema("check"))
    told = whole["result"]["local"]
    assert [one["part"] for one in told["entries"]] == [
        "regions", "species", "rules", "rates", "settings", "machine_rates",
    ]  # fmt: skip
    (tmp_path / "plain.yaml").write_text(
        (EXAMPLE / "site.yaml")
        .read_text(encoding="utf-8")
        .replace("local: [local.yaml]\n", "")
        .replace("    region: kestrel-flats", "    #")
        .replace("  region: kestrel-flats", "  #")
    )
    for name, file in (("before", str(tmp_path / "plain.yaml")), ("after", path)):
        order = json.loads(run("order", file, "--format", "json", *ON).stdout)["result"]
        assert told["changes"][name]["to_pay"] == order["cost"]["to_pay"]
        assert told["changes"][name]["infested_left_ft2"] == order["infested_bark_ft2"]["left_at_onset"]
        done = {one["id"]: (one["way"], one["done_on"]) for one in order["pieces"]}
        for one in told["changes"]["pieces"]:
            assert done[one["piece"]] == (one[f"way_{name}"], one[f"done_{name}"])


def test_what_is_never_used_here_is_named(tmp_path: Path) -> None:
    local = "species:\n  sitka: {wood_mc: 70, basis: ours}\n  white: {wood_mc: 70, basis: ours}\n"
    local += 'machine_rates:\n  "8201": {per_hour: 40, currency: CAD, year: 2026, basis: ours}\n'
    local += RULE.replace("methods: [chip]", "methods: [chip]\n    when: [{fact: piece.butt_dob_in, above: 60 in}]")
    local += "rates:\n  grind-stump: {low: 1, likely: 2, high: 3, basis: ours}\n"
    whole = json.loads(run("check", site(tmp_path, local), "--rules", "--format", "json", *ON).stdout)
    used = {(one["part"], one["id"]): one["used"] for one in whole["result"]["local"]["entries"]}
    assert used == {
        ("species", "sitka"): False,
        ("species", "white"): True,
        ("machine_rates", "8201"): False,
        ("rules", "slow-chips"): False,
        ("rates", "grind-stump"): False,
    }


def test_a_site_without_files_has_nothing_to_tell(tmp_path: Path) -> None:
    path = site(tmp_path, None)
    assert "names no files of its own" in " ".join(run("check", path, "--rules", *ON).stdout.split())
    told = json.loads(run("check", path, "--rules", "--format", "json", *ON).stdout)["result"]
    assert told["local"] == {"entries": [], "changes": None}
    assert json.loads(run("check", path, "--format", "json", *ON).stdout)["result"]["local"] is None


@pytest.mark.parametrize(
    ("fault", "code"),
    [
        ("regions: [{id: a}]\n", "missing-key"),
        ("species: {oak: {wood_mc: 60, basis: ours}}\n", "unknown-name"),
        ("machine_rates: {x: 3}\n", "odd-shape"),
        ("rates: {stack: {low: 1, likely: 2, high: 3}}\n", "uncited"),
        ("rules: [3]\n", "bad-value"),
        ("colours: []\n", "unknown-key"),
    ],
)
def test_a_faulty_entry_stops_every_command_with_its_place(tmp_path: Path, fault: str, code: str) -> None:
    path = site(tmp_path, fault)
    for command in ("check", *COMMANDS):
        result = run(*asked(command, path))
        assert result.exit_code == 3
        assert f"[{code}]" in result.stderr
        assert re.search(r"local\.yaml:1:\d+: error: ", result.stderr)


def test_a_faulty_calendar_is_told_and_not_that_the_site_names_it(tmp_path: Path) -> None:
    path = Path(site(tmp_path, "regions:\n  - {id: heron, name: a, words: b, onset: 99-99, end: 07-01, basis: ours}\n"))
    path.write_text(path.read_text().replace("region: interior-plateau", "region: heron"))
    result = run("check", str(path), *ON)
    assert (result.exit_code, result.stderr.count("error:")) == (3, 1)
    assert "[bad-date]" in result.stderr


@pytest.mark.parametrize("content", [None, b"regions: [", b"\xff", b"colours: []\n"])
def test_a_file_that_cannot_be_read_is_told_and_not_that_its_calendar_is_not_known(
    tmp_path: Path, content: bytes | None
) -> None:
    path = Path(site(tmp_path, ""))
    path.write_text(path.read_text().replace("region: interior-plateau", "region: heron"))
    (tmp_path / "local.yaml").unlink()
    if content is not None:
        (tmp_path / "local.yaml").write_bytes(content)
    result = run("check", str(path), *ON)
    assert (result.exit_code, result.stderr.count("error:")) == (3, 1)
    assert "local.yaml:1:" in result.stderr


def test_a_calendar_of_ones_own_is_among_the_names_and_no_other(tmp_path: Path) -> None:
    path = Path(site(tmp_path, part("regions").replace("id: interior-plateau", "id: heron")))
    path.write_text(path.read_text().replace("region: interior-plateau", "region: herron"))
    result = run("check", str(path), *ON)
    assert result.exit_code == 3
    assert "did you mean 'heron'?" in result.stderr


def test_the_example_fits_the_schema_for_editors() -> None:
    class Plain(yaml.SafeLoader):
        """Dates stay text, as an editor sees them."""

    Plain.yaml_implicit_resolvers = {
        key: [(tag, found) for tag, found in held if not tag.endswith(":timestamp")]
        for key, held in yaml.SafeLoader.yaml_implicit_resolvers.items()
    }
    made = schema("local")
    example = yaml.load((EXAMPLE / "local.yaml").read_text(encoding="utf-8"), Plain)
    jsonschema.validate(example, made)
    assert json.loads((ROOT / "shared" / "local.schema.json").read_text(encoding="utf-8")) == made
    for broken in ({"regions": [{"id": "a"}]}, {"rates": {"stack": {"low": 1}}}, {"colours": []}, {"rules": [{}]}):
        with pytest.raises(jsonschema.ValidationError):
            jsonschema.validate(broken, made)
