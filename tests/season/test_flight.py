from datetime import date, timedelta

import pytest

from barkwright.inventory.model import Site
from barkwright.season.distance import miles_between
from barkwright.season.doubts import doubts_of
from barkwright.season.flight import coming_flight, day_of, finish_by, flight_year, too_late
from barkwright.season.regions import regions
from barkwright.season.site import season_of
from barkwright.sources import load_sources

ON = date(2026, 10, 24)


def site(latitude=53.1, longitude=-122.4, **more):
    return Site.model_validate(
        {"name": "any", "units": "imperial", "latitude": latitude, "longitude": longitude, **more}
    )


def test_a_named_region_is_taken_without_a_note():
    season = season_of(site(region="utah"), ON)
    assert season.region.id == "utah"
    assert season.given
    assert season.notes == doubts_of(season) == ()


def test_the_nearest_region_is_taken_and_named():
    season = season_of(site(), ON)
    assert season.region.id == "interior-plateau"
    assert not season.given
    (note,) = doubts_of(season)
    assert note.severity == "note"
    assert "interior of British Columbia" in note.message
    assert note.value == "interior-plateau"


def test_what_the_dates_do_not_rest_on_is_said():
    (height,) = doubts_of(season_of(site(region="utah", elevation=9100.0), ON))
    assert height.severity == "note"
    assert "not shifted" in height.message
    assert "9,100 ft" in height.message


@pytest.mark.parametrize(
    ("latitude", "longitude", "region"),
    [
        (61.0, -135.0, "far-north"),
        (55.2, -118.8, "alberta"),
        (40.4, -106.8, "colorado"),
        (41.3, -106.3, "central-rockies"),
        (37.7, -112.9, "utah"),
        (45.5, -68.5, "great-lakes-maritimes"),
        (34.0, -84.0, "generic"),
        (68.0, 20.0, "generic"),
    ],
)
def test_which_region_lies_nearest(latitude, longitude, region):
    assert season_of(site(latitude, longitude), ON).region.id == region


def test_an_unknown_region_is_an_error_with_the_list_and_the_nearest_stands_in():
    season = season_of(site(region="interior-platoe"), ON)
    error = season.notes[0]
    assert (error.severity, error.value) == ("error", "interior-platoe")
    assert "did you mean 'interior-plateau'?" in error.hint
    assert all(region.id in error.hint for region in regions().regions)
    assert season.region.id == "interior-plateau"


def test_every_region_has_a_calendar_that_runs_forward_and_a_source_or_says_none():
    book = regions()
    ids = [region.id for region in book.regions]
    assert ids == sorted(set(ids))
    assert book.generic in ids
    for region in book.regions:
        assert day_of(region.onset, 2027) < day_of(region.end, 2027)
        assert bool(region.citations) == (region.known in ("read", "secondary"))
        assert all(citation.key in load_sources() for citation in region.citations)


def test_dates_of_a_flight():
    flight = flight_year(season_of(site(region="interior-plateau"), ON), 2027)
    assert (flight.onset, flight.end) == (date(2027, 5, 21), date(2027, 7, 10))
    assert flight.onset < flight.half < flight.end
    assert abs((flight.half - flight.onset) - (flight.end - flight.half)) <= timedelta(days=1)
    assert finish_by(flight) == date(2027, 5, 7)
    assert too_late(flight) == flight.half


def test_dates_from_memory_say_so():
    named = season_of(site(region="pacific-northwest"), ON)
    assert "from memory" in flight_year(named, 2027).basis
    assert "from memory" not in flight_year(season_of(site(region="alberta"), ON), 2027).basis


@pytest.mark.parametrize(
    ("on", "coming"),
    [
        (date(2026, 12, 31), 2027),
        (date(2027, 1, 1), 2027),
        (date(2027, 5, 20), 2027),
        (date(2027, 7, 10), 2027),  # the flight's last day
        (date(2027, 7, 11), 2028),
    ],
)
def test_the_coming_flight_is_the_one_not_yet_over(on, coming):
    assert coming_flight(season_of(site(region="interior-plateau"), on), on) == coming


def test_distance_between_two_towns():
    # A degree of latitude is 69.1 miles on a sphere of 3958.8 miles.
    assert miles_between(50, -120, 51, -120) == pytest.approx(69.1, abs=0.05)
    assert miles_between(50, 179.9, 50, -179.9) < 10
    assert miles_between(53, -122, 53, -122) == 0


def test_where_no_calendar_is_near_it_is_not_called_the_nearest():
    basis = flight_year(season_of(site(34.0, -84.0), ON), 2027).basis
    assert basis.startswith("Flight calendar of western North America in general, because no nearer region has one:")
