"""What cannot be believed is left out and named with its dates and count; what is missing is named, never filled."""

from datetime import date, timedelta

import pytest
from weather_texts import CANADA_HEADER, canada, days_of, lines, plain, read, refusal, said

MAY = date(2021, 5, 1)


def may(n):
    return MAY + timedelta(days=n - 1)


def table(temperatures, header="date,tmax_c,tmin_c", start=MAY):
    """Rows from 1 May on, of (tmax, tmin, ...), one a day."""
    rows = (f"{start + timedelta(days=n)},{','.join(map(str, row))}" for n, row in enumerate(temperatures))
    return plain(*rows, header=header)


def steady(count):
    return [(15 + n % 3, 3 + n % 2) for n in range(count)]


def test_tmin_above_tmax_leaves_both_out(tmp_path):
    rows = [*steady(4), (2, 15), *steady(3), (2, 15.1)]
    reading = read(tmp_path, table([(*row, 1) for row in rows], "date,tmax_c,tmin_c,precip_mm"))
    days = days_of(reading)
    for day in (may(5), may(9)):
        assert (days[day].tmax_c, days[day].tmin_c, days[day].precip_mm) == (None, None, 1.0)
    message = "2 days (2021-05-05, 2021-05-09): Tmin above Tmax; left out: Tmax and Tmin"
    assert said(reading, "weather-doubt") == [message]


def test_columns_in_each_others_place(tmp_path):
    told = refusal(read(tmp_path, table([(low, high) for high, low in steady(20)])), "weather-doubt")
    assert "Tmin is above Tmax on 20 of 20 days" in told
    half = [*steady(2), (1, 9), (2, 9)]
    assert read(tmp_path, table(half)).weather is not None
    assert "on 3 of 5 days" in refusal(read(tmp_path, table([*half, (3, 9)])), "weather-doubt")


def test_one_reading_for_both_leaves_both_out(tmp_path):
    reading = read(tmp_path, table([*steady(3), (8, 8), *steady(2), (8.1, 8)]))
    assert may(4) not in days_of(reading)
    assert days_of(reading)[may(7)].tmin_c == 8.0
    message = "1 day (2021-05-04): Tmax and Tmin are the same, as if read once that day; left out: Tmax and Tmin"
    assert said(reading, "weather-doubt") == [message]


@pytest.mark.parametrize(
    ("column", "good", "bad"),
    [
        ("tmax_c", "60", "60.1"), ("precip_mm", "1000", "1001"), ("precip_mm", "0", "-0.1"), ("snow_cm", "300", "301"),
        ("gust_kmh", "450", "451"), ("wind_kmh", "0", "-1"), ("rh_pct", "100", "101"), ("tmin_c", "-70", "-70.1"),
    ],
)  # fmt: skip
def test_what_is_impossible_is_left_out(tmp_path, column, good, bad):
    other = "tmax_c" if column == "tmin_c" else "tmin_c"
    value = -20 if column == "tmax_c" else -60
    text = plain(f"2021-05-01,{good},{value}", f"2021-06-01,{bad},{value}", header=f"date,{column},{other}")
    reading = read(tmp_path, text)
    assert getattr(days_of(reading)[MAY], column) == float(good)
    assert getattr(days_of(reading)[date(2021, 6, 1)], column) is None
    assert any("1 day (2021-06-01)" in message and " outside " in message for message in said(reading, "weather-doubt"))


@pytest.mark.parametrize(
    ("peak", "fate"),
    [(29.9, None), (30.0, "kept"), (39.9, "kept"), (40.0, "left out: Tmax"), (-10.0, "left out: Tmax")],
)
def test_a_reading_far_from_both_its_neighbours(tmp_path, peak, fate):
    low = -30.0
    reading = read(tmp_path, table([(12.0, low), (15.0, low + 1), (peak, low), (15.0, low + 1), (12.0, low)]))
    value = days_of(reading)[may(3)].tmax_c
    assert value == (None if fate == "left out: Tmax" else peak)
    if fate is None:
        assert said(reading, "weather-doubt") == []
    else:
        [message] = said(reading, "weather-doubt")
        assert message.startswith("1 day (2021-05-03): Tmax ")
        assert message.endswith(f"; {fate}" if fate != "kept" else ", as a front may do; kept")


def test_a_step_is_no_spike(tmp_path):
    reading = read(tmp_path, table([(-8, -30), (-7, -31), (20, -2), (19, -1), (20, -2)]))
    assert said(reading, "weather-doubt") == []


def test_a_reading_without_both_neighbours_is_no_spike(tmp_path):
    reading = read(tmp_path, plain("2021-05-01,5,1", "2021-05-02,35,1", "2021-05-04,5,1"))
    assert said(reading, "weather-doubt") == []


@pytest.mark.parametrize(("low", "beside", "left_out"), [(7.1, True, True), (7.0, True, False), (7.1, False, False)])
def test_a_day_read_for_some_hours_only_beside_a_gap(tmp_path, low, beside, left_out):
    rows = table([*steady(5), (8, low), *steady(6)]).splitlines()
    kept = [row for row in rows if not row.startswith("2021-05-07" if beside else "2021-05-09")]
    reading = read(tmp_path, lines(kept))
    assert (may(6) not in days_of(reading)) is left_out
    assert len(said(reading, "weather-doubt")) == left_out


def test_a_foggy_day_at_either_end_of_the_record_is_kept(tmp_path):
    reading = read(tmp_path, table([(8, 7.5), *steady(5), (8, 7.5)]))
    assert said(reading, "weather-doubt") == []


@pytest.mark.parametrize(("run", "left_out"), [(4, False), (5, True)])
def test_a_thermometer_that_is_stuck(tmp_path, run, left_out):
    reading = read(tmp_path, table([*steady(3), *[(12.3, 4.5)] * run, *steady(3)]))
    assert (may(4) in days_of(reading)) is not left_out
    assert len(said(reading, "weather-doubt")) == left_out
    if left_out:
        assert said(reading, "weather-doubt")[0].startswith("5 days (2021-05-04, 2021-05-05")


def test_a_run_up_to_the_last_day_is_seen(tmp_path):
    reading = read(tmp_path, table([*steady(3), *[(12.3, 4.5)] * 6]))
    assert list(days_of(reading)) == [may(1), may(2), may(3)]


def test_many_days_are_counted_and_the_first_of_them_named(tmp_path):
    [message] = said(read(tmp_path, table([*steady(30), *[(1, 9)] * 15])), "weather-doubt")
    assert message.startswith("15 days (2021-05-31, 2021-06-01, ")
    assert "2021-06-11 and 3 more): Tmin above Tmax" in message


def test_a_doubt_stands_where_its_first_day_does(tmp_path):
    [note] = [one for one in read(tmp_path, table([*steady(4), (2, 15)])).weather.notes if one.code == "weather-doubt"]
    assert (note.where.line, note.severity) == (6, "warning")


def test_no_temperature_left(tmp_path):
    told = refusal(read(tmp_path, table([(5, 5), (6, 6)])), "empty")
    assert "no temperature is left" in told


@pytest.mark.parametrize(("missing", "named"), [(6, ""), (7, "; the longest gap is 2021-05-11 to 2021-05-17 (7 days)")])
def test_gaps_are_named_from_their_first_to_their_last_day(tmp_path, missing, named):
    whole = table(steady(130)).splitlines()
    reading = read(tmp_path, lines(whole[:11], whole[11 + missing :]))
    assert said(reading, "weather-gap") == [f"{missing} of 130 days have no highest temperature{named}"]
    assert all(may(11 + n) not in days_of(reading) for n in range(missing))


def test_the_longest_gaps_come_by_date_and_the_others_are_counted(tmp_path):
    whole = table(steady(120)).splitlines()
    kept = [line for n, line in enumerate(whole[1:]) if n % 15 < 8 or (n // 15 == 1 and n % 15 < 2)]
    [message] = said(read(tmp_path, lines(whole[0], kept)), "weather-gap")[:1]
    assert message.count(" to ") == 5
    assert message.endswith("and 2 more of 7 days or longer")
    assert "2021-05-24 to 2021-05-30 (7 days)" in message


def test_a_day_left_out_is_a_day_missing(tmp_path):
    reading = read(tmp_path, table([*steady(60), (1, 9), *steady(69)]))
    assert said(reading, "weather-gap") == ["1 of 130 days has no highest temperature"]


def test_missing_years_and_thin_summers_are_named(tmp_path):
    first, last = date(2017, 5, 1), date(2020, 5, 1)
    text = table(steady(240), start=first) + table(steady(97), start=last).partition("\n")[2] + "2020-12-31,1,0\n"
    messages = said(read(tmp_path, text), "weather-gap")
    assert "no day with a highest temperature in 2018, 2019" in messages
    assert "summers with few days on record from 05-01 to 08-31: 2020 (97 of 123)" in messages


@pytest.mark.parametrize(("count", "thin"), [(98, True), (99, False)])
def test_a_summer_is_thin_below_four_fifths_of_its_days(tmp_path, count, thin):
    text = table(steady(count)) + "2021-12-31,1,0\n"
    assert any("summers" in message for message in said(read(tmp_path, text), "weather-gap")) is thin


def test_a_summer_still_under_way_is_not_thin(tmp_path):
    assert said(read(tmp_path, table(steady(40))), "weather-gap") == []


def test_rows_without_readings_at_the_end_are_a_gap(tmp_path):
    rows = [canada(f"2021-05-{n:02}", f"{12 + n % 3}", f"{n % 4}") for n in range(1, 11)]
    blank = [canada(f"2021-05-{n:02}") for n in range(11, 32)]
    [message] = said(read(tmp_path, lines(CANADA_HEADER, rows, blank)), "weather-gap")
    assert message == "21 of 31 days have no highest temperature; the longest gap is 2021-05-11 to 2021-05-31 (21 days)"
