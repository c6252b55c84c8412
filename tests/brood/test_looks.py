"""When to look again: the dates of every season of the year, at places of every kind."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barkwright.brood.looks import follow_up
from barkwright.inventory.model import Site
from barkwright.season.flight import finish_by, flight_year
from barkwright.season.site import Season, season_of


def season(region: str) -> Season:
    site = Site.model_validate(
        {"name": "any", "units": "imperial", "latitude": 54.0, "longitude": -123.0, "region": region}
    )
    return season_of(site, date(2026, 1, 1))


PLACE = season("interior-plateau")  # 21 May to 10 July


def kinds(on: date, to_beat: tuple[int, ...] = ()) -> list[tuple[str, int]]:
    return [(look.kind, look.flight) for look in follow_up(PLACE, on, to_beat).looks]


def test_while_beetles_fly_it_follows_their_flight() -> None:
    found = follow_up(PLACE, date(2027, 6, 4), ())
    assert (found.year, found.under_way, found.of_use_from) == (2027, True, date(2027, 7, 11))
    assert kinds(date(2027, 6, 4)) == [
        ("flight-over", 2027), ("late-summer", 2027), ("spring", 2027), ("year-after", 2028)
    ]  # fmt: skip


def test_the_day_after_the_flight_it_is_of_use() -> None:
    assert follow_up(PLACE, date(2027, 7, 10), (2028,)).of_use_from == date(2027, 7, 11)
    after = follow_up(PLACE, date(2027, 7, 11), (2028,))
    assert (after.year, after.of_use_from, after.under_way) == (2027, None, False)
    assert after.looks[0].first == date(2027, 7, 11)


def test_between_looks_there_is_a_look_now() -> None:
    assert kinds(date(2027, 8, 10), (2028,))[0] == ("now", 2027)
    first, second = follow_up(PLACE, date(2027, 8, 10), (2028,)).looks[:2]
    assert first.first == date(2027, 8, 10)
    assert first.last == second.first - timedelta(days=1)
    assert kinds(date(2027, 9, 10), (2028,))[0] == ("late-summer", 2027)


@pytest.mark.parametrize(
    ("on", "to_beat", "year"),
    [
        (date(2026, 10, 31), (2027,), 2026),
        (date(2026, 11, 1), (2027,), 2027),
        (date(2026, 11, 1), (2028,), 2027),
        (date(2026, 11, 1), (), 2026),
        (date(2027, 5, 20), (), 2026),
        (date(2027, 5, 20), (2027,), 2027),
        (date(2027, 5, 21), (), 2027),
    ],
)
def test_in_winter_it_turns_to_the_coming_flight_where_work_is_to_beat_one(
    on: date, to_beat: tuple[int, ...], year: int
) -> None:
    assert follow_up(PLACE, on, to_beat).year == year


def test_in_winter_the_flight_before_is_looked_after_first() -> None:
    assert kinds(date(2026, 11, 27), (2027,)) == [
        ("now", 2026), ("spring", 2026), ("flight-over", 2027), ("late-summer", 2027), ("spring", 2027),
        ("year-after", 2028),
    ]  # fmt: skip


def test_the_look_in_spring_ends_in_time_to_treat_a_tree() -> None:
    spring = next(look for look in follow_up(PLACE, date(2027, 8, 1), ()).looks if look.kind == "spring")
    assert spring.last == finish_by(flight_year(PLACE, 2028))
    late = next(look for look in follow_up(PLACE, date(2028, 5, 12), ()).looks if look.kind == "spring")
    assert late.last == flight_year(PLACE, 2028).onset - timedelta(days=1)


@given(
    st.sampled_from(("interior-plateau", "utah", "alberta", "far-north", "generic")),
    st.dates(date(2024, 1, 1), date(2031, 12, 31)),
    st.sets(st.integers(2024, 2034), max_size=3),
)
def test_on_any_day_the_looks_are_in_order_none_is_past_and_one_is_open_or_beetles_fly(
    region: str, on: date, to_beat: set[int]
) -> None:
    place = season(region)
    found = follow_up(place, on, to_beat)
    assert found.looks
    assert all(look.first <= look.last and look.last >= on for look in found.looks)
    firsts = [look.first for look in found.looks]
    assert firsts == sorted(firsts)
    assert found.under_way or any(look.first <= on for look in found.looks)
    assert found.looks[-1].kind == "year-after"
    assert (found.of_use_from is None) == (on > flight_year(place, found.year).end)
