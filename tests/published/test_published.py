"""Every published check value, run; and the lint that keeps made-up ones out."""

from datetime import date

import pytest

from published import Case, agrees, all_cases, allowed, faults, result, source_keys

CASES = list(all_cases())


@pytest.mark.parametrize("case", [pytest.param(case, id=case.id) for case in CASES])
def test_published(case):
    value = result(case)
    assert not faults(case, source_keys(), value)
    expect = case.fields["expect"]
    assert agrees(case, value), (
        f"ours {value!r}, published {expect} ({case.fields['what']}), why: {case.fields.get('why')}"
    )


def test_every_case_has_its_own_id():
    ids = [case.id for case in CASES]
    assert sorted(ids) == sorted(set(ids))


GOOD = {
    "source": "someone1999",
    "locator": "table 1, row 2",
    "what": "barkwright.units:half_up",
    "given": {"value": 2.5},
    "expect": "3",
    "kind": "table",
}


def _faults(file="someone1999.yaml", value=None, **changed):
    fields = {key: entry for key, entry in {**GOOD, **changed}.items() if entry is not None}
    return faults(Case(file, fields), frozenset({"someone1999"}), value)


def test_a_good_case_has_no_fault():
    assert _faults() == []


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"source": None}, "no source"),
        ({"locator": None}, "no locator"),
        ({"source": "nobody2000"}, "not in data/sources.yaml"),
        ({"file": "other.yaml"}, "stands in other.yaml"),
        ({"expect": 3.0}, "expect is text"),
        ({"kind": "guess"}, "kind is one of"),
        ({"what": "math:sqrt"}, "not ours"),
        ({"tolerance": "2"}, "needs a why"),
        ({"wy": "typo"}, "unknown field"),
        ({"expect": "3.14159265359"}, "has 12 digits"),
        ({"expect": "3.14159265359", "printed": 3}, "print 3"),
        ({"expect": "3.14159265359", "printed": 3, "value": 3.14159265359}, "equals our own output"),
    ],
)
def test_a_case_that_may_not_stand_is_refused(changed, said):
    assert said in " | ".join(_faults(**changed))


def test_the_default_tolerance_is_half_the_last_printed_digit():
    case = Case("someone1999.yaml", {**GOOD, "expect": "12.4"})
    assert float(allowed(case)) == 0.05
    assert agrees(case, 12.449)
    assert not agrees(case, 12.451)


def test_words_and_dates_compare_as_text():
    case = Case("someone1999.yaml", {**GOOD, "expect": "2026-05-12"})
    assert agrees(case, date(2026, 5, 12))
    assert not agrees(case, date(2026, 5, 13))


def test_enough_pairs_of_source_and_function_are_checked():
    pairs = {case.pair for case in CASES}
    assert len(pairs) >= 105, sorted(pairs)
