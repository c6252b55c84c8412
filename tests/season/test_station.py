"""The station beside the site: how far off, how much higher or lower, and what that does to its temperatures."""

from datetime import date

import pytest

from barkwright.inventory.model import Site
from barkwright.output.flight_rests import station_beside
from barkwright.season.site import season_of
from barkwright.season.sure import sure_of_dates

ON = date(2026, 11, 25)
SITE = {"name": "any", "units": "imperial", "latitude": 54.0, "longitude": -122.0, "region": "interior-plateau"}
M = 1 / 0.3048  # a metre in feet


@pytest.fixture
def season(tmp_path):
    """A site whose weather file is a station at 54 N, 122 W and 1,000 m, if not said otherwise."""

    def made(place=("latitude: 54.0", "longitude: -122.0", "elevation_m: 1000"), years=range(2014, 2027), **more):
        rows = [
            f"{year}-{month:02}-{day:02},{(20 if 5 <= month <= 8 else 2) + day % 3 - 1},{4 if 5 <= month <= 8 else -4}"
            for year in years
            for month, last in enumerate((31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31), 1)
            for day in range(1, last + 1)
        ]
        path = tmp_path / "daily.csv"
        head = ["# station: Testing Knoll", *(f"# {one}" for one in place), "date,tmax_c,tmin_c"]
        path.write_text("\n".join([*head, *rows, ""]), encoding="utf-8")
        return season_of(Site.model_validate({**SITE, "weather": (str(path),), **more}), ON)

    return made


def said(season, severity="warning"):
    return [one.message for one in season.notes if one.code == "weather-station" and one.severity == severity]


@pytest.mark.parametrize(("up_m", "warned"), [(-1000, True), (-301, True), (-299, False), (299, False), (301, True)])
def test_a_site_over_three_hundred_metres_above_or_below_is_warned_of(season, up_m, warned):
    here = season(elevation=(1000 + up_m) * M)
    way = "below" if up_m < 0 else "above"
    assert [f"{abs(up_m) * M:,.0f} ft {way} the weather station Testing Knoll" in one for one in said(here)] == (
        [True] if warned else []
    )
    assert (sure_of_dates(here).level == "well founded") != warned


def test_beetles_fly_earlier_below_the_station_and_later_above_it(season):
    for up_m, when in ((-1000, "earlier"), (1000, "later")):
        [note] = [one for one in season(elevation=(1000 + up_m) * M).notes if one.severity == "warning"]
        assert f"fly {when} at the site" in note.hint


@pytest.mark.parametrize(("up_m", "high"), [(1000, 13.5), (-1000, 26.5), (0, 20.0)])
def test_temperatures_are_shifted_on_request_alone_by_six_and_a_half_degrees_a_kilometre(season, up_m, high):
    at = {"elevation": (1000 + up_m) * M}
    july = date(2025, 7, 1)
    assert season(**at).weather.days[july].tmax_c == 20.0
    shifted = season(**at, weather_to_site_height=True)
    assert shifted.weather.days[july].tmax_c == pytest.approx(high, abs=0.011)
    assert shifted.weather.days[july].tmin_c == pytest.approx(high - 16, abs=0.011)
    assert said(shifted) == []


@pytest.mark.parametrize(("latitude", "warned"), [(54.43, False), (54.44, True)])  # 69.09 miles a degree
def test_a_station_over_thirty_miles_off_is_warned_of(season, latitude, warned):
    here = season(latitude=latitude, elevation=1000 * M)
    assert bool(said(here)) == warned
    assert all("miles from the site" in one for one in said(here))


@pytest.mark.parametrize(
    ("place", "more"),
    [
        (("latitude: 54.0", "longitude: -122.0", "elevation_m: 1000"), {}),
        (("latitude: 54.0", "longitude: -122.0"), {"elevation": 3000}),
        (("elevation_m: 1000",), {"elevation": 1000 * M}),
    ],
)
def test_dates_by_a_station_of_unknown_place_or_height_are_not_called_well_founded(season, place, more):
    sure = sure_of_dates(season(place, **more))
    assert (sure.level, "not known" in sure.why) == ("fairly sure", True)


def test_the_stations_height_may_be_told_by_the_site(season):
    here = season(("latitude: 54.0", "longitude: -122.0"), elevation=1000 * M, weather_elevation=1000 * M)
    assert sure_of_dates(here).level == "well founded"
    assert said(here) == said(here, "note") == []
    assert station_beside(here).above_ft == pytest.approx(0.0, abs=0.01)
