"""The command line: options in, product on standard output, messages on standard error, documented exit codes."""

from __future__ import annotations

import os
import re
import stat
import subprocess
import sys
from collections.abc import Iterator
from functools import partial
from pathlib import Path

import click
import pytest
import yaml
from click.testing import CliRunner, Result

from barkwright.cli import files, group
from barkwright.cli.main import main

ROOT = Path(__file__).parents[2]
YARD = str(ROOT / "examples" / "yard-tree.yaml")
REMOVAL = str(ROOT / "examples" / "removal-24.yaml")
ON = ("--on", "2026-11-25")
ONE_TREE = (
    "tree", "--species", "white", "--dbh", "16.5", "--height", "72", "--attacked", "2026", "--found", "larvae",
    "--looked", "base,sunny", "--near", "line=out-of-reach", "--near", "building=80ft", "--near", "road=out-of-reach",
    "--near", "neighbour=out-of-reach", "--latitude", "53.1", "--longitude", "-122.4", "--own", "drawknife", "--own",
    "chain-saw", "--rent", "chipper 9 in takes 7 in 310/day delivery 90", *ON,
)  # fmt: skip


def run(*arguments: str, text: str | None = None, env: dict[str, str | None] | None = None) -> Result:
    return CliRunner().invoke(main, list(arguments), input=text, env=env)


def commands() -> Iterator[tuple[str, click.Command]]:
    yield from main.commands.items()


def bad_site(folder: Path) -> str:
    path = folder / "bad.yaml"
    path.write_text(Path(YARD).read_text(encoding="utf-8").replace("species: white", "species: whte"), encoding="utf-8")
    return str(path)


@pytest.mark.parametrize(("name", "command"), list(commands()))
def test_every_command_and_option_has_help(name: str, command: click.Command) -> None:
    assert command.help
    assert command.get_short_help_str()
    for parameter in command.params:
        assert not isinstance(parameter, click.Option) or parameter.help, parameter.name
    assert run(name, "--help").exit_code == 0


def test_the_help_lists_the_exit_codes() -> None:
    out = run("--help").stdout
    for code in range(5):
        assert re.search(rf"^\s+{code}  \w", out, re.MULTILINE)


@pytest.mark.parametrize("command", ["order", "tally", "flight", "check"])
def test_a_site_gives_a_product_on_standard_output(command: str) -> None:
    result = run(command, YARD, *ON)
    assert result.exit_code == 0, result.stderr
    assert result.stdout.endswith("\n")
    assert not result.stderr


def test_standard_input_is_a_site_too() -> None:
    result = run("tally", "-", *ON, text=Path(YARD).read_text(encoding="utf-8"))
    assert result.exit_code == 0
    assert "from <stdin>" in result.stdout


def test_faults_go_to_standard_error_with_exit_3(tmp_path: Path) -> None:
    result = run("order", bad_site(tmp_path), *ON)
    assert result.exit_code == 3
    assert not result.stdout
    assert re.search(r"bad\.yaml:\d+:\d+: error: .*whte", result.stderr)
    assert "did you mean 'white'?" in result.stderr
    assert "Traceback" not in result.stderr


def test_a_plan_that_leaves_bark_infested_ends_with_4() -> None:
    content = Path(YARD).read_text(encoding="utf-8")
    content = re.sub(r"equipment:\n(  - .*\n)+", "equipment:\n  - {kind: chain-saw, owned: true}\n", content)
    content = content.replace("stages: [larvae]", "stages: [adults]").replace("diggable: true", "diggable: false")
    result = run("order", "-", *ON, text=content.replace("permit: unknown", "permit: refused"))
    assert result.exit_code == 4, result.stderr
    assert "WHAT MISSES ITS DATE" in result.stdout


@pytest.mark.parametrize(
    ("name", "said"),
    [("no-such-file.yaml", "there is no file"), (".", "is a folder"), ("a\x00b", "cannot be read")],
)
def test_what_cannot_be_read_is_one_message_and_exit_2(name: str, said: str) -> None:
    result = run("order", name)
    assert result.exit_code == 2
    assert said in result.stderr
    assert len(result.stderr.splitlines()) <= 2


def test_a_file_with_a_near_name_is_pointed_out() -> None:
    assert "yard-tree.yaml" in run("order", YARD.replace("yard-tree", "yard-tre")).stderr


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read everything")
def test_what_may_not_be_read_is_said(tmp_path: Path) -> None:
    path = tmp_path / "secret.yaml"
    path.write_text("x")
    path.chmod(0)
    result = run("order", str(path))
    assert result.exit_code == 2
    assert "may not be read" in result.stderr


def test_bytes_that_are_no_text_are_a_fault_of_the_file(tmp_path: Path) -> None:
    path = tmp_path / "site.yaml"
    path.write_bytes(b"site: \xff\xfe\x00")
    result = run("order", str(path))
    assert result.exit_code == 3
    assert "site.yaml:1:" in result.stderr


def test_control_characters_of_a_file_never_reach_the_terminal(tmp_path: Path) -> None:
    path = tmp_path / "site.yaml"
    path.write_text(
        Path(YARD).read_text(encoding="utf-8").replace("Tamarack Bend", "Tam\x1b[31marack"), encoding="utf-8"
    )
    result = run("order", str(path), *ON)
    assert "\x1b" not in result.stdout + result.stderr


def test_control_characters_in_arguments_neither() -> None:
    result = run("why", YARD, "T1/\x1b[31m", *ON)
    assert result.exit_code == 2
    assert "\x1b" not in result.stderr


def test_output_is_written_whole_and_never_over_the_site(tmp_path: Path) -> None:
    target = tmp_path / "tally.txt"
    target.write_text("old")
    target.chmod(0o640)
    result = run("tally", YARD, *ON, "-o", str(target))
    assert result.exit_code == 0
    assert not result.stdout
    assert target.read_text(encoding="utf-8") == run("tally", YARD, *ON).stdout
    assert target.stat().st_mode & 0o777 == 0o640
    assert os.listdir(tmp_path) == ["tally.txt"]
    copy = tmp_path / "site.yaml"
    copy.write_bytes(Path(YARD).read_bytes())
    refused = run("tally", str(copy), *ON, "-o", str(copy))
    assert refused.exit_code == 2
    assert copy.read_bytes() == Path(YARD).read_bytes()


def test_output_to_a_folder_that_is_not_there_is_said(tmp_path: Path) -> None:
    result = run("tally", YARD, *ON, "-o", str(tmp_path / "no" / "tally.txt"))
    assert result.exit_code == 2
    assert "no folder" in result.stderr


def test_a_folder_that_takes_no_new_files_is_not_called_missing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(**_: object) -> None:
        raise FileNotFoundError(2, "No such file or directory")

    monkeypatch.setattr("tempfile.mkstemp", refuse)
    result = run("tally", YARD, *ON, "-o", str(tmp_path / "tally.txt"))
    assert result.exit_code == 2
    assert "takes no new files" in result.stderr


def test_what_came_by_standard_input_has_no_name_in_a_command() -> None:
    result = run("check", "-", *ON, text=Path(YARD).read_text(encoding="utf-8"))
    assert "'barkwright order SITE'" in result.stdout
    assert "<stdin>: no faults found" in result.stdout


@pytest.mark.parametrize("day", ["25.11.2026", "2026-13-01", "tomorrow"])
def test_a_date_that_is_none_is_wrong_use(day: str) -> None:
    result = run("order", YARD, "--on", day)
    assert result.exit_code == 2
    assert "is not a date" in result.stderr


def test_source_date_epoch_stands_for_today() -> None:
    assert "Made on Thu 1 Jan 1970" not in run("tally", YARD, env={"SOURCE_DATE_EPOCH": "1795600000"}).stdout
    assert "Made on Wed 25 Nov 2026" in run("tally", YARD, env={"SOURCE_DATE_EPOCH": "1795600000"}).stdout
    assert run("tally", YARD, env={"SOURCE_DATE_EPOCH": "soon"}).exit_code == 2


def test_units_are_those_of_the_file_unless_asked() -> None:
    assert "16.5 in across" in run("tally", YARD, *ON).stdout
    metric = run("tally", YARD, *ON, "--units", "metric").stdout
    assert "42 cm across" in metric
    assert " in across" not in metric


def test_one_tree_by_options_is_the_order_of_the_file_it_saves(tmp_path: Path) -> None:
    saved = tmp_path / "tree.yaml"
    by_options = run(*ONE_TREE, "--save", str(saved))
    assert by_options.exit_code == 0, by_options.stderr
    assert run("order", str(saved), *ON).stdout == by_options.stdout


@pytest.mark.parametrize(
    ("option", "value", "said"),
    [
        ("--species", "whte", "--species: error"),
        ("--dbh", "165", "--dbh: error"),
        ("--near", "lin=5ft", "--near: error"),
        ("--found", "lava", "--found: error"),
        ("--log", "14,12", "--log"),
        ("--removal", "dismantle", "--removal"),
        ("--removal", "dismantle,", "--removal"),
        ("--removal", "helicopter,6", "--removal: error"),
        ("--removal", "crane,long", "--removal: error"),
        ("--removal", "crane,4,900,1", "--removal"),
        ("--rent", "chipper quickly", "--rent"),
    ],
)
def test_a_fault_in_an_option_names_the_option(option: str, value: str, said: str) -> None:
    result = run(*ONE_TREE, option, value)
    assert result.exit_code in (2, 3)
    assert said in result.stderr
    assert "options:" not in result.stderr


def test_why_asks_for_a_piece_that_is_there() -> None:
    result = run("why", YARD, "T1", *ON)
    assert result.exit_code == 2
    assert "T1/stump" in result.stderr
    assert run("why", YARD, "T1/1", *ON).exit_code == 0


def test_a_fault_of_the_program_is_one_line_and_exit_1(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(_: object, __: object) -> None:
        raise RuntimeError("boom\nbang")

    monkeypatch.setattr("barkwright.plan.plan_tally", broken)
    monkeypatch.delenv("BARKWRIGHT_DEBUG", raising=False)
    result = run("tally", YARD, *ON)
    assert result.exit_code == 1
    assert "this is a fault of the program: RuntimeError: boom bang" in result.stderr
    assert "Traceback" not in result.stderr


def test_an_interrupt_ends_with_1_and_a_word(monkeypatch: pytest.MonkeyPatch) -> None:
    def stopped(_: object, __: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("barkwright.plan.plan_tally", stopped)
    result = run("tally", YARD, *ON)
    assert result.exit_code == 1
    assert "stopped" in result.stderr


@pytest.mark.parametrize(
    "arguments", [(), ("no-such-command",), ("order",), ("order", YARD, "--format", "docx"), ("schema", "x")]
)
def test_wrong_use_ends_with_2(arguments: tuple[str, ...]) -> None:
    assert run(*arguments).exit_code == 2


# ---- the installed program ------------------------------------------------------------------------------------------


def program(*arguments: str, **settings: str) -> subprocess.CompletedProcess[str]:
    env = {**os.environ, **settings}
    return subprocess.run(
        [sys.executable, "-c", "from barkwright.cli.main import main; main()", *arguments],
        capture_output=True, text=True, check=False, env=env,
    )  # fmt: skip


def test_version() -> None:
    result = program("--version")
    assert result.returncode == 0
    assert re.fullmatch(r"barkwright \d+\.\d+\S*\n", result.stdout)


def test_a_reader_that_has_left_is_no_news() -> None:
    pipe = subprocess.Popen(
        [sys.executable, "-c", "from barkwright.cli.main import main; main()", "schema"],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    )  # fmt: skip
    assert pipe.stdout is not None
    assert pipe.stderr is not None
    pipe.stdout.close()
    assert pipe.stderr.read() == b""
    assert pipe.wait() == group.FAILED
    pipe.stderr.close()


def test_no_color_wins_over_nothing_and_loses_to_the_option(tmp_path: Path) -> None:
    bad = bad_site(tmp_path)
    assert "\x1b[" not in program("order", bad, *ON, NO_COLOR="1").stderr
    assert "\x1b[31m" in program("order", bad, *ON, "--color", "always", NO_COLOR="1").stderr


def test_help_loads_no_stage() -> None:
    script = (
        "import sys\n"
        "from barkwright.cli.main import main\n"
        "try: main(['order', '--help'])\n"
        "except SystemExit: pass\n"
        "heavy = {'pydantic', 'yaml', 'tabulate', 'numpy'} & set(sys.modules)\n"
        "heavy |= {name for name in sys.modules if name.startswith('barkwright.')}\n"
        "light = ('barkwright.cli', 'barkwright.diagnostics', 'barkwright.record')\n"
        "heavy -= {name for name in heavy if name.startswith(light)}\n"
        "print(sorted(heavy), file=sys.stderr)\n"
    )
    result = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=False)
    assert result.stderr == "[]\n"


@pytest.mark.parametrize("day", ["9999-12-31", "1949-12-31", "20261125", "2026-W48-3", "2027-02-29", "soon"])
@pytest.mark.parametrize("command", ["order", "check"])
def test_the_day_of_the_plan_is_a_written_day_of_our_time(command: str, day: str) -> None:
    result = run(command, YARD, "--on", day)
    assert result.exit_code == 2
    assert day in result.stderr


def test_a_pipe_is_written_to_and_a_link_stays_a_link(tmp_path: Path) -> None:
    product = run("tally", YARD, *ON).stdout
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    reader = os.open(pipe, os.O_RDONLY | os.O_NONBLOCK)
    try:
        assert run("tally", YARD, *ON, "-o", str(pipe)).exit_code == 0
        assert os.read(reader, 65_536).decode("utf-8") == product
    finally:
        os.close(reader)
    assert stat.S_ISFIFO(pipe.stat().st_mode)
    target, link = tmp_path / "target.txt", tmp_path / "link.txt"
    target.write_text("old")
    link.symlink_to(target)
    assert run("tally", YARD, *ON, "-o", str(link)).exit_code == 0
    assert link.is_symlink()
    assert target.read_text(encoding="utf-8") == product


def test_letters_that_the_output_has_no_code_for_are_escaped(tmp_path: Path) -> None:
    path = tmp_path / "site.yaml"
    path.write_text(Path(YARD).read_text(encoding="utf-8").replace("Tamarack", "Tåmarack"), encoding="utf-8")
    result = process("tally", str(path), *ON, env={"PYTHONIOENCODING": "ascii"})
    assert result.returncode == 0, result.stderr
    assert rb"T\xc5MARACK" in result.stdout or rb"\xe5" in result.stdout.lower()


@pytest.mark.parametrize(("closed", "name"), [(0, "-"), (1, YARD)])
@pytest.mark.parametrize("command", ["tally", "order"])
def test_a_closed_stream_is_said(closed: int, name: str, command: str) -> None:
    result = process(command, name, *ON, closed=closed)
    assert result.returncode == 2
    assert b"is closed" in result.stderr


def process(
    *arguments: str, env: dict[str, str] | None = None, closed: int | None = None
) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(
        [sys.executable, "-c", "from barkwright.cli.main import main; main()", *arguments],
        capture_output=True,
        check=False,
        env={**os.environ, **(env or {})},
        preexec_fn=None if closed is None else partial(os.close, closed),
    )


def test_a_message_about_a_value_with_a_line_break_stays_one_line() -> None:
    result = run("check", "-", *ON, text=Path(YARD).read_text(encoding="utf-8").replace("id: T1", 'id: "a\\nb"'))
    assert result.exit_code == 3
    assert re.match(r"<stdin>:\d+:\d+: error: .*a\\nb.*\[bad-id\]\n", result.stderr)


def test_a_file_that_is_too_long_is_refused_and_not_cut_short(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(files, "MOST_BYTES", len(Path(YARD).read_bytes()) - 1)
    result = run("tally", YARD, *ON)
    assert result.exit_code == 3
    assert "longer than" in result.stderr


@pytest.mark.parametrize("name", ["{here}/" + "x" * 300, "{file}/order.txt", ""])
@pytest.mark.parametrize("words", [("tally", YARD), ("new",)])
def test_a_name_that_no_file_can_have_is_wrong_use(tmp_path: Path, name: str, words: tuple[str, ...]) -> None:
    file = tmp_path / "file"
    file.write_text("mine")
    result = run(*words, "-o", name.format(here=tmp_path, file=file), *ON)
    assert result.exit_code == 2
    assert "-o names no file" in result.stderr or "cannot be written" in result.stderr
    assert max(map(len, result.stderr.splitlines())) < 150
    assert file.read_text() == "mine"


def test_what_was_written_is_echoed_in_sixty_letters(tmp_path: Path) -> None:
    piece = run("why", YARD, "T" * 300, *ON).stderr
    bad = tmp_path / "bad.yaml"
    bad.write_text(Path(YARD).read_text(encoding="utf-8").replace("species: white", f"species: w{'h' * 300}ite"))
    site = run("check", str(bad), *ON).stderr
    assert "there is no piece 'TTT" in piece
    assert "species 'whhh" in site
    assert not re.search(r"T{45}|h{70}", piece)
    assert not re.search(r"h{45}", site.splitlines()[0])


def test_rules_reached_by_a_link_out_of_the_folder_are_refused(tmp_path: Path) -> None:
    folder = tmp_path / "site"
    folder.mkdir()
    (tmp_path / "rules.yaml").write_text("rules: []\n")
    (folder / "own.yaml").write_text("rules: []\n")
    (folder / "inside.yaml").symlink_to("own.yaml")
    (folder / "outside.yaml").symlink_to("../rules.yaml")
    codes = {}
    for name in ("own", "inside", "outside"):
        site = folder / f"{name}-site.yaml"
        site.write_text(Path(YARD).read_text(encoding="utf-8") + f"\nlocal: [{name}.yaml]\n")
        result = run("check", str(site), *ON)
        codes[name] = result.exit_code
    assert codes == {"own": 0, "inside": 0, "outside": 3}
    assert "a link that leads out of the inventory's folder" in result.stderr


@pytest.mark.parametrize(
    ("option", "written", "said"),
    [
        (
            "dismantle, 6",
            {"by": "dismantle", "hours": 6},
            "take it down in pieces, limb it and cut it to lengths of 8 ft. 6 h",
        ),
        (
            "crane,4,900",
            {"by": "crane", "hours": 4, "price": 900},
            "take it down with a crane, limb it and cut it to lengths of 8 ft. 4 h",
        ),
    ],
)
def test_a_removal_is_an_option_of_tree(option: str, written: dict[str, object], said: str, tmp_path: Path) -> None:
    saved = tmp_path / "site.yaml"
    result = run(*ONE_TREE, "--removal", option, "--not-before", "2027-01-11", "--save", str(saved))
    assert result.exit_code == 0, result.output
    (tree,) = yaml.safe_load(saved.read_text(encoding="utf-8"))["trees"]
    assert (tree["removal"], str(tree["not_before"])) == (written, "2027-01-11")
    text = " ".join(result.stdout.split())
    assert f"have the tree service {said}" in text
    assert "at what price?" not in text
    assert "have the tree service" in text[text.index("11 Jan 2027") :]


@pytest.mark.parametrize("name", ["yard-tree", "removal-24"])
def test_check_counts_the_questions_that_the_order_asks(name: str) -> None:
    path = YARD.replace("yard-tree", name)
    counted = re.search(r"(\d+ open questions?)", run("check", path, *ON).stdout)
    assert counted is not None
    assert f"rests on {counted[1]}" in " ".join(run("order", path, *ON).stdout.split())
