"""Files that are no daily record: refused as what they are, with what to download in their place."""

import gzip
import io
import zipfile

import pytest
from weather_texts import CANADA_HEADER, GHCN_HEADER, canada, ghcn, lines, plain, read, refusal

MONTHLY = (
    '"Longitude (x)","Latitude (y)","Station Name","Climate ID","Date/Time","Year","Month","Mean Max Temp (°C)",'
    '"Mean Max Temp Flag","Mean Min Temp (°C)","Mean Min Temp Flag","Mean Temp (°C)","Extr Max Temp (°C)"'
)
HOURLY = (
    '"Longitude (x)","Latitude (y)","Station Name","Climate ID","Date/Time (LST)","Year","Month","Day","Time (LST)",'
    '"Temp (°C)","Temp Flag","Dew Point Temp (°C)","Rel Hum (%)","Wind Spd (km/h)"'
)
FRENCH = '"Longitude (x)","Latitude (y)","Nom de la Station","ID climatologique","Date/Heure","Temp max.(°C)"'
GSOD = "STATION,DATE,LATITUDE,LONGITUDE,ELEVATION,NAME,TEMP,TEMP_ATTRIBUTES,DEWP,MAX,MAX_ATTRIBUTES,MIN,PRCP,FRSHTT"
GSOM = '"STATION","DATE","NAME","CLDD","EMNT","EMXT","TAVG","TMAX","TMAX_ATTRIBUTES","TMIN"'
MONTHS = "STATION,NAME,DATE,TMAX,TMIN\nX,Y,2021-04,50,41\nX,Y,2021-05,60,50\n"
YEARS = "STATION,NAME,DATE,TMAX,TMIN\nX,Y,2021,50,41\nX,Y,2022,60,50\n"
NORMALS = '"STATION","NAME","DATE","MLY-TMAX-NORMAL","MLY-TMIN-NORMAL"'
LCD = "STATION,DATE,REPORT_TYPE,HourlyDryBulbTemperature,DailyMaximumDryBulbTemperature"
DLY = "USC00999999202104TMAX" + "  125  7" * 31
BY_YEAR = "USC00999999,20210401,TMAX,125,,,7,0800"


def zipped():
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w") as archive:
        archive.writestr("xl/workbook.xml", "<x/>")
    return held.getvalue()


@pytest.mark.parametrize(
    ("content", "what", "instead"),
    [
        (MONTHLY + "\n", "an Environment Canada monthly file", "daily data"),
        (HOURLY + "\n", "an Environment Canada hourly file", "daily data"),
        (HOURLY.replace(" (LST)", "") + "\n", "an Environment Canada hourly file", "daily data"),
        ("x,y,STATION_NAME,LOCAL_DATE,MAX_TEMPERATURE\n", "Environment Canada's data service", "daily data"),
        (FRENCH + "\n", "an Environment Canada file in French", "in English"),
        (GSOD + "\n", "an NCEI Global Summary of the Day", "order daily summaries"),
        (GSOM + "\n", "an NCEI Global Summary of the Month or Year", "order daily summaries"),
        (
            "STATION,NAME,DATE,TMAX,TMIN\nX,Y,2021-04,50,41\nX,Y,2021-05,60,50\n",
            "Summary of the Month",
            "daily summaries",
        ),
        ("STATION,NAME,DATE,TMAX,TMIN\nX,Y,2021,50,41\nX,Y,2022,60,50\n", "Summary of the Year", "daily summaries"),
        (NORMALS + "\n", "a table of climate normals", "means of many years"),
        (LCD + "\n", "an NCEI local climatological data file", "order daily summaries"),
        (DLY + "\n", "a GHCN-Daily .dly file", "the station's CSV file"),
        (BY_YEAR + "\n", "a GHCN-Daily file of one year for all stations", "the station's CSV file"),
        ("<!DOCTYPE html>\n<html><body>Not found</body></html>", "a web page", "save or download it as CSV"),
        ("\ufeff\n <HTML>", "a web page", "save or download it as CSV"),
        ('[{"STATION": "X"}]', "a JSON file", "CSV"),
        (zipped(), "an Excel workbook or a zip archive", "save the sheet as CSV"),
        (b"\xd0\xcf\x11\xe0" + b"\0" * 60, "an old Excel workbook", "save the sheet as CSV"),
        (gzip.compress(b"date", mtime=0), "a gzip archive", "unpack"),
        (b"%PDF-1.7", "a PDF document", "CSV"),
    ],
)
def test_refused_as_what_it_is(tmp_path, content, what, instead):
    told = refusal(read(tmp_path, content), "weather-file")
    assert what in told.partition(" | ")[0]
    assert instead in told.partition(" | ")[2]


def test_a_table_that_nobody_knows_lists_its_headers_and_the_formats(tmp_path):
    told = refusal(read(tmp_path, "when,hot,cold\n2021-04-01,5,1\n"), "weather-file")
    assert "when, hot, cold" in told
    for kind in (
        "Environment Canada daily file",
        "NCEI daily summaries",
        "GHCN-Daily station file",
        "plain daily table",
    ):
        assert kind in told
    many = refusal(read(tmp_path, b",".join(b"c%d" % n for n in range(40)) + b"\n "), "weather-file")
    assert "c11 and 28 more" in many


@pytest.mark.parametrize("content", ["", "\n\n", "# only a remark\n", b"\xef\xbb\xbf"])
def test_an_empty_file(tmp_path, content):
    assert "the file is empty" in refusal(read(tmp_path, content), "empty")


@pytest.mark.parametrize("header", [CANADA_HEADER, GHCN_HEADER, "date,tmax_c", "STATION,DATE,TMAX,TMIN"])
def test_a_header_alone(tmp_path, header):
    assert "no whole row" in refusal(read(tmp_path, header + "\n"), "empty")


def test_no_text(tmp_path):
    assert "this is no text file" in refusal(read(tmp_path, b"date,tmax_c\n\0\0\0"), "weather-file")


@pytest.mark.parametrize(
    ("header", "why"),
    [
        ("date,tmax,tmin", "the column tmax does not say its unit | name it tmax_c or tmax_f"),
        ("date,tmax_k,tmin_c", "the column tmax_k does not say its unit"),
        ("date,tmax_c,gust_kph", "the column gust_kph does not say its unit | name it gust_kmh or gust_mph"),
        ("date,tmax_c,tmax_f", "tmax stands in two columns"),
    ],
)
def test_a_plain_table_that_leaves_a_unit_open(tmp_path, header, why):
    row = ",".join(["2021-04-01", *["5"] * header.count(",")])
    assert why in refusal(read(tmp_path, plain(row, header=header)), "weather-units")


def test_a_header_that_repeats_a_column(tmp_path):
    text = lines(CANADA_HEADER + ',"Max Temp (°C)"', canada("2021-04-01", "5", "1") + ',"7"')
    assert "stands twice" in refusal(read(tmp_path, text), "weather-file")
    told = refusal(read(tmp_path, lines("STATION,DATE,TMAX,TMIN,TMAX", "X,2021-04-01,5,1,7")), "weather-file")
    assert "stands twice" in told


def test_most_rows_at_fault_is_no_record(tmp_path):
    good, bad = "2021-04-01,12.5,-3", "2021-04-0x,12.5,-3"
    other = "2021-04-02,12.5,-3"
    assert read(tmp_path, plain(good, bad)).weather is not None
    told = refusal(read(tmp_path, plain(good, bad, bad, other, "2021-04-03,5")), "weather-file")
    assert "3 of 5 rows are at fault" in told


def test_a_ghcn_header_over_other_units(tmp_path):
    rows = [ghcn(f"2021-07-{day:02}", "75", "52") for day in range(1, 31)]
    told = refusal(read(tmp_path, lines(GHCN_HEADER, rows)), "weather-units")
    assert "tenths of a degree" in told
