"""A green tree that comes down as a hazard leaves fresh wood, which the next flight must not find with its bark on."""

from dataclasses import replace
from datetime import date

import pytest
from made_sites import planned

from barkwright.inventory.reading import read_inventory
from barkwright.output.json_records import brood_record
from barkwright.output.measures import Units
from barkwright.output.order import order_text
from barkwright.plan import Plan, plan_order
from barkwright.schedule.verify import verify
from barkwright.season.flight import flight_year

ON = date(2026, 11, 25)
SITE = """barkwright: 1
site: {name: Birch End, units: imperial, latitude: 53.9, longitude: -123.0, region: interior-plateau,
  nearest_live_spruce: 30, burning: {permit: refused}}
trees:
  - {id: G1, species: white, dbh: 16, height: 70, attacked: never, MORE
    near: {line: out-of-reach, building: 40 ft, road: out-of-reach, neighbour: 120 ft},
    removal: {by: fell, hours: 3}}
crew: [{name: we, people: 2, hours_per_day: 6, days: [sat, sun], skills: [saw], unpaid: true}]
equipment: [TOOLS {kind: chain-saw, owned: true}]
"""
PEELER = "{kind: drawknife, owned: true},"
LEANS = "hazards: [lean],"


def _plan(more: str = LEANS, tools: str = PEELER, on: date = ON) -> Plan:
    return planned(SITE.replace("MORE", more).replace("TOOLS", tools), on)


def _stems(plan: Plan) -> list[str]:
    return [one.piece for one in plan.broods[0].pieces if one.host]


def _felled(plan: Plan) -> date | None:
    return next((job.first for job in plan.schedule.jobs if job.work == "fell"), None)


def test_its_logs_get_a_way_that_is_done_before_the_next_flight() -> None:
    plan = _plan()
    onset = flight_year(plan.season, 2027).onset
    assert plan.broken == ()
    chosen = {one.piece: one for one in plan.schedule.choices if one.piece in _stems(plan)}
    assert {f"G1/{name}" for name in ("stump", "1", "2", "3")} <= set(chosen)
    for one in chosen.values():
        assert one.way is not None
        assert one.way != "leave"
        assert one.done_on is not None
        assert one.done_on < onset
        assert one.latest is not None
    assert (plan.schedule.infested_before_ft2, plan.schedule.host_left_ft2) == (0, 0)


def test_the_order_says_why_while_the_tree_still_stands() -> None:
    plan = _plan()
    text = " ".join(order_text(plan, Units("imperial"), "site.yaml").split())
    assert "once it is down the flight of 2027 would take it" in text
    assert "its fresh wood draws the next flight" in text
    assert "green and down" not in text
    assert "leave it as it is" not in text
    assert "Finish by" in text
    record = brood_record(next(one for one in plan.broods[0].pieces if one.host))
    assert (record["host"], record["flight_to_beat"]) == (True, 2027)


@pytest.mark.parametrize("on", [date(2027, 5, 10), date(2027, 6, 10)])
def test_too_late_for_the_coming_flight_it_is_felled_when_that_is_over(on: date) -> None:
    plan = _plan(on=on)
    over, next_onset = flight_year(plan.season, 2027).end, flight_year(plan.season, 2028).onset
    assert plan.broken == ()
    felled = _felled(plan)
    assert felled is not None
    assert over < felled < next_onset
    assert {one.done_on is not None and felled <= one.done_on < next_onset for one in plan.schedule.choices
            if one.piece in _stems(plan)} == {True}  # fmt: skip
    assert plan.schedule.host_left_ft2 == 0


def test_felled_in_the_last_days_before_a_flight_its_wood_does_not_lie_through_it() -> None:
    text = (
        SITE.replace("MORE", "hazards: [],")
        .replace("TOOLS", PEELER)
        .replace("building: 40 ft", "building: out-of-reach")
    )
    text = text.replace("neighbour: 120 ft", "neighbour: out-of-reach").replace(
        "skills: [saw]", "skills: [saw, felling]"
    )
    plan = planned(
        text.replace("unpaid: true", "rate: 40").replace("[sat, sun]", "[mon, tue, wed, thu, fri]"), date(2027, 5, 10)
    )
    onset = flight_year(plan.season, 2027).onset
    assert plan.broken == ()
    felled = _felled(plan)
    assert felled is not None
    assert felled < onset
    for one in plan.schedule.choices:
        if one.piece in _stems(plan):
            assert one.done_on is not None
            assert one.done_on < onset
            assert one.latest is not None
            assert one.latest < onset


def test_a_hazard_comes_down_though_nothing_can_be_done_with_its_wood() -> None:
    plan = _plan(tools="")
    assert plan.broken == ()
    assert _felled(plan) is not None
    assert plan.schedule.host_left_ft2 > 0
    assert verify(replace(plan.schedule, host_left_ft2=0.0), plan.work)
    assert "of green bark is left for the next flight" in order_text(plan, Units("imperial"), "site.yaml").replace(
        "\n" + " " * 15, " "
    )


def test_what_is_no_hazard_stays_until_something_can_be_done_with_its_wood() -> None:
    plan = _plan(more="", tools="")
    assert plan.broken == ()
    assert _felled(plan) is None
    assert plan.schedule.host_left_ft2 == 0  # nothing draws beetles while it stands
    whys = {one.why for one in plan.schedule.choices if one.piece in _stems(plan)}
    assert len(whys) == 1
    assert "stays standing" in whys.pop()


def test_the_checker_sees_green_wood_that_lies_through_a_flight() -> None:
    plan = _plan()
    onset = flight_year(plan.season, 2027).onset
    choices = tuple(replace(one, done_on=onset) if one.piece == "G1/1" else one for one in plan.schedule.choices)
    assert verify(replace(plan.schedule, choices=choices), plan.work)


def test_an_untouched_green_tree_without_a_removal_is_nobodys_work() -> None:
    text = SITE.replace("MORE", "").replace("TOOLS", PEELER).replace(",\n    removal: {by: fell, hours: 3}", "")
    inventory, _ = read_inventory(text, "site.yaml", ON)
    assert inventory is not None
    plan = plan_order(inventory, ON)
    assert _stems(plan) == []
    assert plan.schedule.jobs == ()
