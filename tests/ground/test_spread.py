import pytest

from barkwright.spread import Spread


def test_the_mean_is_pert():
    # PERT mean, Malcolm et al. 1959 (from memory): (1 + 4 * 2 + 9) / 6
    assert Spread(1, 2, 9).mean == 3


def test_a_spread_out_of_order_is_refused():
    with pytest.raises(ValueError, match="low <= likely <= high"):
        Spread(2, 1, 3)
