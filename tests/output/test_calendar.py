"""The calendar file: read by another library, held to RFC 5545, imported again and again."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from functools import cache
from pathlib import Path

import made_up
import pytest
from calendars import Kept, read

from barkwright.cli.site import known_names
from barkwright.inventory.model import Calendar, Call, Span
from barkwright.inventory.place import Burning
from barkwright.inventory.reading import read_inventory
from barkwright.output.calendar_entries import entries
from barkwright.output.calendar_file import order_ics, rings
from barkwright.output.measures import Units
from barkwright.output.order import order_page
from barkwright.output.view import View
from barkwright.plan import Plan, plan_order

YARD = "yard-tree.yaml"
ON = date(2026, 11, 25)


@cache
def planned(on: date = ON, start: date | None = None) -> Plan:
    path = Path(__file__).parents[2] / "examples" / YARD
    inventory, found = read_inventory(path.read_text(encoding="utf-8"), YARD, on, known_names())
    assert inventory is not None, found
    if start is not None:
        inventory = inventory.model_copy(update={"calendar": Calendar(start=start)})
    return plan_order(inventory, on)


def ics(plan: Plan) -> bytes:
    return order_ics(plan, Units(), YARD)


def test_every_line_is_as_the_format_asks():
    content = ics(planned())
    assert content.endswith(b"\r\n")
    lines = content.split(b"\r\n")
    assert not any(b"\n" in line or b"\r" in line for line in lines)
    assert max(len(line) for line in lines) <= 75


def test_every_entry_has_what_the_format_needs():
    events = read(ics(planned()))
    uids = [event.uid for event in events]
    assert len(set(uids)) == len(uids) > 5
    for event in events:
        assert event.dtstamp.isoformat() == "2026-11-25T00:00:00+00:00"
        assert type(event.start) is date
        assert event.end > event.start  # left out itself
        assert event.sequence == (ON - date(1970, 1, 1)).days


def test_the_same_plan_gives_the_same_bytes():
    assert ics(planned()) == ics(planned())


def test_each_day_of_work_says_what_the_order_says():
    plan = planned()
    page = order_page(plan, Units(), YARD)
    days = next(section for section in page.sections if section.heading == "Day by day")
    written = " ".join(event.description or "" for event in read(ics(plan)))
    for card in days.blocks:
        for block in card.blocks:
            for text, under in block.entries:
                assert text.partition(". ")[0].lower() in written.lower()  # a call has its hours on the order alone
                assert all(line in written for line in under)


def test_work_that_rests_on_a_question_is_tentative():
    events = read(ics(planned()))
    asked = [event for event in events if "only after question" in event.summary]
    assert asked
    assert {event.status for event in asked} == {"TENTATIVE"}
    assert {event.status for event in events if event not in asked} == {"CONFIRMED"}


def test_alarms_ring_at_the_hour_of_the_data():
    by_kind = {kind: [ring.days_before * 24 - ring.hour for ring in found] for kind, found in rings().items()}
    assert by_kind["deadline"] == [14 * 24 - 9, 3 * 24 - 9]
    deadline = next(event for event in read(ics(planned())) if event.summary.startswith("Last day"))
    assert [-alarm.trigger / timedelta(hours=1) for alarm in deadline.alarm] == by_kind["deadline"]
    assert {ring.basis for found in rings().values() for ring in found} == {"ours"}


def test_hires_calls_and_burn_windows_are_on_it():
    plan = made_up.plan()
    plan.inventory = plan.inventory.model_copy(
        update={
            "calls": (Call(what="service disconnect", trees=("T1",), on=date(2026, 12, 7)),),
            "site": plan.inventory.site.model_copy(
                update={
                    "burning": Burning(
                        permit="held",
                        windows=(
                            Span(first=date(2026, 10, 1), last=date(2026, 11, 1)),  # over
                            Span(first=date(2026, 12, 1), last=date(2026, 12, 20)),
                        ),
                    )
                }
            ),
        }
    )
    plan.ways = {piece: (replace(way, id="burn-pile"),) for piece, (way,) in plan.ways.items()}
    choices = tuple(replace(choice, way="burn-pile") for choice in plan.schedule.choices)
    plan.schedule = replace(plan.schedule, choices=choices)
    shown = {entry.title: (entry.first, entry.last) for entry in entries(View(plan, Units(), "x"))}
    assert shown["service disconnect for T1"] == (date(2026, 12, 7), date(2026, 12, 7))
    assert shown["On hire: chipper, 9 in"] == (made_up.SAT, made_up.SAT)
    assert shown["Give back the chipper, 9 in"] == (made_up.SAT, made_up.SAT)
    assert shown["Burning is open, by the days you entered"] == (date(2026, 12, 1), date(2026, 12, 20))


def test_what_comes_too_late_stands_at_the_last_day():
    late = [entry.text for entry in entries(View(made_up.plan(unmet=True), Units(), "x")) if entry.kind == "deadline"]
    assert any("By this plan too late: T1 log 2." in text for text in late)


def test_importing_the_same_plan_twice_changes_nothing():
    kept = Kept()
    kept.take(ics(planned()))
    once = kept.shown()
    kept.take(ics(planned()))
    assert kept.shown() == once


@pytest.mark.parametrize(
    ("on", "start"), [(date(2026, 12, 2), None), (ON, date(2027, 1, 16))], ids=["a week later", "another start"]
)
def test_a_new_plan_moves_entries_and_doubles_none(on, start):
    first, second = ics(planned()), ics(planned(on, start))
    alone = Kept()
    alone.take(second)
    kept = Kept()
    kept.take(first)
    before = kept.shown()
    kept.take(second)
    assert kept.shown() == alone.shown()
    assert kept.shown() != before


def test_of_two_plans_the_later_one_holds_in_whatever_order_they_come():
    older, newer = ics(planned()), ics(planned(date(2026, 12, 2)))
    one, two = Kept(), Kept()
    one.take(older)
    one.take(newer)
    two.take(newer)
    two.take(older)
    assert one.shown() == two.shown()


def test_when_work_is_done_the_days_left_keep_their_entries():
    plan = planned()
    found = read(ics(plan))
    first = min(job.first for job in plan.schedule.jobs if job.crew == "tree service")
    left = tuple(job for job in plan.schedule.jobs if job.first > first)
    rest = read(ics(replace(plan, schedule=replace(plan.schedule, jobs=left))))
    assert {event.uid for event in rest} < {event.uid for event in found}
    kept = {event.uid: event.start for event in found}
    assert all(kept[event.uid] == event.start for event in rest)


def test_sites_of_one_name_far_apart_are_two():
    plan = made_up.plan()
    here = {event.uid for event in read(ics(plan))}
    site = plan.inventory.site.model_copy(update={"latitude": 54.4})
    plan.inventory = plan.inventory.model_copy(update={"site": site})
    assert here.isdisjoint(event.uid for event in read(ics(plan)))
