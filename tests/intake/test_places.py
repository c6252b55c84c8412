import math

import pytest

from barkwright.intake.places import NoPlaceError, read_place, towns
from barkwright.season.site import regions


@pytest.mark.parametrize(
    ("text", "latitude", "longitude"),
    [
        ("54.0, -123.0", 54, -123),
        ("54.0 -123.0", 54, -123),
        ("(54.25, -123.5)", 54.25, -123.5),
        ("lat 54.0 lon -123.0", 54, -123),
        ("54.0 N, 123.0 W", 54, -123),
        ("N54.5 W123.25", 54.5, -123.25),
        ("54.5n 123.25w", 54.5, -123.25),
        ("123 30 W, 54 15 N", 54.25, -123.5),
        ("54 15, -123 30", 54.25, -123.5),
        ("54° 15' N, 123° 30' W", 54.25, -123.5),
        ("54°12'36\"N 123°05'24\"W", 54.21, -123.09),
        ("54 degrees 30 minutes north; 123 degrees west", 54.5, -123),
        ("−33.5, 0.0", -33.5, 0),
    ],
)
def test_degrees_are_read_as_people_copy_and_write_them(text: str, latitude: float, longitude: float):
    spot = read_place(text)
    assert math.isclose(spot.latitude, latitude, abs_tol=1e-5)
    assert math.isclose(spot.longitude, longitude, abs_tol=1e-5)
    assert spot.town is None


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("54.0", "comma"),
        ("54 61 N, 123 5 W", "59"),
        ("-54 N, 123 W", "not both"),
        ("54 N, 123 N", "other E or W"),
        ("54,0, -123,0", "comma"),
        ("one, 2", "degrees"),
        ("Nowhere Flats", "not known"),
        ("Soldotnaa", "did you mean Soldotna"),
        ("", "not known"),
    ],
)
def test_what_is_no_place_is_refused_with_what_was_expected(text: str, said: str):
    with pytest.raises(NoPlaceError, match=said):
        read_place(text)


@pytest.mark.parametrize("text", ["Soldotna", "soldotna, AK", " SOLDOTNA "])
def test_a_town_stands_for_a_rough_place(text: str):
    spot = read_place(text)
    assert (spot.latitude, spot.longitude, spot.town) == (60.49, -151.06, "Soldotna")


def test_every_town_is_a_point_of_a_flight_calendar():
    points = {point for region in regions().regions for point in region.points}
    assert set(towns().values()) <= points
    assert len(set(towns().values())) == len(towns())
