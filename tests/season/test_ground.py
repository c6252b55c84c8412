from datetime import date, timedelta

import made_weather
import pytest

from barkwright.inventory.part import Span
from barkwright.season.climate import climate_of
from barkwright.season.climatewords import climate_sources, climate_words
from barkwright.season.ground import frost_spans, ground_of
from barkwright.season.normals import nearest_normals
from barkwright.season.regions import regions
from barkwright.season.site import Season
from barkwright.season.weather import Day

HERE = {"latitude": 53.98, "longitude": -123.02}  # near Prince George
NOWHERE = {"latitude": 44.0, "longitude": -109.0}
DAY = timedelta(days=1)


def season(place=HERE, **more):
    region = next(one for one in regions().regions if one.id == "generic")
    return Season(region, True, None, **place, margin_days=14, notes=(), on=date(2026, 11, 25), **more)


def frozen(place, day):
    return [one for one in frost_spans(place, day.year - 1, day.year) if one.first <= day <= one.last]


def test_the_users_own_days_overrule_everything():
    spans = (Span(first=date(2026, 12, 5), last=date(2027, 2, 1)),)
    mine = season(frozen=spans, weather=made_weather.of(made_weather.wave(range(2015, 2025))))
    assert not frozen(mine, date(2026, 12, 4))
    assert frozen(mine, date(2026, 12, 5))[0].deep
    assert frozen(mine, date(2027, 2, 1))
    assert not frozen(mine, date(2027, 2, 2))
    assert not list(frost_spans(season(frozen=()), 2026, 2028))


def test_daily_weather_goes_before_climate_normals():
    # Tmax 6 + 13 cos, Tmin 12 lower: the mean is a wave of 13 about 0 degrees, below it from mid-October to mid-April.
    cold = season(weather=made_weather.of(made_weather.wave(range(2015, 2025))))
    ground = ground_of(cold)
    assert "reckoned coarsely from the daily weather of Testing Knoll, the middle of 9 winters" in ground.words
    assert "10-20" < ground.deep[0] < "11-10"
    assert not frozen(cold, date(2026, 10, 15))
    assert frozen(cold, date(2027, 3, 1))[0].deep
    assert not frozen(cold, date(2027, 8, 1))


def test_the_middle_winter_is_taken_not_the_worst():
    days = made_weather.wave(range(2015, 2024))
    for day in list(days):
        if date(2017, 8, 1) <= day < date(2018, 8, 1):  # one winter twenty degrees colder
            days[day] = Day(tmax_c=days[day].tmax_c - 20, tmin_c=days[day].tmin_c - 20)
    one, other = (
        ground_of(season(weather=made_weather.of(some))) for some in (days, made_weather.wave(range(2015, 2024)))
    )
    assert (one.deep, one.thin) == (other.deep, other.thin)


def test_a_warm_place_never_freezes():
    warm = season(weather=made_weather.of(made_weather.wave(range(2015, 2024), mean=30.0)))
    assert not list(frost_spans(warm, 2026, 2028))
    assert "it does not freeze" in ground_of(warm).words


def test_winters_with_holes_are_left_out_and_too_few_are_not_used():
    days = made_weather.wave(range(2015, 2020))
    for number in range(20):
        del days[date(2018, 1, 1) + number * DAY]
    assert "the middle of 3 winters" in ground_of(season(weather=made_weather.of(days))).words
    del days[date(2016, 1, 1)]
    assert "the middle of 3 winters" in ground_of(season(weather=made_weather.of(days))).words
    short = {day: reading for day, reading in days.items() if day.year >= 2018}
    assert "climate normals of Prince George" in ground_of(season(weather=made_weather.of(short))).words


def test_climate_normals_go_before_the_latitude():
    near = ground_of(season())
    assert (
        "the climate normals of Prince George airport (15 miles away, the site's height not known; about 30 years)"
        in near.words
    )
    assert {"ashrae2017", "tm5-852-6"} <= {one.key for one in near.citations}
    far = ground_of(season(NOWHERE))
    assert far.words == "When the ground is frozen is taken from the latitude alone: common practice, no source."
    assert frozen(season(NOWHERE), date(2027, 1, 1))[0].deep


def test_frost_is_thick_first_and_thin_before_it_is_gone():
    ground = ground_of(season())
    deep, _, _, thin = frost_spans(season(), 2026, 2027)
    assert deep.deep
    assert not thin.deep
    assert deep.last + DAY == thin.first
    assert ground.deep[0] == "11-27"


@pytest.mark.parametrize("day", [date(2027, 12, 31), date(2028, 1, 1), date(2028, 2, 29)])
def test_leap_day_and_new_year(day):
    assert frozen(season(), day)


def test_a_station_too_far_off_or_too_high_is_not_used():
    assert nearest_normals(53.98, -123.02, None).station.id == "prince-george"
    assert nearest_normals(53.98, -123.02, 979.0).station.id == "prince-george"
    assert nearest_normals(53.98, -123.02, 981.0) is None
    assert nearest_normals(44.0, -109.0, None) is None
    # 150 miles are 2.171 degrees of latitude.
    assert nearest_normals(53.891 - 2.16, -122.679, None).station.id == "prince-george"
    assert nearest_normals(53.891 - 2.18, -122.679, None) is None


def test_humidity_comes_from_a_station_that_has_it():
    assert nearest_normals(60.71, -135.07, 706.0).station.id == "whitehorse-1971"
    damp = nearest_normals(60.71, -135.07, 706.0, need_rh=True)
    assert damp.station.id == "whitehorse"
    assert damp.rh_pct[6] > 0
    assert nearest_normals(39.64, -106.35, None, need_rh=True) is None


def test_the_words_say_how_far_off_a_station_is():
    assert nearest_normals(53.98, -123.02, 700.0).words == (
        "the climate normals of Prince George airport (15 miles away, 70 ft lower; about 30 years)"
    )
    assert nearest_normals(53.891, -122.679, 680.0).where == "at the site, about as high"
    assert nearest_normals(64.8, -147.8, 100.0).name == "the typical year of Fairbanks airport"
    assert nearest_normals(39.64, -106.35, 2400.0).words == (
        "the climate normals of Vail (at the site, 350 ft higher; 1985 to 2012; its place from memory)"
    )


def test_the_weather_gives_the_mean_year_and_the_station_its_humidity():
    place = season(weather=made_weather.of(made_weather.wave(range(2015, 2019))))
    climate = climate_of(place)
    assert climate.temp_c[199] == pytest.approx(13.0, abs=0.1)
    assert climate.temp_c[59] == pytest.approx((climate.temp_c[58] + climate.temp_c[60]) / 2)
    assert climate.words.startswith(
        "the temperatures of the daily weather of Testing Knoll and the humidity of a typical year of Prince"
    )
    damp = {day: Day(one.tmax_c, one.tmin_c, rh_pct=70.0) for day, one in place.weather.days.items()}
    own = climate_of(season(weather=made_weather.of(damp)))
    assert own.words == "the daily weather of Testing Knoll"
    assert own.rh_pct[100] == 70.0
    assert own.citations == ()


def test_what_it_rests_on_is_said_for_what_was_asked():
    ground, drying = climate_words(season())
    assert (ground,) == climate_words(season(), drying=False)
    assert (drying,) == climate_words(season(), ground=False)
    assert "a typical year of Prince George airport" in drying
    assert "of the brood it says nothing" in drying
    assert "woodhandbook2010" in {one.key for one in climate_sources(season(), ground=False)}
    assert climate_sources(season(NOWHERE)) == ()
    assert "rule of thumb" in climate_words(season(NOWHERE))[1]
