"""What may be lifted by hand: the limit, and the sizes of log that weigh as much."""

import pytest

from barkwright.treatment.lifting import log_pickup_limit_lb, pair_pickup_limit_lb, widest_liftable_in


def test_one_person_picks_up_about_24_pounds():
    """The lifting equation at H 15, V 15, D 25 in, rare lifts, poor grip, reckoned by hand: 24.2 lb."""
    by_hand = 51 * (10 / 15) * (1 - 0.0075 * 15) * (0.82 + 1.8 / 25) * 0.90
    assert log_pickup_limit_lb() == pytest.approx(by_hand)
    assert by_hand == pytest.approx(24.2, abs=0.05)


def test_two_people_lift_less_than_twice_as_much():
    assert pair_pickup_limit_lb() == pytest.approx(2 * 24.2 * 2 / 3, abs=0.1)


@pytest.mark.parametrize(
    ("diameter_in", "pounds_per_ft3", "length_ft"),
    [
        (4, 35, 7.9),
        (6, 35, 3.5),
        (8, 35, 2.0),
        (12, 35, 0.88),
        (4, 50, 5.5),
        (6, 50, 2.5),
        (8, 50, 1.4),
        (12, 50, 0.62),
    ],
)
def test_thickness_and_length_that_weigh_as_much(diameter_in, pounds_per_ft3, length_ft):
    weight = 3.14159265 / 4 * (diameter_in / 12) ** 2 * length_ft * pounds_per_ft3
    assert widest_liftable_in(weight, length_ft, pounds_per_ft3) == pytest.approx(diameter_in)
    assert widest_liftable_in(24.2, length_ft, pounds_per_ft3) == pytest.approx(diameter_in, rel=0.03)


def test_firewood_of_sixteen_inches_is_rolled_from_about_eight_inches_on():
    assert widest_liftable_in(log_pickup_limit_lb(), 16 / 12, 50) == pytest.approx(8, abs=0.5)
