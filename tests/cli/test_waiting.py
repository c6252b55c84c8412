"""Whoever waits is told what is being done, and Ctrl-C keeps the best plan so far."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from barkwright.cli import waiting
from barkwright.cli.main import main
from barkwright.cli.waiting import Waiting
from barkwright.schedule.watch import Watch

YARD = str(Path(__file__).parents[2] / "examples" / "yard-tree.yaml")
ON = ("--on", "2026-11-25")
# A long search: it begins, waits until it is told to stop, and hands back what it has. `deaf` never listens.
LONG = """
import signal, sys, time
import barkwright.plan
from barkwright.cli import waiting
from barkwright.cli.main import main
signal.signal(signal.SIGINT, signal.default_int_handler)  # tests run in the background inherit its neglect
waiting.PATIENCE_S = 0.0
quick = barkwright.plan.best_plan
def slow(work, watch):
    watch.tell("a long search")
    until = time.monotonic() + 30
    while time.monotonic() < until and not (watch.stop and "deaf" not in sys.argv[0]):
        time.sleep(0.01)
    return quick(work, watch)
barkwright.plan.best_plan = slow
sys.argv = [sys.argv[1], *sys.argv[2:]]
main()
"""


def started(listens: str, *words: str) -> subprocess.Popen[str]:
    call = [sys.executable, "-u", "-c", LONG, listens, *words, *ON]
    done = subprocess.Popen(call, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    assert done.stderr is not None
    assert "planning: a long search" in done.stderr.readline()
    return done


def test_nothing_is_said_to_who_does_not_have_to_wait(capsys: pytest.CaptureFixture[str]) -> None:
    watch = Waiting()
    watch.tell("one thing")
    watch.tell("another")
    assert capsys.readouterr() == ("", "")


def test_who_has_waited_is_told_what_is_under_way_and_each_stage_once(capsys: pytest.CaptureFixture[str]) -> None:
    watch = Waiting()
    watch.tell("one thing")
    watch.tell("another")
    watch.waited()
    watch.tell("another")
    watch.tell("a third")
    assert capsys.readouterr() == ("", "planning: another\nplanning: a third\n")


def test_the_watch_is_let_go_when_the_plan_is_there() -> None:
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    try:
        with waiting.waiting() as watch:
            assert signal.getsignal(signal.SIGINT) == watch.interrupted
            assert not watch.stop
        assert signal.getsignal(signal.SIGINT) is signal.default_int_handler
    finally:
        signal.signal(signal.SIGINT, before)


def test_who_ignores_ctrl_c_goes_on_ignoring_it() -> None:
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        with waiting.waiting():
            assert signal.getsignal(signal.SIGINT) is signal.SIG_IGN
    finally:
        signal.signal(signal.SIGINT, before)


@pytest.mark.skipif(os.name == "nt", reason="signals are sent in another way there")
@pytest.mark.parametrize("command", ["order", "check"])
def test_ctrl_c_prints_the_best_plan_so_far_and_ends_with_4(command: str) -> None:
    running = started("hears", command, YARD, "--format", "json")
    running.send_signal(signal.SIGINT)
    out, said = running.communicate(timeout=60)
    assert running.returncode == 4
    assert said.startswith("stopping: the best plan so far is printed")
    page = json.loads(out)  # nothing else is mixed into it
    assert "interrupted" in [one["code"] for one in page["diagnostics"]]
    assert page["result"]


@pytest.mark.skipif(os.name == "nt", reason="signals are sent in another way there")
def test_a_second_ctrl_c_ends_at_once() -> None:
    running = started("deaf", "order", YARD)
    running.send_signal(signal.SIGINT)
    assert running.stderr is not None
    assert "Ctrl-C again" in running.stderr.readline()
    running.send_signal(signal.SIGINT)
    out, said = running.communicate(timeout=60)
    assert running.returncode == 1
    assert "stopped" in said
    assert out == ""


@pytest.mark.parametrize("command", [("order", YARD), ("check", YARD)])
def test_every_plan_is_made_under_a_watch(command: tuple[str, ...], monkeypatch: pytest.MonkeyPatch) -> None:
    import barkwright.plan

    seen: list[Watch] = []
    quick = barkwright.plan.best_plan

    def stopped(work: object, watch: Watch) -> object:
        seen.append(watch)
        watch.stop = True
        return quick(work, watch)  # type: ignore[arg-type]

    monkeypatch.setattr("barkwright.plan.best_plan", stopped)
    result = CliRunner().invoke(main, [*command, *ON])
    assert result.exit_code == 4
    assert isinstance(seen[0], Waiting)
    assert "this is the best plan so far [interrupted]" in result.stderr
