"""Units that are not stated and dates that may mean two days: told where only one meaning can be, otherwise refused."""

from datetime import date

import pytest
from weather_texts import CANADA_HEADER, canada, days_of, lines, plain, read, refusal, said, seasonal, year_of

from barkwright.season.weatherfiles.dates import day_of, style_of

HEADER = "STATION,NAME,DATE,TMAX,TMIN"


def summaries(cold, hot, span, months=(1, 12), year=2021):
    def row(day):
        tmax = seasonal(day, cold, hot)
        return f"X1,TESTING KNOLL,{day},{tmax:.0f},{tmax - span:.0f}"

    return lines(HEADER, year_of(row, year, *months))


@pytest.mark.parametrize(
    ("cold", "hot", "span", "units"),
    [
        (25, 78, 22, "imperial"), (-4, 26, 12, "metric"), (-10, 60, 20, "imperial"), (-23, 16, 11, "metric"),
        (35, 58, 9, "imperial"), (2, 14, 5, "metric"), (40, 92, 30, "imperial"), (5, 33, 17, "metric"),
    ],
)  # fmt: skip
def test_a_whole_year_tells_its_units(tmp_path, cold, hot, span, units):
    reading = read(tmp_path, summaries(cold, hot, span))
    written = seasonal(date(2021, 7, 15), cold, hot)
    meant = (written - 32) / 1.8 if units == "imperial" else written
    assert days_of(reading)[date(2021, 7, 15)].tmax_c == pytest.approx(round(meant, 6))
    word = "taken to be F" if units == "imperial" else "taken to be C"
    assert any(word in message for message in said(reading, "weather-units"))


@pytest.mark.parametrize(("cold", "hot"), [(10, 20), (-5, 5), (-30, -10)])
def test_a_winter_alone_does_not_tell_and_is_refused_until_the_user_does(tmp_path, cold, hot):
    text = summaries(cold, hot, 8, months=(1, 2))
    told = refusal(read(tmp_path, text), "weather-units")
    assert "as F and as C the temperatures are believable" in told
    assert "weather_units: imperial" in told
    day = date(2021, 1, 15)
    written = seasonal(day, cold, hot)
    assert days_of(read(tmp_path, text, units="metric"))[day].tmax_c == pytest.approx(round(written))
    in_f = days_of(read(tmp_path, text, units="imperial"))[day].tmax_c
    assert in_f == pytest.approx((round(written) - 32) / 1.8)


def test_a_few_days_do_not_tell(tmp_path):
    rows = [f"X1,Y,2021-07-{day:02},24,9" for day in range(1, 10)]
    assert "cannot be told" in refusal(read(tmp_path, lines(HEADER, rows)), "weather-units")


def test_ten_days_of_july_do(tmp_path):
    rows = [f"X1,Y,2021-07-{day:02},{24 + day % 3},9" for day in range(1, 11)]
    assert days_of(read(tmp_path, lines(HEADER, rows)))[date(2021, 7, 3)].tmax_c == 24.0


def test_units_of_the_user_that_cannot_be(tmp_path):
    told = refusal(read(tmp_path, summaries(25, 78, 22), units="metric"), "weather-units")
    assert "weather_units says metric" in told
    told = refusal(read(tmp_path, summaries(-4, 26, 12), units="imperial"), "weather-units")
    assert "weather_units says imperial" in told


def test_two_orders_in_different_units_joined_in_one_file(tmp_path):
    text = summaries(25, 78, 22) + summaries(-4, 26, 12, year=2022).partition("\n")[2]
    told = refusal(read(tmp_path, text), "weather-units")
    assert "read as F" in told
    assert "read as C" in told


def test_tenths_of_a_degree_without_attributes(tmp_path):
    assert "tenths of a degree" in refusal(read(tmp_path, summaries(-40, 260, 120)), "weather-units")


@pytest.mark.parametrize(
    ("written", "day"),
    [
        ("2021-01-31", date(2021, 1, 31)), ("20210131", date(2021, 1, 31)), ("2021/01/31", date(2021, 1, 31)),
        ("2021/1/3", date(2021, 1, 3)), ("2021-01-31 00:00", date(2021, 1, 31)),
        ("2021-01-31T00:00:00", date(2021, 1, 31)),
        ("1/31/2021", date(2021, 1, 31)), ("31/1/2021", date(2021, 1, 31)), ("31.01.2021", date(2021, 1, 31)),
        ("1/31/21 0:00", date(2021, 1, 31)), ("31-Jan-21", date(2021, 1, 31)), ("31-JAN-2021", date(2021, 1, 31)),
        ("31 January 2021", date(2021, 1, 31)), ("Jan 31, 2021", date(2021, 1, 31)), ("31-Jan-71", date(1971, 1, 31)),
        ("31-Jan-69", date(2069, 1, 31)), ("44227", date(2021, 1, 31)), ("44227.0", date(2021, 1, 31)),
        ("2020-02-29", date(2020, 2, 29)), ("12/31/2020", date(2020, 12, 31)),
    ],
)  # fmt: skip
def test_a_date_that_means_one_day(written, day):
    assert day_of(written, style_of([written])) == day


@pytest.mark.parametrize(
    "written",
    ["2021-02-29", "2021-13-01", "2021-1-31", "2021-01-3", "31/31/2021", "0/1/2021", "31-Foo-21", "2021-01-31 06:00",
     "1234", "0131", "2021", "", "yesterday", "2021-01-31x", "123456", "٢٠٢١-٠١-٣١", "1799-01-01", "9999-01-01"],
)  # fmt: skip
def test_what_is_no_date(written):
    assert day_of(written, style_of([written])) is None


def rows(*days):
    return plain(*(f"{day},{10 + n % 3},{n % 5}" for n, day in enumerate(days)))


def test_one_day_beyond_the_twelfth_tells_the_order_for_the_whole_file(tmp_path):
    american = days_of(read(tmp_path, rows("1/2/2021", "1/31/2021")))
    assert list(american) == [date(2021, 1, 2), date(2021, 1, 31)]
    reading = read(tmp_path, rows("1/2/2021", "29/2/2021", "28/2/2021", "27/2/2021"))
    assert list(days_of(reading)) == [date(2021, 2, 1), date(2021, 2, 27), date(2021, 2, 28)]
    assert "dates are read day first" in said(reading, "weather-dates")


def test_an_order_that_nothing_tells_is_refused(tmp_path):
    assert "day or month may come first" in refusal(read(tmp_path, rows("1/2/2021", "3/4/2021")), "weather-dates")


def test_an_order_that_changes_within_the_file_is_refused(tmp_path):
    told = refusal(read(tmp_path, rows("31/1/2021", "1/31/2021")), "weather-dates")
    assert "some have the day first and some the month" in told


def test_a_spreadsheets_count_of_days_is_said(tmp_path):
    reading = read(tmp_path, rows("44227", "44228"))
    assert list(days_of(reading)) == [date(2021, 1, 31), date(2021, 2, 1)]
    assert "dates are read as a spreadsheet's count of days since 1900" in said(reading, "weather-dates")


def test_rows_out_of_order_come_out_in_order(tmp_path):
    assert list(days_of(read(tmp_path, rows("2021-04-03", "2021-04-01")))) == [date(2021, 4, 1), date(2021, 4, 3)]


def table(columns, cold, hot, span=9, turn=lambda c: c):
    rows = year_of(
        lambda day: f"{day},{turn(seasonal(day, cold, hot)):.1f},{turn(seasonal(day, cold, hot) - span):.1f}"
    )
    return lines(f"date,{columns}", rows)


@pytest.mark.parametrize(
    ("columns", "turn", "says", "instead"),
    [
        ("tmax_c,tmin_c", lambda c: c * 1.8 + 32, "in C", "tmax_f and tmin_f"),
        ("tmax_f,tmin_f", lambda c: c, "in F", "tmax_c and tmin_c"),
    ],
)
def test_a_plain_table_that_says_the_wrong_unit_is_refused(tmp_path, columns, turn, says, instead):
    [error] = read(tmp_path, table(columns, -12, 23, turn=turn)).diagnostics
    assert (error.code, error.where.line) == ("weather-units", 1)
    assert f"said to be {says}, but read so, " in error.message
    assert instead in error.hint


@pytest.mark.parametrize(("cold", "hot"), [(-12, 23), (-30, 12), (2, 33)])
@pytest.mark.parametrize("columns", ["tmax_c,tmin_c", "tmax_f,tmin_f"])
def test_a_plain_table_that_says_its_unit_rightly_is_read_without_doubt(tmp_path, columns, cold, hot):
    turn = (lambda c: c * 1.8 + 32) if columns == "tmax_f,tmin_f" else (lambda c: c)
    assert not said(read(tmp_path, table(columns, cold, hot, turn=turn)), "weather-doubt")


@pytest.mark.parametrize(("cold", "hot"), [(-60, -30), (-45, -5)])
def test_a_climate_without_spruce_is_warned_of(tmp_path, cold, hot):
    reading = read(tmp_path, table("tmax_c,tmin_c", cold, hot, span=12))
    [warning] = [one for one in reading.weather.notes if "no such climate" in one.message]
    assert (warning.severity, warning.code) == ("warning", "weather-doubt")


@pytest.mark.parametrize(
    ("name", "odd"), [("Max Temp (°C)", "Max Temp (°F)"), ("Total Precip (mm)", "Total Precip (in)")]
)
def test_a_canadian_header_with_other_units_is_refused(tmp_path, name, odd):
    text = lines(CANADA_HEADER.replace(name, odd), canada("2021-04-01", "50", "30"))
    assert odd in refusal(read(tmp_path, text), "weather-units")
