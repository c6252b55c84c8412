"""Changes that an order proposes by itself: where something is missed, or one change saves a tenth of the money."""

from dataclasses import replace

import pytest
from made_sites import planned, site_text

from barkwright.output.measures import Units
from barkwright.output.order import order_text
from barkwright.plan import Plan, plan_order
from barkwright.study import advice
from barkwright.study.efforts import CHANGES
from barkwright.study.phrases import read_phrase

MISSES = site_text(3, 6, days="[sat]", start="2027-05-15", hired=False)


@pytest.fixture(scope="module")
def missing() -> Plan:
    """A plan that misses something."""
    return planned(MISSES)


def test_what_misses_gets_the_best_two_changes_with_what_they_buy(missing: Plan) -> None:
    plan = missing
    assert plan.schedule.unmet
    assert 1 <= len(plan.changes) <= 2
    assert len({one.change.family for one in plan.changes}) == len(plan.changes)
    for one in plan.changes:
        assert one.then is not None
        assert one.saved_ft2 > 0
        again = plan_order(one.change.inventory, plan.on)
        assert again.schedule.infested_left_ft2 == pytest.approx(one.then.left_ft2)
    text = " ".join(order_text(plan, Units(), "site.yaml").split())
    assert "would buy much" in text
    assert all(one.change.title in text for one in plan.changes)


def test_a_proposal_is_a_phrase_that_can_be_asked_for(missing: Plan) -> None:
    plan = missing
    for one in plan.changes:
        assert read_phrase(one.change.phrase, plan.inventory, plan.on).inventory == one.change.inventory


def test_a_proposal_that_was_asked_for_is_shown_once(missing: Plan) -> None:
    plan = missing
    first = plan.changes[0].change
    text = order_text(replace(plan, tries=plan.changes[:1]), Units(), "site.yaml")
    assert " ".join(text.split()).count(f"- {first.title}.") == 1


def test_a_sentence_of_what_is_missed_speaks_of_the_plan_that_was_made_again(missing: Plan) -> None:
    plan = missing
    said = {one.change for one in plan.schedule.unmet}
    for one in plan.changes:
        for text in said:
            if text.startswith(one.change.title):
                assert f"would save {round(one.saved_ft2)} ft2" in text


def test_a_method_to_avoid_that_costs_a_tenth_more_is_named_where_nothing_is_missed() -> None:
    plan = planned(site_text(3, 3) + "wishes: {avoid: [burn, debark]}\n")
    assert not plan.schedule.unmet
    (one,) = plan.changes
    assert one.change.phrase == "allow debark"
    assert one.then is not None
    assert float(one.saved) > CHANGES["worth_saying"] * float(one.now.to_pay)
    assert one.then.left_ft2 <= one.now.left_ft2 + 0.01


def test_nothing_is_proposed_where_nothing_would_help_much() -> None:
    plan = planned(site_text(3, 3))
    assert not plan.schedule.unmet
    assert plan.changes == ()
    assert "WHAT IF" not in order_text(plan, Units(), "site.yaml")


def test_on_a_larger_site_a_proposal_stays_a_guess_and_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    figures = {**{name: CHANGES[name] for name in CHANGES.whole}, "replans_pieces": 10.0}
    monkeypatch.setattr(advice, "CHANGES", figures)
    plan = planned(MISSES)
    assert plan.changes
    assert all(one.then is None and one.saved_ft2 > 0 for one in plan.changes)
    assert "a quick guess, not planned in full" in " ".join(order_text(plan, Units(), "site.yaml").split())


def test_above_a_number_of_pieces_nothing_is_tried(monkeypatch: pytest.MonkeyPatch) -> None:
    figures = {**{name: CHANGES[name] for name in CHANGES.whole}, "changes_pieces": 10.0}
    monkeypatch.setattr(advice, "CHANGES", figures)
    monkeypatch.setattr(advice, "site_model", None)  # would fail if it were asked for
    plan = planned(MISSES)
    assert plan.changes == ()
    assert all(one.change.endswith(".") for one in plan.schedule.unmet)


def test_nobody_is_proposed_nothing() -> None:
    text = site_text(3, 3)
    start = text.index("crew:")
    plan = planned(text[:start] + text[text.index("equipment:") :])
    assert plan.schedule.unmet
    assert plan.changes == ()


def test_a_budget_that_would_do_is_named() -> None:
    plan = planned(site_text(3, 4) + "limits: {budget: 300}\n")
    assert any(one.change.startswith("A budget of ") for one in plan.schedule.unmet)
