"""How sure a plan is, on invented sites and records of weather."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from made_sites import planned, site_text

from barkwright.study import risk
from barkwright.study.dice import Dice
from barkwright.study.network import Run
from barkwright.study.onsets import Onsets, onsets_of
from barkwright.study.planned import planned as to_run
from barkwright.study.score import Score
from barkwright.study.settings import STUDY
from barkwright.study.stakes import stakes_of

SITES = {
    "tight": site_text(5, 20, days="[sat]", hired=False),
    "tighter": site_text(5, 30, days="[sat]"),
    "peeled": site_text(4, 12, days="[sat]", hired=False).replace("permit: held", "permit: refused"),
}
AFTER = (0, 3, 4, 9, 15, 15, 22)  # days after 14 May, by year on record


def _record(year, after=AFTER):
    """A made-up record of onsets for the flight of a year."""
    return Onsets(tuple(date(year, 5, 14) + timedelta(days=days) for days in after), len(after))


def _made_up(_, year):
    return _record(year)


@pytest.fixture(scope="module", params=list(SITES))
def plan(request):
    return planned(SITES[request.param])


def _ready(plan, record=onsets_of):
    """What is run: the plan, what is at stake in it, and the onsets it meets."""
    stakes = stakes_of(plan.schedule, plan.work)
    years = sorted({one.deadline.flight for one in stakes})
    known = {year: record(plan.season, year) for year in years}
    last = max(day for one in known.values() for day in one.days) + timedelta(days=60)
    return to_run(plan.schedule, plan.work, last), stakes, known


def _certain(plan):
    """The same without any spread."""
    run, stakes, known = _ready(plan)
    nodes = []
    for node in run.nodes:
        mean = (node.low + 4 * node.likely + node.high) / 6
        nodes.append(replace(node, low=mean, likely=mean, high=mean))
    return replace(run, nodes=tuple(nodes)), stakes, known


def test_the_chance_never_rises_with_the_margin_nor_leaves_0_to_1(plan):
    score = risk.run(*_ready(plan, _made_up), 400, 1)
    chances = [score.in_time(margin) for margin in range(-250, 250)]
    assert chances == sorted(chances, reverse=True)
    assert chances[0] == 1
    assert chances[-1] == 0
    assert len(set(chances)) > len(set(AFTER)) + 1


def test_the_spare_days_are_the_last_that_are_sure_enough(plan):
    score = risk.run(*_ready(plan, _made_up), 400, 1)
    year = min(score.onsets)
    spare = risk.spare_days(score, 0.9, year)
    assert score.in_time(spare, (year,)) >= 0.9 > score.in_time(spare + 1, (year,))


def test_without_spread_the_chance_is_a_step(plan):
    run, stakes, onsets = _certain(plan)
    score = Score(run, stakes, onsets)
    clocks = run.clocks(Dice(1, 1).throw(3), 3)
    part = score.part(clocks)
    Run(run.nodes, clocks).through(Dice(1, len(run.nodes)).throw(3), part.ended)
    score.add(part)
    assert {score.in_time(margin) for margin in range(-300, 300)} == {0.0, 1.0}
    assert set(score.trees().values()) <= {0.0, 1.0}


def test_without_spread_the_run_ends_when_the_plan_does(plan):
    # Between days a run packs hours a little closer or looser than a plan in half hours: a working day at most.
    run, stakes, onsets = _certain(plan)
    score = Score(run, stakes, onsets)
    clocks = run.clocks(Dice(1, 1).throw(1), 1)
    part = score.part(clocks)
    Run(run.nodes, clocks).through(Dice(1, len(run.nodes)).throw(1), part.ended)
    score.add(part)
    flight = {stake.job: stake.deadline.flight for stake in stakes}
    work_days = sorted({day for job in plan.schedule.jobs for day, _ in job.day_hours})
    for year in onsets:
        ended = run.first + timedelta(days=score.day_at(0.5, year))
        last = max(job.last for job in plan.schedule.jobs if flight.get(job.id) == year)
        between = [day for day in work_days if min(ended, last) < day <= max(ended, last)]
        assert len(between) <= 1, (ended, last)


def test_the_seed_alone_decides_and_not_how_many_are_run_at_a_time(plan):
    ready = _ready(plan, _made_up)
    whole = _figures(risk.run(*ready, 300, 1))
    assert whole == _figures(risk.run(*ready, 300, 1))
    assert whole == pytest.approx(_figures(risk.run(*ready, 300, 1, chunk=1)), rel=1e-9, abs=1e-12)
    assert whole == pytest.approx(_figures(risk.run(*ready, 300, 1, chunk=20_000)), rel=1e-9, abs=1e-12)
    assert whole != _figures(risk.run(*ready, 300, 2))
    assert risk.risk_of(plan.schedule, plan.work) == risk.risk_of(plan.schedule, plan.work)


def _figures(score):
    ends = [score.day_at(share / 20, year) for year in score.onsets for share in range(1, 20)]
    trees = [chance for _, chance in sorted(score.trees().items())]
    return [score.in_time(0), score.bark_late_ft2(), *trees, *[score.in_time(m) for m in range(-60, 60, 7)], *ends]


def test_the_site_is_no_surer_than_its_least_sure_tree_and_the_trees_cover_what_is_at_stake(plan):
    ready = _ready(plan, _made_up)
    score = risk.run(*ready, 400, 1)
    trees = score.trees()
    assert set(trees) == {stake.tree for stake in ready[1]}
    assert score.in_time(0) <= min(trees.values()) + 1e-12
    one = min(trees, key=trees.get)
    alone = risk.run(ready[0], tuple(s for s in ready[1] if s.tree == one), ready[2], 400, 1)
    assert alone.in_time(0) == pytest.approx(trees[one], rel=1e-9, abs=1e-12)


def test_bark_that_comes_too_late_is_that_of_the_trees_that_do(plan):
    ready = _ready(plan, _made_up)
    score = risk.run(*ready, 400, 1)
    by_stake = 0.0
    for stake in ready[1]:
        alone = risk.run(ready[0], (stake,), ready[2], 400, 1)
        by_stake += stake.infested_ft2 * (1 - alone.in_time(0))
    assert score.bark_late_ft2() == pytest.approx(by_stake, abs=1e-6)
    most = sum(stake.infested_ft2 for stake in ready[1])
    assert most == pytest.approx(plan.schedule.infested_before_ft2 - plan.schedule.infested_left_ft2, rel=1e-6)


def test_the_mean_over_years_is_that_of_each_year_alone(plan):
    run, stakes, _ = _ready(plan, _made_up)
    flights = sorted({stake.deadline.flight for stake in stakes})
    together = risk.run(run, stakes, {year: _record(year) for year in flights}, 300, 1)
    apart = [risk.run(run, stakes, {year: _record(year, (days,)) for year in flights}, 300, 1) for days in AFTER]
    for year in flights:
        alone = np.mean([one.in_time(0, (year,)) for one in apart])
        assert together.in_time(0, (year,)) == pytest.approx(alone, rel=1e-9, abs=1e-12)


def test_what_is_told_of_a_plan(plan):
    found = plan.risk
    assert found is not None
    assert found.years == 0
    assert found.range is None
    assert not found.weather
    assert found.draws == STUDY["draws"]
    told = [one.tree for one in found.trees]
    assert told == [tree.id for tree in plan.inventory.trees if tree.id in told]
    assert found.bark_left_ft2 >= plan.schedule.infested_left_ft2 - 1e-3
    assert found.probability <= min(one.probability for one in found.flights) + 1e-3


def test_a_plan_that_stops_nothing_has_no_chance_to_tell(plan):
    idle = replace(plan.schedule, choices=tuple(replace(one, done_on=None) for one in plan.schedule.choices))
    assert risk.risk_of(idle, plan.work) is None


@pytest.mark.parametrize(("jobs", "draws"), [(1, 2000), (2000, 2000), (4000, 1000), (100_000, 500)])
def test_large_plans_are_run_less_often(jobs, draws):
    assert risk.draws_for(jobs) == draws
