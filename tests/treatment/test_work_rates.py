"""Rates and sizes: the shipped ones hold together, and the user's own replace them by id."""

import pytest

from barkwright.sources import cite
from barkwright.treatment.rates import rate_book
from barkwright.treatment.trench import loose_volume, trench_for_logs, trench_section

OWN = """
rates:
  peel-dormant: {low: 3, likely: 6, high: 9, unit: m2/person-h, source: our crew in 2025}
settings:
  trench-cover: {value: 12, basis: ours}
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
    assert book.rates["peel-dormant"].own_source == "our crew in 2025"
    assert [(one.part, one.id, one.now, one.was) for one in book.own][1] == (
        "settings",
        "trench-cover",
        "12 in",
        "18 in",
    )
    assert book.value("trench-cover") == 12
    assert book.settings["trench-cover"].local
    assert book.triple("peel-frozen") == rate_book().triple("peel-frozen")
    assert rate_book().triple("peel-dormant") != (3, 6, 9)


FAULTS = [
    ("  peel-dorman: {low: 1, likely: 2, high: 3, basis: ours}", "unknown-key", 2, 3, "peel-dormant"),
    ("  stack: {low: 1, likely: 2, basis: ours}", "missing-key", 2, 10, "add high"),
    ("  stack: {low: 3, likely: 2, high: 1, basis: ours}", "bad-value", 2, 16, "person-h/cord"),
    ("  stack: {low: 0, likely: 2, high: 3, basis: ours}", "out-of-range", 2, 16, "person-h/cord"),
    ("  stack: {low: .inf, likely: 2, high: 3, basis: ours}", "bad-number", 2, 16, "person-h/cord"),
    ("  stack: {low: 1, likely: yes, high: 3, basis: ours}", "bad-number", 2, 27, "person-h/cord"),
    ("  stack: {low: 1, likely: 2 h, high: 3, basis: ours}", "wrong-unit", 2, 27, "person-h/cord"),
    ("  stack: {low: 1, likely: 2, high: 3, unit: h, basis: ours}", "wrong-unit", 2, 45, "convert"),
    ("  stack: {low: 1, likely: 2, high: 3, colour: red, basis: ours}", "unknown-key", 2, 39, "did you mean"),
    ("  stack: {low: 1, likely: 2, high: 3}", "uncited", 2, 3, "source:"),
    ("  stack: {low: 1, likely: 2, high: 3, basis: mine}", "bad-choice", 2, 46, "one of"),
    ('  stack: {low: 1, likely: 2, high: 3, source: ""}', "bad-value", 2, 47, "words"),
    ("  saw-share: {low: 1, likely: 2, high: 3, basis: ours}", "out-of-range", 2, 40, "sixty"),
    ("  stack: 3", "odd-shape", 2, 10, "schema local"),
    ("  [1]", "odd-shape", 2, 3, "ids"),
]


@pytest.mark.parametrize(("text", "code", "line", "column", "hint"), FAULTS)
def test_a_fault_of_own_rates_is_told_once_at_its_place(tmp_path, text, code, line, column, hint):
    path = tmp_path / "own.yaml"
    path.write_text(f"rates:\n{text}\n")
    book = rate_book((str(path),))
    assert [(d.code, d.where.line, d.where.column) for d in book.diagnostics] == [(code, line, column)]
    assert hint in book.diagnostics[0].hint
    assert book.rates == rate_book().rates  # the shipped rate stays


def test_the_same_rate_in_two_files_is_refused(tmp_path):
    for name in ("one", "two"):
        (tmp_path / f"{name}.yaml").write_text("rates:\n  stack: {low: 1, likely: 2, high: 3, basis: ours}\n")
    (fault,) = rate_book((str(tmp_path / "one.yaml"), str(tmp_path / "two.yaml"))).diagnostics
    assert (fault.code, fault.where.file) == ("duplicate-id", str(tmp_path / "two.yaml"))
    assert "one.yaml" in fault.message


def test_trench_geometry_by_hand():
    assert trench_section(1.0, 1.2, 1.0) == pytest.approx(2.64)
    found = trench_for_logs(3.0, 0.60, 1.0, 0.7, 0.5, 0.25)
    assert found.length == pytest.approx(3.0 / 0.6 / 0.7)
    assert found.bank == pytest.approx(found.length * 1.2)
    assert found.loose == pytest.approx(found.bank * 1.25)
    assert loose_volume(8000, 0.40) == pytest.approx(11200)
