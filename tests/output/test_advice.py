"""The sentences that stand beside the work: sound data, and each printed only where its work is."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path
from typing import get_args

import pytest

from barkwright.inventory.model import Hazard, Kind, Method, Status
from barkwright.output.advice import Advice, Basis, advice_for, all_advice, tags_of
from barkwright.output.advice import Kind as AdviceKind
from barkwright.output.measures import Units
from barkwright.output.needs import all_needs, need_questions
from barkwright.output.view import View
from barkwright.sources import cite
from barkwright.treatment.rulebook import shipped
from barkwright.treatment.ways import Work
from planned_sites import planned

EXAMPLES = Path(__file__).parents[2] / "examples"
WORDS = {
    "work": get_args(Work),
    "tool": get_args(Kind),
    "status": get_args(Status),
    "hazard": get_args(Hazard),
    "method": get_args(Method),
    "brood": ("larvae", "adults", "unknown", "host"),
    "felling": ("crew", "professional", "provisional", "not-needed", "not-allowed", "by-crew"),
    "caution": ("felling", "saw-work", "dead-tree", "lines", "windthrow", "jackstraw", "climbing", "lift"),
    "permit": ("held", "not-needed", "refused", "unknown"),
    "have": get_args(Kind),
    "bark": ("slipping", "dormant", "frozen", "loosened", "dried"),
}
SINGLE = {
    "always",
    "green-felling",
    "slash-left",
    "burning",
    "digging",
    "log-work",
    "dead-standing",
    "machine-and-felling",
}


def view_of(name: str, on: date, change: tuple[str, str] = ("", "")) -> View:
    text = (
        (EXAMPLES / name).read_text(encoding="utf-8").replace(*change) if change[0] else (EXAMPLES / name).read_text()
    )
    return View(planned(text, on), Units(), name)


@pytest.mark.parametrize("entry", all_advice(), ids=lambda entry: entry.id)
def test_each_entry_is_sound(entry: Advice) -> None:
    assert entry.kind in get_args(AdviceKind)
    assert entry.basis in get_args(Basis)
    assert entry.when
    for tag in (*entry.when, *entry.only_with, *entry.unless):
        group, colon, word = tag.partition(":")
        assert (tag in SINGLE) if not colon else (word in WORDS[group]), tag
    assert bool(entry.sources) == (entry.basis == "published")
    for source in entry.sources:
        assert cite(source).locator
    assert bool(entry.topic) == (entry.kind == "caution")
    assert re.match(r"[A-Z]", entry.text)
    assert entry.text.endswith(".")


def test_ids_are_unique() -> None:
    ids = [entry.id for entry in all_advice()]
    assert len(ids) == len(set(ids))


def test_each_need_that_a_rule_names_is_explained() -> None:
    named = {code for rule in shipped().rules for code in rule.needs}
    assert named <= set(all_needs())
    assert named


def test_a_question_that_a_stage_has_asked_is_not_asked_again() -> None:
    (permit,) = need_questions(["burn-permit", "locate-services"], [])
    assert permit.code == "burn-permit"
    assert need_questions(["burn-permit"], [permit]) == ()


def test_cautions_belong_to_the_work_on_the_order() -> None:
    yard = {entry.topic for entry in advice_for(view_of("yard-tree.yaml", date(2026, 11, 25)), "caution")}
    removal = {entry.topic for entry in advice_for(view_of("removal-24.yaml", date(2026, 11, 25)), "caution")}
    woodlot = {entry.topic for entry in advice_for(view_of("woodlot-60.yaml", date(2027, 3, 1)), "caution")}
    assert {"First of all", "Saw work", "Felling"} <= yard & removal & woodlot
    assert not {"Power lines", "Chipper", "Digging"} & yard
    assert {"Power lines", "Chipper"} <= removal
    assert "Digging" in woodlot
    assert "Power lines" not in woodlot


def test_what_only_the_feller_needs_is_not_told_to_a_crew_that_fells_nothing() -> None:
    view = view_of("yard-tree.yaml", date(2026, 11, 25))
    said = {entry.id for entry in advice_for(view, "caution")}
    assert "felling:by-crew" not in tags_of(view)
    assert "by-professional" in said
    assert not {"hinge", "stop-weather"} & said


def test_a_pump_is_named_where_it_is_listed_and_something_burns() -> None:
    """The woodlot burns in winter; the yard tree is split and burns nothing in the open."""
    pump = (
        "equipment:\n",
        "equipment:\n  - {kind: water-pump, owned: true}\n  - {kind: moisture-meter, owned: true}\n",
    )
    woodlot = view_of("woodlot-60.yaml", date(2026, 11, 25), pump)
    assert "burning" in tags_of(woodlot)
    assert "pump-at-fire" in {entry.id for entry in advice_for(woodlot, "do")}
    without = view_of("woodlot-60.yaml", date(2026, 11, 25))
    assert "pump-at-fire" not in {entry.id for entry in advice_for(without, "do")}


@pytest.mark.parametrize(
    ("tags", "said"),
    [
        ({"method:split"}, set()),
        ({"have:moisture-meter"}, set()),
        ({"method:split", "have:moisture-meter"}, {"measure-fuel"}),
        ({"burning", "have:water-pump"}, {"pump-at-fire"}),
    ],
)
def test_advice_on_a_tool_takes_the_work_and_the_tool(
    tags: set[str], said: set[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("barkwright.output.advice.tags_of", lambda view: frozenset(tags))
    found = {entry.id for entry in advice_for(view_of("yard-tree.yaml", date(2026, 11, 25)), "do")}
    assert found & {"measure-fuel", "pump-at-fire"} == said
