"""Several stations, several files, folders, and days that are written twice."""

import dataclasses
import os
from datetime import date

import pytest
from weather_texts import CANADA_HEADER, canada, days_of, lines, plain, read, refusal, said

from barkwright.season.weather import Day
from barkwright.season.weatherfiles import limits as held
from barkwright.season.weatherfiles.reading import read_weather

TWO = lines(
    CANADA_HEADER,
    canada("2021-04-01", "12.5", "-3.0", station="UPPER KNOLL", id_="11"),
    canada("2021-04-01", "15.0", "-1.0", station="LOWER KNOLL", id_="22"),
    canada("2021-04-02", "16.0", "-1.0", station="LOWER KNOLL", id_="22"),
)


def test_several_stations_ask_which(tmp_path):
    told = refusal(read(tmp_path, TWO), "weather-which")
    assert "2 stations: 11 (UPPER KNOLL); 22 (LOWER KNOLL)" in told
    assert "weather_station" in told


@pytest.mark.parametrize("asked", ["22", "LOWER KNOLL", "lower knoll", " Lower Knoll "])
def test_one_is_named_by_id_or_name(tmp_path, asked):
    reading = read(tmp_path, TWO, station=asked)
    assert [day.tmax_c for day in days_of(reading).values()] == [15.0, 16.0]
    assert reading.weather.station.id == "22"


def test_flags_are_counted_for_the_chosen_station_alone(tmp_path):
    more = canada("2021-04-03", "9", "1", station="UPPER KNOLL", id_="11", flags="E....")
    assert said(read(tmp_path, TWO + more + "\n", station="22"), "weather-read") == []
    assert said(read(tmp_path, TWO + more + "\n", station="11"), "weather-read") == [
        "1 day with Max Temp estimated (flag E), kept"
    ]


def test_a_name_that_is_none_of_them_lists_them(tmp_path):
    told = refusal(read(tmp_path, TWO, station="middle knoll"), "weather-which")
    assert "'middle knoll'" in told
    assert "11 (UPPER KNOLL); 22 (LOWER KNOLL)" in told
    assert "11 (UPPER KNOLL)" in refusal(read(tmp_path, TWO, station="knoll"), "weather-which")


def test_a_name_that_two_stations_bear(tmp_path):
    text = TWO.replace("UPPER", "LOWER")
    assert "2 stations are named 'lower knoll'" in refusal(read(tmp_path, text, station="lower knoll"), "weather-which")


def test_the_files_of_one_station_are_one_record(tmp_path):
    first = lines(CANADA_HEADER, canada("2021-04-01", "12.5", "-3.0"))
    second = lines(CANADA_HEADER, canada("2020-04-01", "11.5", "-4.0"))
    reading = read(tmp_path, first, second)
    assert list(days_of(reading)) == [date(2020, 4, 1), date(2021, 4, 1)]
    assert [os.path.basename(path) for path in reading.weather.files] == ["file-1.csv", "file-2.csv"]


def test_only_the_files_of_the_chosen_station_count(tmp_path):
    other = lines(CANADA_HEADER, canada("2021-04-01", "12.5", "-3.0", station="UPPER KNOLL", id_="33"))
    reading = read(tmp_path, TWO, other, station="22")
    assert len(reading.weather.files) == 1


def test_a_day_twice_alike_is_kept_once_and_said(tmp_path):
    reading = read(tmp_path, plain("2021-04-01,5,1", "2021-04-01,5.0,1"))
    assert days_of(reading) == {date(2021, 4, 1): Day(5.0, 1.0)}
    [note] = [one for one in reading.weather.notes if one.code == "weather-duplicate"]
    assert (note.severity, note.where.line) == ("note", 3)
    assert note.message == "1 day (2021-04-01): in several rows that agree, taken once"


def test_a_day_twice_unlike_is_left_out_and_warned_of(tmp_path):
    reading = read(tmp_path, plain("2021-04-01,5,1", "2021-04-02,6,1", "2021-04-01,5,2"))
    assert list(days_of(reading)) == [date(2021, 4, 2)]
    [note] = [one for one in reading.weather.notes if one.code == "weather-duplicate"]
    assert (note.severity, note.message) == ("warning", "1 day (2021-04-01): in rows that differ, left out")


def test_rows_that_complete_each_other_are_joined(tmp_path):
    first = plain("2021-04-01,5,1")
    second = plain("2021-04-01,5,30", header="date,tmax_c,gust_kmh")
    assert days_of(read(tmp_path, first, second)) == {date(2021, 4, 1): Day(5.0, 1.0, gust_kmh=30.0)}


def test_a_folder_is_read_sorted_whatever_the_case_of_its_names(tmp_path):
    (tmp_path / "b.CSV").write_text(plain("2021-04-02,6,1"), encoding="utf-8")
    (tmp_path / "a.csv").write_text(plain("2021-04-01,5,1"), encoding="utf-8")
    (tmp_path / "notes.txt").write_text("not weather", encoding="utf-8")
    (tmp_path / "deeper.csv").mkdir()
    reading = read_weather((str(tmp_path),))
    assert [os.path.basename(path) for path in reading.weather.files] == ["a.csv", "b.CSV"]


def test_what_is_no_weather_in_a_folder_is_left_out_with_a_warning(tmp_path):
    (tmp_path / "a.csv").write_text(plain("2021-04-01,5,1"), encoding="utf-8")
    (tmp_path / "trees.csv").write_text("species,dbh\nwhite,16\n", encoding="utf-8")
    reading = read_weather((str(tmp_path),))
    [note] = [one for one in reading.weather.notes if one.code == "weather-file"]
    assert note.severity == "warning"
    assert note.message.endswith("its first line reads species, dbh; the file is left out")
    named = read_weather((str(tmp_path / "a.csv"), str(tmp_path / "trees.csv")))
    assert refusal(named, "weather-file")


def test_a_weather_file_without_rows_in_a_folder_is_left_out_with_a_warning(tmp_path):
    (tmp_path / "a.csv").write_text(plain("2021-04-01,5,1"), encoding="utf-8")
    (tmp_path / "b.csv").write_text("date,tmax_c\n", encoding="utf-8")
    assert said(read_weather((str(tmp_path),)), "empty") == [
        "the file has a header and no whole row; the file is left out"
    ]


def test_a_weather_file_with_a_fault_is_not_left_out_of_a_folder(tmp_path):
    (tmp_path / "a.csv").write_text(plain("2021-04-01,5,1"), encoding="utf-8")
    (tmp_path / "b.csv").write_text(plain("2/1/2021,5,1"), encoding="utf-8")
    assert refusal(read_weather((str(tmp_path),)), "weather-dates")


def test_a_folder_without_weather(tmp_path):
    assert "holds no .csv file" in refusal(read_weather((str(tmp_path),)), "empty")
    (tmp_path / "trees.csv").write_text("species,dbh\nwhite,16\n", encoding="utf-8")
    assert "species, dbh" in refusal(read_weather((f"{tmp_path}/.",)), "weather-file")


def test_the_same_file_named_twice_is_read_once(tmp_path):
    path = tmp_path / "a.csv"
    path.write_text(plain("2021-04-01,5,1"), encoding="utf-8")
    reading = read_weather((str(path), str(tmp_path), f"{tmp_path}/./a.csv"))
    assert (len(reading.weather.files), reading.weather.notes) == (1, ())


@pytest.mark.parametrize("name", ["missing.csv", "nul\0.csv", "a" * 300])
def test_a_path_that_cannot_be_opened(tmp_path, name):
    path = str(tmp_path / name)
    reading = read_weather((path,))
    assert "cannot be read" in refusal(reading, "unreadable")
    assert reading.diagnostics[0].value == path


def test_a_pipe_is_never_waited_for(tmp_path):
    os.mkfifo(tmp_path / "pipe.csv")
    assert "no regular file" in refusal(read_weather((str(tmp_path / "pipe.csv"),)), "unreadable")
    assert "no regular file" in refusal(read_weather((str(tmp_path),)), "unreadable")


def test_a_link_that_leads_nowhere(tmp_path):
    (tmp_path / "a.csv").symlink_to(tmp_path / "gone.csv")
    assert "cannot be read" in refusal(read_weather((str(tmp_path),)), "unreadable")


def test_a_link_that_leads_to_itself_is_named(tmp_path):
    (tmp_path / "a.csv").write_text(plain("2021-04-01,5,1"), encoding="utf-8")
    (tmp_path / "b.csv").symlink_to("b.csv")
    assert "b.csv' cannot be read" in refusal(read_weather((str(tmp_path),)), "unreadable")


def test_a_file_and_all_files_have_a_size_that_is_read(tmp_path, monkeypatch):
    (tmp_path / "a.csv").write_text(plain("2021-04-01,5,1"), encoding="utf-8")
    (tmp_path / "b.csv").write_text(plain("2021-04-02,5,1"), encoding="utf-8")
    size = (tmp_path / "a.csv").stat().st_size

    def reading(**other):
        record = held.limits()
        names = {name: other.get(name, getattr(record, name)) for name in type(record).__slots__}
        for module in ("opening", "parts"):
            monkeypatch.setattr(f"barkwright.season.weatherfiles.{module}.limits", lambda: type(record)(**names))
        read_weather.cache_clear()
        return read_weather((str(tmp_path),))

    assert reading(most_bytes=size, most_bytes_in_all=2 * size, most_files=2).weather is not None
    assert "is longer than" in refusal(reading(most_bytes=size - 1), "too-large")
    assert "longer than 0 MB together" in refusal(reading(most_bytes=size, most_bytes_in_all=2 * size - 1), "too-large")
    assert "in 2 files" in refusal(reading(most_files=1), "too-large")


@pytest.mark.parametrize("end", ["\n", "\r", "\r\n"])
def test_all_files_have_a_number_of_lines_that_is_read(tmp_path, monkeypatch, end):
    for name, day in (("a.csv", "2021-04-01"), ("b.csv", "2021-04-02")):
        text = f"date,tmax_c,tmin_c{end}{day},5,1{end}"
        (tmp_path / name).write_bytes(text.encode("utf-8"))
    short = dataclasses.replace(held.limits(), most_lines_in_all=3)
    monkeypatch.setattr("barkwright.season.weatherfiles.parts.limits", lambda: short)
    told = read_weather((str(tmp_path),)).diagnostics[0]
    assert (told.code, told.where.file.endswith("b.csv")) == ("too-large", True)
    assert "more than 3 lines together" in told.message
