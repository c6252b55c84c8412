"""The options sheet as a client reads it: what it is, what answers a wish, what is shut and why, what is at stake."""

from __future__ import annotations

import re
from datetime import date

import pytest

from barkwright.output.layout import render
from barkwright.output.measures import Units
from barkwright.output.options_sheet import options_page
from barkwright.plan import plan_sides
from planned_sites import planned

ON = date(2026, 11, 25)
FAR = "line: out-of-reach, building: out-of-reach, road: out-of-reach, neighbour: out-of-reach"
SITE = """
barkwright: 1
site: {{name: Tern Flat, units: imperial, latitude: 54.0, longitude: -123.0, machine_access: true{site}}}
trees:
  - {{id: T1, species: white, dbh: 12, height: 60, attacked: 2025, attack: mass, near: {{{near}}}{tree},
     found: {{insect: spruce-beetle, stages: [adults], looked: [base, sunny, shaded], seen: 2026-10-20}}}}
{crew}
equipment: [{{kind: chain-saw, owned: true}}, {{kind: drawknife, owned: true}}]
currency: CAD
{more}
"""
PAIR = "crew: [{name: the pair, people: 2, hours_per_day: 8, rate: 40, skills: [saw, felling]}]"


def sheet(
    site: str = "",
    tree: str = "",
    near: str = FAR,
    crew: str = PAIR,
    more: str = "",
    whole: bool = False,
    scope: str = "T1",
) -> str:
    plan = planned(SITE.format(site=site, tree=tree, near=near, crew=crew, more=more), ON)
    sides = plan_sides(plan, ["T1"], scope if "/" in scope else None)
    return re.sub(r"\s+", " ", render(options_page(plan, sides, Units(), "tern.yaml", whole)))


def test_dangers_of_the_tree_stand_on_it() -> None:
    near = FAR.replace("line: out-of-reach", "line: 30 ft, line_kind: distribution")
    text = sheet(near=near, tree=", hazards: [dead-top]")
    assert "Line Distribution line, voltage not given" in text
    assert "people, tools and limbs 10 ft" in text
    assert "Hazards Its top is dead" in text
    assert "Hazards Its top is dead" not in sheet()


def test_what_has_to_be_settled_is_said_with_the_answer() -> None:
    asked = "ask the fire authority whether a burn permit is needed"
    assert asked in sheet(site=", burning: {permit: unknown}")
    assert asked not in sheet(site=", burning: {permit: refused}")


def test_what_is_shut_says_why_and_what_would_open_it() -> None:
    text = sheet(site=", burning: {permit: refused}")
    assert "You said that the burn permit was refused." in text
    assert "It would take: A burn permit." in text


def test_a_wish_is_named_where_it_alone_stands_in_the_way() -> None:
    text = sheet(site=", burning: {permit: held}", more="wishes: {avoid: [burn]}")
    assert "If you let go of a wish: cut it short, pile it and burn it. You asked to avoid this method." in text
    assert "burn it !" in text


def test_without_hands_nothing_is_promised() -> None:
    text = sheet(crew="")
    assert "Nobody is named to do the work" in text
    assert "If money is short" not in text


def test_what_costs_nobody_knows_has_a_question_mark_and_a_name() -> None:
    text = sheet()
    assert re.search(r"\* Not in it, for want of a price: [^.]*chipper", text)
    assert "?*" in text


@pytest.mark.parametrize(("scope", "said"), [("T1", "are in the hours and the money"), ("T1/1", "as it lies")])
def test_felling_is_in_it_for_a_tree_and_not_for_a_piece(scope: str, said: str) -> None:
    assert said in sheet(scope=scope)


def test_all_says_more_and_where_it_is_from() -> None:
    short, whole = sheet(), sheet(whole=True)
    assert len(whole) > 1.5 * len(short)
    assert "Zarges" in whole or "debarking" in whole
    assert "Costs" in whole
