"""Wood on the ground with its bark on is host to the first flight that it lies through."""

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest
from made_sites import planned

from barkwright.plan import Plan
from barkwright.schedule.verify import verify
from barkwright.season.flight import coming_flight, flight_year

EXAMPLES = Path(__file__).parents[2] / "examples"
ON = date(2026, 11, 25)
LARVAE = """barkwright: 1
site: {name: Alder Hollow, units: imperial, latitude: 53.9, longitude: -123.0, region: interior-plateau,
  nearest_live_spruce: 30, burning: {permit: refused}}
trees:
  - {id: T1, species: white, status: felled, felled_on: 2026-10-30, dbh: 14, height: 60, attacked: 2026, attack: mass,
    stood_at_attack: true, bark: {condition: tight},
    found: {insect: spruce-beetle, stages: [larvae], looked: [top, bottom], exit_holes: none, seen: 2026-11-12}}
crew: [{name: we, people: 2, hours_per_day: 6, days: [sat, sun], skills: [saw, felling], unpaid: true}]
equipment: [{kind: drawknife, owned: true}, {kind: chain-saw, owned: true}]
"""


@pytest.mark.parametrize("name", ["yard-tree", "removal-24", "woodlot-60"])
def test_what_is_felled_is_done_before_the_first_flight_after_it(name: str) -> None:
    plan = planned((EXAMPLES / f"{name}.yaml").read_text(), ON)
    assert plan.broken == ()
    felled = {job.tree: job.first for job in plan.schedule.jobs if job.work == "fell"}
    assert felled
    for choice in plan.schedule.choices:
        tree, _, part = choice.piece.rpartition("/")
        if tree not in felled or part in ("top", "limbs") or choice.done_on is None:
            continue
        season = plan.work.season
        onset = flight_year(season, coming_flight(season, felled[tree])).onset
        assert choice.done_on < onset, choice
        assert choice.latest is not None
        assert choice.latest < onset, choice


def _down(calendar: str = "") -> Plan:
    return planned(LARVAE + calendar, ON)


def test_down_wood_whose_brood_flies_later_is_done_before_the_coming_flight() -> None:
    plan = _down()
    onset = flight_year(plan.work.season, 2027).onset
    logs = [choice for choice in plan.schedule.choices if choice.latest is not None]
    assert logs
    assert {choice.latest for choice in logs} == {onset - timedelta(days=1)}
    assert all(choice.done_on is not None and choice.done_on < onset for choice in logs)
    assert plan.schedule.host_left_ft2 == 0


def test_where_it_cannot_be_it_is_host_left_not_infested_bark_unmet() -> None:
    plan = _down("calendar: {start: 2027-06-05}\n")
    assert plan.broken == ()
    assert plan.schedule.unmet == ()
    assert plan.schedule.infested_left_ft2 == 0
    assert plan.schedule.host_left_ft2 > 0
    assert all(choice.done_on is not None for choice in plan.schedule.choices if choice.latest is not None)


def test_the_checker_sees_host_wood_that_is_not_told() -> None:
    plan = _down("calendar: {start: 2027-06-05}\n")
    assert verify(replace(plan.schedule, host_left_ft2=0.0), plan.work)
