import itertools
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barkwright import datafile
from barkwright.inventory.model import Site
from barkwright.season.bands import SpellBook, band_of
from barkwright.season.flight import day_of, flight_year
from barkwright.season.regions import regions
from barkwright.season.site import season_of
from barkwright.season.spells import spells, without_ground
from barkwright.sources import cite

DAY = timedelta(days=1)


def season(latitude=54.0, region="interior-plateau"):
    site = Site.model_validate(
        {"name": "any", "units": "imperial", "latitude": latitude, "longitude": -110.0, "region": region}
    )
    return season_of(site, date(2026, 1, 1))


places = st.builds(
    season, st.floats(min_value=30, max_value=72), st.sampled_from([region.id for region in regions().regions])
)
days = st.dates(date(2023, 1, 1), date(2029, 12, 31))


@given(places, days, st.integers(0, 1200))
def test_spells_part_any_span_of_days_without_gap_or_overlap(place, first, length):
    last = first + timedelta(days=length)
    parts = spells(place, first, last)
    assert parts[0].first == first
    assert parts[-1].last == last
    assert all(part.first <= part.last for part in parts)
    assert all(a.last + DAY == b.first for a, b in itertools.pairwise(parts))


@given(places, days, st.integers(0, 400))
def test_nothing_changes_within_a_spell_and_something_changes_between_two(place, first, length):
    parts = spells(place, first, first + timedelta(days=length))

    def state(part):
        return part.bark, part.ground_frozen, part.flying, part.chips_draw, part.frost_deep

    for part in parts:
        for day in (part.first, part.first + (part.last - part.first) / 2, part.last):
            assert state(spells(place, day, day)[0]) == state(part)
    assert all(state(a) != state(b) for a, b in itertools.pairwise(parts))


@given(places, days)
def test_flying_is_the_flight_of_that_year(place, day):
    flight = flight_year(place, day.year)
    assert spells(place, day, day)[0].flying == (flight.onset <= day <= flight.end)


def test_an_empty_span_has_no_spells():
    assert spells(season(), date(2027, 1, 2), date(2027, 1, 1)) == ()


@pytest.mark.parametrize("day", [date(2028, 2, 29), date(2027, 12, 31), date(2028, 1, 1)])
def test_leap_day_and_new_year_lie_in_the_frozen_spell(day):
    (part,) = spells(season(), day, day)
    assert (part.bark, part.ground_frozen) == ("frozen", True)


def test_a_winter_is_one_spell_across_the_new_year():
    parts = spells(season(), date(2026, 12, 1), date(2027, 2, 1))
    assert len(parts) == 1


@pytest.mark.parametrize(
    ("day", "bark", "ground_frozen", "flying", "chips_draw"),
    [
        (date(2027, 3, 31), "dormant", True, False, False),
        (date(2027, 4, 1), "dormant", True, False, True),
        (date(2027, 5, 14), "dormant", False, False, True),
        (date(2027, 5, 15), "slipping", False, False, True),
        (date(2027, 5, 20), "slipping", False, False, True),
        (date(2027, 5, 21), "slipping", False, True, True),
        (date(2027, 7, 31), "slipping", False, False, True),
        (date(2027, 8, 1), "slipping", False, False, False),
        (date(2027, 8, 16), "dormant", False, False, False),
        (date(2027, 11, 14), "dormant", False, False, False),
        (date(2027, 11, 15), "frozen", True, False, False),
    ],
)
def test_both_sides_of_each_change_at_fifty_four_degrees(day, bark, ground_frozen, flying, chips_draw):
    (part,) = spells(season(), day, day)
    assert (part.bark, part.ground_frozen, part.flying, part.chips_draw) == (bark, ground_frozen, flying, chips_draw)


def test_the_farther_north_the_shorter_bark_slips_and_the_longer_ground_is_frozen():
    book = datafile.load("season/spells.yaml", SpellBook)
    slips, frozen = [], []
    for band in book.bands:
        slips.append((day_of(band.slipping[1], 2027) - day_of(band.slipping[0], 2027)).days)
        frozen.append((day_of(band.ground_frozen[1], 2028) - day_of(band.ground_frozen[0], 2027)).days)
    assert slips == sorted(slips, reverse=True)
    assert frozen == sorted(frozen)
    assert cite(book.chips_draw.cite).key == "fettig2007"


@pytest.mark.parametrize(("latitude", "starts"), [(44.99, 0), (45.0, 45), (57.9, 52), (63.0, 63), (90.0, 63)])
def test_bands_start_at_their_latitude(latitude, starts):
    assert band_of(datafile.load("season/spells.yaml", SpellBook), latitude).latitude_from == starts


@given(places, days, st.integers(0, 800))
def test_without_the_ground_the_rest_stays_and_frost_cuts_nothing(place, first, length):
    last = first + timedelta(days=length)
    whole = spells(place, first, last)
    plain = without_ground(whole)
    assert (plain[0].first, plain[-1].last) == (first, last)
    assert len(plain) <= len(whole)
    assert not any(one.ground_frozen or one.frost_deep for one in plain)
    for one in whole:
        (same,) = (other for other in plain if other.first <= one.first and one.last <= other.last)
        assert (same.bark, same.flying, same.chips_draw) == (one.bark, one.flying, one.chips_draw)
