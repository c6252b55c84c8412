"""The closed forms that the runs are held against, by values worked out by hand or known from mathematics."""

import math

import pytest
from networks import HOUSE

from barkwright.study import chance, pert


@pytest.mark.parametrize(
    ("times", "mean", "variance", "textbook"),
    [
        ((2, 5, 14), 6, 32 / 7, 4),
        ((8, 10, 24), 12, 48 / 7, 64 / 9),
        ((5, 8, 14), 8.5, 2.75, 2.25),
        ((3, 4, 5), 4, 1 / 7, 1 / 9),
        ((0, 4, 8), 4, 16 / 7, 16 / 9),
        ((6, 6, 6), 6, 0, 0),
    ],
)
def test_moments_of_three_estimates(times, mean, variance, textbook):
    low, _, high = times
    assert pert.pert_mean(*times) == pytest.approx(mean)
    assert pert.pert_variance(*times) == pytest.approx(variance)
    assert pert.textbook_variance(low, high) == pytest.approx(textbook)


def test_a_house_whose_likely_times_add_up_to_20_takes_21_on_average():
    mean = sum(pert.triangular_mean(*task) for task in HOUSE)
    variance = sum(pert.triangular_variance(*task) for task in HOUSE)
    assert sum(likely for _, likely, _ in HOUSE) == 20
    assert mean == pytest.approx(21.0)
    assert variance == pytest.approx(1.6111, abs=5e-5)
    assert pert.path_probability(20, mean, variance) == pytest.approx(0.215, abs=5e-4)


def test_a_path_without_variance_is_a_step():
    assert pert.path_probability(4.999, 5, 0) == 0
    assert pert.path_probability(5, 5, 0) == 1


@pytest.mark.parametrize(
    ("needed", "lost", "days", "printed"),
    [
        (10, 0.2, 10, 0.8**10),
        (10, 0.2, 12, 0.558346),
        (10, 0.2, 14, 0.870160),
        (10, 0.2, 16, 0.973343),
        (20, 0.15, 24, 0.713382),
        (20, 0.15, 28, 0.982289),
        (3, 0.5, 2, 0),
    ],
)
def test_good_days_among_days_that_weather_may_take(needed, lost, days, printed):
    assert chance.good_days_probability(needed, days, lost) == pytest.approx(printed, abs=5e-7)


def test_the_latest_of_several_is_later_than_each():
    assert chance.latest_of(1) == pytest.approx(0, abs=1e-9)
    assert chance.latest_of(2) == pytest.approx(1 / math.sqrt(math.pi), abs=1e-9)
    assert chance.latest_of(3) == pytest.approx(1.5 / math.sqrt(math.pi), abs=1e-9)
    assert chance.all_in_time(0.8413, 3) == pytest.approx(0.5955, abs=1e-4)


@pytest.mark.parametrize("at", [0.01, 0.3, 0.5, 0.77, 0.999])
def test_the_beta_function_where_it_has_a_closed_form(at):
    assert chance.beta_probability(at, 1, 1) == pytest.approx(at)
    assert chance.beta_probability(at, 3, 1) == pytest.approx(at**3)
    assert chance.beta_probability(at, 0.5, 0.5) == pytest.approx(2 / math.pi * math.asin(math.sqrt(at)))
    sums = sum(math.comb(9, k) * at**k * (1 - at) ** (9 - k) for k in range(4, 10))
    assert chance.beta_probability(at, 4, 6) == pytest.approx(sums)


def test_a_range_from_no_year_at_all_is_that_of_the_arc_sine_law():
    # A beta with shapes 1/2 and 1/2 has quantiles sin(pi p / 2) squared; half a trial that went half well.
    low, high = chance.jeffreys_interval(1e-12, 2e-12, 0.9)
    assert low == pytest.approx(math.sin(math.pi * 0.025) ** 2, rel=1e-6)
    assert high == pytest.approx(math.sin(math.pi * 0.475) ** 2, rel=1e-6)


def test_more_years_narrow_the_range_and_all_or_none_reach_its_end():
    ranges = [chance.jeffreys_interval(0.8 * years, years, 0.9) for years in (5, 10, 20, 40, 80)]
    widths = [high - low for low, high in ranges]
    assert widths == sorted(widths, reverse=True)
    assert all(low < 0.8 < high for low, high in ranges)
    assert chance.jeffreys_interval(0, 8, 0.9)[0] == 0
    assert chance.jeffreys_interval(8, 8, 0.9)[1] == 1
