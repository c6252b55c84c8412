"""What a plan may give up at one level for the sake of the next, and which of some plans is chosen for it."""

from __future__ import annotations

from functools import cache
from typing import cast

import pytest
from made_sites import planned, site_text

from barkwright.schedule.best import choose
from barkwright.schedule.levels import BARK, MONEY, NAMES, TROUBLE, stated
from barkwright.schedule.model import SiteModel, site_model
from barkwright.schedule.scenario import Candidate


@cache
def site(best: str = "") -> SiteModel:
    return site_model(planned(site_text(4, 1, more=best)).work)


@pytest.mark.parametrize(
    ("best", "level", "least", "given"),
    [
        ("", BARK, 400.0, 2.0),  # half a percent of what any plan must leave
        ("", BARK, 0.0, 0.0),  # nothing where all can be done
        ("best: {bark_tolerance_ft2: 7}", BARK, 400.0, 7.0),
        ("best: {bark_tolerance_ft2: 0}", BARK, 400.0, 0.0),
        ("", MONEY, 5000.0, 50.0),  # one percent
        ("", MONEY, -300.0, 0.0),  # wood worth more than the work
        ("best: {money_tolerance: 25}", MONEY, 5000.0, 25.0),
        ("", TROUBLE, 40.0, 0.0),
    ],
)
def test_what_may_be_given_up(best: str, level: int, least: float, given: float) -> None:
    assert stated(site(best)).of(level, least) == pytest.approx(given)


def chosen(rows: list[tuple[float, float, float]], bounds: tuple[float | None, ...] = ()) -> tuple[float, ...]:
    """Bark, money and trouble of the plan chosen of some; the bounds are of the first two of these."""

    def values(bark: float, money: float, trouble: float) -> tuple[float, ...]:
        found = [0.0] * len(NAMES)
        found[BARK], found[MONEY], found[TROUBLE] = bark, money, trouble
        return tuple(found)

    known = [bounds[0] if bounds else None, *([None] * (MONEY - 1)), *bounds[1:]]
    plans = [(values(*row), cast("Candidate", None)) for row in rows]
    best, _ = choose(site(), plans, known)
    return best[BARK], best[MONEY], best[TROUBLE]


def test_within_the_tolerance_less_trouble_wins_and_beyond_it_less_money() -> None:
    assert chosen([(0, 5000, 30), (0, 5049, 10), (0, 5051, 5)]) == (0, 5049, 10)


def test_a_little_bark_is_left_for_money_only_where_some_must_be_left() -> None:
    assert chosen([(400, 5000, 10), (402, 4000, 10), (403, 1000, 10)]) == (402, 4000, 10)
    assert chosen([(0, 5000, 10), (1, 1000, 10)]) == (0, 5000, 10)


def test_what_the_least_plan_is_above_its_bound_is_used_up() -> None:
    """Of the fifty that may be given up thirty are gone."""
    assert chosen([(0, 5030, 30), (0, 5049, 10), (0, 5051, 5)], (0.0, 5000.0)) == (0, 5049, 10)
    assert chosen([(400, 5000, 10), (401.5, 4000, 10), (402.5, 1000, 10)], (400.0,)) == (401.5, 4000, 10)


def test_where_no_plan_is_within_the_tolerance_of_the_bound_it_counts_from_the_least_plan() -> None:
    assert chosen([(0, 5100, 30), (0, 5150, 10), (0, 5152, 5)], (0.0, 5000.0)) == (0, 5150, 10)
