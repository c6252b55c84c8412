"""Sites on which the first plan under the guide falls short of the optimum, each for a reason of its own."""

import pytest
from compare import compare

NEARLY = {"bark": 0.01, "money": 0.05}  # ft2, currency: sums that are rounded to parts of a cent
SITES = (
    pytest.param(235, id="the budget reaches for some pieces, and those that are tried first are not among them"),
    pytest.param(219, id="hands reach for some trees only"),
    pytest.param(76, id="green wood done after the flight gains nothing"),
    pytest.param(120, id="the top of a felled tree is done late rather than left"),
    pytest.param(179, id="a cheap crew comes on Saturdays, and each step may wait for it"),
    pytest.param(69, id="a machine that the period model does not hire", marks=pytest.mark.slow),
    pytest.param(276, id="two hires, one after the other", marks=pytest.mark.slow),
)


@pytest.mark.parametrize("number", SITES)
def test_the_plan_is_the_exact_optimum_within_the_tolerance_that_it_states(number: int) -> None:
    found = compare(number, 20.0)
    assert found.broken == ()
    assert found.bark.proven
    assert found.money.proven
    assert found.bark.optimum is not None
    assert found.money.optimum is not None
    assert None not in (found.bark.shown, found.money.shown)  # no bound is in doubt
    assert found.bark.plan <= found.bark.optimum + NEARLY["bark"]
    assert found.money.plan <= found.money.optimum + found.money.tolerance + NEARLY["money"]
