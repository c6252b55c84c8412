"""Days of fire that a plan is tried with: few, as late as they may be, counted back from the first that must be out."""

from types import SimpleNamespace

import pytest

from barkwright.schedule.tidy import _fire_days

SEASON = ((0, 13),)  # days on which it may burn


def days(*piles: object, period: int, count: int) -> list[int]:
    """Work on each of the days 0 to 20."""
    dispatcher = SimpleNamespace(model=SimpleNamespace(days=SimpleNamespace(length=21)))
    dispatcher.book = SimpleNamespace(open=[list(range(21))])
    candidate = SimpleNamespace(plans=[SimpleNamespace(tasks=list(piles))])
    found = _fire_days(dispatcher, candidate, period, count)  # type: ignore[arg-type]
    assert all(first == last for first, last in found)
    return [first for first, _ in found]


def pile(finish_by: int | None = None, spans: object = None, lit: bool = True) -> object:
    return SimpleNamespace(pile=lit, finish_by=finish_by, spans=spans)


@pytest.mark.parametrize(
    ("piles", "found"),
    [
        ([pile(spans=SEASON)], [6, 13, 20]),
        ([pile(finish_by=12, spans=SEASON)], [5, 12, 19, 20]),
        ([pile(finish_by=16), pile(spans=SEASON)], [6, 13, 20]),
        ([pile(spans=SEASON), pile(finish_by=9, lit=False)], [6, 13, 20]),
        ([pile()], [0, 7, 14, 20]),
    ],
)
def test_a_fire_a_week_is_counted_back_from_the_first_that_must_be_out(piles, found):
    assert days(*piles, period=7, count=1) == found


def test_two_in_a_fortnight_are_the_last_two_days_of_work():
    assert days(pile(spans=SEASON), period=14, count=2) == [12, 13, 19, 20]
