import pytest
from hypothesis import given
from hypothesis import strategies as st
from season_tables import rows

from barkwright.season.cold import warm_up, wind_chill_c, wind_chill_f

CHART = rows("nws2001-wind-chill.csv")
SCHEDULE = rows("acgih-warm-up.csv")


def test_every_value_of_the_wind_chill_chart():
    assert len(CHART) == 204
    for row in CHART:
        ours = wind_chill_f(float(row["temp_f"]), float(row["wind_mph"]))
        assert abs(ours - float(row["wind_chill_f"])) <= 0.5, row


def test_the_metric_form_is_the_same_formula():
    for row in CHART:
        temp, wind = float(row["temp_f"]), float(row["wind_mph"])
        celsius = wind_chill_c((temp - 32) / 1.8, wind * 1.609344)
        assert celsius * 1.8 + 32 == pytest.approx(wind_chill_f(temp, wind), abs=0.1)


def test_outside_the_formula_the_air_is_as_cold_as_it_is():
    assert wind_chill_f(50.1, 30) == 50.1
    assert wind_chill_f(-10, 2.9) == -10
    assert wind_chill_f(50, 30) < 50
    assert wind_chill_f(-10, 3) < -10
    assert wind_chill_c(10.1, 40) == 10.1
    assert wind_chill_c(-20, 4.7) == -20


@pytest.mark.parametrize("row", SCHEDULE, ids=lambda row: f"{row['temp_hi_c']} at {row['wind_kmh']}")
def test_every_row_of_the_warm_up_schedule_at_both_ends_of_its_band(row):
    for end in {row["temp_hi_c"], row["temp_lo_c"] or row["temp_hi_c"]}:
        ours = warm_up(float(end), float(row["wind_kmh"]))
        assert ours.stop == (row["action"] == "non-emergency work should stop")
        assert (ours.breaks or "") == (int(row["breaks_per_4h"]) if row["breaks_per_4h"] else "")
        assert ours.max_work_min == (None if row["max_work_min"] in ("", "normal") else int(row["max_work_min"]))


def test_the_schedule_is_read_whole():
    assert len(SCHEDULE) == 35


def test_between_two_rows_the_harder_one_holds():
    assert warm_up(-28.1, 0).step == 1
    assert warm_up(-26, 0.5).step == 1
    assert warm_up(-25.9, 60).step == 0
    assert warm_up(-26, 40).step == 5
    assert warm_up(-26, 41).stop


@given(st.floats(-60, 10), st.floats(0, 80), st.floats(0, 20), st.floats(0, 40))
def test_colder_or_windier_is_never_easier(temp, wind, colder, windier):
    assert warm_up(temp - colder, wind + windier).step >= warm_up(temp, wind).step
