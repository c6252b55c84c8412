"""Days on which a way may be taken: windows that adjoin and are alike are one run, inside the calendar."""

from datetime import date, timedelta
from types import SimpleNamespace

import pytest

from barkwright.schedule.options import Run, runs
from barkwright.treatment.ways import Window

ON = date(2026, 10, 1)
LENGTH = 400


def window(first: int, last: int, verdict: str = "fits", end: str = "done", **more: object) -> Window:
    return Window(ON + timedelta(first), ON + timedelta(last), verdict, end, "dormant", (), **more)  # type: ignore[arg-type]


def found(*windows: Window) -> list[Run]:
    way = SimpleNamespace(windows=windows)
    return runs(way, lambda one: ((one.first - ON).days, (one.last - ON).days), LENGTH)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("windows", "days"),
    [
        ([window(-10, 5)], [(0, 0, 5)]),  # it began before the plan's date
        ([window(390, 500)], [(0, 390, 399)]),  # the calendar ends on day 399
        ([window(-10, -1), window(400, 410)], []),
        ([window(0, 0), window(399, 399)], [(0, 0, 0), (1, 399, 399)]),
        ([window(0, 9), window(10, 19)], [(0, 0, 19)]),
        ([window(0, 9), window(11, 19)], [(0, 0, 9), (1, 11, 19)]),
        ([window(0, 9), window(10, 19, end="partial"), window(20, 29, end="partial")], [(0, 0, 9), (1, 10, 29)]),
        ([window(0, 9), window(10, 12, "ruled out"), window(13, 19)], [(0, 0, 9), (2, 13, 19)]),
        ([window(0, 9), window(10, 12, end="not done"), window(13, 19)], [(0, 0, 9), (2, 13, 19)]),
        ([window(0, 9), window(10, 19, "fits with care")], [(0, 0, 9), (1, 10, 19)]),
        ([window(0, 9), window(10, 19, end="partial")], [(0, 0, 9), (1, 10, 19)]),
        ([window(0, 9), window(10, 19, needs=("burn-permit",))], [(0, 0, 9), (1, 10, 19)]),
    ],
)
def test_windows_that_adjoin_and_are_alike_are_one_run(windows, days):
    assert [(one.window, one.first, one.last) for one in found(*windows)] == days
    assert not any(one.against_wish for one in found(*windows))


def test_what_a_wish_alone_rules_out_may_be_taken_and_is_marked():
    against = window(0, 9, "ruled out", without_wish="fits"), window(10, 19, "ruled out", without_wish="fits")
    assert found(*against) == [Run(0, 0, 19, True)]
    assert found(window(0, 9, "ruled out", without_wish="ruled out")) == []
