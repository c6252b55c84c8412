"""What recorded work has come to: the rulebook judges it as of its day, and only the rest is planned."""

from __future__ import annotations

from datetime import date

import pytest

from barkwright.plan import plan_flight, plan_order
from barkwright.treatment.finished import left_step, methods_of
from journal.test_applied import YARD, entry, stands

ON = date(2026, 11, 27)
ADULTS = YARD.replace("attacked: 2026 ", "attacked: 2025 ").replace("[larvae]", "[adults]").replace("green", "dropping")
BARK = {"debark-drawknife-burn-bark", "debark-drawknife-bury-bark"}

# Larvae dry out once the bark is off and grown beetles walk away from it; grooves do not stop grown beetles; drying is
# no proof that brood is dead; wood hauled to an unknown end is never counted as done: the rulebook's own rules, each
# with its source (debark.yaml, score.yaml, split.yaml, haul.yaml).
ENDS = [
    (YARD, "chip", {}, "done", []),
    (YARD, "debark", {}, "done", []),
    (YARD, "debark", {"left": "bark not burnt yet"}, "done", []),
    (YARD, "score", {}, "partial", ["score-partial"]),
    (YARD, "split", {"left": "not stacked"}, "not done", []),
    (YARD, "haul", {}, "not done", ["haul-nowhere"]),
    (ADULTS, "chip", {}, "done", []),
    (ADULTS, "burn", {}, "done", []),
    (ADULTS, "burn", {"left": "the pile is not lit yet"}, "not done", []),
    (ADULTS, "bury", {}, "done", []),
    (ADULTS, "debark", {}, "not done", ["peel-adults"]),
    (ADULTS, "debark", {"bark": "lying"}, "not done", ["peel-adults"]),
    (ADULTS, "debark", {"bark": "burnt"}, "done", []),
    (ADULTS, "debark", {"left": "bark not burnt yet"}, "not done", ["peel-adults"]),
    (ADULTS, "score", {}, "not done", ["score-adults"]),
    (ADULTS, "split", {}, "not done", ["split-late"]),
]


@pytest.mark.parametrize(("text", "method", "more", "end", "rules"), ENDS)
def test_work_comes_to_what_the_rulebook_says_of_its_day(text, method, more, end, rules):
    site = stands(entry(1, "treated", "2026-11-20", ("T1/1",), method=method, **more), text=text)
    plan = plan_flight(site, ON)
    outcome = plan.outcomes["T1/1"]
    assert (outcome.end, [reason.rule for reason in outcome.reasons]) == (end, rules)
    brood = next(one for one in plan.broods[0].pieces if one.piece == "T1/1")
    assert (brood.brood == "none") == (end == "done")


def test_of_several_works_the_one_that_did_most_counts():
    peeled = entry(1, "treated", "2026-11-18", ("T1/1",), method="debark")
    burnt = entry(2, "treated", "2026-11-19", ("T1/1",), method="debark", bark="burnt")
    split = entry(3, "treated", "2026-11-20", ("T1/1",), method="split")
    for entries, end, number in (
        ((peeled,), "not done", 1),
        ((peeled, split), "not done", 3),
        ((peeled, burnt), "done", 2),
    ):
        outcome = plan_flight(stands(*entries, text=ADULTS), ON).outcomes["T1/1"]
        assert (outcome.end, outcome.finished.entry) == (end, number)
    assert plan_flight(stands(peeled, burnt, split, text=ADULTS), ON).outcomes["T1/1"].end == "done"


def test_a_partial_end_counts_a_share_of_the_bark():
    before = plan_flight(stands(entry(1, "felled", "2026-11-20")), ON).broods[0]
    after = plan_flight(stands(entry(1, "treated", "2026-11-20", ("T1/1",), method="score")), ON).broods[0]
    whole, half = (next(one.weight for one in brood.pieces if one.piece == "T1/1") for brood in (before, after))
    assert 0 < half == pytest.approx(whole / 2)


def test_work_that_stops_no_brood_leaves_all_the_bark_counted():
    before = plan_flight(stands(entry(1, "felled", "2026-11-20")), ON).broods[0]
    after = plan_flight(stands(entry(1, "treated", "2026-11-20", ("T1/1",), method="haul")), ON).broods[0]
    one, other = (next(one.weight for one in brood.pieces if one.piece == "T1/1") for brood in (before, after))
    assert one == other > 0


def test_only_what_is_left_is_planned_with_the_tool_that_began_it():
    site = stands(entry(1, "treated", "2026-11-20", ("T1/1",), method="debark", left="bark"), text=ADULTS)
    plan = plan_order(site, ON)
    jobs = [job for job in plan.schedule.jobs if "T1/1" in job.pieces]
    assert jobs
    assert {job.work for job in jobs} == {"bark"}
    assert {way.id for way in plan.ways["T1/1"]} >= BARK & {way.id for way in plan.ways["T1/1"]} != set()
    assert plan.broken == ()


def test_what_is_done_is_planned_no_more_and_nothing_is_planned_into_the_past():
    pieces = ("T1/1", "T1/2", "T1/stump")
    plan = plan_order(stands(entry(1, "treated", "2026-11-20", pieces, method="chip")), ON)
    jobs = plan.schedule.jobs
    assert not any(set(job.pieces) & set(pieces) for job in jobs)
    assert {job.work for job in jobs}.isdisjoint(("fell", "limb and buck"))
    assert all(job.first >= ON for job in jobs)
    assert plan.broken == ()


def test_wood_hauled_to_an_unknown_end_misses_its_date_and_says_why():
    plan = plan_order(stands(entry(1, "treated", "2026-11-20", ("T1/1",), method="haul")), ON)
    unmet = next(one for one in plan.schedule.unmet if "T1/1" in one.pieces)
    assert "does not count as stopping its brood" in unmet.why
    assert "name the place" in unmet.change


def test_chips_made_so_far_take_room_from_those_to_come():
    """The example's ground takes 6 yd3 of chips; the butt log and the three above it make about 3.7."""
    done = ("T1/1", "T1/2", "T1/3", "T1/4")
    plan = plan_order(stands(entry(1, "treated", "2026-11-20", done, method="chip")), ON)
    made = sum(piece.chips_yd3 for stem in plan.stems for piece in stem.pieces if piece.id in done)
    assert made > 3
    assert plan.work.inventory.limits.chips_site_takes_yd3 == pytest.approx(6 - made)


def test_methods_are_those_of_the_kind_of_piece():
    assert "bury" not in methods_of("limbs")
    assert "split" not in methods_of("stump")
    assert {"chip", "debark", "burn", "bury", "split", "haul", "score"} <= set(methods_of("log"))


@pytest.mark.parametrize(
    ("text", "method", "kind", "step"),
    [
        ("bark not burnt yet", "debark", "log", "gather-bark"),
        ("the pile has to be burned", "burn", "log", "burn"),
        ("not piled", "burn", "log", "pile"),
        ("still to be stacked", "split", "log", "stack"),
        ("everything", "chip", "log", None),
        ("bark", "chip", "stump", None),
    ],
)
def test_words_of_what_is_left_name_a_step(text, method, kind, step):
    assert left_step(text, method, kind) == step


def test_an_appointment_that_has_passed_is_asked_after_and_called_for_again():
    text = YARD + "calls: [{what: service disconnect, for: [T1], date: 2026-12-07}]\n"
    inventory = stands(text=text)
    before, after = (plan_order(inventory, day) for day in (date(2026, 12, 7), date(2026, 12, 14)))
    assert not any(job.work == "call" and "T1" in job.what for job in before.schedule.jobs)
    assert "appointment-passed" not in {one.code for one in before.questions}
    assert after.questions[0].code == "appointment-passed"
    assert "did it take place?" in after.questions[0].text
    call = next(job for job in after.schedule.jobs if job.work == "call" and "T1" in job.what)
    fell = next(job for job in after.schedule.jobs if job.work == "fell")
    assert (fell.first - call.last).days >= 14


def test_professionals_do_not_come_on_the_days_off_of_the_site():
    text = YARD.replace("from: 2026-12-24, to: 2027-01-02", "from: 2026-12-18, to: 2027-01-10")
    plan = plan_order(stands(text=text), ON)
    fell = next(job for job in plan.schedule.jobs if job.work == "fell")
    assert fell.first >= date(2027, 1, 11)
