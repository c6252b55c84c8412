"""`done`: the journal beside the site, the inventory untouched, the impossible refused, two writers losing nothing."""

from __future__ import annotations

import json
import os
import re
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from barkwright.cli.main import main
from barkwright.journal.reading import read_journal

ROOT = Path(__file__).parents[2]
ON = ("--on", "2026-11-27")


@pytest.fixture
def site(tmp_path: Path) -> Path:
    return Path(shutil.copy(ROOT / "examples" / "yard-tree.yaml", tmp_path / "yard.yaml"))


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, [*arguments, *ON])


def numbers(site: Path) -> list[int]:
    text = site.with_suffix(".journal.yaml").read_text(encoding="utf-8")
    journal, found = read_journal(text, "journal")
    assert journal is not None, found
    return [one.id for one in journal.entries]


def test_work_goes_into_the_journal_and_never_into_the_inventory(site):
    before = site.read_bytes()
    done = run("done", str(site), "T1/1", "T1/2", "--method", "chip", "--by", "Ana", "--date", "2026-11-21")
    assert done.exit_code == 0, done.stderr
    assert "as entry 1" in done.stdout
    assert "T1 logs 1-2: chipped; by Ana" in done.stdout
    assert "--undo 1" in done.stdout
    assert site.read_bytes() == before
    order = run("order", str(site))
    assert "DONE SO FAR" in order.stdout
    assert "Sat 21 Nov 2026: T1 logs 1-2: chipped (by Ana)." in order.stdout


def test_a_log_thicker_than_the_chipper_takes_is_recorded_with_a_doubt(site):
    done = run("done", str(site), "T1/1", "T1/2", "--method", "chip")
    said = " ".join(done.stdout.split())
    assert done.exit_code == 0
    assert "as entry 1" in said
    assert re.search(r"The chipper on your list takes 9 in and T1 log 1 is \d\d in across: is that right\?", said)
    assert "If not: --undo 1" in said
    assert "is that right" not in run("done", str(site), "T1/8", "--method", "chip").stdout
    assert "is that right" not in run("done", str(site), "T1/3", "--method", "split").stdout


def test_what_is_undone_is_planned_again_and_stays_on_record(site):
    first = run("order", str(site)).stdout
    run("done", str(site), "T1/1", "--method", "chip")
    assert run("order", str(site)).stdout != first
    assert run("done", str(site), "--undo", "1").exit_code == 0
    assert run("order", str(site)).stdout == first
    listed = run("done", str(site), "--list").stdout
    assert "taken back by 2" in listed
    assert numbers(site) == [1, 2]


def test_all_entries_of_one_command_are_taken_back_at_once(site):
    done = run("done", str(site), "T1", "--felled", "--cut-up", "--by", "Ana")
    assert "--undo 1 --undo 2" in " ".join(done.stdout.split())
    back = " ".join(run("done", str(site), "--undo", "1", "--undo", "2").stdout.split())
    assert "entry 1 taken back: Fri 27 Nov 2026: T1: felled; by Ana" in back
    assert "entry 2 taken back: Fri 27 Nov 2026: T1: limbed and cut up; by Ana" in back
    assert "DONE SO FAR" not in run("order", str(site)).stdout
    twice = run("done", str(site), "--undo", "3", "--undo", "3")
    assert twice.exit_code == 2
    assert numbers(site) == [1, 2, 3, 4]


def test_the_tally_says_what_was_worked_on(site):
    run("done", str(site), "T1/1", "--method", "debark", "--left", "bark not burnt yet")
    tally = run("tally", str(site)).stdout
    assert "WORKED ON ALREADY" in tally
    assert "T1 log 1: bark stripped, left: bark not burnt yet." in tally


def test_a_look_changes_what_is_known_of_the_tree(site):
    looked = run(
        "done", str(site), "T1/3", "--found", "adults", "--looked", "base,sunny,shaded", "--date", "2026-11-20"
    )
    assert "T1: found adults, looked at base, sunny and shaded" in looked.stdout
    assert "flying in 2027" in run("order", str(site)).stdout


def test_a_look_and_work_in_one_go_are_two_entries(site):
    both = run("done", str(site), "T1", "--felled", "--found", "larvae", "--looked", "base,sunny")
    assert "as entries 1 and 2" in both.stdout
    assert numbers(site) == [1, 2]


def test_what_the_order_prints_can_be_typed_back(site):
    text = site.read_text(encoding="utf-8")
    site.write_text(text.replace("- id: T1\n", "- id: A\n    count: 3\n", 1), encoding="utf-8")
    assert "A.1-A.3: felled" in run("done", str(site), "A", "--felled").stdout
    chipped = run("done", str(site), "A.1-A.3/1-2", "--method", "chip")
    assert "A.1-A.3 logs 1-2: chipped" in chipped.stdout, chipped.stderr


WRONG = [
    (("T1", "logs", "1-2", "--method", "chip"), "no tree or piece 'logs'", "T3/6-9"),
    (("t1", "--felled"), "there is no tree 't1'", "did you mean T1?"),
    (("T1/1-19", "--method", "chip"), "no tree or piece", "there are T1/stump, T1/1"),
    (("T1/1",), "it is not said what was done", "--method"),
    ((), "nothing is named", "T3/1"),
    (("T1/1", "--bark", "burnt"), "--bark goes with --method", "--method debark"),
    (("T1/1", "--method", "chip", "--bark", "burnt"), "stripped bark", "--method debark"),
    (("T1/limbs", "--method", "bury"), "cannot have been treated by bury", "for limbs"),
    (("T1/1", "--method", "debark", "--left", "something"), "names no step", "bark not burnt yet"),
    (("T1/1", "--method", "chip", "--date", "2026-12-01"), "still to come", "when it is done"),
    (("T1/19", "--method", "chip"), "no tree or piece 'T1/19'", "T1/1"),
    (("T1", "--found", "larva", "--looked", "base"), "--found 'larva' is not understood", "larvae"),
    (("T1", "--found", "larvae", "--looked", "roof"), "--looked 'roof' is not understood", "base"),
    (("--undo", "1"), "no entry 1", "--list"),
    (("T1/1", "--undo", "1"), "stands by itself", "--undo"),
    (("--list", "--undo", "1"), "stands by itself", "--undo"),
]


@pytest.mark.parametrize(("arguments", "message", "hint"), WRONG)
def test_what_cannot_be_is_refused_and_nothing_is_written(site, arguments, message, hint):
    wrong = run("done", str(site), *arguments)
    assert wrong.exit_code == 2
    assert message in wrong.stderr
    assert hint in wrong.stderr.partition("hint:")[2]
    assert not site.with_suffix(".journal.yaml").exists()


def test_a_broken_journal_ends_every_command_with_its_place(site):
    site.with_suffix(".journal.yaml").write_text("barkwright-journal: 1\nentries:\n  - {id: x}\n", encoding="utf-8")
    for command in ("order", "tally", "flight", "check", "options", "quote", "done"):
        broken = run(command, str(site), *(["--list"] if command == "done" else []))
        assert broken.exit_code == 3, command
        assert "yard.journal.yaml:3:10: error: entry 1: id 'x' does not fit here" in broken.stderr
    assert site.with_suffix(".journal.yaml").read_text(encoding="utf-8").endswith("{id: x}\n")


def test_an_empty_journal_says_how_to_go_on(site):
    site.with_suffix(".journal.yaml").write_text("", encoding="utf-8")
    empty = run("done", str(site), "T1", "--felled")
    assert empty.exit_code == 3
    assert "the file is empty" in empty.stderr
    assert "delete the file" in empty.stderr.partition("hint:")[2]


def test_a_journal_whose_inventory_was_renamed_is_not_forgotten_silently(site):
    run("order", str(site), "--issue")
    renamed = site.rename(site.with_name("our yard.yml"))
    for command in ("order", "tally", "flight", "check", "options", "quote"):
        warned = run(command, str(renamed))
        assert "yard.journal.yaml is of a site of the same name" in warned.stderr, command
    assert f'mv {site.parent}/yard.journal.yaml "{site.parent}/our yard.journal.yaml"' in warned.stderr
    assert f'mv {site.parent}/yard.issued.json "{site.parent}/our yard.issued.json"' in warned.stderr
    assert "same name" in run("done", str(renamed), "--list").stderr
    done = run("done", str(renamed), "T1", "--felled")
    assert done.exit_code == 2
    assert "mv " in done.stderr
    site.with_suffix(".journal.yaml").rename(site.with_name("our yard.journal.yaml"))
    assert "same name" not in run("check", str(renamed)).stderr


@pytest.mark.parametrize("change", ["another name", "inventory there"])
def test_a_journal_of_another_site_is_left_alone(site, change):
    run("done", str(site), "T1", "--felled")
    other = Path(shutil.copy(site, site.with_name("other.yaml")))
    if change == "another name":
        site.unlink()
        other.write_text(other.read_text(encoding="utf-8").replace("name: Tamarack", "name: Larch"), encoding="utf-8")
    assert "same name" not in run("check", str(other)).stderr
    assert run("done", str(other), "T1", "--felled").exit_code == 0


def test_lengths_that_were_changed_after_work_was_recorded_are_refused(site):
    run("done", str(site), "T1/1", "--method", "chip")
    site.write_text(site.read_text(encoding="utf-8").replace("log_length: 8", "log_length: 10"), encoding="utf-8")
    for command in (("order",), ("done", "T1/2", "--method", "chip")):
        changed = run(command[0], str(site), *command[1:])
        assert changed.exit_code in (2, 3)
        assert "log_length" in changed.stderr or "cutting was changed" in changed.stderr


def test_json_says_what_was_recorded_and_what_it_comes_to(site):
    run("done", str(site), "T1", "--felled")
    made = json.loads(run("done", str(site), "T1/1", "--method", "score", "--format", "json").stdout)
    assert made["command"] == "done"
    assert made["result"]["entries"] == 2
    assert made["result"]["recorded"][0]["method"] == "score"
    assert [(one["piece"], one["end"], one["status"]) for one in made["result"]["done"]] == [
        ("T1/1", "partial", "done")
    ]


def test_standard_input_has_no_journal():
    piped = CliRunner().invoke(main, ["done", "-", "T1/1", "--method", "chip"], input="x")
    assert piped.exit_code == 2
    assert "name the file" in piped.stderr


def barkwright(*arguments: str) -> subprocess.Popen[bytes]:
    code = "from barkwright.cli.main import main; main()"
    return subprocess.Popen(
        [sys.executable, "-c", code, *arguments, *ON], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        env={**os.environ, "PYTHONPATH": str(ROOT / "src")},
    )  # fmt: skip


def test_writers_at_the_same_time_lose_nothing(site):
    pieces = ("T1/1", "T1/2", "T1/3", "T1/4", "T1/5", "T1/6")
    writers = [barkwright("done", str(site), piece, "--method", "chip") for piece in pieces]
    assert [one.wait(timeout=120) for one in writers] == [0] * len(pieces)
    assert numbers(site) == [1, 2, 3, 4, 5, 6]
    recorded = run("done", str(site), "--list", "--format", "json").stdout
    assert {one["pieces"][0] for one in json.loads(recorded)["result"]["recorded"]} == set(pieces)


def killed(site: Path, times: int) -> int:
    """Kill a writer at another moment each time; how often the journal had grown by then."""
    grown = 0
    journal = site.with_suffix(".journal.yaml")
    for number in range(times):
        before = numbers(site) if journal.exists() else []
        writer = barkwright("done", str(site), "T1", "--crown", "green", "--note", f"look {number} " + "x" * 400)
        time.sleep(0.25 + 0.6 * (number % 29) / 29)
        writer.send_signal(signal.SIGKILL)
        writer.wait()
        after = numbers(site) if journal.exists() else []
        assert after in (before, [*before, len(before) + 1])
        grown += len(after) > len(before)
    return grown


@pytest.mark.skipif(os.name != "posix", reason="SIGKILL is of POSIX")
def test_a_writer_that_is_killed_leaves_the_old_journal_or_the_new(site):
    killed(site, 8)
    assert run("done", str(site), "T1/1", "--method", "chip").exit_code == 0, "nobody holds the journal any more"


@pytest.mark.slow
def test_a_thousand_killed_writers_leave_the_old_journal_or_the_new(site):
    grown = killed(site, 1000)
    assert 0 < grown < 1000, "no kill came before, or none after, the journal was written"


def issued(site: Path, on: str = "2026-11-27") -> Result:
    return CliRunner().invoke(main, ["order", str(site), "--issue", "--on", on])


def test_an_order_that_is_given_out_is_held_on_to_and_compared_with(site):
    first = issued(site)
    assert first.exit_code == 0
    assert "yard.issued.json" in first.stderr
    assert "the work order of that day was given out" in run("done", str(site), "--list").stdout
    same = run("order", str(site), "--since-last").stdout
    assert "SINCE THE ORDER OF FRI 27 NOV 2026" in same
    assert "Nothing changes: every job that is left stays as it was ordered." in same
    run("done", str(site), "T1/1", "--method", "chip")
    changed = run("order", str(site), "--since-last")
    assert "Done since then: T1 log 1; " in changed.stdout
    assert "what lives in T1" not in changed.stdout, "a piece that is done is no news of the brood"
    assert "SINCE THE ORDER" not in run("order", str(site)).stdout


def test_an_order_may_be_given_out_again(site):
    assert issued(site, "2026-11-25").exit_code == 0
    again = issued(site)
    assert again.exit_code == 0, again.stderr
    assert "SINCE THE ORDER OF FRI 27 NOV 2026" in run("order", str(site), "--since-last").stdout


def test_an_order_of_a_day_is_compared_with_what_was_recorded_by_then(site):
    run("done", str(site), "T1/1", "--method", "chip", "--date", "2026-11-26")
    since = run("order", str(site), "--since", "2026-11-20").stdout
    assert "SINCE THE ORDER OF FRI 20 NOV 2026" in since
    assert "Done since then: T1 log 1; " in since
    assert "Done since then" not in run("order", str(site), "--since", "2026-11-26").stdout


def test_all_sheets_are_made_of_the_plan_that_holds_on(site):
    issued(site)
    for command in ("order", "options", "quote", "check"):
        assert run(command, str(site)).exit_code == 0, command


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (("--since-last",), "no order of"),
        (("--since", "2026-12-01"), "later than the day planned for"),
        (("--since", "2026-11-01", "--since-last"), "two questions"),
    ],
)
def test_there_must_be_an_order_to_compare_with(site, arguments, message):
    wrong = run("order", str(site), *arguments)
    assert wrong.exit_code == 2
    assert message in wrong.stderr
    assert "hint:" in wrong.stderr


@pytest.mark.parametrize(
    "text", ["", "{", "[]", '{"format": 2, "on": "2026-11-20", "jobs": [], "ways": {}, "facts": {}}']
)
def test_a_damaged_order_is_told_with_what_to_do(site, text):
    site.with_suffix(".issued.json").write_text(text, encoding="utf-8")
    broken = run("order", str(site))
    assert broken.exit_code == 3
    assert "yard.issued.json:1:1: error" in broken.stderr
    assert "--issue" in broken.stderr


def test_an_order_of_a_later_day_is_not_held_on_to(site):
    issued(site, "2026-12-20")
    before = CliRunner().invoke(main, ["order", str(site), "--on", "2026-12-01", "--since-last"])
    assert before.exit_code == 2
