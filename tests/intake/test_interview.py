"""The questions one after the other, without a terminal."""

import json
from dataclasses import replace
from datetime import date
from typing import get_args

import click
import pytest

from barkwright.cli.main import main
from barkwright.intake.described import one_tree_sheet
from barkwright.intake.draft import NoDraftError, draft_text, with_draft
from barkwright.intake.interview import Interview, back, current, steps
from barkwright.intake.questions import question_book
from barkwright.intake.replying import all_options, reply, sheet_of
from barkwright.inventory.model import Inventory, Species
from barkwright.inventory.reading import read_inventory
from barkwright.sources import DATA

ON = date(2026, 11, 27)
YARD = {
    "line": "far", "building": "85 ft", "road": "far", "neighbour": "120", "hazard": "", "place": "53.1, -122.4",
    "status": "", "species": "white", "girth": "52 in", "height": "72", "attacked": "2026", "found": "larvae",
    "looked": "base, sunny, shaded", "seen": "2026-10-20", "people": "2", "days": "", "skills": "saw",
    "own": "chain saw, drawknife", "rent": "chipper 9 in 310/day delivery 90", "permit": "dk", "start": "2026-11-28",
    "name": "Tamarack Bend", "where": "north fence", "more": "no", "hours": "", "rate": "",
}  # fmt: skip


def go(interview: Interview, answers: dict[str, str]) -> Interview:
    """Answer until there is no answer left to give."""
    while (step := current(interview)) is not None and step.question.id in answers:
        turn = reply(interview, answers[step.question.id])
        assert not turn.refused, (step.key, turn.said)
        interview = turn.interview
    return interview


def asked(interview: Interview) -> str:
    step = current(interview)
    return step.key if step else ""


def read(interview: Interview) -> Inventory:
    inventory, found = read_inventory(sheet_of(interview).text, "answers", ON)
    assert inventory is not None, found
    return inventory


def begin(command: str = "tree", **given: object) -> Interview:
    return Interview(command, ON, given=given)  # type: ignore[arg-type]


def test_dangers_come_before_anything_else_about_the_tree():
    order = [step.question.topic for step in steps(begin(), likely=True)]
    assert order[0] == "What stands within reach"
    assert order.index("The place") > max(n for n, topic in enumerate(order) if topic == "What stands within reach")


def test_a_yard_tree_takes_about_twenty_questions():
    assert len(steps(go(begin(), YARD))) <= 21
    assert len(steps(go(begin(), YARD | {"found": "dk"}))) <= 19


def test_the_inventory_is_sound_and_the_same_as_by_options():
    interview = go(begin(), YARD)
    assert current(interview) is None
    inventory = read(interview)
    options = {"hours_per_day": "6", **all_options(interview)}
    same, found = read_inventory(one_tree_sheet(options, "imperial").text, "options", ON)
    assert same == inventory, found
    assert inventory.trees[0].near.building == 85
    assert inventory.trees[0].breast_height_in == pytest.approx(16.55, abs=0.01)


@pytest.mark.parametrize("species", get_args(Species))
def test_every_species(species: str):
    assert read(go(begin(), YARD | {"species": species})).trees[0].species == species


@pytest.mark.parametrize(
    ("status", "more"),
    [
        ("windthrown", {"down-since": "2026-09-01", "looked-down": "top, bottom", "stood": "no"}),
        ("felled", {"felled-on": "2026-10-01", "looked-down": "top, bottom", "stood": "yes"}),
        (
            "logs",
            {"log": "14.2, 12.9, 8; 12, 11, 8, x2", "felled-on": "2026-10", "looked-down": "top", "stood": "dk"},
        ),
        ("stump", {"diameter": "19 in", "felled-on": "dk", "stood": "yes"}),
    ],
)
def test_every_status(status: str, more: dict[str, str]):
    interview = go(begin(), YARD | {"status": status} | more)
    assert current(interview) is None
    assert read(interview).trees[0].status == status


def test_all_unknown_is_an_answer_and_what_is_missing_stays_open():
    interview = go(begin(), {question.id: "don't know" for question in question_book().questions})
    assert current(interview) is None
    inventory, found = read_inventory(sheet_of(interview).text, "answers", ON)
    assert inventory is None
    wrong = {one.message for one in found if one.severity == "error"}
    assert all("missing" in message or "needs its dbh" in message for message in wrong), wrong
    assert "# girth:" in sheet_of(interview).text


def test_answers_make_others_moot():
    keys = [step.question.id for step in steps(go(begin(), YARD | {"attacked": "never"}))]
    assert not {"found", "looked", "seen", "line-kind", "crown"} & set(keys)
    assert "crown" in [step.question.id for step in steps(go(begin(), YARD | {"attacked": "dk"}))]
    assert "line-kind" in [step.question.id for step in steps(go(begin(), YARD | {"line": "35"}))]


def test_a_near_line_is_met_with_a_clear_word():
    for answer in ("35 ft", "dk"):
        assert any("KEEP AWAY" in said for said in reply(begin(), answer).said)
    assert not reply(begin(), "far").said


def test_back_over_several_questions_and_on_from_the_first_open_one():
    interview = go(begin(), {key: YARD[key] for key in ("line", "building", "road", "neighbour", "hazard")})
    assert asked(interview) == "place"
    for _ in range(4):
        interview = back(interview) or interview
    assert asked(interview) == "T1.building"
    interview = reply(interview, "40 ft").interview
    assert asked(interview) == "place"
    assert interview.answers["T1.building"] == "40 ft"
    for _ in range(9):
        interview = back(interview) or interview
    assert asked(interview) == "T1.line"
    assert back(interview) is None
    kept = reply(interview, "").interview
    assert (asked(kept), kept.answers["T1.line"]) == ("place", "out-of-reach")


@pytest.mark.parametrize(
    ("question", "text", "said"),
    [
        ("girth", "700 in", "out of range"),
        ("height", "1 ft", "height"),
        ("place", "95, -122", "latitude"),
        ("attacked", "2031", "future"),
        ("seen", "2027-01-01", "lies after"),
        ("people", "0", "out of range"),
        ("start", "1900-01-01", "out of range"),
    ],
)
def test_the_inventorys_own_checks_refuse_an_answer(question: str, text: str, said: str):
    before = dict(YARD)
    del before[question]
    interview = go(begin(), before)
    turn = reply(interview, text)
    assert turn.refused
    assert said in turn.said[0]
    assert turn.interview == interview


def test_an_odd_answer_is_taken_and_said():
    interview = go(begin(), {key: value for key, value in YARD.items() if key != "height"})
    turn = reply(interview, "300 ft")
    assert not turn.refused
    assert turn.said


def test_an_option_given_is_not_asked():
    interview = begin(
        species="white", near=("line=35ft",), latitude="53.1", longitude="-122.4", dbh="16.5", own=("axe",)
    )
    keys = {step.question.id for step in steps(interview)}
    assert not {"species", "line", "place", "girth", "own"} & keys
    assert "line-kind" in keys
    inventory = read(go(interview, YARD | {"line-kind": "house"}))
    assert inventory.trees[0].near.line == 35
    assert [one.kind for one in inventory.equipment] == ["axe", "chipper"]


def test_every_question_names_options_that_there_are():
    options = {
        name: {opt for one in main.commands[name].params if isinstance(one, click.Option) for opt in one.opts}
        for name in ("tree", "new")
    }
    keys = {one.name for one in main.commands["tree"].params} | {"name", "near", "place", "stem", "more"}
    for question in question_book().questions:
        assert question.options or question.id == "more"
        assert set(question.options) <= options["tree"] | options["new"], question.id
        assert question.key.partition(".")[0] in keys, question.id
        if "tree" in question.commands:
            assert set(question.options) <= options["tree"], question.id


def test_what_is_asked_can_be_shown_on_every_terminal():
    assert (DATA / "intake/questions.yaml").read_text(encoding="utf-8").isascii()


def test_conditions_name_questions_and_answers_that_there_are():
    book = question_book().questions
    ids = [question.id for question in book]
    assert len(set(ids)) == len(ids)
    for place, question in enumerate(book):
        for earlier, wanted in question.when.items():
            assert earlier in ids[:place], question.id
            words = {*book[ids.index(earlier)].choices, "known", "unknown", "measured", "-never"}
            assert set(wanted) <= words, question.id
        assert set(question.says.values()) <= {
            value for value in question.says.values()
            if all(part in {*question.choices, "none", "never", *"1234"} for part in value.split(","))
        }, question.id  # fmt: skip


def test_a_second_tree_keeps_the_place_and_offers_what_the_first_was():
    first = go(begin("new"), YARD | {"more": ""} | {"species": "engelmann"})
    assert current(first) is None
    two = replace(first, answers={**first.answers, "T1.more": "yes"})
    assert asked(two) == "T2.line"
    second = {**YARD, "species": "", "status": "", "attacked": "", "seen": "", "line": "dk", "building": "30"}
    inventory = read(go(two, second))
    assert [(tree.id, tree.species, tree.near.building) for tree in inventory.trees] == [
        ("T1", "engelmann", 85), ("T2", "engelmann", 30)
    ]  # fmt: skip
    assert inventory.trees[1].near.line == "not-checked"
    assert inventory.crew[0].unpaid


def test_a_draft_brings_every_answer_back():
    interview = go(begin(), YARD | {"place": "Soldotna"})
    resumed, lost = with_draft(begin(), draft_text(interview))
    assert (resumed, lost) == (interview, 0)


def test_a_draft_brings_several_trees_back():
    first = go(begin("new"), YARD)
    two = replace(first, answers={**first.answers, "T1.more": "yes"})
    both = go(two, YARD)
    assert with_draft(begin("new"), draft_text(both)) == (both, 0)


def test_an_answer_of_a_draft_that_no_longer_holds_is_asked_again():
    record = json.loads(draft_text(go(begin(), YARD)))
    record["answers"]["species"] = 7
    record["answers"]["T1.species"] = "teak\x1b[2J"
    resumed, lost = with_draft(begin(), json.dumps(record))
    assert lost == 1
    assert asked(resumed) == "T1.species"


@pytest.mark.parametrize(
    "text", ["", "{", "[" * 100_000, "7", '{"barkwright-draft": 1}', '{"barkwright-draft": 1, "command": "new"}',
             '{"barkwright-draft": 1, "command": "tree", "units": "cubits", "answers": {}}'],
)  # fmt: skip
def test_what_is_no_draft_is_left_alone(text: str):
    with pytest.raises(NoDraftError):
        with_draft(begin(), text)
