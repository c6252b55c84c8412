import re
from typing import get_args

import pytest

from barkwright.datafile import load
from barkwright.diagnostics import Code, Diagnostic, Place, first

CODES = get_args(Code)
MEANINGS = load("diagnostics.yaml", dict[str, str])


def test_every_code_has_its_explanation_and_every_explanation_its_code_in_order():
    assert list(MEANINGS) == list(CODES)
    assert list(CODES) == sorted(CODES)


@pytest.mark.parametrize("code", CODES)
def test_an_explanation_is_a_sentence_of_more_than_its_name(code):
    assert re.fullmatch(r"[A-Z].{30,}\.", MEANINGS[code])


def test_a_diagnostic_prints_in_gnu_style():
    one = Diagnostic("error", "unknown-key", "unknown key 'dbhh'", Place("site.yaml", 9, 5))
    assert str(one) == "site.yaml:9:5: error: unknown key 'dbhh' [unknown-key]"
    assert str(Diagnostic("note", "estimated", "height is estimated", subject="T1")) == (
        "T1: note: height is estimated [estimated]"
    )


def test_where_not_all_fit_errors_are_kept_in_file_order_and_the_rest_counted():
    found = [Diagnostic("error" if n % 2 else "warning", "bad-value", str(n), Place("f", n, 1)) for n in range(1, 31)]
    shown, left_out = first(found, 20)
    assert left_out == 10
    assert [one.message for one in shown if one.severity == "error"] == [str(n) for n in range(1, 31, 2)]
    assert [one.where.line for one in shown] == sorted(one.where.line for one in shown)
    assert first(found[:3]) == (tuple(found[:3]), 0)
