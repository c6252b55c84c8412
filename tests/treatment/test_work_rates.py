"""Rates and sizes: the shipped ones hold together, and the user's own replace them by id."""

import pytest

from barkwright.sources import cite
from barkwright.treatment.rates import rate_book
from barkwright.treatment.trench import loose_volume, trench_for_logs, trench_section

OWN = """
rates:
  peel-dormant: {low: 3, likely: 6, high: 9, unit: m2/person-h, note: our crew in 2025}
settings:
  trench-cover: {value: 12}
"""


def test_every_shipped_rate_is_in_order_and_cites_what_it_claims():
    book = rate_book()
    for name, rate in book.rates.items():
        assert 0 < rate.low <= rate.likely <= rate.high, name
        assert rate.source or rate.basis != "published", name
    for name, entry in [*book.rates.items(), *book.settings.items()]:
        if entry.source:
            assert cite(entry.source).locator, name
        assert not entry.local


def test_chipper_power_runs_straight_between_the_classes():
    book = rate_book()
    assert book.horsepower(9) == 35
    assert book.horsepower(10.5) == pytest.approx((35 + 74) / 2)
    assert book.horsepower(1) == book.horsepower(3)
    assert book.horsepower(40) == 173


def test_own_rates_replace_by_id_and_are_marked(tmp_path):
    path = tmp_path / "own.yaml"
    path.write_text(OWN)
    book = rate_book((str(path),))
    assert book.diagnostics == ()
    assert book.triple("peel-dormant") == (3, 6, 9)
    assert book.rates["peel-dormant"].local
    assert book.value("trench-cover") == 12
    assert book.settings["trench-cover"].local
    assert book.triple("peel-frozen") == rate_book().triple("peel-frozen")
    assert rate_book().triple("peel-dormant") != (3, 6, 9)


@pytest.mark.parametrize(
    ("text", "code", "line", "hint"),
    [
        ("rates:\n  peel-dorman: {low: 1, likely: 2, high: 3}\n", "unknown-key", 2, "peel-dormant"),
        ("rates:\n  stack: {low: 1, likely: 2}\n", "missing-key", 2, "person-h/cord"),
        ("rates:\n  stack: {low: 3, likely: 2, high: 1}\n", "bad-value", 2, "person-h/cord"),
        ("rates:\n  stack: {low: 0, likely: 2, high: 3}\n", "bad-value", 2, "person-h/cord"),
        ("rates:\n  stack: {low: 1, likely: yes, high: 3}\n", "bad-value", 2, "person-h/cord"),
        ("rates:\n  stack: {low: 1, likely: 2, high: 3, unit: h}\n", "bad-value", 2, "convert"),
        ("rates:\n  stack: {low: 1, likely: 2, high: 3, colour: red}\n", "unknown-key", 2, "known"),
        ("settings:\n\n  trench-cover: {low: 3}\n", "missing-key", 3, "in"),
        ("rates: [1]\n", "bad-value", 1, None),
    ],
)
def test_faults_of_own_rates_name_their_line(tmp_path, text, code, line, hint):
    path = tmp_path / "own.yaml"
    path.write_text(text)
    book = rate_book((str(path),))
    assert [(d.code, d.where.line) for d in book.diagnostics] == [(code, line)]
    assert hint is None or hint in book.diagnostics[0].hint
    assert book.rates == rate_book().rates  # the shipped rate stays


def test_trench_geometry_by_hand():
    assert trench_section(1.0, 1.2, 1.0) == pytest.approx(2.64)
    found = trench_for_logs(3.0, 0.60, 1.0, 0.7, 0.5, 0.25)
    assert found.length == pytest.approx(3.0 / 0.6 / 0.7)
    assert found.bank == pytest.approx(found.length * 1.2)
    assert found.loose == pytest.approx(found.bank * 1.25)
    assert loose_volume(8000, 0.40) == pytest.approx(11200)
