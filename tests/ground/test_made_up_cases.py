"""No made-up case fails because a machine is slow: every test takes the profile of tests/conftest.py."""

from pathlib import Path

from hypothesis import HealthCheck, settings

TESTS = Path(__file__).parents[1]


def test_the_profile_in_force_knows_no_clock() -> None:
    assert settings().deadline is None
    assert HealthCheck.too_slow in settings().suppress_health_check


def test_no_test_sets_a_clock_or_a_profile_of_its_own() -> None:
    words = ("deadline" + "=", "suppress_health_check" + "=", "load_profile" + "(")
    found = [path.name for path in TESTS.rglob("test_*.py") if any(word in path.read_text("utf-8") for word in words)]
    assert found == []
