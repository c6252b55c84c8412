"""Each format as it is downloaded: columns, flags, units, encodings, line ends."""

from datetime import date

import pytest
from weather_texts import CANADA_HEADER, GHCN_HEADER, canada, days_of, ghcn, lines, plain, read, said, seasonal, year_of

from barkwright.season.weather import Day

APRIL_1 = date(2021, 4, 1)


def summaries(header, *rows):
    """Daily summaries in F, with a summer that tells them apart, and the rows given."""

    def row(day):
        cells = {"DATE": str(day), "TMAX": f"{seasonal(day, 20, 75):.0f}", "TMIN": f"{seasonal(day, 2, 52):.0f}"}
        known = {"STATION": "USC00999999", "NAME": "TESTING KNOLL, MT US"} | cells
        return ",".join(f'"{known.get(name, "")}"' for name in header.split(","))

    return lines(",".join(f'"{name}"' for name in header.split(",")), year_of(row, 2020), *rows)


def test_an_environment_canada_file(tmp_path):
    text = lines(
        CANADA_HEADER,
        canada("2021-04-01", "12.5", "-3.0", "4.2", "1.0", "48"),
        canada("2021-04-02", "", "-4.0", "", "", "<31", "ME..."),
        canada("2021-04-03", "9.0", "", "0.0", "", "", ".MTTM"),
        canada("2021-04-04", "8.0", "1.0", "0.0", "0.5", "", "..CL."),
        canada("2021-04-05"),
    )
    reading = read(tmp_path, b"\xef\xbb\xbf" + text.encode())
    days = days_of(reading)
    assert days[APRIL_1] == Day(12.5, -3.0, 4.2, 1.0, 48.0)
    assert days[date(2021, 4, 2)] == Day(tmin_c=-4.0, gust_kmh=0.0)
    assert days[date(2021, 4, 3)] == Day(tmax_c=9.0, precip_mm=0.0, snow_cm=0.0)
    assert days[date(2021, 4, 4)] == Day(tmax_c=8.0, tmin_c=1.0, gust_kmh=0.0)
    assert date(2021, 4, 5) not in days
    station = reading.weather.station
    assert (station.id, station.name, station.latitude, station.longitude, station.elevation_m) == (
        "1234567", "TESTING KNOLL", 54.1, -122.5, None,
    )  # fmt: skip
    assert set(said(reading, "weather-read")) == {
        "1 day with Min Temp estimated (flag E), kept",
        "1 day with gust below the reporting limit, taken as 0",
        "1 day with Total Precip a trace, taken as 0 (flag T)",
        "1 day with Total Snow a trace, taken as 0 (flag T)",
        "1 day with Total Precip of uncertain amount (flag C), taken as missing",
        "1 day with Total Snow that may or may not have fallen (flag L), taken as missing",
        "1 day with no gust and no flag, taken as 0: gusts are written from 31 km/h up",
    }


def test_a_year_without_any_gust_measured_none(tmp_path):
    text = lines(CANADA_HEADER, canada("2021-04-01", "12.5", "-3.0"), canada("2022-04-01", "12.5", "-3.0", gust="31"))
    days = days_of(read(tmp_path, text))
    assert [day.gust_kmh for day in days.values()] == [None, 31.0]


@pytest.mark.parametrize("sign", ["", "°", "Â°", "\N{REPLACEMENT CHARACTER}"])
def test_the_degree_sign_may_be_anything(tmp_path, sign):
    text = lines(CANADA_HEADER.replace("°", sign), canada("2021-04-01", "12.5", "-3.0"))
    assert days_of(read(tmp_path, text)) == {APRIL_1: Day(12.5, -3.0)}


def test_an_older_copy_has_its_station_above_the_header(tmp_path):
    head = ['"Station Name","TESTING KNOLL"', '"Latitude","54.10"', '"Longitude","-122.50"', '"Elevation","691.00"',
            '"Climate Identifier","1234567"', '', '"Legend"', '"E","Estimated"', '']  # fmt: skip
    table = [
        '"Date/Time","Max Temp (C)","Max Temp Flag","Min Temp (C)","Min Temp Flag"',
        '"2021-04-01","12.5","","-3.0",""',
    ]
    reading = read(tmp_path, lines(head, table))
    assert days_of(reading) == {APRIL_1: Day(12.5, -3.0)}
    assert reading.weather.station.elevation_m == 691.0
    assert reading.weather.station.id == "1234567"


def test_daily_summaries_in_fahrenheit_inches_and_miles(tmp_path):
    header = "STATION,NAME,LATITUDE,LONGITUDE,ELEVATION,DATE,AWND,PGTM,PRCP,SNOW,TMAX,TMIN,WSF2,WSF5,WT03"
    start = '"USC00999999","TESTING KNOLL, MT US","45.5","-110.25","1402.1"'
    row = f'{start},"2021-04-01","10.00"," 0411","0.10","1.0","41","14","20.0","  25.0","1"'
    bare = f'{start},"2021-04-02","","","","","50","32","30.0","",""'
    reading = read(tmp_path, summaries(header, row, bare))
    days = days_of(reading)
    first = days[APRIL_1]
    assert (first.tmax_c, first.tmin_c, first.thunder) == (pytest.approx(5.0), pytest.approx(-10.0), True)
    assert (first.precip_mm, first.snow_cm) == (pytest.approx(2.54), pytest.approx(2.54))
    assert (first.wind_kmh, first.gust_kmh) == (pytest.approx(16.09344), pytest.approx(40.2336))
    second = days[date(2021, 4, 2)]
    assert (second.tmax_c, second.tmin_c) == (pytest.approx(10.0), pytest.approx(0.0))
    assert (second.precip_mm, second.gust_kmh, second.thunder) == (None, None, False)
    assert said(reading, "weather-units")[0].startswith("units are not stated in the file; taken to be F, inches and ")
    assert reading.weather.kind == "NCEI daily summaries"


def test_the_wind_of_two_minutes_is_no_gust_and_said(tmp_path):
    row = "USC00999999,TESTING KNOLL,2021-04-01,41,14,20.0"
    reading = read(tmp_path, summaries("STATION,NAME,DATE,TMAX,TMIN,WSF2", row))
    assert days_of(reading)[APRIL_1].gust_kmh == pytest.approx(32.18688)
    assert any("true gusts are stronger" in message for message in said(reading, "weather-read"))


def test_daily_summaries_may_lack_all_that_is_not_needed(tmp_path):
    reading = read(tmp_path, summaries("STATION,DATE,TMAX", "USC00999999,2021-04-01,41"))
    assert days_of(reading)[APRIL_1] == Day(tmax_c=pytest.approx(5.0))
    assert (reading.weather.station.latitude, reading.weather.station.name) == (None, "")


def test_daily_summaries_with_attributes_lose_what_failed_the_check(tmp_path):
    header = "STATION,NAME,DATE,TMAX,TMAX_ATTRIBUTES,TMIN,TMIN_ATTRIBUTES"
    row = 'USC00999999,TESTING KNOLL,2021-04-01,41,",I,7",14,",,7,0800"'
    reading = read(tmp_path, summaries(header, row))
    assert days_of(reading)[APRIL_1] == Day(tmin_c=pytest.approx(-10.0))
    assert "1 day with TMAX that failed the archive's own check (flag I), left out" in said(reading, "weather-read")


def test_daily_summaries_in_metric_units(tmp_path):
    def row(day):
        return f"USC00999999,TESTING KNOLL,{day},{seasonal(day, -8, 24):.1f},{seasonal(day, -18, 8):.1f},2.5,10,10.0"

    text = lines("STATION,NAME,DATE,TMAX,TMIN,PRCP,SNOW,WSF5", year_of(row))
    day = days_of(read(tmp_path, text))[date(2021, 7, 3)]
    assert (day.tmax_c, day.precip_mm, day.snow_cm, day.gust_kmh) == (24.0, 2.5, 1.0, 36.0)


def test_a_ghcn_file_of_one_station(tmp_path):
    text = lines(
        GHCN_HEADER,
        ghcn("2021-04-01", "125", "-31", "42", "10", (",,7", ",,7", ",,7,0800", ",,7")),
        ghcn("2021-04-02", "300", "-40", "0", "0", (",G,7", ",,7", "T,,7", "T,,7")),
        ghcn("2021-04-03", "95", "-15", "0", "", ("L,,7", ",,7", "P,,7", "")),
    )
    reading = read(tmp_path, text)
    days = days_of(reading)
    assert days[APRIL_1] == Day(12.5, pytest.approx(-3.1), pytest.approx(4.2), 1.0, thunder=False)
    assert days[date(2021, 4, 2)] == Day(None, -4.0, 0.0, 0.0, thunder=False)
    assert reading.weather.station.elevation_m == 1402.1
    read_so = said(reading, "weather-read")
    assert "1 day with TMAX that failed the archive's own check (flag G), left out" in read_so
    assert "1 day with TMAX that may belong to the day before (flag L), kept" in read_so
    assert "1 day with PRCP missing and presumed to be 0 (flag P), kept" in read_so
    assert "1 day with a trace of PRCP (flag T), taken as 0" in read_so


def test_wind_and_humidity_of_a_ghcn_file(tmp_path):
    text = lines(
        "STATION,DATE,TMAX,TMAX_ATTRIBUTES,TMIN,AWND,WSFG,RHAV,WT03", 'X1,2021-04-01,125,",,7",-30,100,200,63,1'
    )
    assert days_of(read(tmp_path, text))[APRIL_1] == Day(12.5, -3.0, None, None, 72.0, 36.0, 63.0, True)


def test_morning_readings_are_said(tmp_path):
    text = lines("STATION,DATE,TMAX,TMAX_ATTRIBUTES,TMIN,TOBS", 'X1,2021-04-01,125,",,7",-30,15')
    assert any("of the day before" in message for message in said(read(tmp_path, text), "weather-read"))


def test_a_plain_table_in_metric_units(tmp_path):
    about = ["# station: Heron Lake", "# latitude: 53.98", "# longitude: -123.02", "# elevation_ft: 1000"]
    header = "date,tmax_c,tmin_c,precip_mm,snow_cm,gust_kmh,wind_kmh,rh_pct,thunder,moon"
    reading = read(tmp_path, lines(about, header, "2021-04-01,12.5,-3,T,0.5,40,11.5,63,0,full"))
    assert days_of(reading) == {APRIL_1: Day(12.5, -3.0, 0.0, 0.5, 40.0, 11.5, 63.0, False)}
    station = reading.weather.station
    assert (station.name, station.latitude, station.longitude) == ("Heron Lake", 53.98, -123.02)
    assert station.elevation_m == pytest.approx(304.8)
    assert "columns not read: moon" in said(reading, "weather-read")


@pytest.mark.parametrize(
    ("column", "written", "field", "read_as"),
    [
        ("tmax_f", "50", "tmax_c", 10.0), ("precip_in", "1", "precip_mm", 25.4), ("snow_in", "1", "snow_cm", 2.54),
        ("snow_mm", "10", "snow_cm", 1.0), ("gust_mph", "10", "gust_kmh", 16.09344),
        ("gust_ms", "10", "gust_kmh", 36.0), ("gust_kn", "10", "gust_kmh", 18.52),
        ("wind_mph", "10", "wind_kmh", 16.09344), ("Wind_KMH", "10", "wind_kmh", 10.0),
        ("wind km/h", "10", "wind_kmh", 10.0),
    ],
)  # fmt: skip
def test_a_plain_table_names_its_units(tmp_path, column, written, field, read_as):
    header = f"date,tmin_c,{column}" if field == "tmax_c" else f"date,tmax_c,{column}"
    day = days_of(read(tmp_path, plain(f"2021-04-01,5,{written}", header=header)))[APRIL_1]
    assert getattr(day, field) == pytest.approx(read_as)


def test_a_plain_table_without_units_needs_them_said(tmp_path):
    text = plain("2021-04-01,50,41", header="date,tmax,tmin")
    assert days_of(read(tmp_path, text, units="imperial"))[APRIL_1].tmax_c == pytest.approx(10.0)
    assert days_of(read(tmp_path, text, units="metric"))[APRIL_1].tmax_c == 50.0


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
def test_any_line_end_and_delimiter(tmp_path, end, delimiter):
    text = plain("2021-04-01,12.5,-3.0", "", "2021-04-02,11,-2").replace(",", delimiter).replace("\n", end)
    assert days_of(read(tmp_path, text)) == {APRIL_1: Day(12.5, -3.0), date(2021, 4, 2): Day(11.0, -2.0)}


@pytest.mark.parametrize(("codec", "name"), [("cp1252", "Windows-1252"), ("utf-16", "UTF-16")])
def test_another_encoding_is_read_and_said(tmp_path, codec, name):
    text = lines("# station: Lac Héron", "date,tmax_c,tmin_c", "2021-04-01,12.5,-3.0")
    reading = read(tmp_path, text.encode(codec))
    assert reading.weather.station.name == "Lac Héron"
    assert any(f"read as {name}" in message for message in said(reading, "weather-read"))


def test_the_name_of_a_file_tells_nothing(tmp_path):
    path = tmp_path / "en_climate_daily_BC_1234567_2021_P1D.csv"
    path.write_text(plain("2021-04-01,12.5,-3.0"), encoding="utf-8")
    from barkwright.season.weatherfiles.reading import read_weather

    assert read_weather((str(path),)).weather.kind == "plain daily table"


def test_units_that_a_file_states_are_not_overruled(tmp_path):
    reading = read(tmp_path, lines(CANADA_HEADER, canada("2021-04-01", "12.5", "-3.0")), units="imperial")
    assert days_of(reading)[APRIL_1].tmax_c == 12.5
    assert said(reading, "weather-units") == ["the file states its own units: weather_units is not used"]
