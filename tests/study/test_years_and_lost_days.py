"""How sure a plan is where daily weather is known: its years, its lost days."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import numpy as np
import pytest

from barkwright.cli.weather import with_weather
from barkwright.inventory.reading import read_inventory
from barkwright.plan import plan_order
from barkwright.season.lostdays import lost_days
from barkwright.season.weatherflight import usable
from barkwright.study.dice import Dice
from barkwright.study.onsets import onsets_of
from barkwright.study.planned import planned

SITE = Path(__file__).parents[2] / "examples" / "lake-lot-weather.yaml"
ON = date(2026, 11, 25)


@pytest.fixture(scope="module")
def plan():
    text = SITE.read_text(encoding="utf-8")
    inventory, faults = read_inventory(text, str(SITE), ON)
    assert inventory is not None, faults
    inventory, faults = with_weather(inventory, text, str(SITE), ())
    assert not [one for one in faults if one.severity == "error"]
    return plan_order(inventory, ON)


def test_each_usable_year_gives_one_onset_in_the_year_of_the_flight(plan):
    found = onsets_of(plan.season, 2027)
    springs = usable(plan.season)
    assert found.years == len(found.days) == len(springs) > 3
    assert {day.year for day in found.days} == {2027}
    after = sorted((one.onset - date(one.year, 3, 1)).days for one in springs)
    assert [(day - date(2027, 3, 1)).days for day in found.days] == after


def test_the_years_are_told_with_the_range_that_so_few_leave(plan):
    assert plan.risk is not None
    assert plan.risk.years == len(usable(plan.season))
    low, high = plan.risk.range
    assert 0 <= low < plan.risk.probability <= high <= 1
    assert plan.risk.weather


def test_days_are_lost_as_often_as_the_record_says(plan):
    lost = lost_days(plan.season)
    run, count = planned(plan.schedule, plan.work, date(2027, 5, 31)), 4000
    clocks = run.clocks(Dice(3, run.length).throw(count), count)
    for number, crew in enumerate(run.hours):
        expected = sum(hours * (1 - run.lost[day]) for day, hours in enumerate(crew))
        assert float(np.mean(clocks.opens(number, run.length))) == pytest.approx(expected, rel=0.02)
        assert float(np.max(clocks.opens(number, run.length))) <= sum(crew) + 1
    assert max(run.lost) == max(lost.shares[month] for month in (10, 11, 0, 1, 2, 3, 4))
