"""The section on what changes since an earlier order, on every form of the page and as JSON."""

import json
from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta
from functools import cache
from pathlib import Path

from jsonschema import Draft202012Validator
from lost_weeks import again
from made_sites import ON, site_text

from barkwright.output import html, layout, markdown
from barkwright.output.blocks import Page
from barkwright.output.changes_json import since_record
from barkwright.output.measures import Units
from barkwright.output.order import order_page
from barkwright.output.order_changes import LINES, changes_section
from barkwright.output.order_json import order_result
from barkwright.output.view import View
from barkwright.plan import Plan
from barkwright.schedule.earlier import EarlierJob
from barkwright.study.changed import Changed
from barkwright.study.reasons import Why
from barkwright.treatment.rulebook import templates


@cache
def lost() -> tuple[Plan, Plan]:
    return again(site_text(3, 3), ON + timedelta(days=7), 7)


def test_a_first_order_has_no_such_section() -> None:
    first, _ = lost()
    assert changes_section(View(first, Units(), ""), ()) is None
    assert "since" not in order_result(first)


def test_nothing_changed_is_one_line() -> None:
    _, same = again(site_text(3, 3), ON, 0)
    section = changes_section(View(same, Units(), ""), same.changed)
    assert section is not None
    assert section.heading == "Since the order of Tue 20 Oct 2026"
    assert len(section.blocks) == 1


def test_every_form_says_what_moves_and_why() -> None:
    _, second = lost()
    page = order_page(second, Units(), "x.yaml")
    for form in (layout, markdown, html):
        flat = " ".join(form.render(page).split())
        assert "its day has passed, and it is not recorded as done" in flat
        assert "2026-10-2" not in flat, "dates are said as on the rest of the page"
        assert "in place of Tue 27 Oct 2026" in flat


def test_the_record_follows_its_schema() -> None:
    _, second = lost()
    assert second.since is not None
    schema = json.loads((Path(__file__).parents[2] / "shared" / "order.schema.json").read_text(encoding="utf-8"))
    since = {"$ref": "#/$defs/SinceRecord", "$defs": schema["$defs"]}
    record = since_record(second.since, second.changed)
    Draft202012Validator(since).validate(record)
    assert len(record["changes"]) == len(second.changed) > 0


def rendered(plan: Plan, changed: Sequence[Changed]) -> str:
    section = changes_section(View(plan, Units(), ""), changed)
    assert section is not None
    return " ".join(layout.render(Page("", "", (section,))).split())


def other_way(was: str, now: str, tree: str = "T1") -> Changed:
    why = Why("better", "it is better.")
    return Changed("other way", tree, (f"{tree}/1",), None, now, None, None, was, why)


def test_ways_are_told_by_their_titles_and_unknown_ones_without_their_id() -> None:
    _, second = lost()
    text = rendered(second, [other_way("chip-peel-butt-spud", "chip-whole"), other_way("gone-by-now", "chip-whole")])
    assert "chip it whole, where it was to chip what fits, strip the thick butt with a spud, chip its bark" in text
    assert "chip it whole, not the way of then" in text
    assert "peel butt" not in text
    assert "gone by now" not in text


def hours_changed(plan: Plan, was: float, now: float) -> Changed:
    job = plan.schedule.jobs[-1]
    old = EarlierJob(job.tree, job.pieces, job.work, job.way, job.first, job.last, job.crew, was)
    return Changed(
        "other hours", job.tree, job.pieces, job.work, job.way, old, replace(job, hours=now), job.way,
        Why("facts", "it differs."),
    )  # fmt: skip


def test_hours_that_show_the_same_are_left_out() -> None:
    _, second = lost()
    assert "Other hours" not in rendered(second, [hours_changed(second, 2.6, 2.9)])
    assert "3 h in place of 2.5 h" in rendered(second, [hours_changed(second, 2.4, 2.9)])


def test_a_reason_shows_few_lines_and_counts_the_rest() -> None:
    _, second = lost()
    known = [way for way in templates() if way != "chip-whole"][:12]
    text = rendered(second, [other_way(way, "chip-whole") for way in known])
    assert text.count("where it was to") == LINES - 1
    assert f"And {12 - LINES + 1} more" in text


def test_reasons_that_name_other_work_are_one() -> None:
    _, second = lost()
    moved = [
        replace(hours_changed(second, 1.0, 2.0), kind="moved", why=Why("waits", f"it waits for felling {tree}."))
        for tree in ("T1", "T2")
    ]
    assert "it waits for felling T1" in rendered(second, moved[:1])
    text = rendered(second, moved)
    assert "waits for felling" not in text
    assert "it waits for other work, or goes with it" in text


def test_work_done_since_is_said_once() -> None:
    _, second = lost()
    why = Why("done", "it is recorded as done.")
    done = [
        Changed("dropped", tree, (), "fell", None, hours_changed(second, 1.0, 1.0).was, None, None, why)
        for tree in ("T1", "T2")
    ]
    assert "Done since then: fell T1, T2." in rendered(second, done)
