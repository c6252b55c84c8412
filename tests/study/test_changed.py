"""What changes since an earlier order: every change is told, each with a reason that holds."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta

import pytest
from lost_weeks import again, inventory_of, lost_week
from made_sites import ON, site_text

from barkwright.plan import Plan, plan_order
from barkwright.schedule.digest import facts_of, given_out
from barkwright.study.changed import Changed, changes_between

WEEK = timedelta(days=7)


def changed_steps(first: Plan, second: Plan) -> Iterator[tuple[str, str]]:
    """Pieces and trees of which some step has other days or another crew, or which have another way: told anew here."""

    def steps(plan: Plan) -> dict[tuple[str, str, str], list[tuple[object, ...]]]:
        found: dict[tuple[str, str, str], list[tuple[object, ...]]] = {}
        for job in plan.schedule.jobs:
            for name in job.pieces or (job.tree,):
                found.setdefault((name, job.work, job.way or ""), []).append(
                    (job.first, job.last, job.crew, job.pieces)
                )
        return found

    old, new = steps(first), steps(second)
    for key in old.keys() | new.keys():
        if old.get(key) != new.get(key) and _alike_grouped(old.get(key), new.get(key)):
            yield key[0], key[1]


def _alike_grouped(old: list[tuple[object, ...]] | None, new: list[tuple[object, ...]] | None) -> bool:
    """Are the pieces grouped as they were? A part of a group may end sooner than the whole."""
    return old is None or new is None or [one[3] for one in old] == [one[3] for one in new]


def holds(one: Changed, second: Plan) -> bool:
    """Does the reason of a change hold, as far as it can be seen from outside?"""
    if one.why.cause == "day passed":
        return one.was is not None and one.was.first < second.on
    if one.why.cause == "waits" and one.now is not None and "which ends on" in one.why.text:
        return any(name in {job.id for job in second.schedule.jobs} for name in one.now.after)
    return True


def check(seed: int) -> None:
    text, then, on, days = lost_week(seed)
    first, second = again(text, on, days, then)
    assert not second.broken
    assert min((job.first for job in second.schedule.jobs), default=second.on) >= second.on
    told = {(name, one.work) for one in second.changed for name in one.pieces or (one.tree,)}
    for name, work in changed_steps(first, second):
        assert (name, work) in told or (name, None) in told, (seed, name, work)
    for one in second.changed:
        assert len(one.why.text.strip()) > 10, (seed, one)
        assert holds(one, second), (seed, one)


@pytest.mark.parametrize("seed", [1, 24, 37])
def test_every_change_after_a_lost_week_has_its_reason(seed: int) -> None:
    check(seed)


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(50))
def test_every_change_after_fifty_lost_weeks_has_its_reason(seed: int) -> None:
    check(seed)


def causes(plan: Plan) -> set[tuple[str, str]]:
    return {(one.kind, one.why.cause) for one in plan.changed}


def test_a_lost_week_is_told_as_such() -> None:
    _, second = again(site_text(3, 3), ON + WEEK, 7)
    assert causes(second) == {("moved", "day passed")}


def test_a_tree_that_is_gone_and_one_that_is_new() -> None:
    text = site_text(4, 3)
    less = "\n".join(line for line in text.split("\n") if "{id: T2," not in line)
    _, second = again(text, ON, 0, less)
    gone = [one for one in second.changed if one.tree == "T2"]
    assert gone
    assert {one.kind for one in gone} == {"dropped"}
    assert all("T2 is not in the inventory any more" in one.why.text for one in gone)
    _, third = again(less, ON, 0, text)
    new = [one for one in third.changed if one.tree == "T2"]
    assert new
    assert {one.kind for one in new} == {"new"}
    assert all("added since" in one.why.text for one in new)


def test_other_brood_is_named_where_it_closes_a_way() -> None:
    text = site_text(6, 6)
    _, second = again(text, ON, 0, text.replace("stages: [larvae]", "stages: [adults]"))
    assert any(one.kind == "other way" for one in second.changed)
    ways = [one for one in second.changed if one.kind == "other way"]
    assert all(one.why.cause in ("closed", "facts") for one in ways), [one.why for one in ways]


def test_a_crew_that_is_gone_is_the_reason_for_another_one() -> None:
    two = "[{name: ridge crew, people: 2,", "[{name: valley crew, people: 2,"
    text = site_text(3, 3)
    _, second = again(text, ON, 0, text.replace(*two))
    crews = [one for one in second.changed if one.kind == "other crew"]
    assert crews
    assert all(one.why.text == "ridge crew are gone from the list." for one in crews)


def test_what_is_done_is_told_as_done() -> None:
    text = site_text(4, 3)
    first = plan_order(inventory_of(text, ON), ON)
    done = {piece.id for tree in first.work.trees if tree.tree.id == "T2" for piece in tree.stem.pieces} | {"T2"}
    less = "\n".join(line for line in text.split("\n") if "{id: T2," not in line)
    earlier = given_out(first.schedule, first.work)
    second = plan_order(inventory_of(less, ON), ON, earlier=earlier)
    changed = changes_between(earlier, second.work, second.schedule, done)
    gone = [one for one in changed if one.tree == "T2"]
    assert gone
    assert {(one.kind, one.why.cause) for one in gone} == {("dropped", "done")}


def test_a_record_without_facts_still_gives_reasons() -> None:
    text, later = site_text(3, 3), ON + 2 * WEEK
    first = plan_order(inventory_of(text, ON + WEEK), ON + WEEK)
    earlier = replace(given_out(first.schedule, first.work), facts={})
    plan = plan_order(inventory_of(text, later), later, earlier=earlier)
    changed = changes_between(earlier, plan.work, plan.schedule)
    assert changed
    assert all(one.why.text for one in changed)


def test_a_machine_that_is_gone_is_the_reason_and_not_its_ways() -> None:
    text = site_text(3, 3)
    then = "\n".join(line for line in text.split("\n") if "drawknife" not in line)
    _, second = again(text, ON, 7, then)
    texts = {one.why.text for one in second.changed if "drawknife" in (one.was_way or "")}
    assert "the drawknife is gone from the list." in texts
    assert not any("among its ways" in one or "way of then" in one for one in texts)


def test_a_tree_that_came_down_as_ordered_explains_little() -> None:
    standing = site_text(5, 3).replace("status: felled, ", "status: standing, ").replace(
        "felled_on: 2026-10-01, stood_at_attack: true, ", ""
    ).replace("top, bottom", "base, sunny")  # fmt: skip
    felled = standing.replace("status: standing, ", "status: felled, felled_on: 2026-10-26, stood_at_attack: true, ")
    first, second = again(standing, ON, 7, felled)
    assert sum(job.work == "fell" for job in first.schedule.jobs) > 0
    fellings = [one for one in second.changed if one.work == "fell"]
    assert fellings
    assert all((one.kind, one.why.cause) == ("dropped", "done") for one in fellings)
    assert not any("was given as standing" in one.why.text for one in second.changed)


def test_an_appointment_belongs_to_its_tree() -> None:
    text = site_text(3, 3)
    then = text + "calls: [{what: appointment, for: [T2], date: 2027-02-10}]\n"
    _, second = again(text, ON, 7, then)
    assert facts_of(second.work)["call T2"] == "appointment on 2027-02-10"
    assert "calls" not in facts_of(second.work)
    named = {one.tree for one in second.changed if "appointment" in one.why.text}
    assert named <= {"T2"}


def test_a_call_that_was_made_is_done_and_explains_only_its_tree() -> None:
    near = "line: 20 ft, line_kind: service-drop"
    text = site_text(6, 2).replace("line: out-of-reach", near)
    first, second = again(text, ON, 1, text + "calls: [{what: appointment, for: [T2], date: 2027-03-10}]\n")
    assert any(job.work == "call" and job.tree == "T2" for job in first.schedule.jobs)
    calls = [one for one in second.changed if one.work == "call" and one.tree == "T2"]
    assert calls
    assert all((one.kind, one.why.cause) == ("dropped", "done") for one in calls)
    assert {one.tree for one in second.changed if "appointment" in one.why.text} == {"T2"}
