"""A change against the plan as it stands: its figures are those of an order of its own for the changed site."""

import json
import re
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from made_sites import ON, site_text

from barkwright.inventory.model import Inventory
from barkwright.inventory.reading import read_inventory
from barkwright.output.measures import Units
from barkwright.output.order import order_text
from barkwright.output.order_json import order_result
from barkwright.plan import Plan, plan_order
from barkwright.schedule.verify import verify
from barkwright.study import outcome
from barkwright.study.compare import compared, verdict_of
from barkwright.study.phrases import read_phrase

SHORT: dict[str, Any] = {"days": "[sat]", "start": "2027-05-15", "hired": False}
PHRASES = (
    "rent chipper 12 in at 310 a day, 90 delivery", "rent chipper 12 in", "drop chipper", "one more person",
    "one more weekend", "2 more days", "forbid chip", "allow burn", "start 2027-02-15", "budget 200", "no budget",
)  # fmt: skip


def read(text: str) -> Inventory:
    inventory, faults = read_inventory(text, "site.yaml", ON)
    assert inventory is not None, faults[:3]
    return inventory


def with_tries(inventory: Inventory, *phrases: str) -> Plan:
    return plan_order(inventory, ON, changes=[read_phrase(phrase, inventory, ON) for phrase in phrases])


def figures(plan: Plan) -> tuple[float, Decimal, int, date | None]:
    """What an order says of itself: bark left, money to pay, days of work, last day on which wood is worked."""
    result = order_result(plan)
    treats = [job for job in result["jobs"] if job["work"] not in ("inspect", "look again", "call")]
    return (
        result["infested_bark_ft2"]["left_at_onset"],
        Decimal(result["cost"]["to_pay"]),
        len({day["date"] for job in result["jobs"] for day in job["day_hours"]}),
        max((date.fromisoformat(job["end"]) for job in treats), default=None),
    )


MORE = "limits: {budget: 2500}\nwishes: {avoid: [burn]}\n"


@pytest.fixture(scope="module")
def tried() -> Plan:
    """A small site with every change tried on it."""
    return with_tries(read(site_text(3, 3, more=MORE)), *PHRASES)


@pytest.mark.parametrize("number", range(len(PHRASES)), ids=PHRASES)
def test_both_sides_are_the_figures_of_two_orders(tried: Plan, number: int) -> None:
    one = tried.tries[number]
    other = plan_order(one.change.inventory, ON)
    assert other.broken == ()
    for side, order in ((one.now, tried), (one.then, other)):
        assert side is not None
        left, paid, days, last = figures(order)
        assert (side.left_ft2, side.days, side.last) == (pytest.approx(left, abs=0.001), days, last)
        assert side.to_pay == pytest.approx(paid, abs=Decimal("0.005"))


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(3))
def test_more_hands_and_days_never_leave_more_bark(seed: int) -> None:
    inventory = read(site_text(seed, 5, **SHORT))
    for one in with_tries(inventory, "one more person", "one more weekend").tries:
        assert one.then is not None
        assert one.now.left_ft2 > 0
        assert one.then.left_ft2 <= one.now.left_ft2 + 0.01, one.change.phrase


def test_a_day_off_is_worked_and_the_checker_knows_it() -> None:
    inventory = read(site_text(3, 4, **SHORT))
    change = read_phrase("one more day", inventory, ON)
    plan = plan_order(change.inventory, ON)
    (day,) = change.inventory.crew[0].extra_days
    assert day.weekday() != 5
    assert day in {when for job in plan.schedule.jobs for when, _ in job.day_hours}
    assert plan.broken == ()
    assert any(str(day) in one or "ridge crew" in one for one in verify(plan.schedule, plan_order(inventory, ON).work))


def test_a_plan_that_fails_the_check_is_not_shown(monkeypatch: pytest.MonkeyPatch) -> None:
    inventory = read(site_text(3, 2))
    good = outcome.best_plan
    monkeypatch.setattr(
        outcome, "best_plan", lambda work, watch: replace(good(work), broken=("J1 begins in the night.",))
    )
    plan = with_tries(inventory, "one more person")
    (one,) = plan.tries
    assert plan.broken == ()
    assert one.then is None
    assert verdict_of(one) == "not shown"
    text = order_text(plan, Units(), "site.yaml")
    assert "failed the program's own check and is not shown" in " ".join(text.split())


def test_the_way_in_which_it_is_better_is_said_in_words() -> None:
    plan = with_tries(read(site_text(3, 4, **SHORT)), "start now", "budget 300")
    sooner, poorer = plan.tries
    assert sooner.then is not None and sooner.then.left_ft2 < sooner.now.left_ft2  # noqa: PT018
    saved = round(sooner.now.left_ft2 - sooner.then.left_ft2)
    assert compared(sooner, "USD").startswith(f"Better: it leaves {saved} ft2 less infested bark")
    assert compared(poorer, "USD").startswith("Worse: it leaves")
    assert verdict_of(poorer) == "worse"
    same = with_tries(read(site_text(3, 4, **SHORT)), "no budget").tries[0]
    assert compared(same, "USD") == "It makes no difference."
    assert verdict_of(same) == "no different"


def test_the_page_holds_both_plans_within_eighty_columns(tried: Plan) -> None:
    page = order_text(tried, Units(True), "site.yaml")
    part = page[page.index("WHAT IF") : page.index("DO AND DO NOT")]
    assert max(map(len, part.splitlines())) <= 80
    assert "as it stands" in part
    assert all(phrase.split()[0] in part for phrase in PHRASES)
    assert "(placeholder" in part
    assert "sq ft" not in part  # metric all through
    assert re.search(r"leaves [\d.]+ m2 more infested bark", " ".join(part.split()))


def test_the_probability_is_shown_where_it_is_reckoned() -> None:
    inventory = read(site_text(3, 2))
    plan = plan_order(inventory, ON)
    now = outcome.outcome_of(plan.work, plan.schedule, lambda work, schedule: 0.5)
    change = read_phrase("one more person", inventory, ON)
    one = outcome.tried(plan.work, now, change, lambda work, schedule: 0.75)
    assert (one.now.sure, one.then and one.then.sure) == (0.5, 0.75)
    assert "25 in 100 more likely to end in time" in compared(one, "USD")


def test_json_and_text_say_the_same() -> None:
    plan = with_tries(read(site_text(3, 3)), "one more person")
    (record,) = order_result(plan)["tries"]
    assert record["text"] == compared(plan.tries[0], "USD")
    assert json.loads(json.dumps(record)) == record
    assert record["phrase"] == "one more person with ridge crew"
    for side, shown in ((record["now"], plan.tries[0].now), (record["then"], plan.tries[0].then)):
        assert side is not None
        assert shown is not None
        assert side["probability"] == pytest.approx(shown.sure, abs=0.0005)
