"""The shipped rulebook is proven: facts, units, citations, sentences; every rule can fire and none denies another."""

import re
from typing import get_args

import pytest

from barkwright.inventory.model import Kind, Method
from barkwright.treatment.conditions import facts
from barkwright.treatment.limits import LIMITS
from barkwright.treatment.proof import contradictions, prove
from barkwright.treatment.rulebook import reach, shipped, shipped_records, templates, way_file

RULES = shipped_records()
by_rule = pytest.mark.parametrize("rule", [pytest.param(one, id=one.id) for one in RULES])


@by_rule
def test_shipped_rule_is_proven(rule):
    assert prove(rule) == ()


def test_no_shipped_rule_denies_another():
    assert contradictions(RULES, [one.id for one in RULES]) == ()


def test_rule_ids_are_unique_and_kebab():
    ids = [one.id for one in RULES]
    assert ids == sorted(set(ids))
    assert all(re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", one) for one in ids)


@by_rule
def test_the_sentence_is_one_a_client_can_read(rule):
    said = re.sub(r"\{[a-z_.]+\}", "It", rule.because)
    assert said.endswith("."), said
    assert said[0].isupper(), said
    assert not re.search(r"[_{}]|\b(dob|dbh|verdict|template|fact|null|None)\b", said), said
    assert len(said) < 260, said


@by_rule
def test_numbers_in_a_sentence_carry_a_unit(rule):
    bare = re.sub(r"\{[a-z_.]+\}|\(811 in the United States\)", "", rule.because)
    units = r" ?(%|in\b|ft\b|miles?\b|hours|of about|ash borer|people|for such|came through)"
    for match in re.finditer(r"\d[\d,.]*\d|\d", bare):
        after = bare[match.end() :]
        assert re.match(units, after) or re.match(r" to \d", after) or re.match(r",? and", after), (match[0], bare)


def test_every_fact_is_asked_or_shown_by_some_rule():
    asked = {one["fact"] for rule in RULES for one in rule.when}
    asked |= {one["fact"] for way in way_file().ways for one in way.applies}
    shown = {name for rule in RULES for name in re.findall(r"\{([a-z_.]+)\}", rule.because)}
    spare = set(facts()) - asked - shown
    for_local_rules_and_why = {
        "piece.over_maker_in",
        "brood.stage",
        "site.chipper_maker",
        "way.end_miles",
        "site.burn_windows_given",
        "site.machine_skill",
        "tree.bark_own",
    }
    assert spare <= for_local_rules_and_why


def test_every_way_has_known_steps_tools_and_one_step_that_completes():
    for way in templates().values():
        assert all(step.do in way_file().do for step in way.steps), way.id
        assert all(tool in get_args(Kind) for tool in way.tools), way.id
        assert all(step.tool is None or step.tool in way.tools for step in way.steps), way.id
        assert sum(step.completes for step in way.steps) == (0 if way.id == "leave" else 1), way.id


def test_every_method_has_ways_and_every_step_is_used():
    assert {way.method for way in templates().values()} == set(get_args(Method))
    assert {step.do for way in templates().values() for step in way.steps} == set(way_file().do)


@pytest.mark.parametrize("way", [pytest.param(one, id=one) for one in templates()])
def test_every_way_is_judged_by_a_rule_of_its_own(way):
    general = {one.id for one in RULES if not (one.methods or one.ways or one.does or one.tools)}
    assert any(way in reach(one) for one in RULES if one.id not in general)


def test_every_limit_has_a_source_or_a_basis():
    assert all(one.sources or one.basis for one in LIMITS.whole.values())


def test_the_book_is_in_order_of_id_whatever_the_files_say():
    ids = [one.id for one in shipped().rules]
    assert ids == sorted(ids)
