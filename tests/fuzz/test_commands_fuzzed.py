"""Whole commands on damaged files: a documented exit code, nothing that steers a terminal, only their files."""

from __future__ import annotations

import re
import shutil
import tempfile
from pathlib import Path

import filelock  # noqa: F401 - when it is imported it tries out links in the temporary folder
import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st
from material import ISSUED, JOURNAL, ODDITIES, ROOT, damaged, damaged_text, examples, seeds
from readers import BOOKS
from watch import soon, within

from barkwright.cli.main import main

ON = ("--on", "2026-11-27")
YARD = (ROOT / "examples" / "yard-tree.yaml").read_text(encoding="utf-8")
LOCAL = (ROOT / "examples" / "kestrel-flats" / "local.yaml").read_text(encoding="utf-8")
SMALL = """\
barkwright: 1
site: {name: Sedge Hollow, units: imperial, latitude: 53.5, longitude: -121.5, weather: [daily.csv]}
trees:
- {id: T1, species: white, status: logs, felled_on: 2026-10-03, attacked: 2026, logs: [{butt: 14, top: 12, length: 8}]}
crew: [{name: us, people: 2, hours_per_day: 6, days: [sat, sun], skills: [saw], unpaid: true}]
equipment: [{kind: chain-saw, owned: true}, {kind: drawknife, owned: true}]
calendar: {start: 2026-11-28}
local: [local.yaml]
"""
READING = (
    "check",
    "tally",
    "flight",
    "why",
    "order",
    "quote",
    "options",
    "check --rules",
    "done --list",
    "order --since-last",
)
FORMS = ("text", "json", "markdown", "html", "csv", "ics")
STEERS = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069\ud800-\udfff]")
WORDS = ("T1", "T1/1", "T1/stump", "T1/limbs", "T9", "", "T1/999", "chip", "larvae", "base,sunny", "bark not burnt yet")


def contents(folder: Path) -> dict[Path, bytes]:
    """The files of a folder, without the lock that a journal has while it is written."""
    return {one: one.read_bytes() for one in folder.iterdir() if not one.name.endswith(".lock")}


def run(folder: Path, *words: str) -> str:
    """One command in a folder; what it printed. Fails where it breaks its word."""
    before = contents(folder)
    try:
        with soon(words, 20), within(str(folder)) as outside:  # a plan is longer than a reading
            done = CliRunner().invoke(main, [*words, *ON])
    finally:
        for book in BOOKS:
            book.cache_clear()
    assert outside == []
    assert done.exit_code in (0, 2, 3, 4), (words, done.stderr)
    assert "fault of the program" not in done.stderr
    for said in (done.stdout, done.stderr):
        assert not STEERS.search(said), ascii(STEERS.search(said))
    after = contents(folder)
    mine = ("made.yaml", "made.yaml.bak", "site.journal.yaml")
    assert {one.name for one in after if one not in before} <= set(mine)
    assert all(after.get(one) == content for one, content in before.items() if one.name not in mine)
    return done.stdout


def piece_of(command: str) -> tuple[str, ...]:
    return ("T1/1",) if command == "why" else ()


@pytest.fixture(autouse=True)
def _in_a_folder_of_its_own(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)


@examples(25)
@given(
    st.data(),
    st.sampled_from(READING),
    st.sampled_from(("site.yaml", "site.yaml", "site.journal.yaml", "site.issued.json", "local.yaml", "daily.csv")),
    st.sampled_from(FORMS),
)
def test_a_command_keeps_its_word_on_damaged_files(data, command, faulty, form):
    known = {
        "site.yaml": SMALL if data.draw(st.booleans()) else YARD, "site.journal.yaml": JOURNAL,
        "site.issued.json": ISSUED, "local.yaml": LOCAL, "daily.csv": seeds("weather")[0],
    }  # fmt: skip
    with tempfile.TemporaryDirectory() as name:
        for file, text in known.items():
            content = data.draw(damaged((text,))) if file == faulty else text.encode()
            if file == faulty or file in ("site.yaml", "local.yaml", "daily.csv"):
                Path(name, file).write_bytes(content)
        word, *more = command.split()
        forms = next(one for one in main.commands[word].params if one.name == "format_").type.choices
        chosen = ("--format", form) if form in forms and not more else ()
        run(Path(name), word, str(Path(name, "site.yaml")), *piece_of(word), *more, *chosen)


@examples(25)
@given(st.data())
def test_what_is_recorded_can_be_read_again(data):
    options = {
        "--method": ("chip", "debark", "split"), "--hours": ("3.5", "nan", "inf", "-1"), "--by": WORDS, "--note": WORDS,
        "--left": WORDS, "--date": ("2026-11-20", "0001-01-01", "2026-02-29"), "--found": WORDS, "--looked": WORDS,
        "--crown": ("green", "red"), "--bark": ("lying", "burnt"), "--called": ("2026-12-01",),
        "--undo": ("1", "0", "99"),
    }  # fmt: skip
    words: list[str] = data.draw(st.lists(st.sampled_from(WORDS), max_size=2))
    for name in data.draw(st.lists(st.sampled_from(sorted(options)), max_size=4, unique=True)):
        words += [name, data.draw(st.sampled_from(options[name]) | ODDITIES)]
    words += data.draw(st.lists(st.sampled_from(("--felled", "--cut-up", "--located")), max_size=2, unique=True))
    with tempfile.TemporaryDirectory() as name:
        site = Path(name, "site.yaml")
        site.write_text(YARD, encoding="utf-8")
        run(Path(name), "done", str(site), *(word.replace("\0", "") for word in words))
        run(Path(name), "done", str(site), "T1/2", "--method", "chip", "--hours", "1")
        assert "T1" in run(Path(name), "done", str(site), "--list")


@examples(20)
@given(damaged(seeds("sheet")), st.booleans())
def test_a_sheet_makes_an_inventory_or_nothing(content, into):
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "trees.csv").write_bytes(content)
        words = ["new", "--from", str(folder / "trees.csv"), "--yes"]
        if into:
            (folder / "made.yaml").write_text(YARD, encoding="utf-8")
            words += ["--into", str(folder / "made.yaml")]
        else:
            words += ["--lat", "53", "--lon", "-122", "-o", str(folder / "made.yaml")]
        run(folder, *words)
        if (folder / "made.yaml").exists():
            run(folder, "tally", str(folder / "made.yaml"))
        if into:
            assert (
                folder / "made.yaml.bak" if (folder / "made.yaml.bak").exists() else folder / "made.yaml"
            ).read_text(encoding="utf-8") == YARD


@examples(10)
@given(st.data())
def test_a_tree_by_options_keeps_its_word(data):
    words = ["--species", "white", "--lat", "53.1", "--lon", "-122.4", "--dbh", "12", "--no-ask"]
    for name in data.draw(
        st.lists(st.sampled_from(("--dbh", "--height", "--near", "--own", "--where", "--log", "--skills")), max_size=3)
    ):
        words += [name, data.draw(ODDITIES).replace("\0", "")]
    with tempfile.TemporaryDirectory() as name:
        run(Path(name), "tree", *words, "--save", str(Path(name, "made.yaml")))


@examples(6)
@given(st.data())
def test_what_is_tried_keeps_its_word(data):
    phrase = data.draw(damaged_text(seeds("try"), 2)).replace("\0", "")
    with tempfile.TemporaryDirectory() as name:
        shutil.copy(ROOT / "examples" / "yard-tree.yaml", Path(name, "site.yaml"))
        run(Path(name), "order", str(Path(name, "site.yaml")), "--try", phrase)
