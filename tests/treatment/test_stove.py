"""Wood for the stove: split early enough to be dry when it is burned."""

from datetime import date, timedelta

import pytest
from effort_site import ON, Site

from barkwright.treatment.drying import Drying

FAR = {"latitude": 44.0, "longitude": -109.0, "region": "central-rockies"}  # no climate station is near


@pytest.mark.parametrize("where", [{}, FAR])
def test_wood_for_the_stove_is_split_in_time_to_be_dry(where):
    place = Site(site=where)
    steps = {one.do: one for one in place.steps("T1/1", "split-maul-stove", "dormant")}
    [(first, split)], [(burn, _)] = steps["split"].spans, steps["stove"].spans
    assert first == ON < split < burn
    assert Drying(place.season, split).stove_from[1] <= burn  # wood split on the last day is likely dry
    assert Drying(place.season, split + timedelta(days=1)).stove_from[1] > burn


def test_split_wood_that_is_stacked_or_burned_outdoors_or_was_dry_before_is_split_on_any_day():
    place = Site()
    for way, bark in (("split-maul-stack", "dormant"), ("split-maul-burn", "dormant"), ("split-maul-stove", "dried")):
        steps = {one.do: one for one in place.steps("T1/1", way, bark)}
        assert steps["split"].spans is None


@pytest.mark.parametrize(
    ("days", "said"),
    [
        ((None, None), "not within two years"),
        ((date(2027, 6, 10), None), "perhaps from 10 June 2027, not surely within two years"),
        ((date(2027, 6, 10), date(2027, 8, 12)), "perhaps from 10 June 2027, likely from 12 August 2027"),
        ((date(2027, 10, 1), date(2027, 10, 1)), "from 1 October 2027"),
    ],
)
def test_the_days_from_which_wood_is_dry_in_words(days, said):
    drying = Drying(Site().season, ON)
    drying.stove_from = days
    assert drying.words == said
