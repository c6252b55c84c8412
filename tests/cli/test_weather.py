"""Weather by way of the command line: whose paths, from where, and what is said when they cannot be read."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from barkwright.cli.main import main
from barkwright.season.weatherfiles.reading import read_weather

ROOT = Path(__file__).parents[2]
HERON = ROOT / "tests" / "inventories" / "good" / "heron-lake.yaml"
DAILY = HERON.with_name("heron-lake-daily.csv")
ON = ("--on", "2026-11-25")
TREE = ("tree", "--species", "white", "--dbh", "16.5", "--latitude", "53.98", "--longitude", "-123.02", *ON)


@pytest.fixture(autouse=True)
def _unread() -> None:
    read_weather.cache_clear()


def run(*arguments: str, text: str | None = None) -> Result:
    result = CliRunner().invoke(main, list(arguments), input=text)
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result


def site(folder: Path, weather: str, more: str = "") -> str:
    """The test site with another list of weather."""
    path = folder / "site.yaml"
    text = HERON.read_text(encoding="utf-8").replace("[heron-lake-daily.csv]", f"{weather}{more}")
    path.write_text(text, encoding="utf-8")
    return str(path)


def daily(folder: Path, name: str = "daily.csv", text: str | None = None) -> Path:
    path = folder / name
    path.write_text(DAILY.read_text(encoding="utf-8") if text is None else text, encoding="utf-8")
    return path


@pytest.mark.parametrize("command", ["check", "order", "flight"])
def test_weather_is_read_from_the_place_of_the_inventory(tmp_path: Path, command: str) -> None:
    daily(tmp_path)
    result = run(command, site(tmp_path, "[daily.csv]"), *ON)
    assert result.exit_code in (0, 4), result.stderr
    assert "unreadable" not in result.stderr


@pytest.mark.parametrize("command", ["check", "order", "flight", "why"])
def test_weather_that_is_not_there_ends_the_command_at_its_place(tmp_path: Path, command: str) -> None:
    name = site(tmp_path, "[gone.csv]")
    result = run(command, name, *(["D1/1"] if command == "why" else []), *ON)
    assert result.exit_code == 3
    assert result.stdout == ""
    assert f"{name}:10:13: error: the weather file '" in result.stderr
    assert "gone.csv' cannot be read: No such file or directory [unreadable]" in result.stderr


def test_a_tally_needs_no_weather(tmp_path: Path) -> None:
    result = run("tally", site(tmp_path, "[gone.csv]"), *ON)
    assert (result.exit_code, "gone.csv" in result.stderr) == (0, False)


def test_json_carries_what_is_wrong_with_the_weather(tmp_path: Path) -> None:
    daily(tmp_path, text="when,hot\n1,2\n")
    result = run("check", site(tmp_path, "[daily.csv]"), *ON, "--format", "json")
    assert result.exit_code == 3
    [fault] = [one for one in json.loads(result.stdout)["diagnostics"] if one["code"] == "weather-file"]
    assert fault["severity"] == "error"


def test_a_second_path_is_found_at_its_own_place(tmp_path: Path) -> None:
    daily(tmp_path)
    result = run("check", site(tmp_path, "[daily.csv, gone.csv]"), *ON)
    assert "site.yaml:10:24: error" in result.stderr


@pytest.mark.parametrize("inside", [False, True], ids=["a file", "a folder"])
def test_a_link_out_of_the_folder_is_refused(tmp_path: Path, inside: bool) -> None:
    home, away = tmp_path / "home", tmp_path / "away"
    for folder in (home, away):
        folder.mkdir()
    daily(away)
    if inside:
        (home / "weather").mkdir()
        (home / "weather" / "daily.csv").symlink_to(away / "daily.csv")
    else:
        (home / "weather").symlink_to(away)
    result = run("check", site(home, "[weather]"), *ON)
    assert result.exit_code == 3
    assert ":10:13: error: weather: 'weather" in result.stderr
    assert "is a link that leads out of the inventory's folder [bad-path]" in result.stderr
    assert run("check", site(home, "[weather]"), "--weather", str(home / "weather"), *ON).exit_code == 0


def test_a_link_within_the_folder_is_followed(tmp_path: Path) -> None:
    (tmp_path / "deep").mkdir()
    daily(tmp_path / "deep")
    (tmp_path / "daily.csv").symlink_to(tmp_path / "deep" / "daily.csv")
    assert run("check", site(tmp_path, "[daily.csv]"), *ON).exit_code == 0


def test_the_command_line_names_weather_anywhere_in_place_of_the_sites(tmp_path: Path) -> None:
    away = tmp_path / "away"
    away.mkdir()
    path = daily(away)
    name = site(tmp_path, "[gone.csv]")
    assert run("check", name, "--weather", str(path), *ON).exit_code == 0
    assert run("check", name, "--weather", os.path.relpath(path), *ON).exit_code == 0
    result = run("check", name, "--weather", str(away / "none.csv"), *ON)
    assert result.exit_code == 3
    assert "--weather: error: the weather file" in result.stderr


@pytest.mark.parametrize(
    ("path", "hint"),
    [("-", "nothing is fetched"), ("https://x.ca/a.csv", "nothing is fetched"), ("gone.csv", "hint: check the name")],
)
def test_the_command_line_is_told_that_nothing_is_fetched(tmp_path: Path, path: str, hint: str) -> None:
    daily(tmp_path)
    result = run("flight", site(tmp_path, "[daily.csv]"), "--weather", path, *ON)
    assert result.exit_code == 3
    assert f"--weather: error: the weather file '{path}' cannot be read" in result.stderr
    assert hint in result.stderr
    assert "beside the inventory" not in result.stderr


def test_an_inventory_from_standard_input_has_its_weather_here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    daily(tmp_path)
    text = Path(site(tmp_path, "[daily.csv]")).read_text(encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    assert run("check", "-", *ON, text=text).exit_code == 0


TWO = """STATION,NAME,DATE,TMAX,TMAX_ATTRIBUTES,TMIN
X1,UPPER KNOLL,2021-04-01,50,",,7",32
X2,LOWER KNOLL,2021-04-01,55,",,7",35
"""


def test_several_stations_ask_which_at_the_weather_and_a_wrong_one_at_its_own_place(tmp_path: Path) -> None:
    daily(tmp_path, text=TWO)
    asked = run("check", site(tmp_path, "[daily.csv]", "\n  weather_units: imperial"), *ON)
    assert asked.exit_code == 3
    assert "site.yaml:10:13: error: the weather files hold 2 stations" in asked.stderr
    wrong = site(tmp_path, "[daily.csv]", "\n  weather_units: imperial\n  weather_station: X3")
    result = run("check", wrong, *ON)
    assert "site.yaml:12:20: error: no station in the weather files is 'X3'" in result.stderr
    right = site(tmp_path, "[daily.csv]", "\n  weather_units: imperial\n  weather_station: lower knoll")
    assert run("check", right, *ON).exit_code == 0


@pytest.mark.parametrize(("command", "on_page"), [("check", 0), ("why", 0), ("flight", 1), ("order", 1)])
def test_what_is_said_of_the_weather_is_said_once(tmp_path: Path, command: str, on_page: int) -> None:
    text = DAILY.read_text(encoding="utf-8") + "2026-07-01,2,15,0,0,0,0,50\n"
    daily(tmp_path, text=text)
    result = run(command, site(tmp_path, "[daily.csv]"), *(["T1/1"] if command == "why" else []), *ON)
    said = [" ".join(text.split()).count("Tmin above Tmax") for text in (result.stdout, result.stderr)]
    assert said == [on_page, 1 - on_page]


def test_years_that_date_no_flight_are_one_sentence_of_the_order(tmp_path: Path) -> None:
    daily(tmp_path, text=(ROOT / "examples" / "otter-narrows-daily.csv").read_text(encoding="utf-8"))
    path = site(tmp_path, "[daily.csv]")
    told = " ".join(run("order", path, *ON).stdout.split())
    assert "Of the years on record 2014 dates no flight:" in told
    assert "2014 is left out: the model needs the year before" in " ".join(run("flight", path, *ON).stdout.split())


def test_one_tree_takes_its_weather_from_options(tmp_path: Path) -> None:
    path = daily(tmp_path)
    plain = run(*TREE)
    with_weather = run(*TREE, "--weather", str(path), "--flight-dates", "weather")
    assert with_weather.exit_code in (0, 4), with_weather.stderr
    assert with_weather.stdout != plain.stdout
    missing = run(*TREE, "--weather", str(tmp_path / "gone.csv"))
    assert missing.exit_code == 3
    assert "--weather: error: the weather file" in missing.stderr
    word = run(*TREE, "--weather-units", "kelvin")
    assert (word.exit_code, "--weather-units: error" in word.stderr) == (3, True)
    station = run(*TREE, "--weather", str(path), "--weather-station", "Foo")
    assert "--weather-station: error: no station in the weather files is 'Foo'" in station.stderr


def test_a_saved_tree_names_its_weather_where_that_lies_beside_it(tmp_path: Path) -> None:
    path = daily(tmp_path)
    saved = tmp_path / "saved.yaml"
    by_options = run(*TREE, "--weather", str(path), "--save", str(saved))
    assert "weather: [" in saved.read_text(encoding="utf-8")
    assert run("order", str(saved), *ON).stdout == by_options.stdout
    deeper = tmp_path / "deeper"
    deeper.mkdir()
    result = run(*TREE, "--weather", str(path), "--save", str(deeper / "saved.yaml"))
    assert "weather:" not in (deeper / "saved.yaml").read_text(encoding="utf-8")
    assert "the saved inventory does not name the weather" in result.stderr
