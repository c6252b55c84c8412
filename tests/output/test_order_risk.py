"""How sure the plan is, as a client reads it."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

import pytest
from made_up import plan, risk

from barkwright.output.measures import Units
from barkwright.output.order import order_text
from barkwright.output.order_risk import of_hundred
from barkwright.output.risk_json import risk_record
from barkwright.study.risk import FlightRisk


def block(found, trees: int = 3, metric: bool = False) -> str:
    made = plan(trees)
    made.risk = found
    text = order_text(made, Units(metric=metric), "x.yaml")
    if "HOW SURE IT IS IN TIME" not in text:
        return ""
    return re.sub(r"\s+", " ", text[text.index("HOW SURE IT IS") : text.index("DO AND DO NOT")])


def test_the_chance_the_date_and_what_is_short_are_said_with_their_units():
    text = block(risk("T1", "T2", "T3"))
    assert "In 87 of 100 years like those on record the work is done before the beetles fly." in text
    assert (
        "In 8 of 10 it is done by Thu 20 May 2027. For 9 of 10 to be in time, all of it would have to be done 3 days"
        in text
    )
    assert "On average 8 sq ft of infested bark is left." in text
    assert "On average 0.8 m2 of infested bark is left." in block(risk("T1"), metric=True)


def test_a_date_before_the_last_day_of_the_order_says_how_the_runs_differ():
    early = replace(risk("T1"), flights=(replace(risk("T1").flights[0], finish=date(2026, 11, 1)),))
    assert "by Sun 1 Nov 2026, each job begun as soon as it may be, not on its day in this order." in block(early)
    late = replace(risk("T1"), flights=(replace(risk("T1").flights[0], finish=date(2027, 12, 1)),))
    assert "it is done by Wed 1 Dec 2027." in block(late)
    assert "each job begun as soon as it may" in block(late)


def test_few_years_are_said_to_tell_little():
    text = block(risk("T1", years=9))
    assert "in 9 years by the daily record. So few years tell little" in text
    assert "anywhere from 64 to 97 of 100" in text
    assert "days lost to weather" in text[: text.index("Not in it")]


def test_a_calendar_is_no_record_and_says_so():
    text = block(risk("T1", years=0))
    assert "In 87 of 100 trial runs the work is done before the flight date of the calendar." in text
    assert "the one flight date of the calendar." in text
    left_out = text[text.index("Not in it") :]
    assert "Flights that come early, days lost to weather" in left_out


@pytest.mark.parametrize(
    ("spare", "said"),
    [
        (1, ". Were all of it 1 day later, 9 of 10 would still be in time."),
        (0, "by Thu 20 May 2027. On"),
        (None, "by Thu 20 May"),
    ],
)
def test_days_to_spare(spare, said):
    assert said in block(risk("T1", spare=spare))


def test_the_least_sure_trees_are_named_and_a_single_one_is_not():
    assert "Least sure T1 (50 of 100), T2 (60 of 100) and T3 (70 of 100)." in block(risk("T1", "T2", "T3", "T4"))
    many = risk(*[f"T{number}" for number in range(1, 10)])
    many = replace(many, trees=tuple(replace(one, probability=0.1) for one in many.trees))
    assert "T6 (10 of 100) and 3 more trees." in block(many)
    assert "Least sure" not in block(risk("T1"))


def test_each_of_two_flights_has_its_line():
    two = risk("T1")
    two = replace(two, flights=(*two.flights, FlightRisk(2028, 1.0, None, 40, 9)))
    text = block(two)
    assert "Flight 2027 In time in 87 of 100. In 8 of 10 it is done by Thu 20 May 2027" in text
    assert (
        "Flight 2028 In time in all. In 8 of 10 it takes until long after the flight begins. Were all of it 40" in text
    )


def test_what_misses_its_date_is_not_counted_and_nothing_to_stop_is_not_told():
    made = plan(2, unmet=True)
    assert "What misses its date is not counted." in re.sub(r"\s+", " ", order_text(made, Units(), "x.yaml"))
    assert "What misses" not in block(risk("T1"))
    assert block(None) == ""
    assert risk_record(None) is None


@pytest.mark.parametrize(
    ("share", "said"),
    [
        (0.0, "none"), (0.001, "fewer than 1 of 100"), (0.005, "1 of 100"), (0.475, "48 of 100"), (0.994, "99 of 100"),
        (0.996, "more than 99 of 100"), (1.0, "all"),
    ],
)  # fmt: skip
def test_a_share_that_is_not_whole_is_never_told_as_none_or_all(share, said):
    assert of_hundred(share) == said


def test_the_record_has_every_figure():
    found = risk_record(risk("T1", "T2"))
    assert found is not None
    assert found["probability"] == 0.87
    assert found["flights"] == [
        {"year": 2027, "probability": 0.87, "finish": date(2027, 5, 20).isoformat(), "spare_days": -3, "years": 9}
    ]
    assert found["range"] == {"low": 0.64, "high": 0.97, "level": 0.9}
    assert [one["tree"] for one in found["trees"]] == ["T1", "T2"]
    assert found["infested_left_ft2"] == 8.4
