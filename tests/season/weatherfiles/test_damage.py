"""Damaged files end in a diagnostic or in numbers that stand in the file: no exception, no other number."""

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from weather_texts import CANADA_HEADER, GHCN_HEADER, canada, days_of, ghcn, lines, plain, read, refusal, said

from barkwright.season.weatherfiles.recognise import FORMATS, read_part
from barkwright.season.weatherfiles.values import BadNumberError, number

START = date(2021, 4, 1)
DAYS = [START + timedelta(days=n) for n in range(30)]
PLAIN = plain(*(f"{day},{10 + n % 7}.25,{n % 5}.5" for n, day in enumerate(DAYS)))
CANADA = lines(CANADA_HEADER, [canada(str(day), f"{10 + n % 7}.5", f"{n % 5}.5") for n, day in enumerate(DAYS)])
GHCN = lines(
    GHCN_HEADER,
    [ghcn(str(day), f"{100 + n % 70}", f"{n % 50}", flags=(",,7", ",,7", "", "")) for n, day in enumerate(DAYS)],
)
SUMMARIES = lines(
    "STATION,NAME,DATE,TMAX,TMIN",
    [f'X1,"KNOLL, MT",2021-07-{n:02},{60 + n % 20},{40 + n % 20}' for n in range(1, 31)],
)
WHOLE = {"plain": PLAIN, "canada": CANADA, "ghcn": GHCN, "summaries": SUMMARIES}
HEADERS = [
    CANADA_HEADER, GHCN_HEADER, "STATION,NAME,DATE,TMAX,TMIN,PRCP,WT03", "date,tmax_c,tmin_c,precip_in", "date,tmax",
]  # fmt: skip


def part(content):
    return read_part(content if isinstance(content, bytes) else content.encode("utf-8"), "file.csv", None)


def numbers(found):
    """(day, Tmax, Tmin) of everything that a file gave."""
    return {(row.day, row.readings.tmax_c, row.readings.tmin_c) for rows in found.rows.values() for row in rows}


def sound(found):
    """Nothing, with an error; or something."""
    assert found.errors or found.rows
    for one in (*found.errors, *found.notes):
        assert one.message
        assert one.where is not None


@pytest.mark.parametrize("name", WHOLE)
def test_the_whole_files_are_read(name):
    found = part(WHOLE[name])
    assert not found.errors
    assert len(numbers(found)) == 30


@pytest.mark.slow
@pytest.mark.parametrize("name", WHOLE)
def test_a_file_cut_anywhere_gives_no_other_number(name):
    content = WHOLE[name].encode("utf-8")
    whole = {row[0]: row[1:] for row in numbers(part(content))}
    for end in range(len(content)):
        found = part(content[:end])
        sound(found)
        for day, tmax, tmin in numbers(found):
            assert tmax in (None, whole[day][0])
            assert tmin in (None, whole[day][1])


def test_a_last_line_that_may_be_cut_off_is_left_out_and_said(tmp_path):
    reading = read(tmp_path, plain("2021-04-01,12.5,-3.0", "2021-04-02,11.5,-2.5").rstrip("\n"))
    assert list(days_of(reading)) == [START]
    assert said(reading, "weather-row") == ["the last line has no line end and may be cut off, so it is left out"]
    quoted = lines(CANADA_HEADER, canada("2021-04-01", "12.5", "-3.0")).rstrip("\n")
    assert list(days_of(read(tmp_path, quoted))) == [START]


@pytest.mark.parametrize(
    "damaged",
    [
        "12,5",
        "1O.5",
        "12.3.4",
        "1e3",
        "0x10",
        "1_0",
        "٣",
        "12.5C",
        "--3",
        "1 2",
        "inf",
        "12.5.",
        "+",
        ".",
        "#REF!",
        "１２",
    ],
)
def test_a_damaged_number_is_missing_and_told_with_its_place(tmp_path, damaged):
    text = lines("date;tmax_c;tmin_c", f"2021-04-01; {damaged};-3", "2021-04-02;12;-3")
    reading = read(tmp_path, text)
    assert days_of(reading)[START].tmax_c is None
    assert days_of(reading)[START].tmin_c == -3.0
    [note] = [one for one in reading.weather.notes if one.code == "weather-row"]
    assert (note.severity, note.where.line, note.where.column) == ("warning", 2, 12)
    assert f"tmax_c '{damaged}' is no number" in note.message


@pytest.mark.parametrize("missing", ["", " ", "NA", "n/a", "NaN", "null", "M", "-", "-9999", "9999", "9999.9"])
def test_a_sign_for_a_missing_number_is_no_fault(missing):
    assert number(missing) is None


@given(st.text(max_size=12))
def test_a_field_is_a_number_only_if_all_of_it_is(text):
    try:
        value = number(text)
    except BadNumberError:
        return
    assert value is None or value == float(text.strip().replace("\N{MINUS SIGN}", "-"))
    assert value is None or not set(text) & set("eE_xXnN")


@pytest.mark.parametrize("text", ["-4.366666666666666", "0.30000000000000004", "12.22222222222222143"])
def test_the_many_digits_of_a_program_are_a_number(text):
    assert number(text) == float(text)


def test_a_handful_of_each_kind_is_shown_and_the_rest_counted(tmp_path):
    bad = [f"2021-05-{n:02},x,1" for n in range(1, 10)]
    good = [f"2021-06-{n:02},{10 + n % 3},1" for n in range(1, 31)]
    messages = said(read(tmp_path, plain(*bad, *good, "2021-07-01,5")), "weather-row")
    assert sum("is no number" in message for message in messages) == 5
    assert "and 4 more with a bad number" in messages
    assert "the row has 2 fields and the header 3, so it is left out" in messages


@pytest.mark.parametrize(
    ("row", "kind"),
    [
        ('2021-04-02,"12.5,-3', "a quote is left open"), ("2021-04-02,12.5", "has 2 fields and the header 3"),
        ("2021-04-02,12.5,-3,7", "has 4 fields and the header 3"), ("2021-04-31,12.5,-3", "is no date"),
    ],
)  # fmt: skip
def test_a_damaged_row_is_left_out_alone(tmp_path, row, kind):
    reading = read(tmp_path, plain("2021-04-01,12.5,-3", row, "2021-04-03,12.5,-3", "2021-04-04,12.5,-3.5"))
    assert list(days_of(reading)) == [START, date(2021, 4, 3), date(2021, 4, 4)]
    [message] = said(reading, "weather-row")
    assert kind in message


def test_empty_fields_beyond_the_header_are_no_fault(tmp_path):
    reading = read(tmp_path, plain("2021-04-01,12.5,-3,,,"))
    assert list(days_of(reading)) == [START]
    assert said(reading, "weather-row") == []


def test_encodings_mixed_in_one_file(tmp_path):
    head = "# station: Lac Héron\ndate,tmax_c,tmin_c\n".encode()
    reading = read(tmp_path, head + "# remis à neuf\n2021-04-01,12.5,-3\n".encode("cp1252"))
    assert days_of(reading)[START].tmax_c == 12.5
    assert any("Windows-1252" in message for message in said(reading, "weather-read"))


def test_columns_swapped_by_hand_are_caught(tmp_path):
    header = CANADA_HEADER.replace("Max Temp", "?").replace("Min Temp", "Max Temp").replace("?", "Min Temp")
    told = refusal(read(tmp_path, CANADA.replace(CANADA_HEADER, header)), "weather-doubt")
    assert "30 of 30 days" in told


@settings(max_examples=150)
@given(st.binary(max_size=400))
def test_any_bytes(content):
    sound(part(content))


@settings(max_examples=150)
@given(st.sampled_from(HEADERS), st.text(alphabet='0123456789-.,;"TMCE</ \n\r\tx\x00é', max_size=300))
def test_any_rows_below_a_true_header(header, text):
    sound(part(f"{header}\n{text}"))


@settings(max_examples=150)
@given(st.sampled_from(sorted(WHOLE)), st.integers(0, 10**6), st.integers(0, 40), st.binary(max_size=8))
def test_a_file_with_something_cut_out_or_put_in(name, at, cut, put):
    content = WHOLE[name].encode("utf-8")
    at %= len(content)
    sound(part(content[:at] + put + content[at + cut :]))


@settings(max_examples=60)
@given(st.sampled_from(sorted(WHOLE)), st.integers(0, 10**6), st.sampled_from("x,;\"'-.eO \x00"))
def test_a_letter_in_a_numbers_place_makes_no_other_number(name, at, letter):
    """A damaged digit is a fault or a missing reading; only a sign or a point can make another number of it."""
    text = WHOLE[name]
    at = text.index("\n") + 1 + at % (len(text) - text.index("\n") - 1)
    whole = numbers(part(text))
    damaged = part(text[:at] + letter + text[at + 1 :])
    sound(damaged)
    if letter in "xeO'" and text[at] in "0123456789":
        assert all(row in whole or None in row for row in numbers(damaged))


@pytest.mark.slow
def test_a_file_of_50_mb_is_read(tmp_path):
    first, pad = date(1860, 1, 1), " " * 400
    rows = (f"{first + timedelta(days=n)},{10 + n % 7}.5{pad},{n % 5}.5" for n in range(118_000))
    content = ("date,tmax_c,tmin_c\n" + "\n".join(rows) + "\n").encode()
    assert 48_000_000 < len(content) < 64_000_000
    days = days_of(read(tmp_path, content))
    assert len(days) == 118_000
    assert days[first + timedelta(days=100_002)].tmax_c == 10.5 + 100_002 % 7


@pytest.mark.slow
@pytest.mark.parametrize("start", ["", "date,tmax_c,tmin_c,", "date,tmax_c,tmin_c\n2021-04-01,", '"', CANADA_HEADER])
def test_one_line_of_50_mb(tmp_path, start):
    reading = read(tmp_path, (start + "2021-04-01,5,1," * 3_400_000).encode())
    assert reading.weather is None
    assert reading.diagnostics[0].severity == "error"


@pytest.mark.slow
def test_a_file_beyond_the_limit(tmp_path):
    assert "longer than 64 MB" in refusal(read(tmp_path, b"x" * 64_000_001), "too-large")


def test_every_format_is_damaged_here():
    assert len(WHOLE) == len(FORMATS)
