"""Plans of small sites against an exact model that shares nothing with what made them: bound <= optimum <= plan."""

from __future__ import annotations

import ast
import json
from pathlib import Path

import pytest
from compare import Comparison, Found, compare

SAMPLE = (3, 4, 6, 7, 8, 10, 11, 19)
FACTS = ("jobs", "settings", "sitework", "verify_bark", "verify_days", "verify_wood")  # of `schedule`, and no more
SOLVER = ("site_records", "offers", "site_facts", "exact_work", "exact_means", "exact_model", "plan_values", "as_plan")
NEARLY = {"bark": 0.01, "money": 0.05}  # ft2, currency: sums that are rounded to parts of a cent


def pytest_generate_tests(metafunc):
    if "number" in metafunc.fixturenames:
        metafunc.parametrize("number", range(metafunc.config.getoption("--sites", 300)))


@pytest.mark.slow
def test_no_plan_beats_the_optimum_and_no_bound_exceeds_it(number, record_property, pytestconfig):
    found = compare(number, pytestconfig.getoption("--effort", 20.0), write_out=number % 10 == 0)
    record_property("compared", json.dumps(found.as_dict()))
    held(found)


@pytest.mark.parametrize("sample", SAMPLE)
def test_a_sample_of_them(sample):
    found = compare(sample, 5.0, write_out=True)
    held(found)
    assert found.bark.proven
    assert found.money.proven
    assert found.written is not None


@pytest.mark.parametrize("name", SOLVER)
def test_the_exact_model_uses_nothing_that_makes_schedules(name):
    tree = ast.parse((Path(__file__).parent / f"{name}.py").read_text(encoding="utf-8"))
    modules = [node.module or "" for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)]
    parts = [one.removeprefix("barkwright.schedule.") for one in modules if one.startswith("barkwright.schedule")]
    assert set(parts) <= set(FACTS)


def held(found: Comparison) -> None:
    """The checker has nothing against the plan, its own values are right, and it lies between bound and optimum."""
    assert found.broken == ()
    for name, (told, said) in found.others.items():
        assert said == pytest.approx(told, abs=1e-3), name
    for name, one in (("bark", found.bark), ("money", found.money)):
        assert one.said == pytest.approx(one.plan, abs=1e-3), name
        assert not one.impossible, name
        assert one.plan >= one.least - NEARLY[name], f"{name}: the plan is better than the optimum"
        _bounded(name, one)
    if found.written is not None:
        assert found.written.broken == (), "the checker does not take the exact answer"
        assert found.written.money <= found.written.meant + 0.05
        assert found.written.money >= found.money.least - NEARLY["money"]


def _bounded(name: str, one: Found) -> None:
    if one.shown is not None:
        assert one.shown <= one.plan + NEARLY[name]
        if one.top is not None:
            assert one.shown <= one.top + NEARLY[name], f"{name}: the bound lies above what can be had"
