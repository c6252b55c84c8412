"""Sites at the edges: nobody, nothing, far north, too late, a leap day, hazards, and wood that only a stove takes."""

import re
from datetime import date

import pytest
from made_sites import ON, planned, site_text

from barkwright.plan import Plan
from barkwright.schedule.verify import verify

EQUIPMENT = re.compile(r"equipment:\n(  - .*\n)+")
CREW = re.compile(r"crew: .*\n.*\n")


def a_year_later(text: str) -> str:
    """The made-up site with all its dates moved by a year."""
    return re.sub(r"\b(202[567])\b", lambda found: str(int(found[1]) + 1), text)


BARE = CREW.sub("", EQUIPMENT.sub("", site_text(3, 6)))
SITES = {
    "nobody": (CREW.sub("", site_text(3, 6)), ON),
    "no tools": (EQUIPMENT.sub("", site_text(3, 6)), ON),
    "nobody and no tools": (BARE, ON),
    "a start in the past": (site_text(3, 6, start="2026-01-01"), ON),
    "a start after the flight": (site_text(3, 6, start="2027-08-15"), ON),
    "a start years ahead": (site_text(3, 6, start="2030-03-01"), ON),
    "in the middle of the flight": (site_text(3, 6, start="2027-06-10"), date(2027, 6, 10)),
    "68 north": (site_text(3, 6).replace("latitude: 53.9", "latitude: 68.2"), ON),
    "polar night": (site_text(3, 6).replace("latitude: 53.9", "latitude: 78.2"), ON),
    "a leap day": (a_year_later(site_text(3, 6, start="2027-02-28")).replace("02-28", "02-29"), date(2028, 2, 29)),
    "every day off": (site_text(3, 6).replace("to: 2027-01-02", "to: 2028-12-31"), ON),
    "half an hour a day": (site_text(3, 6).replace("hours_per_day: 7", "hours_per_day: 0.5"), ON),
    "one person": (site_text(3, 6, people=1), ON),
}  # fmt: skip


@pytest.mark.parametrize("name", SITES)
def test_an_odd_site_gets_a_plan_that_holds_and_says_what_is_left(name: str) -> None:
    plan = planned(*SITES[name])
    assert plan.broken == ()
    schedule = plan.schedule
    assert sum(one.infested_ft2 for one in schedule.unmet) == pytest.approx(schedule.infested_left_ft2)
    assert all(one.why.endswith(".") and one.change.endswith(".") for one in schedule.unmet)


def test_nobody_is_told_to_name_somebody_and_works_on_nothing() -> None:
    plan = planned(*SITES["nobody"])
    assert plan.schedule.jobs == ()
    assert {one.why for one in plan.schedule.unmet} == {"Nobody is there to do the work."}


def test_nothing_is_done_in_the_polar_night() -> None:
    plan = planned(*SITES["polar night"])
    dark = [job.id for job in plan.schedule.jobs if date(2026, 11, 5) < job.first < date(2027, 2, 5)]
    assert plan.schedule.jobs
    assert dark == []


def test_brood_that_has_flown_is_not_promised_to_anybody() -> None:
    left = planned(*SITES["in the middle of the flight"]).schedule.unmet
    assert left
    assert all("Nothing can this year" in one.change for one in left)


def test_an_earlier_start_is_offered_where_it_would_save_bark() -> None:
    plan = planned(site_text(3, 8, days="[sat]", start="2027-05-25", hired=False))
    assert any("Starting on 20 October 2026 would save" in one.change for one in plan.schedule.unmet)


def test_a_hazard_that_cannot_be_finished_is_taken_down_and_that_is_said() -> None:
    text = site_text(3, 4, days="[sat]", start="2027-05-22", hired=False)
    first = next(line for line in text.splitlines() if "status: standing" in line and "attacked: 2025" in line)
    hazard = first.replace("attack: mass", "attack: mass, hazards: [dead-top], removal: {by: dismantle, hours: 6}")
    plan = planned(text.replace(first, hazard))
    name = re.search(r"id: (T\d+)", first)
    assert name is not None
    assert plan.broken == ()
    assert any(job.work == "fell" and job.tree == name[1] for job in plan.schedule.jobs)
    assert any(note.startswith(f"{name[1]} is taken down because it is a hazard") for note in plan.schedule.unfinished)


STOVE = """
barkwright: 1
site: {name: made up, units: imperial, latitude: 53.98, longitude: -123.02, region: interior-plateau,
  burning: {permit: refused}}
trees:
  - {id: D1, species: white, status: logs, felled_on: 2026-02-03, stood_at_attack: true, attacked: 2025,
     bark: {left_percent: 100, condition: dried}, logs: [{butt: 9, top: 8, length: 8, count: 12}]}
crew: [{name: we, people: 2, hours_per_day: 6, days: [sat, sun], rate: 30, skills: [saw]}]
equipment: [{kind: chain-saw, owned: true}, {kind: maul, owned: true, count: 2}]
limits: {firewood_cords_per_week: PER_WEEK}
"""


def stove_plan(per_week: float) -> Plan:
    return planned(STOVE.replace("PER_WEEK", str(per_week)), date(2026, 10, 24))


def burned(plan: Plan) -> float:
    """Cords that go into the stove."""
    tree = plan.work.trees[0]
    ways = {choice.piece: choice.way for choice in plan.schedule.choices}
    return sum(
        plan.work.yields(tree.tree, piece, way).cords
        for piece, _, found in tree.pieces()
        for way in found
        if way.id == ways[piece.id] and way.id.endswith("-stove")
    )


def test_the_stove_burns_no_more_than_it_was_said_to() -> None:
    free = stove_plan(5)
    assert free.broken == ()
    cords = burned(free)
    assert cords > 0.2
    weeks = (free.flights[0].onset - date(2026, 10, 24)).days / 7
    short = stove_plan(round(0.5 * cords / weeks, 4))
    assert short.broken == ()
    assert burned(short) <= 0.5 * cords
    assert short.schedule.infested_left_ft2 > free.schedule.infested_left_ft2


def test_a_plan_that_overfills_the_stove_is_refused() -> None:
    free = stove_plan(5)
    weeks = (free.flights[0].onset - date(2026, 10, 24)).days / 7
    short = stove_plan(round(0.9 * burned(free) / weeks, 4))
    assert any("in the stove" in sentence for sentence in verify(free.schedule, short.work))
