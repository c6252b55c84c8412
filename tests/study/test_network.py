"""The core of the runs: published networks, closed forms, an independent run, and the clocks with their lost days."""

from __future__ import annotations

from statistics import mean

import numpy as np
import pytest
from networks import FOURTEEN, FOURTEEN_PREDS, PORTA_VAC, PORTA_VAC_PREDS, TAYLOR_PATH, TAYLOR_PREDS, nodes, run_plainly

from barkwright.study.chance import all_in_time, good_days_probability
from barkwright.study.clocks import Clocks, worked
from barkwright.study.dice import CELLS, Dice, table, times
from barkwright.study.network import OUTSIDE, Node, Run, network_ends
from barkwright.study.pert import expected_ends, pert_mean, pert_variance

DRAWS = 40_000


@pytest.mark.parametrize("estimates", [(2, 5, 14), (8, 10, 24), (0, 0, 1), (0, 1, 1), (3, 4, 5), (1, 1.7, 9.3)])
def test_the_table_of_a_task_has_the_moments_of_its_distribution(estimates):
    values = table(*estimates)
    assert len(values) == CELLS
    assert np.all(np.diff(values) >= 0)
    assert estimates[0] <= values[0] <= values[-1] <= estimates[2]
    assert values.mean() == pytest.approx(pert_mean(*estimates), rel=1e-5, abs=1e-5)
    assert values.var() == pytest.approx(pert_variance(*estimates), rel=5e-3)


def test_a_known_time_is_drawn_as_it_is():
    assert set(times(3.5, 3.5, 3.5, Dice(1, 1).throw(50)[0])) == {3.5}


def test_taylors_path_has_its_mean_and_the_variance_of_its_distribution():
    # By the normal law 0.9633 of the draws would end by 28; the tasks' own distributions are wider than that.
    ends = network_ends(nodes(TAYLOR_PATH, TAYLOR_PREDS), DRAWS, 7)
    assert ends.mean() == pytest.approx(24, abs=0.05)
    assert ends.var() == pytest.approx(sum(pert_variance(*task) for task in TAYLOR_PATH.values()), rel=0.03)
    assert np.mean(ends <= 28) == pytest.approx(0.938, abs=0.005)


def test_porta_vac_ends_later_than_its_longest_path_says():
    ends = network_ends(nodes(PORTA_VAC, PORTA_VAC_PREDS), DRAWS, 7)
    assert max(expected_ends(list(PORTA_VAC.values()), [n.preds for n in nodes(PORTA_VAC, PORTA_VAC_PREDS)])) == 17
    assert ends.mean() == pytest.approx(17.31, abs=0.03)
    assert np.mean(ends <= 17) == pytest.approx(0.461, abs=0.01)
    assert np.mean(ends <= 20) == pytest.approx(0.930, abs=0.006)
    assert np.quantile(ends, 0.8) == pytest.approx(18.7, abs=0.06)


def test_fourteen_activities_as_well():
    ends = network_ends(nodes(FOURTEEN, FOURTEEN_PREDS), DRAWS, 7)
    assert np.mean(ends <= 55) == pytest.approx(0.850, abs=0.008)
    assert np.quantile(ends, 0.8) == pytest.approx(54.4, abs=0.1)


@pytest.mark.parametrize(("net", "preds"), [(PORTA_VAC, PORTA_VAC_PREDS), (FOURTEEN, FOURTEEN_PREDS)])
def test_an_independent_run_agrees(net, preds):
    ours, theirs = network_ends(nodes(net, preds), DRAWS, 3), run_plainly(net, preds, DRAWS // 4, 5)
    assert ours.mean() == pytest.approx(mean(theirs), abs=0.08)
    for share in (0.1, 0.5, 0.8, 0.95):
        assert np.quantile(ours, share) == pytest.approx(np.quantile(theirs, share), abs=0.15)


@pytest.mark.parametrize("paths", [1, 3, 10])
def test_paths_that_meet(paths):
    due, each = float(table(2, 5, 14)[861]), 862 / CELLS
    ends = network_ends([Node(2, 5, 14) for _ in range(paths)], DRAWS, 2)
    assert np.mean(ends <= due) == pytest.approx(all_in_time(each, paths), abs=0.01)


def test_what_is_drawn_depends_on_the_seed_alone():
    net = nodes(FOURTEEN, FOURTEEN_PREDS)
    assert np.array_equal(network_ends(net, 500, 9), network_ends(net, 500, 9))
    assert np.array_equal(network_ends(net, 500, 9), network_ends(net, 900, 9)[:500])
    assert not np.array_equal(network_ends(net, 500, 9), network_ends(net, 500, 10))
    dice, whole = Dice(4, 11), Dice(4, 11).throw(60)
    assert np.array_equal(np.hstack([dice.throw(count) for count in (1, 20, 39)]), whole)


@pytest.mark.parametrize(("needed", "days", "lost"), [(10, 12, 0.2), (10, 14, 0.2), (20, 24, 0.15)])
def test_lost_days_follow_the_binomial_law(needed, days, lost):
    length = 40
    throws = Dice(5, length + 1).throw(DRAWS)
    clocks = Clocks([worked([8.0] * length, [lost] * length, throws[:length])], DRAWS)
    found = {}
    work = Node(needed * 8.0, needed * 8.0, needed * 8.0)
    Run([work], clocks).through(throws[length:], lambda _, end: found.update(day=clocks.day_of(0, end)))
    assert np.mean(found["day"] < days) == pytest.approx(good_days_probability(needed, days, lost), abs=0.01)


def test_the_day_of_a_moment_is_the_one_that_counting_finds():
    hours = np.random.default_rng(3).choice([0.0, 0.0, 4.0, 7.5], size=(30, 25))
    clocks = Clocks([hours], 25)
    for at in (0.0, 0.5, 4.0, 11.5, 60.0, 1e6):
        for draw, day in enumerate(clocks.day_of(0, np.full(25, at))):
            whole = np.cumsum(hours[:, draw])
            assert day == next((number for number, sums in enumerate(whole) if sums >= at - 1e-6), 30)


def test_work_of_one_crew_follows_its_gates_its_hands_and_its_machine():
    days = [8.0] * 10
    clocks = Clocks([worked(days, (), None)], 1)
    nodes = [
        Node(8, 8, 8, pace=0.5, load=0.5),  # two people, 4 h
        Node(8, 8, 8, pace=1.0, load=0.5),  # one of the two, beside the first: the crew is done with both at 8 h
        Node(4, 4, 4, preds=(1,), pace=0.5, load=0.5, gate=3),  # waits for the fourth day
        Node(2, 2, 2, pace=1.0, load=0.5, gate=3, machines=(("chipper", 1.0),)),
        Node(6, 6, 6, pace=1.0, load=0.5, gate=3, machines=(("chipper", 1.0),)),  # after it, on one chipper: 8 h
    ]
    ends: list[float] = []
    Run(nodes, clocks).through(Dice(1, 5).throw(1), lambda _, end: ends.append(float(end[0])))
    assert ends == [4, 8, 26, 27, 32]
    assert [int(clocks.day_of(0, np.array([end]))[0]) for end in ends] == [0, 0, 3, 3, 3]


def test_crews_and_others_wait_for_each_other():
    clocks = Clocks([worked([8.0] * 10, (), None), worked([4.0] * 10, (), None)], 1)
    nodes = [
        Node(12, 12, 12),  # the first crew, half way through its second day
        Node(1, 1, 1, preds=(0,), clock=1),  # the other crew goes on half way through its own second day: 6 h, 7 h
        Node(0, 0, 0, preds=(0,), clock=OUTSIDE, gate=4, days=2),  # agreed for days 4 and 5
        Node(2, 2, 2, preds=(2,)),  # from the day after on: 48 h, 50 h
        Node(1, 1, 1, preds=(3,), wait=2, clock=0),  # two days after day 6: 64 h
        Node(0, 0, 0, preds=(3,), clock=OUTSIDE, gate=3),  # agreed too early: it comes when there is work
    ]
    ends: list[float] = []
    Run(nodes, clocks).through(Dice(1, 6).throw(1), lambda _, end: ends.append(float(end[0])))
    assert ends == [12, 7, 5, 50, 65, 6]
