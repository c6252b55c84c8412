import pytest
from hypothesis import given
from hypothesis import strategies as st

from barkwright.season.frost import stefan_ft, winter_of
from barkwright.season.numbers import FROST


def winter(cold_days, cold_c, warm_c=10.0):
    """A hundred warm days, then cold ones, then warm ones to the end of a year."""
    return [warm_c] * 100 + [cold_c] * cold_days + [warm_c] * (265 - cold_days)


def test_frozen_from_the_fiftieth_degree_day_until_the_thaw_is_through():
    found = winter_of(winter(100, -5.0))
    assert found.frozen_from == 109  # ten days of -5
    assert found.depth_ft == pytest.approx((48 * 0.80 * 0.7 * 900 / 2160) ** 0.5)
    # 500 C-days of frost at n 0.7 are thawed by 206 at n 1.7: 21 days of 10 degrees
    assert found.frozen_to == 200 + 20


def test_a_mild_winter_does_not_freeze_the_ground():
    assert winter_of(winter(9, -5.0)) is None
    assert winter_of(winter(10, -5.0)).frozen_from == 109
    assert winter_of([]) is None


def test_a_thaw_in_between_takes_off_what_had_frozen():
    assert winter_of([10.0] * 10 + [-5.0] * 9 + [5.0] * 9 + [-5.0] * 9 + [10.0] * 20) is None


def test_ground_that_never_thaws_stays_frozen_past_the_last_day():
    assert winter_of(winter(260, -20.0)).frozen_to == 365


def test_a_machine_gets_through_before_a_spade_does():
    thick = winter_of(winter(100, -5.0))
    assert thick.frozen_from < thick.thin_from < thick.frozen_to
    thin = winter_of(winter(12, -5.0))
    assert thin.depth_ft < thick.depth_ft
    assert thin.frozen_from < thin.thin_from < thin.frozen_to


def test_what_is_frozen_below_the_trench_does_not_matter():
    hard = winter_of(winter(150, -25.0))
    assert hard.depth_ft > FROST["trench_ft"]
    thawed = stefan_ft(0.80, 1.7, (hard.frozen_to - 250 + 1) * 10 * 1.8, 2160)
    assert thawed == pytest.approx(FROST["trench_ft"], abs=0.05)


@given(st.integers(20, 180), st.floats(-30, -5), st.floats(0.1, 10))
def test_a_colder_winter_is_frozen_sooner_longer_and_deeper(days, cold, colder):
    mild, hard = winter_of(winter(days, cold)), winter_of(winter(days, cold - colder))
    assert hard.frozen_from <= mild.frozen_from
    assert hard.thin_from >= mild.thin_from or mild.thin_from == mild.frozen_from
    assert hard.frozen_to >= mild.frozen_to
    assert hard.depth_ft >= mild.depth_ft
