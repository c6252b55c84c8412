"""Weather files made by hand for tests, a few lines each, and what is read from them."""

from datetime import date, timedelta
from pathlib import Path

from barkwright.season.weatherfiles.reading import Reading, read_weather

CANADA_HEADER = (
    '"Longitude (x)","Latitude (y)","Station Name","Climate ID","Date/Time","Year","Month","Day","Data Quality",'
    '"Max Temp (°C)","Max Temp Flag","Min Temp (°C)","Min Temp Flag","Mean Temp (°C)","Mean Temp Flag",'
    '"Heat Deg Days (°C)","Heat Deg Days Flag","Cool Deg Days (°C)","Cool Deg Days Flag","Total Rain (mm)",'
    '"Total Rain Flag","Total Snow (cm)","Total Snow Flag","Total Precip (mm)","Total Precip Flag",'
    '"Snow on Grnd (cm)","Snow on Grnd Flag","Dir of Max Gust (10s deg)","Dir of Max Gust Flag",'
    '"Spd of Max Gust (km/h)","Spd of Max Gust Flag"'
)
GHCN_HEADER = (
    '"STATION","DATE","LATITUDE","LONGITUDE","ELEVATION","NAME","PRCP","PRCP_ATTRIBUTES","SNOW","SNOW_ATTRIBUTES",'
    '"TMAX","TMAX_ATTRIBUTES","TMIN","TMIN_ATTRIBUTES","AWND","AWND_ATTRIBUTES","WSFG","WSFG_ATTRIBUTES","RHAV",'
    '"RHAV_ATTRIBUTES","WT03","WT03_ATTRIBUTES"'
)


def canada(day, tmax="", tmin="", precip="", snow="", gust="", flags="", station="TESTING KNOLL", id_="1234567"):
    """One row; `flags` are five letters for tmax, tmin, precip, snow and gust, a dot for none."""
    a, b, c, d, e = ("" if flag == "." else flag for flag in (flags or "....."))
    year, month, number = day.split("-")
    cells = [
        "-122.50",
        "54.10",
        station,
        id_,
        day,
        year,
        month,
        number,
        "",
        tmax,
        a,
        tmin,
        b,
        *[""] * 8,
        snow,
        d,
        precip,
        c,
    ]
    return ",".join(f'"{cell}"' for cell in [*cells, *[""] * 4, gust, e])


def ghcn(day, tmax="", tmin="", precip="", snow="", flags=("", "", "", "")):
    """One row; `flags` are the attributes of tmax, tmin, precip and snow."""
    a, b, c, d = flags
    cells = [
        "USC00999999",
        day,
        "45.5",
        "-110.25",
        "1402.1",
        "TESTING KNOLL, MT US",
        precip,
        c,
        snow,
        d,
        tmax,
        a,
        tmin,
        b,
    ]
    return ",".join(f'"{cell}"' for cell in [*cells, *[""] * 8])


def year_of(row, year=2021, first=1, last=12):
    """Rows for every day of some months, by a function of the date."""
    day, rows = date(year, first, 1), []
    while day.year == year and day.month <= last:
        rows.append(row(day))
        day += timedelta(days=1)
    return rows


def seasonal(day, cold, hot):
    """A temperature that runs from `cold` on 15 January to `hot` on 15 July, month by month, wobbling by the day."""
    return cold + (hot - cold) * (6 - abs(day.month - 7)) / 6 + (day.day * 7) % 3


def read(folder: Path, *texts: str | bytes, units=None, station=None) -> Reading:
    """The reading of some texts, each written to a file of its own."""
    paths = []
    for number, text in enumerate(texts, 1):
        path = folder / f"file-{number}.csv"
        path.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
        paths.append(str(path))
    read_weather.cache_clear()
    return read_weather(tuple(paths), units, station)


def lines(*parts) -> str:
    """Lines as a text with line ends; a list among them stands for its lines."""
    flat = [line for part in parts for line in (part if isinstance(part, list) else [part])]
    return "\n".join(flat) + "\n"


def plain(*rows: str, header="date,tmax_c,tmin_c") -> str:
    return lines(header, *rows)


def days_of(reading: Reading):
    assert reading.weather is not None, [str(one) for one in reading.diagnostics]
    return reading.weather.days


def said(reading: Reading, code: str) -> list[str]:
    """Messages of one code, whether the reading came to anything or not."""
    found = reading.weather.notes if reading.weather else reading.diagnostics
    return [one.message for one in found if one.code == code]


def refusal(reading: Reading, code: str) -> str:
    """The message of the one error of a reading that came to nothing, and its hint."""
    assert reading.weather is None
    first = reading.diagnostics[0]
    assert (first.severity, first.code) == ("error", code), [str(one) for one in reading.diagnostics]
    return f"{first.message} | {first.hint}"
